"""Whatever comes in: nothing raises, nothing hangs, nothing is stored that no message said.

A short run each time; BURROWBELL_FUZZ=N makes each of them N times as long.
"""

from __future__ import annotations

import json
import os
import sys
from datetime import date, datetime
from zoneinfo import ZoneInfo

import pytest
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st

from bot.commands.csv_cells import JOURNAL_COLUMNS, NUMBERS, SPECIMEN_COLUMNS, entry_of, specimen_of
from bot.commands.sheets import read_table
from bot.exchange.whole import NotAShelfError, WholeShelf, from_json, to_json
from bot.reading import ShelfNames, read
from bot.telegram.deep_link import InviteLink, TagLink, payload_for_invite, payload_for_tag, what_is_asked
from bot.telegram.poller import store_updates
from bot.telegram.translate import Heard, Me, Moved, Passed, Standing, UnreadableUpdateError, translate
from bot.terms import DateOrder, Entry, KeeperSettings, Kind, Units
from storage import Store
from tests.faults.house import SHELF, House
from tests.telegram import updates as make

TIMES = int(os.environ.get("BURROWBELL_FUZZ", "1"))
NAMES = ShelfNames.of(SHELF)
NOW = datetime(2026, 3, 4, 9, 0, tzinfo=ZoneInfo("Europe/Berlin"))
fuzzed = settings(max_examples=60 * TIMES, suppress_health_check=list(HealthCheck), print_blob=True)


class _Loud:
    """In place of a log: a fault that would only be logged is raised."""

    def exception(self, *_said):
        raise  # noqa: PLE0704  the fault that is being handled


@pytest.fixture(autouse=True, scope="module")
def no_fault_is_swallowed():
    patch = pytest.MonkeyPatch()
    patch.setattr(sys.modules["bot.reading.read"], "_log", _Loud())
    yield
    patch.undo()


_SAID = """fed Rosie Sunny T12 T112 2 crickets yesterday not no and but all except rack A undo why? molted
sealed remind me in 3 days at 8 hold until 5 cm 12 g £ ½ 3/4/26 29 feb % , . : ; - gestern comió 🕷"""
_words = st.sampled_from([*_SAID.split(), "\n", "\u202e", "\u0000"])
texts = st.lists(_words, max_size=14).map(" ".join) | st.text(max_size=400)
chosen = st.builds(
    KeeperSettings,
    zone=st.sampled_from(["Europe/Berlin", "Pacific/Chatham", "America/Santiago", "UTC"]),
    units=st.sampled_from(Units),
    date_order=st.sampled_from(DateOrder),
    language=st.sampled_from(["en", "de", "es"]),
)
plain = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=20),
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.text(max_size=12), inner, max_size=4),
    max_leaves=12,
)


@fuzzed
@given(texts, chosen)
def test_reading_survives_anything(text, keeper):
    now = NOW.astimezone(ZoneInfo(keeper.zone))
    reading = read(text, NAMES, now=now, settings=keeper)
    assert all(entry.day <= now.date() for entry in reading.entries)
    assert {tag for entry in reading.entries for tag in entry.specimens} <= set(NAMES.by_tag)


@fuzzed
@given(st.lists(texts, min_size=1, max_size=4))
@example(["all \n"])  # was found by this test: a line's end for the word that follows
def test_a_conversation_survives_anything_and_each_message_is_answered(messages):
    store = Store.open("sqlite://")
    try:
        house = House(store, now="2026-03-04T09:00")
        for text in messages:
            assert house.says(text)
    finally:
        store.close()


@pytest.fixture(scope="module")
def house():
    store = Store.open("sqlite://")
    yield House(store, now="2026-03-04T09:00")
    store.close()


@fuzzed
@given(data=st.text(max_size=64) | st.integers().map(str))
def test_a_press_with_any_data_stores_nothing(house, data):
    assert house.presses_data(data)
    assert house.entries() == []


@fuzzed
@given(st.text(max_size=80) | st.binary(max_size=48).map(lambda raw: raw.decode("latin-1")))
@example(payload_for_tag("T07"))
@example(payload_for_invite("a-code"))
def test_a_deep_link_with_any_payload_is_one_of_ours_or_nothing(payload):
    match what_is_asked(payload):
        case TagLink(tag):
            assert what_is_asked(payload_for_tag(tag)) == TagLink(tag)
        case InviteLink(code):
            assert payload_for_invite(code) == payload
        case nothing:
            assert nothing is None
            assert payload not in {payload_for_tag("T07"), payload_for_invite("a-code")}


parts = ["message", "edited_message", "callback_query", "my_chat_member"]
updates = st.dictionaries(st.sampled_from([*parts, "update_id", "channel_post"]), plain, max_size=4) | plain


@fuzzed
@given(updates)
def test_any_update_is_translated_or_called_unreadable(update):
    given_ = update if isinstance(update, dict) else {}
    what = translated(given_)
    assert isinstance(what, Passed | None)  # of what nobody wrote nothing is ever heard
    assert given_.keys() & set(parts) or what == Passed(why="kind of update not asked for")


def translated(update):
    """What an update says; ``None`` where it cannot be read."""
    try:
        return translate(update, received_at=NOW, me=Me(id=1, username="bell"))
    except UnreadableUpdateError:
        return None


WHOLE = (
    make.says("fed Rosie 2 crickets", user=7),
    make.update(edited_message=make.message("fed Rosie", user=7, where=-5)),
    make.update(message=make.message(user=7, caption="Rosie", photo=[make.photo("p", 9, 9)])),
    make.presses("5:1", user=7),
    make.membership("kicked", user=7),
)


def damaged(whole, data):
    """A well-formed value of JSON with one part of it in another's place, or gone."""
    whole = part = json.loads(json.dumps(whole))
    while True:
        keys = list(part) if isinstance(part, dict) else list(range(len(part)))
        key = data.draw(st.sampled_from(keys))
        if not isinstance(part[key], dict | list) or not part[key] or data.draw(st.booleans()):
            break
        part = part[key]
    if data.draw(st.booleans()):
        del part[key]
    else:
        part[key] = data.draw(plain)
    return whole


@fuzzed
@given(st.sampled_from(WHOLE), st.data())
def test_a_damaged_update_is_heard_of_whom_it_names_or_called_unreadable(whole, data):
    what = translated(damaged(whole, data))
    match what:
        case Heard():
            assert (type(what.chat), type(what.person.id), type(what.incoming.text)) == (int, int, str)
            assert what.incoming.sent_at.tzinfo is not None
        case Standing():
            assert (type(what.chat), type(what.person.id), type(what.present)) == (int, int, bool)
        case _:
            assert isinstance(what, Moved | Passed | None)


@fuzzed
@given(st.lists(updates, max_size=3))
def test_any_updates_can_be_kept(house, given_updates):
    numbers = [one.get("update_id") for one in given_updates if isinstance(one, dict)]
    numbers = [number for number in numbers if type(number) is int and 0 <= number < 2**63]
    assert store_updates(house.store, given_updates, NOW) == max(numbers, default=None)


@fuzzed
@given(st.binary(max_size=300) | st.text(max_size=300).map(str.encode), st.sampled_from([".csv", ".xlsx"]))
def test_any_file_is_a_table_or_refused_with_faults(tmp_path_factory, content, suffix):
    path = tmp_path_factory.getbasetemp() / f"fuzz{suffix}"
    path.write_bytes(content)
    for columns, take in ((JOURNAL_COLUMNS, entry_of), (SPECIMEN_COLUMNS, specimen_of)):
        try:
            rows, faults = read_table(path, columns, numbers=NUMBERS)
        except UnicodeDecodeError:
            continue
        assert rows or faults or not content.strip() or b"\n" not in content.strip()
        for row in rows:
            take(row)


@fuzzed
@given(plain.map(json.dumps) | st.text(max_size=200))
def test_any_text_is_a_shelf_or_refused(text):
    with pytest.raises(NotAShelfError):
        from_json(text)  # none of it begins as a shelf does


SHELF_FILE = to_json(
    WholeShelf(
        specimens=((SHELF[0], date(2025, 1, 2)), (SHELF[1], None)),
        entries=(
            Entry(kind=Kind.FED, day=date(2026, 3, 1), specimens=(SHELF[0].tag,), prey="cricket", count=2),
        ),
        settings={"zone": "Europe/Berlin"},
        reminders=({"what": "look"},),
    )
)


@fuzzed
@given(st.data())
def test_a_damaged_shelf_is_taken_for_what_it_says_or_refused(data):
    try:
        shelf = from_json(json.dumps(damaged(json.loads(SHELF_FILE), data)))
    except NotAShelfError:
        return
    assert from_json(to_json(shelf)) == shelf
