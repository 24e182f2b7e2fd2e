"""The days since water and the next one, as the round has them."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest

from bot.husbandry.water_places import WaterPlace
from bot.pictures import gather
from bot.pictures.charts import moisture_chart
from bot.pictures.data import PictureKind
from bot.pictures.drawing import NothingToShowError, draw
from bot.pictures.theme import Look
from bot.round.care import water_plans
from bot.round.rests import Case
from bot.terms import Kind, WaterHow
from tests.pictures.conftest import TODAY
from tests.pictures.test_charts import LOOKS, assert_laid_out

LOOK = next(iter(LOOKS.values()))
assert isinstance(LOOK, Look)


def facts_of(demo, tag):
    return next(one for one in demo.facts if one.specimen.tag == tag)


@pytest.mark.parametrize("tag", ["K1", "S4", "M5", "F1"])
def test_waterings_are_those_of_the_journal_and_the_next_is_the_rounds(demo, tag):
    found = gather.moistures_of(facts_of(demo, tag), demo.entries, TODAY)
    own = [one for one in demo.entries if tag in one.specimens and one.kind is Kind.WATERED]
    hows = {one.how for one in own}
    apart = WaterHow.DISH in hows and bool(hows & {WaterHow.SUBSTRATE, WaterHow.MISTED})
    days = {one.day for one in own if not (apart and one.how is WaterHow.DISH)}
    assert found.watered == tuple(sorted(days))
    plan = water_plans(Case(facts_of(demo, tag), TODAY))[-1]
    assert plan.watered.place is (WaterPlace.SUBSTRATE if apart else WaterPlace.ANY)
    latest = found.watered[-1]
    assert latest + timedelta(days=found.early) <= plan.due <= plan.latest
    assert plan.latest == latest + timedelta(days=found.late)


def test_the_keepers_own_interval_stands_above_the_model(demo):
    facts = replace(facts_of(demo, "K1"), water_every=6)
    found = gather.moistures_of(facts, demo.entries, TODAY)
    assert (found.early, found.late, found.basis) == (6, 6, "keeper's setting")


@pytest.mark.parametrize("overdue", [0, 40])
def test_one_whose_water_is_long_overdue_is_drawn_too(demo, overdue):
    found = gather.moistures_of(facts_of(demo, "K1"), demo.entries, TODAY)
    picture = moisture_chart(replace(found, last=TODAY + timedelta(days=overdue)), LOOK)
    assert_laid_out(picture)
    assert "11 May 2026" in picture.caption


def test_one_never_watered_on_record_gets_no_picture(demo):
    dry = replace(demo.records, entries=tuple(one for one in demo.entries if one.kind is not Kind.WATERED))
    with pytest.raises(NothingToShowError, match="no watering on record"):
        draw(PictureKind.MOISTURE, dry, LOOK, animal=demo.animal("K1"))
    with pytest.raises(NothingToShowError, match="which animal"):
        draw(PictureKind.MOISTURE, dry, LOOK)
