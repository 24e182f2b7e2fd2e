from __future__ import annotations

from datetime import date, timedelta
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bot.conversation import wording
from bot.terms import Entry, KeeperSettings, Kind, PreySize, SacEvent, Units, WaterHow

TODAY = date(2026, 5, 14)  # a Thursday: ISO 8601 week date 2026-W20-4


@pytest.mark.parametrize(
    ("day", "said"),
    [
        (date(2026, 5, 14), "today"),
        (date(2026, 5, 13), "yesterday"),
        (date(2026, 5, 15), "tomorrow"),
        (date(2026, 5, 12), "Tue 12 May"),
        (date(2025, 12, 31), "Wed 31 Dec 2025"),
    ],
)
def test_a_day_is_near_or_a_date_with_its_weekday(day, said):
    assert wording.day_of(day, TODAY) == said


@pytest.mark.parametrize(
    ("day", "said"),
    [
        (date(2026, 5, 14), "today"),
        (date(2026, 5, 13), "yesterday (Wed 13 May)"),
        (date(2026, 5, 1), "Fri 1 May, 13 days ago"),
        (date(2024, 2, 29), "Thu 29 Feb 2024, 805 days ago"),
    ],
)
def test_a_past_day_comes_with_how_long_ago_it_was(day, said):
    assert wording.day_and_ago(day, TODAY) == said


@given(st.dates(min_value=date(1990, 1, 1), max_value=date(2100, 1, 1)))
def test_a_weekday_is_that_of_the_calendar(day):
    said = wording.date_of(day, TODAY)
    names = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
    assert said.split()[0] == names[day.weekday()]
    assert (str(day.year) in said.split()) == (day.year != TODAY.year)


@pytest.mark.parametrize(
    ("n", "noun", "said"),
    [
        (1, "cricket", "1 cricket"),
        (3, "cricket", "3 crickets"),
        (2, "fruit fly", "2 fruit flies"),
        (2, "dubia roach", "2 dubia roaches"),
        (2, "red runner roach", "2 red runner roaches"),
        (5, "mouse", "5 mice"),
        (2, "boy", "2 boys"),
    ],
)
def test_things_are_counted_with_their_plural(n, noun, said):
    assert wording.counted(n, noun) == said


@pytest.mark.parametrize(
    ("names", "most", "said"),
    [
        ([], None, ""),
        (["A"], None, "A"),
        (["A", "B"], None, "A and B"),
        (["A", "B", "C"], None, "A, B and C"),
        (["A", "B", "C", "D"], 2, "A, B and 2 more"),
    ],
)
def test_lists_read_as_a_person_says_them(names, most, said):
    assert wording.listed(names, most) == said


@pytest.mark.parametrize(
    ("value", "units", "said"),
    [
        (Decimal("12.5"), Units.METRIC, "12.5 cm"),
        (Decimal("12.0"), Units.METRIC, "12 cm"),
        (
            Decimal("12.7"),
            Units.US,
            "5 in",
        ),  # 1 in = 2.54 cm exactly (international yard and pound agreement)
        (Decimal("11.43"), Units.US, "4.5 in"),
        (Decimal(12), Units.IMPERIAL, "12 cm"),
    ],
)
def test_lengths_are_shown_in_the_keepers_units(value, units, said):
    assert wording.length(value, units) == said


def test_temperatures_and_volumes_are_shown_in_the_keepers_units():
    assert wording.temperature(Decimal("24.5"), Units.METRIC) == "24.5 °C"
    assert wording.temperature(Decimal(25), Units.US) == "77 °F"  # 25 × 9/5 + 32
    assert wording.volume(Decimal("18.93"), Units.US) == "5 gal"  # US gallon: 3.785411784 L
    assert wording.volume(Decimal(2), Units.METRIC) == "2 L"


@pytest.mark.parametrize(
    ("values", "said"),
    [
        ({"kind": Kind.FED}, "ate"),
        ({"kind": Kind.FED, "prey": "cricket", "count": 2}, "ate 2 crickets"),
        ({"kind": Kind.FED, "prey": "cricket"}, "ate cricket"),
        (
            {"kind": Kind.FED, "prey": "roach", "count": 1, "size": PreySize.MEDIUM, "prekilled": True},
            "ate 1 medium prekilled roach",
        ),
        ({"kind": Kind.FED, "count": 2}, "ate 2 prey items"),
        ({"kind": Kind.REFUSED, "prey": "locust", "count": 1}, "refused 1 locust"),
        ({"kind": Kind.OFFERED}, "was offered food, outcome open"),
        ({"kind": Kind.WATERED, "how": WaterHow.DISH, "ml": Decimal(20)}, "watered (dish, 20 ml)"),
        (
            {"kind": Kind.MEASURED, "span_cm": Decimal(12), "weight_g": Decimal("8.25")},
            "measured: span 12 cm, 8.25 g",
        ),
        (
            {"kind": Kind.REHOUSED, "volume_l": Decimal(5), "substrate_cm": Decimal(10)},
            "rehoused, 5 L, 10 cm of substrate",
        ),
        ({"kind": Kind.CLIMATE, "temp_c": Decimal("24.5"), "humidity_pct": Decimal(61)}, "24.5 °C, 61 % RH"),
        ({"kind": Kind.SEXED, "sex": "female"}, "sexed: female"),
        (
            {
                "kind": Kind.ACQUIRED,
                "species": "Nhandu chromatus",
                "count": 2,
                "span_cm": Decimal("1.5"),
                "source": "Cork",
                "price": Decimal(20),
                "currency": "EUR",
            },
            "new: 2 Nhandu chromatus, span 1.5 cm, from Cork, for 20 EUR",
        ),
        ({"kind": Kind.SAC, "event": SacEvent.HATCHED, "count": 80}, "egg sac hatched, 80 young"),
        ({"kind": Kind.NOTE, "note": "threw a threat pose"}, "“threw a threat pose”"),
    ],
)
def test_an_entry_is_told_in_few_words(values, said):
    tags = () if values["kind"] is Kind.ACQUIRED else ("A1",)
    entry = Entry(day=TODAY, specimens=tags, **values)
    assert wording.told(entry, KeeperSettings()) == said


def test_an_animal_of_the_shelf_that_came_is_no_new_animals():
    entry = Entry(kind=Kind.ACQUIRED, day=TODAY, specimens=("A1",), source="Cork")
    assert wording.told(entry, KeeperSettings()) == "came to you, from Cork"


@pytest.mark.parametrize("kind", list(Kind))
def test_every_kind_can_be_told_with_nothing_further_said(kind):
    said = wording.told(Entry(kind=kind, day=TODAY), KeeperSettings())
    assert said
    assert "None" not in said


@given(st.integers(min_value=0, max_value=4000))
def test_a_span_of_days_names_its_first_day_and_its_last(n):
    last = TODAY + timedelta(days=n)
    said = wording.span_of_days(TODAY, last, TODAY)
    assert said.startswith("today")
    assert said.endswith(wording.day_of(last, TODAY))


@pytest.mark.parametrize(
    ("litres", "units", "said"),
    [
        ("18.92705892", Units.METRIC, "18.9 L (5 US gal)"),
        ("18.92705892", Units.US, "5 US gal (18.9 L)"),
        ("4.54609", Units.IMPERIAL, "4.5 L (1 UK gal)"),
        ("0.25", Units.METRIC, "0.25 L (0.07 US gal)"),
    ],
)
def test_volumes_are_told_in_both_systems(litres, units, said):
    """1 US gal = 231 in³ = 3.785411784 L, 1 UK gal = 4.54609 L (NIST Handbook 44)."""
    assert wording.volume_in_both(Decimal(litres), units) == said


@pytest.mark.parametrize(
    ("day", "said"),
    [(date(2026, 5, 15), "tomorrow"), (date(2026, 5, 14), "today"), (date(2026, 5, 28), "about Thu 28 May")],
)
def test_a_day_that_was_worked_out_is_about_a_date_and_never_about_tomorrow(day, said):
    assert wording.about_day(day, date(2026, 5, 14)) == said
