"""The one who runs the bot is told when the store cannot be used, and when it can be again."""

from datetime import UTC, datetime, timedelta

import pytest
from telegram.error import NetworkError

from bot.conversation.texts import say
from bot.telegram.caretaker import Caretaker, language_of
from bot.telegram.threads import Threads
from bot.terms.language import speaking
from storage import Store
from storage.errors import StoreUnavailableError

START = datetime(2026, 5, 14, 8, 0, tzinfo=UTC)
WHY = "The disk is full; free some space and try again."


class Api:
    def __init__(self):
        self.said, self.silent = [], False

    async def __call__(self, method, params):
        if self.silent:
            raise NetworkError("no way out")
        self.said.append((method, params["chat_id"], params["text"]))


class Watch:
    def __init__(self):
        self.now = START

    def __call__(self):
        return self.now


@pytest.fixture
def threads():
    made = Threads()
    yield made
    made.close()


async def fails_for(caretaker, watch, seconds):
    for _ in range(0, seconds, 10):
        await caretaker.unusable(WHY)
        watch.now += timedelta(seconds=10)


async def test_a_store_that_stays_unusable_is_told_once_and_so_is_its_return(threads):
    api, watch = Api(), Watch()
    caretaker = Caretaker(api, threads, None, operator=7, now=watch)
    await fails_for(caretaker, watch, 600)
    ((method, chat, text),) = api.said
    assert (method, chat) == ("sendMessage", 7)
    assert WHY in text
    for _ in range(3):
        await caretaker.usable()
    assert len(api.said) == 2
    assert "can be used again" in api.said[1][2]


async def test_a_short_wait_for_the_store_is_nobody_s_worry(threads):
    api, watch = Api(), Watch()
    caretaker = Caretaker(api, threads, None, operator=7, now=watch)
    for _ in range(5):
        await fails_for(caretaker, watch, 40)
        await caretaker.usable()
    assert api.said == []


async def test_what_could_not_be_told_is_told_when_there_is_a_way_out(threads):
    api, watch = Api(), Watch()
    caretaker = Caretaker(api, threads, None, operator=7, now=watch)
    api.silent = True
    await fails_for(caretaker, watch, 120)
    api.silent = False
    await fails_for(caretaker, watch, 10)
    assert len(api.said) == 1


@pytest.mark.parametrize("fault", [StoreUnavailableError(WHY), PermissionError("a path")])
async def test_what_keeps_copies_may_fail_without_ending_the_service(threads, fault):
    class Fails:
        def run(self, now):
            raise fault

    assert not await Caretaker(Api(), threads, Fails(), operator=7, now=Watch()).keep()


async def test_what_was_posted_is_told_so_that_it_is_sent_at_once(threads):
    class Posts:
        def run(self, now):
            return 1

    assert await Caretaker(Api(), threads, Posts(), operator=7, now=Watch()).keep()


async def test_the_one_who_runs_the_bot_is_told_in_their_language_though_the_store_is_away(threads):
    api, watch = Api(), Watch()
    caretaker = Caretaker(api, threads, None, operator=7, now=watch, language=lambda: "de")
    await caretaker.keep()
    await fails_for(caretaker, watch, 120)
    await caretaker.usable()
    with speaking("de"):
        assert [text for _, _, text in api.said] == [
            say("keeping.unusable", why=WHY),
            say("keeping.usable"),
        ]


def test_the_language_of_a_stranger_is_the_first():
    store = Store.open("sqlite://")
    assert language_of(store, 7) == "en"
    store.close()
