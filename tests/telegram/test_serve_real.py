"""``serve`` as it is started by a keeper, with the real conversation, on an invented shelf of two."""

import asyncio
from datetime import UTC, datetime
from datetime import time as time_of_day
from pathlib import Path

import pytest

from bot.terms import KeeperSettings, Specimen
from storage import Store
from tests.telegram.by_hand import REAL
from tests.telegram.serving import Serving
from tests.telegram.stand_in import Shown

SHELF = (
    Specimen(tag="C1", name="Ink", species="Grammostola pulchra", place="board"),
    Specimen(tag="C2", name="Mole", species="Chilobrachys fimbriatus", place="board"),
)
NEVER_QUIET = time_of_day(3, 0)


@pytest.fixture
async def serving(api, tmp_path):
    made = Serving(api, tmp_path, REAL)
    yield made
    if made.process and made.process.returncode is None:
        await made.kill()


@pytest.fixture
def keeper(serving):
    """Robin, with a shelf, known by their Telegram id 7; the round is due now."""
    store, now = Store.open(serving.url), datetime.now(UTC)
    with store.begin() as work:
        settings = KeeperSettings(quiet_from=NEVER_QUIET, quiet_to=NEVER_QUIET)
        made = work.keepers.create("Robin", settings, at=now)
        work.keepers.link(made.id, "telegram", "7")
        work.keepers.mark_settled(made.id)
        change = work.journal.change(made.shelf_id, made.id, at=now, origin=None)
        for specimen in SHELF:
            work.shelves.add(change, specimen, on=now.date())
        work.keepers.set_next_round(made.id, now)
    store.close()
    return made


class Chat:
    """Says something and hands back what is new in the chat once it is quiet again."""

    def __init__(self, api):
        self.api, self.seen = api, 0

    async def says(self, text=None, **more) -> list[Shown]:
        self.api.says(text, **more)
        return await self.new()

    async def presses(self, shown, label) -> Shown:
        edits = shown.edits
        self.api.presses(shown, label)
        await self.api.until(lambda: shown.edits > edits)
        return shown

    async def new(self) -> list[Shown]:
        shown = self.api.seen()
        await self.api.until(lambda: len(shown) > self.seen)
        await asyncio.sleep(0.15)
        new, self.seen = shown[self.seen :], len(shown)
        return new


async def test_the_first_day_takes_two_taps(api, serving):
    await serving.start()
    chat = Chat(api)
    *_, question = await chat.says("/start")
    zone = question.keyboard[0][0]["text"]
    await chat.presses(question, zone)
    asked = (await chat.new())[-1] if len(api.seen()) > chat.seen else question
    await chat.presses(asked, asked.keyboard[0][0]["text"])
    with Store.open(serving.url).look() as work:
        made = work.keepers.by_contact("telegram", "7")
    assert made.settled
    assert made.settings.zone != "UTC"
    assert made.next_round_at is not None
    assert api.refused == []


async def test_a_message_is_logged_echoed_corrected_by_an_edit_and_taken_back(api, serving, keeper):
    await serving.start()
    await api.until(api.texts)  # the round
    chat = Chat(api)
    await chat.new()
    number = api.says("fed Ink two crickets")
    (echo,) = await chat.new()
    assert "Ink (C1)" in echo.text
    assert "2 crickets" in echo.text
    api.edits(number, "fed Ink three crickets")
    (amended,) = await chat.new()
    assert "3 crickets" in amended.text
    taken_back = await chat.presses(amended, "Undo")
    assert taken_back.text.startswith("Taken back")
    assert "3 crickets" in taken_back.text
    assert await serving.stop() == 0
    store = Store.open(serving.url)
    with store.look() as work:
        counts = [row.entry.count for row in work.journal.entries(keeper.shelf_id, kinds=["fed"])]
    store.close()
    assert 3 not in counts
    assert len(counts) <= 1
    assert len(api.answered) == 1
    assert api.refused == []


async def test_the_round_comes_once_by_the_clock_and_is_ticked_off(api, serving, keeper):
    await serving.start()
    chat = Chat(api)
    (round_,) = await chat.new()
    assert "Ink (C1)" in round_.text
    await chat.says("all done")
    await serving.stop()
    await serving.start()
    await chat.says("what is due today?")
    assert sum(text.startswith(round_.text.splitlines()[0][:12]) for text in api.texts()) <= 2
    assert api.refused == []


PHOTO = [{"file_id": "p", "file_unique_id": "u", "width": 9, "height": 9}]
BAD_INPUT = {
    "a name that fits nobody": {"text": "fed Zebulon two crickets"},
    "a day in the future": {"text": "fed Ink on 3 May 2199"},
    "as many letters as a message holds": {"text": "well " * 819},
    "markup": {"text": "<b>fed</b> <script>x</script> &amp; &lt;"},
    "control characters": {"text": "fed\x01 \x02Zeb\x07ulon\x1b[31m"},
    "a sticker": {"sticker": {"file_id": "s"}},
    "a voice message": {"voice": {"file_id": "v"}},
    "a location": {"location": {"latitude": 1.0, "longitude": 2.0}},
    "a photo without words": {"photo": PHOTO},
    "nonsense": {"text": "qwertz 12 asdf ???"},
    "a forwarded message": {"text": "fed Ink", "forward_origin": {"type": "hidden_user", "date": 1}},
}


async def test_bad_input_of_any_kind_gets_one_clear_answer_and_stores_nothing(api, serving, keeper):
    await serving.start()
    chat = Chat(api)
    await chat.new()
    for what, message in BAD_INPUT.items():
        answers = await chat.says(**({"text": None} | message))
        assert len(answers) == 1, (what, [answer.text for answer in answers])
        assert len(answers[0].text) < 1000
    await asyncio.sleep(2)
    assert len(api.texts()) == 1 + len(BAD_INPUT)
    assert await serving.stop() == 0
    store = Store.open(serving.url)
    with store.look() as work:
        assert work.journal.entries(keeper.shelf_id) == ()
    store.close()
    assert api.refused == []
    assert "could not be handled" not in serving.logged()


async def test_killed_in_the_middle_of_a_busy_minute_every_entry_is_there_once(api, serving, keeper):
    await serving.start()
    await api.until(api.texts)
    said = [f"fed Mole {n} crickets 2026-01-{n:02}" for n in range(2, 8)]
    for text in said:
        api.says(text)
    await api.until(lambda: api.count("sendMessage") > 2)
    await serving.kill()
    await serving.start()
    await api.until(lambda: all(any(f"{n} crickets" in t for t in api.texts()) for n in range(2, 8)))
    assert await serving.stop() == 0
    store = Store.open(serving.url)
    with store.look() as work:
        counts = [row.entry.count for row in work.journal.entries(keeper.shelf_id, kinds=["fed"])]
    store.close()
    assert sorted(counts) == [2, 3, 4, 5, 6, 7]


async def test_it_needs_less_than_130_megabytes(api, serving, keeper):
    await serving.start()
    chat = Chat(api)
    await chat.new()
    said = (
        "fed Ink on monday",
        "Mole molted 3 weeks ago",
        "remind me in 3 days to weigh Ink",
        "who is sealed?",
    )
    for text in said:
        await chat.says(text)
    status = Path(f"/proc/{serving.process.pid}/status")
    if not status.exists():
        pytest.skip("needs /proc")
    peak = int(status.read_text().split("VmHWM:")[1].split()[0]) / 1024
    assert peak < 130
