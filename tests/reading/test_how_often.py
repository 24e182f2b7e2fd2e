"""Whom a word on how often is for, every how many days, in which months; what is not sure is left alone."""

import pytest

from bot.reading import ShelfNames
from bot.reading.wanted.how_often import (
    animals_said,
    every_days,
    group_said,
    groups_said,
    months_said,
    twice_a_week,
)
from bot.reading.wanted.instructions import read_instruction
from bot.reading.wanted.wanted import Action
from bot.terms import Specimen, Stage
from bot.terms.schedule import EVERYONE, Group, Scope, SlowMonths

GBB = Group(Scope.SPECIES, "Chromatopelma cyaneopubescens")
SLINGS, JUVENILES = Group(Scope.STAGE, "sling"), Group(Scope.STAGE, "juvenile")
ADULTS, MALES = Group(Scope.STAGE, "adult"), Group(Scope.STAGE, "mature male")
PULCHRA = Group(Scope.SPECIES, "Grammostola pulchra")


def animal(tag, species, **more):
    return Specimen(tag=tag, species=species, stage=Stage.SLING, **more)


#: Invented.
SHELF = (
    animal("A1", "Chromatopelma cyaneopubescens", common=("GBB",), name="Blue", aka=("GBB 1",)),
    animal("A2", "Chromatopelma cyaneopubescens", common=("GBB",)),
    animal("A3", "Grammostola pulchra", name="Onyx", place="nursery"),
    animal("A4", "Brachypelma hamorii", common=("red knee",)),
    animal("A5", "Brachypelma smithi", common=("red knee",), name="Adults"),
)
NAMES = ShelfNames.of(SHELF)


@pytest.mark.parametrize(
    ("words", "group"),
    [
        ("slings", SLINGS),
        ("the slings", SLINGS),
        ("all my spiderlings", SLINGS),
        ("every sling", SLINGS),
        ("die Slings", SLINGS),
        ("Juvies", JUVENILES),
        ("los juveniles", JUVENILES),
        ("mature males", MALES),
        ("everyone", EVERYONE),
        ("all my animals", EVERYONE),
        ("GBBs", GBB),
        ("all the GBBs", GBB),
        ("every GBB", GBB),
        ("Chromatopelma cyaneopubescens", GBB),
        ("G. pulchras", PULCHRA),
        ("Caribena versicolor", Group(Scope.SPECIES, "Caribena versicolor")),
        # one animal, a name, several species, a place, a wish for fewer, or nothing that is known
        ("the GBB", None),
        ("G. pulchra", None),
        ("sling", None),
        ("Blue", None),
        ("adults", None),
        ("the adults", None),
        ("red knees", None),
        ("Brachypelmas", None),
        ("nursery", None),
        ("slings but Blue", None),
        ("female slings", None),
        ("the slings on A", None),
        ("roaches", None),
        ("them", None),
        ("", None),
    ],
)
def test_whom_words_are_for(words, group):
    assert group_said(words, NAMES) == group


@pytest.mark.parametrize(
    ("words", "found"),
    [
        ("the slings every 4 days", ("the slings", 4)),
        ("slings weekly", ("slings", 7)),
        ("slings, every other day", ("slings", 2)),
        ("adults once a week", ("adults", 7)),
        ("adults every 2 weeks", ("adults", 14)),
        ("die Adulten alle 10 Tage", ("die Adulten", 10)),
        ("las adultas cada 10 días", ("las adultas", 10)),
        ("slings every 5 to 7 days", None),
        ("slings every few days", None),
        ("slings every Sunday", None),
        ("slings every month", None),
        ("slings every 4 days at 8", None),
        ("slings every 4 days and water", None),
        ("slings in 4 days", None),
        ("slings", None),
    ],
)
def test_every_how_many_days(words, found):
    assert every_days(words) == found


def test_twice_a_week_is_no_number_of_days_and_is_told_apart():
    assert twice_a_week("slings twice a week") == "slings"
    assert twice_a_week("slings once a week") is None


@pytest.mark.parametrize(
    ("first", "last", "months"),
    [
        ("November", "February", SlowMonths(11, 2)),
        ("Juni", "August", SlowMonths(6, 8)),
        ("diciembre", "ene", SlowMonths(12, 1)),
        ("15 November", "March", None),
        ("winter", "spring", None),
        ("Monday", "March", None),
    ],
)
def test_months_are_whole_months_by_name(first, last, months):
    assert months_said(first, last) == months


@pytest.mark.parametrize(
    "text",
    [
        "fed slings 4 days ago",
        "fed the slings",
        "feed slings every 4 days at 8",
        "feed slings every 90 days",
        "feed slings every 5 to 7 days",
        "feed the GBB every 5 days",
        "remind me to feed slings every 4 days",
        "slings ate less from november to february",
        "how often does Onyx eat?",
        "feed less",
    ],
)
def test_what_is_said_otherwise_is_left_to_the_ordinary_reading(text):
    assert read_instruction(text, NAMES) is None


@pytest.mark.parametrize(
    ("text", "action", "value", "group", "days"),
    [
        ("feed slings every 4 days", Action.SCHEDULE, "feed", SLINGS, 4),
        ("Please feed the slings every 4 days.", Action.SCHEDULE, "feed", SLINGS, 4),
        ("slings get fed every 4 days", Action.SCHEDULE, "feed", SLINGS, 4),
        ("water the GBBs every 3 days", Action.SCHEDULE, "water", GBB, 3),
        ("feed slings twice a week", Action.SCHEDULE, "feed", SLINGS, None),
        ("feed Onyx every 5 days", Action.SCHEDULE, "feed", None, 5),
        ("riega los GBB cada 3 días", Action.SCHEDULE, "water", GBB, 3),
        ("wässere alle Slings alle 3 Tage", Action.SCHEDULE, "water", SLINGS, 3),
        ("feed juveniles by the rule again", Action.BY_THE_RULE, "feed", JUVENILES, None),
        ("how often are the GBBs watered?", Action.SCHEDULE_OF, "water", GBB, None),
        ("how often do I feed the slings", Action.SCHEDULE_OF, "feed", SLINGS, None),
    ],
)
def test_a_word_on_how_often(text, action, value, group, days):
    found = read_instruction(text, NAMES)
    assert found is not None
    assert (found.action, found.value, found.group, found.days) == (action, value, group, days)


@pytest.mark.parametrize(
    ("words", "groups", "tags"),
    [
        ("slings and juveniles", (SLINGS, JUVENILES), ()),
        ("all GBBs and Onyx", (GBB,), ("A3",)),
        ("the slings, juvies and adults of mine", None, None),
        ("slings, juvies & mature males", (SLINGS, JUVENILES, MALES), ()),
        ("Onyx, the slings and Blue", (SLINGS,), ("A3", "A1")),
        ("Slings und Juvies", (SLINGS, JUVENILES), ()),
        ("las arañitas y los juveniles", (SLINGS, JUVENILES), ()),
        ("slings and slings", (SLINGS,), ()),
        # a name that nobody has, a place, prey, animals alone, one group alone
        ("all GBBs and Sunny", None, None),
        ("slings and the nursery", None, None),
        ("slings and 2 crickets", None, None),
        ("Onyx and Blue", None, None),
        ("slings", None, None),
    ],
)
def test_several_groups_are_each_wholly_understood_or_none_of_them_is(words, groups, tags):
    assert groups_said(words, NAMES) == (None if groups is None else (groups, tags))


@pytest.mark.parametrize(
    ("words", "tags"),
    [
        ("Onyx and Blue", ("A1", "A3")),
        ("my Onyx", ("A3",)),
        ("the nursery", ("A3",)),
        ("everything on the nursery and Blue", ("A1", "A3")),
        ("Onyx and Zorro", ()),
        ("Onyx, a cricket and a roach", ()),
        ("Blue and check Onyx", ()),
        ("everything on the cellar", ()),
        ("the red knee", ()),
    ],
)
def test_animals_are_named_only_where_each_part_of_the_words_is_a_name_or_a_place_and_nothing_more(
    words, tags
):
    assert animals_said(words, NAMES) == tags


@pytest.mark.parametrize(
    ("text", "work", "tags", "group", "days"),
    [
        ("mist Onyx every 2 days", "mist", ("A3",), None, 2),
        ("spray the slings every second day", "mist", (), SLINGS, 2),
        ("refill the dish of Onyx every 3 days", "dish", ("A3",), None, 3),
        ("top up Onyx's water bowl every 3 days", "dish", ("A3",), None, 3),
        ("refill all the dishes every 5 days", "dish", (), EVERYONE, 5),
        ("fill the dishes of the slings every 5 days", "dish", (), SLINGS, 5),
        ("water everything in the nursery every 4 days from now on", "water", ("A3",), None, 4),
        ("refill Onyx every 4 days", "water", ("A3",), None, 4),
        ("sprüh Onyx alle 3 Tage", "mist", ("A3",), None, 3),
        ("mist Onyx as usual", "mist", ("A3",), None, None),
        ("stop misting the slings every 3 days", "mist", (), SLINGS, None),
        ("refill the dish of Onyx by the rule", "dish", ("A3",), None, None),
        ("cancel the watering schedule for the nursery", "water", ("A3",), None, None),
    ],
)
def test_water_as_a_whole_the_dish_and_misting_are_told_apart(text, work, tags, group, days):
    wanted = read_instruction(text, NAMES)
    assert wanted is not None
    assert (wanted.value, wanted.tags, wanted.group, wanted.days) == (work, tags, group, days)


@pytest.mark.parametrize(
    "text",
    [
        "mist Onyx every Monday",
        "mist Onyx every 2 days at 8",
        "refill the dish every 3 days",
        "refill the feeder box every 3 days",
        "stop feeding Onyx",
        "mist Onyx and check Blue every 2 days",
    ],
)
def test_no_interval_is_made_of_what_says_less_or_more(text):
    assert read_instruction(text, NAMES) is None
