"""Meals: what fits an animal, how long a meal lasts it, and when to try again after a refusal."""

from datetime import date, timedelta
from decimal import Decimal

import numpy as np
import pytest

from bot.husbandry import practice
from bot.husbandry.animal import Animal
from bot.husbandry.feeding import (
    PREY_MM_PER_CM,
    body_mass_g,
    gap_factor,
    last_meal_mg,
    meal_for,
    retry_days,
    usual_meal_mg,
)
from bot.husbandry.molt_interval import usual_days
from bot.husbandry.molts.priors import log_interval
from bot.husbandry.premolt import premolt_chance
from bot.husbandry.prey import all_prey, prey_of, sizes_of
from bot.husbandry.species import Pace
from bot.husbandry.state import SpecimenState
from bot.terms import PreySize, Sex, Specimen, Stage

TODAY = date(2026, 5, 14)


def animal(span=13.0, *, species="Aphonopelma chalcodes", stage=Stage.ADULT, lot=1, **state) -> Animal:
    """An invented animal."""
    specimen = Specimen(
        tag="C1", species=species, stage=stage, span_cm=Decimal(str(span)), sex=Sex.FEMALE, lot_size=lot
    )
    return Animal(specimen, SpecimenState(lot_size=lot, **state))


# -- prey -------------------------------------------------------------------------------------------


def test_every_feeder_has_a_basis_and_grows_from_size_to_size():
    for kind in {prey.kind for prey in all_prey()}:
        sizes = sizes_of(kind)
        assert [p.length_mm for p in sizes] == sorted(p.length_mm for p in sizes)
        assert [p.mass_mg for p in sizes] == sorted(p.mass_mg for p in sizes)
        assert [list(PreySize).index(p.size) for p in sizes] == sorted(
            list(PreySize).index(p.size) for p in sizes
        )
    assert all(prey.basis for prey in all_prey())


# House crickets by the cube law through 400 mg at 18.5 mm, k = 0.0632 mg/mm³, ±40 %; 8th instar at harvest
# 0.418 to 0.443 g (Nakagaki & DeFoliart 1991, J. Econ. Entomol. 84(3)).
def test_crickets_weigh_what_is_published():
    for prey in sizes_of("cricket"):
        assert prey.mass_mg == pytest.approx(0.0632 * prey.length_mm**3, rel=0.4)
    assert 418 <= prey_of("cricket", PreySize.ADULT).mass_mg <= 443


def test_every_meal_of_the_table_is_a_feeder_of_the_file():
    for _, meal in (*practice.MEALS, (0, practice.MALE_MEAL)):
        assert prey_of(meal.prey, meal.size) is not None


# -- what fits ----------------------------------------------------------------------------------------


@pytest.mark.parametrize("kind", ["dubia roach", "red runner roach", "locust", "cricket"])
@pytest.mark.parametrize("span", [1.2, 2.5, 5.0, 9.0, 13.0, 20.0])
def test_prey_is_no_longer_than_the_abdomen_and_weighs_about_as_much_as_the_usual_meal(kind, span):
    # prey no longer than the abdomen, about a quarter of the span: common practice, no source
    eater = animal(span, species="Theraphosa blondi", stage=Stage.JUVENILE, last_prey=kind)
    meal = meal_for(eater, TODAY)
    prey = prey_of(meal.prey, meal.size)
    assert prey.length_mm <= PREY_MM_PER_CM.high * span
    assert 1 <= meal.count <= 3
    assert prey.mass_mg * meal.count <= 2.6 * usual_meal_mg(eater)


# Spiderlings given prey of 5 to 15, 25 to 35 and 45 to 55 % of body mass: a total of 10 to 35 % is enough
# (Theraphosa; Shillington, SICB abstract 10.4). The mass of a span: from memory, no source.
@pytest.mark.parametrize("span", [1.0, 1.5, 2.5, 3.5, 5.0, 6.5])
def test_a_usual_meal_of_a_young_animal_is_a_part_of_its_mass_that_is_enough_and_not_too_much(span):
    eater = animal(span, species="Theraphosa blondi", stage=Stage.JUVENILE)
    assert 0.02 <= usual_meal_mg(eater) / 1000 / body_mass_g(eater) <= 0.35


def test_treats_are_not_suggested_again():
    assert meal_for(animal(last_prey="waxworm"), TODAY).prey == "cricket"


def test_a_mature_male_gets_a_small_offer_of_his_staple():
    male = animal(13, stage=Stage.MATURE_MALE, last_prey="dubia roach")
    meal = meal_for(male, TODAY)
    assert prey_of(meal.prey, meal.size).mass_mg * meal.count <= 1000


# -- how long a meal lasts -------------------------------------------------------------------------------


def test_a_usual_or_small_meal_lasts_the_usual_time_and_a_big_one_longer_up_to_twice():
    usual = animal(13, last_prey="cricket", last_prey_size="adult", last_prey_count=2)
    small = animal(13, last_prey="cricket", last_prey_size="small", last_prey_count=1)
    big = animal(13, last_prey="cricket", last_prey_size="adult", last_prey_count=3)
    huge = animal(13, last_prey="dubia roach", last_prey_size="adult", last_prey_count=5)
    assert gap_factor(usual) == gap_factor(small) == 1
    assert gap_factor(big) == pytest.approx(1.5)
    assert gap_factor(huge) == 2


def test_what_was_not_said_of_a_meal_makes_no_gap_longer():
    for said in ({}, {"last_prey": "cricket"}, {"last_prey": "moth", "last_prey_count": 9}):
        assert gap_factor(animal(13, **said)) == 1
    assert gap_factor(animal(13, last_prey="cricket", last_prey_count=2)) == 1  # taken as the size that fits


def test_a_lots_meal_is_shared():
    lot = animal(13, lot=4, last_prey="cricket", last_prey_size="adult", last_prey_count=8)
    assert last_meal_mg(lot) == pytest.approx(2 * 434)


# Aphonopelma anax females of 13.19 g use 9.66e-4 W at rest (Shillington 2005, AnimalTraits data set); house
# crickets give 1402 kcal/kg (Finke 2002, from memory), of which some 80 % is taken up.
def test_no_gap_is_longer_than_the_meal_keeps_an_adult_at_rest():
    for count in (1, 2, 3, 4, 6):
        eater = animal(
            12,
            weight_g=Decimal("13.19"),
            weight_on=TODAY,
            last_prey="cricket",
            last_prey_size="adult",
            last_prey_count=count,
        )
        joules = last_meal_mg(eater) * 1e-6 * 1402 * 4184 * 0.8
        covered = joules / (9.66e-4 * 86400)
        for pace in Pace:
            assert practice.FEEDING_INTERVAL[Stage.ADULT, pace].value * gap_factor(eater) <= covered


def test_a_weight_of_this_skin_counts_before_the_span():
    weighed = animal(13, weight_g=Decimal(20), weight_on=TODAY, last_molted=TODAY - timedelta(days=9))
    outgrown = animal(13, weight_g=Decimal(20), weight_on=TODAY - timedelta(days=90), last_molted=TODAY)
    assert body_mass_g(weighed) == 20
    assert body_mass_g(outgrown) != 20


# -- after a refusal -------------------------------------------------------------------------------------


@pytest.mark.parametrize("stage", list(Stage))
def test_the_likelier_premolt_is_the_later_the_next_try_within_the_trades_range(stage):
    days = [retry_days(stage, chance / 10) for chance in range(11)]
    figure = practice.RETRY[stage]
    assert days == sorted(days)
    assert (days[0], days[-1]) == (figure.low, figure.high)


def test_a_refusal_early_in_the_cycle_is_not_read_as_premolt_and_late_refusals_are():
    usual = usual_days(Pace.SLOW, 6.0, 13.0)

    def chance(days: float, refusals: int) -> float:
        molted = TODAY - timedelta(days=round(days))
        return premolt_chance(
            animal(
                6, stage=Stage.JUVENILE, last_molted=molted, last_interval=round(usual), refusals=refusals
            ),
            TODAY,
        )

    assert chance(0.15 * usual, 2) < 0.1
    assert chance(1.0 * usual, 2) > 0.8
    assert chance(0.8 * usual, 1) > chance(0.8 * usual, 0)
    grows = [chance(part * usual, 1) for part in (0.2, 0.5, 0.8, 1.1, 1.5)]
    assert grows == sorted(grows)


def test_a_mature_male_that_refuses_is_not_in_premolt():
    assert premolt_chance(animal(13, stage=Stage.MATURE_MALE, refusals=5), TODAY) == 0


def test_an_animal_with_no_molt_on_record_gets_a_chance_that_moves_with_its_refusals():
    chances = [premolt_chance(animal(6, stage=Stage.JUVENILE, refusals=n), TODAY) for n in range(4)]
    assert chances == sorted(chances)
    assert chances[0] < 0.25
    assert 0 < chances[-1] < 1


def test_the_quick_interval_is_that_of_the_molt_model():
    spans = np.array([0.6, 1.0, 1.4, 2.2, 3.2, 5.0, 7.1, 9.0, 12.0, 14.0, 20.0])
    for pace in Pace:
        for adult in (6.0, 14.0, 25.0):
            found = [usual_days(pace, float(span), adult) for span in spans]
            assert found == pytest.approx(np.exp(log_interval(pace, spans, np.full_like(spans, adult))))
