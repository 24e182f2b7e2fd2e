"""Homes: what suits a span and habit, when it is outgrown, and when to move."""

from datetime import date, timedelta
from decimal import Decimal

import pint
import pytest

from bot.husbandry import enclosure, practice
from bot.husbandry.animal import Animal
from bot.husbandry.enclosure import home_for, moving_window, outgrown_at_cm
from bot.husbandry.proportions import carapace_of_span
from bot.husbandry.state import SpecimenState
from bot.terms import Habit, Specimen, Stage

TODAY = date(2026, 5, 14)
SPANS = [0.7, 1.5, 3.0, 6.0, 12.0, 18.0, 26.0]


@pytest.fixture(scope="module")
def unit():
    """Pint's units, as the second opinion."""
    return pint.UnitRegistry()


def day(ahead: int) -> date:
    return TODAY + timedelta(days=ahead)


def animal(span=6.0, **state) -> Animal:
    """An invented animal."""
    specimen = Specimen(
        tag="C1", species="Tliltocatl albopilosus", stage=Stage.JUVENILE, span_cm=Decimal(str(span))
    )
    return Animal(specimen, SpecimenState(**state))


def test_every_figure_lies_in_its_range_and_names_its_source():
    tables = (enclosure.FLOOR_LENGTH, enclosure.SUBSTRATE, enclosure.HEADROOM)
    singles = (enclosure.FLOOR_WIDTH, enclosure.WIDEST_HOLE_MM, enclosure.HOLE_PART, enclosure.MOVE_WITHIN)
    for figure in (*singles, *(one for table in tables for one in table.values())):
        assert figure.low <= figure.value <= figure.high
        assert figure.source


# Floor 3 by 2 spans (enviroliteracy.org, weak source); a ground dweller's headroom at most 1.5 spans, a
# digger's substrate at least 1.5, a climber's height at least 3: common practice, no source.
@pytest.mark.parametrize("span", SPANS)
@pytest.mark.parametrize("habit", list(Habit))
def test_homes_keep_to_the_trades_rules(habit, span):
    home = home_for(habit, span)
    assert home.length_cm >= 2 * span
    assert home.width_cm >= 2 * span
    if habit is Habit.ARBOREAL:
        assert home.headroom_cm >= 3 * span
    else:
        assert home.headroom_cm <= 1.5 * span
    if habit is Habit.FOSSORIAL:
        assert home.substrate_cm >= 1.5 * span


@pytest.mark.parametrize("span", SPANS)
@pytest.mark.parametrize("habit", list(Habit))
def test_the_volume_is_that_of_the_box_and_is_not_outgrown(habit, span, unit):
    home = home_for(habit, span)
    box = (
        home.length_cm
        * unit.cm
        * (home.width_cm * unit.cm)
        * ((home.substrate_cm + home.headroom_cm) * unit.cm)
    )
    assert home.volume_l == pytest.approx(box.to(unit.liter).magnitude)
    assert home.volume_l > home.least_l
    figure = practice.HOME_SPANS_CUBED[habit]
    assert figure.low <= home.volume_l * 1000 / span**3 <= figure.high
    assert outgrown_at_cm(habit, home.least_l) == pytest.approx(span)


# Holes of at most 4 mm, for slings smaller than the carapace (howdo107, weak source; common practice).
@pytest.mark.parametrize("span", SPANS)
def test_nothing_gets_out_through_the_air_holes(span):
    hole = home_for(Habit.TERRESTRIAL, span).hole_mm
    assert hole <= 4.0
    assert hole < carapace_of_span(span)


# -- when to move -------------------------------------------------------------------------------------


def test_in_the_middle_of_a_cycle_it_may_be_moved_until_well_before_the_next_molt():
    molts = tuple(map(day, (60, 80, 100, 120, 160)))
    window = moving_window(animal(last_molted=day(-60)), molts, TODAY)
    assert window.first == TODAY
    assert TODAY < window.last < molts[0]
    assert not window.after_molt


def test_a_soft_animal_is_not_moved_before_it_may_eat():
    molts = tuple(map(day, (90, 110, 130, 150, 200)))
    window = moving_window(animal(last_molted=day(-2), eaten_since_molt=False), molts, TODAY)
    wait = practice.for_span(practice.FIRST_MEAL_AFTER_MOLT, 6.0).days
    assert window.first == day(-2 + wait)
    assert not window.after_molt


@pytest.mark.parametrize("state", [{"sealed_since": TODAY}, {"premolt_since": TODAY}, {"refusals": 3}])
def test_near_a_molt_the_move_waits_until_the_new_skin_is_hard(state):
    molts = tuple(map(day, (5, 10, 20, 30, 60)))
    window = moving_window(animal(last_molted=day(-150), **state), molts, TODAY)
    assert window.after_molt
    assert window.first >= day(20 + 7)
    assert window.last > window.first


def test_a_mature_male_may_be_moved_once_he_is_hard():
    assert moving_window(animal(), None, TODAY) is None
    fresh = moving_window(animal(last_molted=day(-1), eaten_since_molt=False), None, TODAY)
    assert fresh.first > TODAY
