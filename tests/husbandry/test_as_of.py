"""What a specimen was at an entry. Journals are invented."""

from __future__ import annotations

from datetime import date, timedelta
from decimal import Decimal

import pytest

from bot.husbandry.as_of import as_of_each
from bot.husbandry.start import start_of
from bot.terms import Entry, Kind, Sex, Specimen, Stage

CAME = date(2020, 1, 1)
SPECIES = "Grammostola pulchra"


def at(days: int, kind: Kind, **more) -> Entry:
    return Entry(kind=kind, day=CAME + timedelta(days=days), specimens=("A1",), **more)


def stood(*entries: Entry, said=((CAME, Stage.SLING),), **came_as):
    came_as = Specimen(tag="A1", species=SPECIES, **{"stage": Stage.SLING} | came_as)
    now = Specimen(tag="A1", species=SPECIES, stage=Stage.ADULT, sex=Sex.FEMALE, span_cm=Decimal(13))
    return list(as_of_each(now, start_of(came_as, CAME), said, entries))


def span(days: int, cm: str) -> Entry:
    return at(days, Kind.MEASURED, span_cm=Decimal(cm))


def test_the_stage_is_that_of_the_size_by_that_day():
    told = stood(at(1, Kind.FED), span(400, "7"), at(410, Kind.FED), span(2000, "16"), at(2001, Kind.FED))
    small, *middle, grown, large = [one.stage for one in told]
    assert small is Stage.SLING
    assert middle == [Stage.JUVENILE] * 2
    assert grown is large is Stage.ADULT


def test_a_word_on_the_stage_holds_from_the_day_on_which_it_was_told():
    said = ((CAME, Stage.SLING), (CAME + timedelta(days=900), Stage.ADULT))
    told = stood(at(1, Kind.FED), at(899, Kind.FED), at(900, Kind.FED), said=said)
    assert [one.stage for one in told] == [Stage.SLING, Stage.SLING, Stage.ADULT]


def test_of_days_before_anything_was_told_or_measured_the_stage_is_not_known():
    told = stood(at(-30, Kind.FED), at(0, Kind.FED), span_cm=Decimal("1.5"))
    assert [one.stage for one in told] == [None, Stage.SLING]


def test_sex_and_maturity_are_those_of_the_day():
    told = stood(at(1, Kind.FED), at(5, Kind.SEXED, sex="male"), at(900, Kind.MATURED), at(901, Kind.FED))
    assert [one.sex for one in told] == [Sex.UNKNOWN, Sex.MALE, Sex.MALE, Sex.MALE]
    assert [one.stage for one in told] == [Stage.SLING, Stage.SLING, Stage.MATURE_MALE, Stage.MATURE_MALE]


@pytest.mark.parametrize(("lost", "counts"), [(2, [6, 6, 4]), (None, [6, 6, 0])])
def test_a_lot_is_as_many_as_were_left(lost, counts):
    told = stood(at(1, Kind.FED), at(5, Kind.DIED, count=lost), at(9, Kind.NOTE), lot_size=6)
    assert [one.count for one in told] == counts
