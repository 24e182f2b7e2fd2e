"""What is looked at twice. Journals are invented; limits are common practice where no source stands by."""

from __future__ import annotations

from datetime import date, timedelta
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bot.husbandry.concern import TOO_COLD_C, TOO_HOT_C, concerns
from bot.terms import Entry, Kind, Specimen, Stage
from tests.husbandry.given import record_of, records_of

ON = date(2026, 6, 1)


def told(kind: Kind, days_ago: int, **more) -> Entry:
    return Entry(kind=kind, specimens=("A1",), day=ON - timedelta(days=days_ago), **more)


def found(*entries: Entry, stage: Stage = Stage.ADULT, species: str = "Brachypelma hamorii") -> list[str]:
    specimen = Specimen(tag="A1", species=species, stage=stage)
    return [concern.key for concern in concerns([record_of(specimen, entries)], ON)]


WELL = (told(Kind.WATERED, 3), told(Kind.FED, 9))


def test_an_animal_that_is_kept_as_usual_is_no_concern():
    assert found(*WELL) == []


def test_a_thin_abdomen_is_a_grave_matter_a_fat_one_is_told_and_a_plump_one_is_well():
    def keys(words: str) -> list[tuple[str, bool]]:
        card = Specimen(tag="A1", species="Brachypelma hamorii", stage=Stage.ADULT)
        record = record_of(card, (*WELL, told(Kind.NOTE, 2, note=words)))
        return [(concern.key, concern.serious) for concern in concerns([record], ON)]

    assert keys("looks thin") == [("thin", True)]
    assert keys("very fat") == [("fat", False)]
    assert keys("looks plump") == []


def test_water_comes_before_food():
    assert found(told(Kind.WATERED, 60), told(Kind.FED, 400), told(Kind.CHECKED, 1)) == [
        "no_water",
        "long_fast",
    ]


@pytest.mark.parametrize(
    ("stage", "days", "long"),
    [
        (Stage.ADULT, 150, False),
        (Stage.ADULT, 300, True),
        (Stage.SLING, 30, False),
        (Stage.SLING, 60, True),
        (Stage.MATURE_MALE, 100, True),
    ],
)
def test_how_long_a_fast_may_last_goes_by_the_stage(stage, days, long):
    assert ("long_fast" in found(told(Kind.WATERED, 1), told(Kind.FED, days), stage=stage)) is long


def test_a_fast_of_one_that_is_sealed_in_premolt_or_fresh_is_none():
    for kind in (Kind.SEALED, Kind.PREMOLT, Kind.MOLTED):
        assert "long_fast" not in found(told(Kind.FED, 300), told(kind, 20), told(Kind.WATERED, 1))


def test_a_slow_species_may_fast_longer():
    # Grammostola rosea is known for long fasts (common practice, no source); the file has it as slow
    fast = (told(Kind.WATERED, 1), told(Kind.FED, 200))
    assert "long_fast" in found(*fast, species="Psalmopoeus irminia")
    assert "long_fast" not in found(*fast, species="Grammostola rosea")


def test_a_very_long_seal_is_looked_at_from_outside():
    assert found(told(Kind.SEALED, 100), told(Kind.WATERED, 1)) == []
    assert found(told(Kind.SEALED, 200), told(Kind.WATERED, 1)) == ["long_seal"]


@pytest.mark.parametrize(("grams", "falls"), [("20", False), ("18", False), ("16", True)])
def test_weight_that_falls_is_a_concern_unless_a_molt_lies_between(grams, falls):
    # an Aphonopelma lost 20 % in a week of desiccation (Stewart & Martin 1970, abstract)
    before, now = (
        told(Kind.MEASURED, 20, weight_g=Decimal(20)),
        told(Kind.MEASURED, 2, weight_g=Decimal(grams)),
    )
    assert ("weight_falls" in found(*WELL, before, now)) is falls
    assert "weight_falls" not in found(*WELL, before, told(Kind.MOLTED, 10), now)


@pytest.mark.parametrize(
    ("celsius", "key"),
    [(8, "too_cold"), (15, "cool"), (24, None), (33, "warm"), (38, "too_hot")],
)
def test_the_warmth_of_the_room_is_the_animals_too(celsius, key):
    room = Entry(kind=Kind.CLIMATE, day=ON - timedelta(days=2), temp_c=Decimal(celsius))
    records = records_of(
        [Specimen(tag="A1", species="Brachypelma hamorii", stage=Stage.ADULT)], [*WELL, room]
    )
    assert [c.key for c in concerns(records, ON)] == ([key] if key else [])


def test_the_alarms_lie_well_inside_the_lethal_limits():
    # Punzo 1991 (Bull. Br. arachnol. Soc. 8(9):277-283): lower lethal 3.09-4.37, upper lethal 39.76-44.34 °C
    assert TOO_COLD_C.value - 4.37 >= 5
    assert 39.76 - TOO_HOT_C.value >= 4


def test_an_old_reading_says_nothing_of_today():
    room = Entry(kind=Kind.CLIMATE, day=ON - timedelta(days=60), temp_c=Decimal(38))
    records = records_of([Specimen(tag="A1", species="Brachypelma hamorii")], [*WELL, room])
    assert concerns(records, ON) == []


@given(st.integers(0, 900), st.integers(0, 900))
def test_waiting_longer_never_lifts_a_concern(days, more):
    early, late = (found(told(Kind.FED, d), told(Kind.WATERED, d)) for d in (days, days + more))
    assert set(early) <= set(late)


def test_of_those_who_are_gone_nothing_is_said():
    assert found(told(Kind.FED, 700), told(Kind.DIED, 400)) == []
