"""The outbox gets out: at least once, in order, at the pace allowed, whatever one chat does."""

import asyncio
import time
from contextlib import asynccontextmanager
from datetime import UTC, datetime, timedelta

import pytest

from bot.conversation import passing
from bot.conversation.model import Button, Reply, ShownMessage
from bot.telegram import words
from bot.telegram.api import BotApi
from bot.telegram.outgoing import answer_to, requests_for
from bot.telegram.pace import Limit, Pace
from bot.telegram.post import put, renew
from bot.telegram.sender import Sender
from bot.telegram.threads import Threads
from bot.terms import KeeperSettings
from storage import Store
from storage.errors import StoreUnavailableError
from tests.telegram.stand_in import (
    BLOCKED,
    INTERNAL,
    LOST,
    LOST_AFTER_DELIVERY,
    Fault,
    StandIn,
    too_many,
)

NOW = datetime(2026, 3, 9, 7, 0, tzinfo=UTC)
FAST = Limit(burst=100, rate=1000)


class Office:
    """A store with an outbox, a sender, and the stand-in behind it."""

    def __init__(self, api, store, sender):
        self.api, self.store, self.sender = api, store, sender
        self.ahead = timedelta(0)

    def keeper(self, chat):
        with self.store.begin() as work:
            keeper = work.keepers.create("Ada", KeeperSettings(), at=NOW)
            work.keepers.link(keeper.id, "telegram", str(chat))
        return keeper

    def post(self, chat, *replies, nudge=False, pressed=None, keeper_id=None, offer=True):
        requests = [request for reply in replies for request in requests_for(reply, pressed=pressed)]
        with self.store.begin() as work:
            rows = put(work, requests, keeper_id=keeper_id, chat=str(chat), at=NOW, nudge=nudge)
        if offer:
            self.sender.offer(rows)

    def rows(self):
        with self.store.reader() as connection:
            return connection.exec_driver_sql("SELECT count(*) FROM outbox").scalar()

    def left(self):
        with self.store.look() as work:
            return work.outbox.waiting(NOW + timedelta(days=9), 999)


def sent_to(api):
    """The chats of the messages asked to be sent, in order."""
    return [int(values["chat_id"]) for method, values in api.requests if method == "sendMessage"]


@asynccontextmanager
async def office(pace=None, store=None):
    async with StandIn() as api:
        bot_api = BotApi(api.token, api.url)
        threads, began = Threads(), time.monotonic()
        made = store or Store.open("sqlite://")
        place = Office(api, made, None)
        place.sender = Sender(
            bot_api,
            made,
            threads,
            now=lambda: NOW + timedelta(seconds=time.monotonic() - began) + place.ahead,
            pace=pace or Pace(overall=FAST, private=FAST, group=FAST),
        )
        async with bot_api:
            running = asyncio.create_task(place.sender.run())
            try:
                yield place
            finally:
                running.cancel()
                await asyncio.wait({running})
                await place.sender.finish()
                threads.close()
                assert running.cancelled() or running.exception() is None
                made.close()


def text(words, **more):
    return Reply(text=words, **more)


async def test_what_is_posted_arrives_in_order_and_is_gone_from_the_outbox():
    async with office() as at:
        at.post(7, *(text(f"{n}") for n in range(10)))
        await at.api.until(lambda: len(at.api.texts()) == 10)
        assert at.api.texts() == [f"{n}" for n in range(10)]
        await at.api.until(lambda: not at.left())


async def test_what_nobody_offered_is_found_in_the_outbox():
    async with office() as at:
        at.post(7, text("x"), offer=False)
        await at.api.until(at.api.texts)


async def test_who_wrote_is_answered_before_all_who_are_nudged():
    async with office(Pace(overall=Limit(burst=2, rate=20))) as at:
        for chat in range(100, 160):
            at.post(chat, text("Round"), nudge=True)
        await at.api.until(lambda: at.api.count("sendMessage") > 3)
        before = at.api.count("sendMessage")
        at.post(7, text("stored"))
        await at.api.until(at.api.texts)
        assert at.api.count("sendMessage") <= before + 4
        await at.api.until(lambda: not at.left())


async def test_one_chat_gets_about_one_message_a_second_after_a_short_burst():
    async with office(Pace()) as at:
        began = time.monotonic()
        at.post(7, *(text(f"{n}") for n in range(5)))
        at.post(8, text("other"))
        await at.api.until(lambda: at.api.texts(8) and len(at.api.texts(7)) == 5)
        assert sent_to(at.api).index(8) < 5
        assert time.monotonic() - began > 1.7


async def test_who_blocked_the_bot_is_paused_and_the_others_get_theirs():
    async with office() as at:
        ada, bo = at.keeper(7), at.keeper(8)
        at.api.blocked.add(7)
        at.api.fails("sendMessage", Fault(400, "Bad Request: can't parse entities"))
        at.post(9, text("refused as wrong"))
        await at.api.until(lambda: at.api.count("sendMessage") == 1)
        at.post(7, text("x"), keeper_id=ada.id)
        at.post(8, text("y"), keeper_id=bo.id)
        await at.api.until(lambda: at.api.texts(8) == ["y"])
        await at.api.until(lambda: not at.left())
        with at.store.look() as work:
            assert work.keepers.get(ada.id).paused
            assert not work.keepers.get(bo.id).paused


async def test_a_group_that_put_the_bot_out_pauses_nobody():
    async with office() as at:
        ada = at.keeper(7)
        at.api.fails("sendMessage", Fault(403, "Forbidden: bot was kicked from the group chat"))
        at.post(-5, text("x"), keeper_id=ada.id)
        await at.api.until(lambda: not at.left())
        with at.store.look() as work:
            assert not work.keepers.get(ada.id).paused


async def test_the_time_telegram_states_is_waited_and_meanwhile_others_are_served():
    async with office() as at:
        at.api.fails("sendMessage", too_many(2))
        at.post(7, *(text(f"{n}") for n in range(3)))
        await at.api.until(lambda: at.api.count("sendMessage") == 1)
        waited_from = time.monotonic()
        at.post(8, text("other"))
        await at.api.until(lambda: at.api.texts(8) and len(at.api.texts()) == 3)
        assert sent_to(at.api) == [7, 8, 7, 7, 7]
        assert time.monotonic() - waited_from > 1.9
        assert at.api.texts() == ["0", "1", "2"]


async def test_an_answer_lost_after_delivery_repeats_the_message_at_most_once():
    async with office() as at:
        at.api.fails("sendMessage", LOST_AFTER_DELIVERY, LOST_AFTER_DELIVERY)
        at.post(7, text("x"), text("y"))
        await at.api.until(lambda: at.api.texts() == ["x"])
        at.ahead = timedelta(minutes=1)
        await at.api.until(lambda: at.api.texts() == ["x", "x", "y"])
        await at.api.until(lambda: not at.left())


async def test_a_request_that_was_lost_arrives_later():
    async with office() as at:
        at.api.fails("sendMessage", LOST, INTERNAL)
        at.post(7, text("x"))
        at.post(8, text("y"))
        await at.api.until(lambda: at.api.count("sendMessage") == 2)
        at.ahead = timedelta(minutes=1)
        await at.api.until(lambda: (at.api.texts(7), at.api.texts(8)) == (["x"], ["y"]))


async def test_while_telegram_is_out_of_reach_everything_waits_and_then_arrives_once():
    async with office() as at:
        await at.api.stop()
        for chat in (7, 8):
            at.post(chat, text("x"))
        await asyncio.sleep(0.3)
        await at.api.start()
        await at.api.until(lambda: at.api.texts(7) == at.api.texts(8) == ["x"])
        await at.api.until(lambda: not at.left())


async def test_an_edit_replaces_the_message_and_one_that_cannot_be_made_is_sent_anew():
    async with office() as at:
        at.post(7, text("Which?", buttons=((Button(label="This", data="p1:0"),),)))
        await at.api.until(at.api.texts)
        number = at.api.seen()[0].number
        at.post(7, text("Done.", edits_pressed=True), pressed=number)
        await at.api.until(lambda: at.api.texts() == ["Done."])
        assert at.api.seen()[0].keyboard == []
        at.post(7, text("Done.", edits_pressed=True), pressed=number)
        at.post(7, text("Gone.", edits_pressed=True), pressed=999)
        await at.api.until(lambda: at.api.texts() == ["Done.", "Gone."])
        await at.api.until(lambda: not at.left())


async def test_an_edit_of_an_earlier_message_that_cannot_be_made_is_left_and_nothing_sent_anew():
    async with office() as at:
        at.post(7, text("Round.", buttons=((Button(label="All done", data="p1:0"),),)))
        await at.api.until(at.api.texts)
        number = at.api.seen()[0].number
        ada = at.keeper(7)
        with at.store.begin() as work:
            for reference, words in ((number, "Done."), (999, "Gone.")):
                where = ShownMessage(chat="7", reference=str(reference), keeper_id=ada.id)
                at.sender.offer(renew(work, [text(words, renews=where)], at=NOW))
        await at.api.until(lambda: not at.left())
        assert at.api.texts() == ["Done."]


async def test_of_several_edits_of_one_message_that_wait_the_last_alone_is_made():
    async with office() as at:
        at.post(7, text("Round."))
        await at.api.until(at.api.texts)
        where = ShownMessage(chat="7", reference=str(at.api.seen()[0].number), keeper_id=at.keeper(7).id)
        with at.store.begin() as work:
            rows = renew(work, [text(words, renews=where) for words in ("1 fed", "2 fed", "3 fed")], at=NOW)
        made = len(at.api.requests)
        at.sender.offer(rows)
        await at.api.until(lambda: not at.left())
        assert at.api.texts() == ["3 fed"]
        assert [method for method, _ in at.api.requests[made:]] == ["editMessageText"]


async def test_the_message_that_shows_a_prompt_is_noted():
    async with office() as at:
        ada = at.keeper(7)
        with at.store.begin() as work:
            number = work.prompts.put(ada.id, chat="7", actions=[{}], pending=None, change_id=None, at=NOW)
        at.post(7, text("Which?", buttons=((Button(label="This", data=f"p{number}:0"),),), number=number))
        await at.api.until(lambda: not at.left())
        with at.store.look() as work:
            shown = work.prompts.by_message(ada.id, "7", str(at.api.seen()[0].number))
        assert shown.number == number


async def test_an_answer_to_a_press_too_old_is_no_trouble():
    async with office() as at:
        with at.store.begin() as work:
            at.sender.offer(put(work, [answer_to("old")], keeper_id=None, chat="7", at=NOW))
        await at.api.until(lambda: not at.left())
        assert at.api.answered == ["old"]


async def test_a_group_that_moved_gets_what_waited_at_its_new_id():
    async with office() as at:
        ada = at.keeper(-5)
        at.api.migrated[-5] = -1000000000005
        at.post(-5, text("x"), text("y"), keeper_id=ada.id)
        await at.api.until(lambda: at.api.texts(-1000000000005) == ["x", "y"])
        await at.api.until(lambda: not at.left())
        with at.store.look() as work:
            assert work.keepers.by_contact("telegram", "-1000000000005").id == ada.id


async def test_a_picture_is_uploaded_and_one_whose_file_is_gone_stops_nothing(tmp_path):
    picture = tmp_path / "growth.png"
    picture.write_bytes(b"\x89PNG\r\n")
    async with office() as at:
        at.post(7, text("Growth", pictures=(tmp_path / "gone.png", picture)), text("after"))
        await at.api.until(lambda: "after" in at.api.texts())
        assert [shown.photo for shown in at.api.seen()] == [False, False, True, False]
        assert at.api.texts() == ["Growth", words.file_lost(), "", "after"]


async def test_quiet_replies_make_no_sound():
    async with office() as at:
        at.post(7, text("x", quiet=True), text("y"))
        await at.api.until(lambda: len(at.api.texts()) == 2)
        assert [shown.silent for shown in at.api.seen()] == [True, False]


async def test_a_store_that_cannot_be_written_to_makes_no_message_go_out_twice():
    store = Store.open("sqlite://")
    begin, refusals = store.begin, [StoreUnavailableError("The disk is full.")] * 2
    async with office(store=store) as at:
        at.post(7, text("x"), text("y"))

        def full():
            if refusals:
                raise refusals.pop()
            return begin()

        store.begin = full
        await at.api.until(lambda: not at.left())
        assert at.api.texts() == ["x", "y"]


async def test_a_row_that_is_not_as_we_write_them_is_given_up_and_stops_nothing():
    async with office() as at:
        with at.store.begin() as work:
            work.outbox.put(keeper_id=None, chat="7", method="sendMessage", payload={}, at=NOW)
        at.post(7, text("x"), offer=False)
        await at.api.until(lambda: not at.left())
        assert at.api.texts() == ["x"]


async def test_rows_of_another_front_end_are_left_alone():
    async with office() as at:
        at.post("keyboard", text("x"), offer=False)
        at.post(7, text("y"), offer=False)
        await at.api.until(lambda: [row.chat for row in at.left()] == ["keyboard"])
        assert at.api.texts() == ["y"]


@pytest.mark.parametrize("fault", [INTERNAL, BLOCKED, LOST])
async def test_after_any_fault_the_sender_goes_on(fault):
    async with office() as at:
        at.api.fails("sendMessage", fault)
        at.post(7, text("x"))
        await at.api.until(lambda: at.api.count("sendMessage") == 1)
        at.post(8, text("y"))
        await at.api.until(lambda: at.api.texts(8) == ["y"])


async def test_what_leaves_no_trace_is_gone_from_the_outbox_once_it_was_sent_or_given_up():
    async with office() as at:
        at.api.blocked.add(8)
        for chat in (7, 8):
            at.post(chat, text("farewell", leaves_no_trace=True))
        await at.api.until(lambda: at.api.texts(7) == ["farewell"] and at.rows() == 0)


async def test_a_file_that_passed_through_is_deleted_once_it_was_sent_and_no_other_file_is(
    tmp_path, monkeypatch
):
    monkeypatch.setattr("tempfile.tempdir", str(tmp_path))
    own = tmp_path / "shelf.png"
    own.write_bytes(b"kept")
    passed = passing.keep(b"sent", stem="chart", suffix=".png")
    async with office() as at:
        at.post(7, text("", pictures=(own, passed)))
        await at.api.until(lambda: at.api.count("sendPhoto") == 2 and not at.left() and not passed.exists())
    assert own.exists()


async def test_a_file_that_is_gone_before_it_was_sent_is_told_of(tmp_path):
    async with office() as at:
        at.post(7, text("Here it is", pictures=(tmp_path / "gone.json",)))
        await at.api.until(lambda: at.api.texts(7) == ["Here it is", words.file_lost()] and not at.left())
