from __future__ import annotations

from datetime import UTC, datetime
from zoneinfo import available_timezones

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bot.conversation.species_words import is_scientific, name_and_species, species_meant
from bot.conversation.tags import known_place, like_places, next_tags, place_of_tag
from bot.conversation.zones import clock_in, large_cities, zones_meant
from bot.reading import ShelfNames
from bot.reading.wanted.here_since import here_since
from bot.terms import Specimen
from tests.conversation.given import INVENTED_SHELF

WINTER = datetime(2026, 1, 15, 12, 0, tzinfo=UTC)
SUMMER = datetime(2026, 7, 15, 12, 0, tzinfo=UTC)


def named(*tags: str, place: str = "shelf A") -> list[Specimen]:
    return [Specimen(tag=tag, species="Grammostola pulchra", place=place) for tag in tags]


@pytest.mark.parametrize(
    ("tags", "place", "n", "found"),
    [
        (["A1", "A2", "A3"], "shelf A", 1, ["A4"]),
        (["A1", "A7"], "shelf A", 2, ["A8", "A9"]),
        (["T07", "T12"], "shelf A", 1, ["T13"]),
        (["T1", "T2"], "Shelf  a", 1, ["T3"]),
        ([], "rack B", 2, ["B1", "B2"]),
        ([], "bookcase", 1, ["B1"]),
        ([], None, 1, ["T1"]),
        (["Zoe", "Max"], "shelf A", 1, ["A1"]),
    ],
)
def test_the_next_tag_follows_the_habit_of_the_place(tags, place, n, found):
    assert next_tags(named(*tags), place, n) == found


@given(st.lists(st.from_regex(r"[A-C][0-9]{1,2}", fullmatch=True), max_size=20), st.integers(1, 5))
def test_the_next_tags_are_free_and_differ(tags, n):
    shelf = named(*dict.fromkeys(tags))
    found = next_tags(shelf, "shelf A", n)
    assert len(set(found)) == n
    assert not {tag.casefold() for tag in tags} & {tag.casefold() for tag in found}


def test_a_place_keeps_the_name_that_the_shelf_gave_it():
    assert known_place(["Rack B", "shelf A"], "rack  b") == "Rack B"
    assert known_place(["Rack B"], "rack c") == "rack c"


def test_a_tag_tells_its_place_where_all_like_it_stand_together():
    assert place_of_tag(INVENTED_SHELF, "A9") == "shelf A"
    assert place_of_tag(INVENTED_SHELF, "Q1") is None


@pytest.mark.parametrize(
    ("said", "species"),
    [
        ("Brachypelma hamorii", ["Brachypelma hamorii"]),
        ("B. hamorii", ["Brachypelma hamorii"]),
        ("b hamorii", ["Brachypelma hamorii"]),
        ("GBB", ["Chromatopelma cyaneopubescens"]),  # by the invented shelf's trade names
        ("Zoe", []),
        ("Mexican redknee", ["Brachypelma hamorii", "Brachypelma smithi"]),  # the trade means either
    ],
)
def test_words_for_a_species(said, species):
    assert species_meant(said, INVENTED_SHELF) == species


def test_two_capital_and_small_words_are_built_like_a_scientific_name():
    assert is_scientific("Fictopelma inventum")
    assert is_scientific("Fictopelma sp. valley")
    assert not is_scientific("old lady")
    assert not is_scientific("Zoe")


@pytest.mark.parametrize(
    ("parts", "name", "species", "left"),
    [
        (("Zoe",), "Zoe", [], []),
        (("Zoe", "B. hamorii"), "Zoe", ["Brachypelma hamorii"], []),
        (("Zoe Brachypelma hamorii",), "Zoe", ["Brachypelma hamorii"], []),
        (("B. hamorii",), None, ["Brachypelma hamorii"], []),
        (("B. hamorii", "Zoe", "Mo"), "Zoe", ["Brachypelma hamorii"], ["Mo"]),
    ],
)
def test_a_newcomers_name_is_told_from_its_species_and_from_what_is_left_over(parts, name, species, left):
    assert name_and_species(parts, INVENTED_SHELF) == (name, species, left)


@pytest.mark.parametrize(
    ("said", "meant"),
    [
        ("aphonopelma sp", ["Aphonopelma sp."]),
        ("Aphonopelma sp. New River", ["Aphonopelma sp. New River"]),
        ("unidentified pamphobeteus", ["Pamphobeteus sp."]),
        ("an unknown aphonopelma species", ["Aphonopelma sp."]),
        ("nosuchgenus", []),
        ("GBBs", ["Chromatopelma cyaneopubescens"]),
    ],
)
def test_a_genus_alone_may_be_known(said, meant):
    assert species_meant(said, INVENTED_SHELF) == meant


def test_a_genus_by_itself_may_be_any_species_of_it_or_none_that_is_known():
    first, *others = species_meant("brachypelma", INVENTED_SHELF)
    assert first == "Brachypelma sp."
    assert others
    assert all(name.startswith("Brachypelma ") for name in others)


@pytest.mark.parametrize(
    ("said", "found"),
    [
        ("i've had Pebble since 2021", ("A1", "2021")),
        ("had Pebble for 3 years", ("A1", "3 years")),
        ("Pebble arrived in March 2021", ("A1", "March 2021")),
        ("shes been here since march 2021, not new", (None, "march 2021")),
        ("Pebble is not new", ("A1", None)),
        ("GBB is not new", None),
        ("Pebble ate 2 crickets", None),
    ],
)
def test_it_is_told_since_when_an_animal_is_kept(said, found):
    assert here_since(said, ShelfNames.of(INVENTED_SHELF)) == found


@pytest.mark.parametrize(
    ("said", "like"),
    [
        ("desk shelf", ["shelf above the desk"]),
        ("rack A bottom", ["rack A"]),
        ("rack C", []),
        ("rack a", []),
        ("shelf above the desk", []),
    ],
)
def test_a_place_like_one_of_the_shelf_is_told(said, like):
    assert like_places(["rack A", "rack B", "shelf above the desk"], said) == like


@pytest.mark.parametrize(
    ("said", "now", "zones"),
    [
        ("Europe/Dublin", WINTER, ["Europe/Dublin"]),
        ("europe/dublin", WINTER, ["Europe/Dublin"]),
        ("Dublin", WINTER, ["Europe/Dublin"]),
        ("new york", WINTER, ["America/New_York"]),
        ("nowhere at all", WINTER, []),
        ("manchester", WINTER, ["Europe/London"]),
        ("I live near Leeds", WINTER, ["Europe/London"]),
        ("Cork, Ireland", WINTER, ["Europe/Dublin"]),
        ("new york city", WINTER, ["America/New_York"]),
        ("Texas", WINTER, ["America/Chicago"]),
        ("germany", WINTER, ["Europe/Berlin"]),
        ("New Zealand", WINTER, ["Pacific/Auckland", "Pacific/Chatham"]),
        ("Birmingham", WINTER, ["Europe/London", "America/Chicago"]),
        ("Birmingham, Alabama", WINTER, ["America/Chicago"]),
        ("Paris, Texas", WINTER, ["Europe/Paris", "America/Chicago"]),
        ("<b>", WINTER, []),
    ],
)
def test_a_city_or_zone_is_found_by_its_name(said, now, zones):
    assert zones_meant(said, now) == zones


def test_a_clock_of_twelve_hours_may_show_the_afternoon():
    noon = datetime(2026, 1, 15, 16, 20, tzinfo=UTC)
    assert "Europe/London" in zones_meant("its 4:20 here", noon)
    assert "Europe/London" not in zones_meant("its 4:20 am here", noon)


def test_every_zone_of_the_large_cities_is_one_of_the_database():
    """source: the IANA time zone database, by ``zoneinfo``"""
    assert {zone for zones in large_cities().values() for zone in zones} <= available_timezones()


@pytest.mark.parametrize("said", ["GMT+2", "UTC+2", "+2", "CET", "EST", "Etc/GMT-2", "utc +05:45"])
@pytest.mark.parametrize("now", [WINTER, SUMMER])
def test_a_zone_without_a_place_gives_cities_to_choose_from(said, now):
    """Such names know no summer time, or count their sign the other way round."""
    found = zones_meant(said, now)
    assert found
    assert all("/" in zone and not zone.startswith("Etc/") for zone in found)
    assert len({clock_in(zone, now).utcoffset() for zone in found}) == 1


def test_the_time_on_the_clock_gives_cities_whose_clock_shows_it():
    assert "Europe/Berlin" in zones_meant("13:00", WINTER)
    assert "Europe/Berlin" in zones_meant("2 pm", SUMMER)
    assert "Europe/Berlin" not in zones_meant("12:00", WINTER)


@pytest.mark.parametrize(
    ("language", "words", "city"),
    [
        ("german", "ich wohne in Berlin", "Europe/Berlin"),
        ("german", "meine Zeitzone ist Vienna", "Europe/Vienna"),
        ("spanish", "vivo en Madrid", "Europe/Madrid"),
        ("spanish", "mi zona horaria es Bogota", "America/Bogota"),
    ],
)
def test_where_a_keeper_lives_is_said_in_each_language(chat, language, words, city):
    chat.told(f"language {language}")
    chat.told("my time zone")
    assert city in chat.told(words)
