"""What a keeper says of the feeder box, and what sounds like it and is not."""

from datetime import UTC, datetime

import pytest

from bot.reading import ShelfNames
from bot.reading.box_counts import counted_in, lost_in
from bot.terms import KeeperSettings, Kind, PreySize, Specimen

_NAMES = ShelfNames.of([Specimen(tag="A1", species="Brachypelma hamorii", name="Pebble")])
_NOW = datetime(2026, 5, 14, 19, 30, tzinfo=UTC)


def _count(text: str):
    return _counts(text)[0] if len(_counts(text)) == 1 else None


def _counts(text: str, language: str = "en"):
    return counted_in(text, _NAMES, now=_NOW, settings=KeeperSettings(language=language))


@pytest.mark.parametrize(
    ("text", "prey", "count", "size"),
    [
        ("about 40 small crickets left in the box", "cricket", 40, PreySize.SMALL),
        ("we have around 50 dubia left", "dubia roach", 50, None),
        ("The feeder box holds 12 medium crickets", "cricket", 12, PreySize.MEDIUM),
        ("counted 25 superworms in stock", "superworm", 25, None),
        ("out of mealworms", "mealworm", 0, None),
        ("I ran out of small crickets", "cricket", 0, PreySize.SMALL),
        ("no crickets left in the box", "cricket", 0, None),
        ("cricket bin is empty", "cricket", 0, None),
        ("the crickets are all gone", "cricket", 0, None),
    ],
)
def test_what_the_box_holds_is_counted(text, prey, count, size):
    entry = _count(text)
    assert entry is not None
    assert (entry.kind, entry.prey, entry.count, entry.size) == (Kind.COUNTED, prey, count, size)
    assert entry.specimens == ()


@pytest.mark.parametrize(
    "text",
    [
        "Pebble ate 2 crickets",
        "2 crickets left",
        "we have 6 slings left",
        "there are 3 crickets left in Pebble's tub",
        "out of the burrow",
        "some crickets left in the box",
        "we have 40 left",
    ],
)
def test_what_is_no_count_of_the_box_is_none(text):
    assert _counts(text) == ()


@pytest.mark.parametrize(
    ("language", "text", "counts"),
    [
        ("en", "40 small crickets and 12 dubia in the box", [("cricket", 40), ("dubia roach", 12)]),
        ("en", "in the box: 40 small crickets, 12 dubia", [("cricket", 40), ("dubia roach", 12)]),
        ("de", "noch etwa 40 kleine Heimchen in der Kiste", [("cricket", 40)]),
        ("de", "noch 40 kleine Heimchen und 12 Schaben übrig", [("cricket", 40), ("roach", 12)]),
        ("de", "keine Mehlwürmer mehr", [("mealworm", 0)]),
        ("de", "die Heimchen sind alle", [("cricket", 0)]),
        ("de", "noch 40 übrig", []),
        ("es", "quedan unos 40 grillos pequeños en la caja", [("cricket", 40)]),
        ("es", "en la caja hay 40 grillos y 12 cucarachas", [("cricket", 40), ("roach", 12)]),
        ("es", "no quedan grillos", [("cricket", 0)]),
        ("es", "quedan 3 días", []),
    ],
)
def test_several_sorts_and_other_languages_are_counted(language, text, counts):
    assert [(one.prey, one.count) for one in _counts(text, language)] == counts


@pytest.mark.parametrize(
    ("language", "text", "lost"),
    [
        ("en", "50 of the crickets died", [("cricket", 50, None)]),
        ("en", "about 20 small crickets escaped", [("cricket", 20, PreySize.SMALL)]),
        ("en", "threw out 30 dubia from the bin", [("dubia roach", 30, None)]),
        ("de", "etwa 20 Heimchen sind tot", [("cricket", 20, None)]),
        ("es", "murieron unos 20 grillos", [("cricket", 20, None)]),
        ("en", "threw out 2 crickets", []),  # of whose tub?
        ("en", "2 of the slings died", []),
        ("en", "Pebble died", []),
        ("en", "50 died", []),
    ],
)
def test_feeders_that_died_or_went_are_heard_as_lost(language, text, lost):
    found = lost_in(text, _NAMES, now=_NOW, settings=KeeperSettings(language=language))
    assert [(one.prey, one.count, one.size) for one in found] == lost
