"""The offset moves on only after what came is kept."""

import asyncio
import contextlib

import pytest
from telegram.error import Conflict, EndPointNotFound, InvalidToken, NetworkError

from bot.telegram.pauses import Pauses
from bot.telegram.poller import Poller, TokenRefusedError
from bot.telegram.translate import ALLOWED_UPDATES
from storage.errors import StoreUnavailableError


class Script:
    """Answers polls one after another: lists of updates, or errors to raise; then waits for ever."""

    def __init__(self, *answers):
        self.answers, self.asked, self.kept = list(answers), [], []
        self.refusals = 0
        self.ours: list[bool] = []

    async def ask(self, method, params, *, timeout):
        assert method == "getUpdates"
        assert timeout > params["timeout"]
        self.asked.append(params)
        if not self.answers:
            await asyncio.Event().wait()
        answer = self.answers.pop(0)
        if isinstance(answer, Exception):
            raise answer
        return answer

    async def keep(self, updates):
        if self.refusals:
            self.refusals -= 1
            raise StoreUnavailableError("The disk is full.")
        self.kept += updates
        return max((u["update_id"] for u in updates if "update_id" in u), default=None)

    async def run(self, polls):
        async def may():
            return self.ours.pop(0) if self.ours else True

        async def good():
            pass

        poller = Poller(self.ask, self.keep, timeout=5, may_poll=may, on_good=good)
        running = asyncio.create_task(poller.run())
        while len(self.asked) < polls and not running.done():
            await asyncio.sleep(0.005)
        running.cancel()
        with contextlib.suppress(asyncio.CancelledError):
            await running

    def offsets(self):
        return [params.get("offset") for params in self.asked]


@pytest.fixture(autouse=True)
def no_pauses(monkeypatch):
    monkeypatch.setattr("bot.telegram.pauses._FIRST_PAUSE", 0.01)
    monkeypatch.setattr("bot.telegram.pauses._LONGEST_PAUSE", 0.02)


def updates(*numbers):
    return [{"update_id": number} for number in numbers]


async def test_the_offset_follows_the_highest_number_kept():
    script = Script(updates(5, 6), [], updates(9))
    await script.run(4)
    assert script.offsets() == [None, 7, 7, 10]
    assert script.asked[0]["allowed_updates"] == list(ALLOWED_UPDATES)


async def test_while_another_process_polls_it_does_not(monkeypatch):
    monkeypatch.setattr("bot.telegram.poller._ASK_AGAIN", 0.01)
    script = Script(updates(5), [])
    script.ours = [True, False, False, True]
    await script.run(2)
    assert (script.offsets()[:2], script.ours) == ([None, 6], [])


async def test_what_could_not_be_kept_is_asked_for_again():
    script = Script(updates(5), updates(5), [])
    script.refusals = 1
    await script.run(4)
    assert script.offsets() == [None, None, 6, 6]
    assert script.kept == updates(5)


@pytest.mark.parametrize(
    "fault", [NetworkError("x"), Conflict("x"), TimeoutError(), NetworkError("Bad Gateway")]
)
async def test_faults_are_waited_out(fault):
    script = Script(fault, fault, updates(5))
    await script.run(4)
    assert script.offsets() == [None, None, None, 6]


@pytest.mark.parametrize("fault", [InvalidToken(), EndPointNotFound("x")])
async def test_a_refused_token_ends_it(fault):
    with pytest.raises(TokenRefusedError):
        await Script(updates(5), fault).run(9)


async def test_an_update_without_a_number_is_not_asked_for_in_a_hot_loop(monkeypatch):
    monkeypatch.setattr("bot.telegram.pauses._LONGEST_PAUSE", 0.2)
    script = Script(*[[{"odd": 1}]] * 50)
    with contextlib.suppress(TimeoutError):
        async with asyncio.timeout(0.5):
            await script.run(50)
    assert len(script.asked) < 15


def test_pauses_grow_to_a_limit_and_start_over(monkeypatch):
    monkeypatch.undo()
    pauses = Pauses()
    grown = [pauses.grow() for _ in range(12)]
    assert grown[:3] == [1.0, 1.5, 2.25]
    assert grown[-1] == 30.0
    pauses.reset()
    assert pauses.grow() == 1.0
