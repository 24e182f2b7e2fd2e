"""Tags of every build that keepers write on their tubs name the animal that bears them."""

from datetime import datetime
from zoneinfo import ZoneInfo

import pytest

from bot.reading import ShelfNames, read
from bot.terms import KeeperSettings, Specimen

NOW = datetime(2026, 5, 14, 19, 30, tzinfo=ZoneInfo("Europe/Dublin"))
SETTINGS = KeeperSettings(zone="Europe/Dublin")

#: Three tags of a build, one after the other on the shelf, which are numbered one by one.
ROWS = (
    ("A1", "A2", "A3"),
    ("T-014", "T-015", "T-016"),
    ("S1-01", "S1-02", "S1-03"),
    ("AV#1", "AV#2", "AV#3"),
    ("M/1", "M/2", "M/3"),
    ("V-07", "V-08", "V-09"),
    ("BM.01", "BM.02", "BM.03"),
    ("T_1", "T_2", "T_3"),
    ("GBB 1", "GBB 2", "GBB 3"),
    ("PULCHRA-1", "PULCHRA-2", "PULCHRA-3"),
    ("11", "12", "13"),
    ("#11", "#12", "#13"),
)
#: Three that are not.
NO_ROWS = (("AA", "BB", "CC"), ("21A", "21B", "21C"))


def shelf(tags):
    animals = [Specimen(tag=tag, species=f"Species {'abc'[n]}", place="rack") for n, tag in enumerate(tags)]
    return ShelfNames.of(animals)


def told(message, tags):
    reading = read(message, shelf(tags), now=NOW, settings=SETTINGS)
    return {(str(entry.kind), tag) for entry in reading.entries for tag in entry.specimens}, reading


@pytest.mark.parametrize("tags", ROWS + NO_ROWS, ids="/".join)
def test_a_tag_of_any_build_names_its_animal(tags):
    one, two, three = tags
    assert told(f"{one} ate", tags)[0] == {("fed", one)}
    assert told(f"fed {one} 2 crickets", tags)[0] == {("fed", one)}
    assert told(f"{two.lower()} refused", tags)[0] == {("refused", two)}
    assert told(f"{one}, {two}, {three} ate", tags)[0] == {("fed", tag) for tag in tags}
    assert told(f"{one} and {two} refused", tags)[0] == {("refused", one), ("refused", two)}
    both = {("fed", one), ("fed", two), ("refused", three)}
    assert told(f"fed {one} and {two} 2 crickets each, {three} refused", tags)[0] == both


@pytest.mark.parametrize("tags", ROWS, ids="/".join)
@pytest.mark.parametrize("joint", [" to ", "-", " thru "])
def test_the_first_and_last_of_a_row_stand_for_all_between(tags, joint):
    assert told(f"{tags[0]}{joint}{tags[2]} ate", tags)[0] == {("fed", tag) for tag in tags}


@pytest.mark.parametrize("tags", NO_ROWS, ids="/".join)
@pytest.mark.parametrize("joint", [" to ", "-"])
def test_of_tags_that_are_no_row_it_is_asked_who_stands_between(tags, joint):
    entries, reading = told(f"{tags[0]}{joint}{tags[2]} ate", tags)
    assert not entries
    assert reading.ask.choices == tags
