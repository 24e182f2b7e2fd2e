"""What holds of every reading, whatever is typed."""

import logging
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import datetime
from zoneinfo import ZoneInfo

from hypothesis import given, settings
from hypothesis import strategies as st

from bot.reading import ShelfNames, read, reading_from_store, reading_to_json, reading_to_store
from bot.reading.model import ReadingKind
from bot.terms import KeeperSettings, Specimen
from tests.reading.corpus import corpus

SHELF = corpus("contract")
KEEPER = KeeperSettings(zone="Europe/Dublin")
NOW = datetime(2026, 5, 14, 19, 30, tzinfo=ZoneInfo("Europe/Dublin"))
#: An invented animal whose names are like nothing that is said of the others.
STRANGER = Specimen(tag="ZZ9", name="Quetzalcoatl", species="Idiothele mira", place="the far cellar")

_words = sorted({word for message in SHELF.messages[:160] for word in message.text.split()[:12]})
messages = st.lists(st.sampled_from(_words), min_size=1, max_size=12).map(" ".join)
lines = st.lists(
    st.sampled_from([*_words, "\n", ". ", "✅", "❌", "3.4.", "the other one", "not"]), max_size=16
)
anything = st.text(max_size=200) | messages | lines.map(" ".join)


@contextmanager
def nothing_fails() -> Iterator[None]:
    """A fault within reading is logged and read as "unclear"; here it is raised."""
    records: list[logging.LogRecord] = []
    handler = logging.Handler()
    handler.emit = records.append  # type: ignore[method-assign]
    logger = logging.getLogger("bot.reading")
    logger.addHandler(handler)
    try:
        yield
    finally:
        logger.removeHandler(handler)
    assert not [record.getMessage() for record in records]


@given(anything)
def test_reading_never_raises_and_never_stores_a_day_to_come(text: str) -> None:
    with nothing_fails():
        reading = read(text, SHELF.names, now=NOW, settings=KEEPER)
    if reading.reading is ReadingKind.ENTRIES:
        assert all(entry.day <= NOW.date() for entry in reading.entries)


@given(messages)
def test_every_animal_of_an_entry_is_of_the_shelf(text: str) -> None:
    reading = read(text, SHELF.names, now=NOW, settings=KEEPER)
    assert {tag for e in reading.entries for tag in e.specimens} <= set(SHELF.names.by_tag)


@given(anything)
def test_a_reading_survives_being_stored(text: str) -> None:
    reading = read(text, SHELF.names, now=NOW, settings=KEEPER)
    assert reading_from_store(reading_to_store(reading)) == reading


@settings(max_examples=60)
@given(messages, st.randoms(use_true_random=False))
def test_the_order_of_the_shelf_changes_no_reading(text: str, random) -> None:
    shuffled = list(SHELF.names.specimens)
    random.shuffle(shuffled)
    one = reading_to_json(read(text, SHELF.names, now=NOW, settings=KEEPER))
    other = reading_to_json(read(text, ShelfNames.of(shuffled), now=NOW, settings=KEEPER))
    assert _in_one_order(one) == _in_one_order(other)


@settings(max_examples=60)
@given(messages)
def test_an_animal_nobody_speaks_of_changes_a_reading_at_most_to_a_question(text: str) -> None:
    more = ShelfNames.of([*SHELF.names.specimens, STRANGER])
    one = reading_to_json(read(text, SHELF.names, now=NOW, settings=KEEPER))
    other = reading_to_json(read(text, more, now=NOW, settings=KEEPER))
    assert other["reading"] in {"ask", "unclear"} or _without_stranger(other) == _in_one_order(one)


@given(st.sampled_from(["T1", "T2", "T11", "T13", "T113", "B12", "C11", "X07"]))
def test_a_tag_that_is_not_on_the_shelf_is_never_taken_for_another(tag: str) -> None:
    near = ShelfNames.of(
        [Specimen(tag=t, species="Grammostola rosea") for t in ("T12", "T112", "B1", "C1", "X7")]
    )
    reading = read(f"fed {tag} a cricket", near, now=NOW, settings=KEEPER)
    assert reading.reading is not ReadingKind.ENTRIES


def _in_one_order(value):
    if isinstance(value, dict):
        return {k: _in_one_order(v) for k, v in value.items()}
    if isinstance(value, list):
        return sorted((_in_one_order(v) for v in value), key=repr)
    return value


def _without_stranger(value):
    """Groups such as "everyone" take in whoever is there; apart from that nothing changes."""
    if isinstance(value, dict):
        return {k: _without_stranger(v) for k, v in value.items()}
    if isinstance(value, list):
        return sorted((_without_stranger(v) for v in value if v != STRANGER.tag), key=repr)
    return value
