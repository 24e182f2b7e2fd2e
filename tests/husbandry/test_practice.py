"""The tables of practice and the stage of an animal."""

from decimal import Decimal

import pytest

from bot.husbandry import practice
from bot.husbandry.animal import Animal
from bot.husbandry.species import Moisture, Pace
from bot.husbandry.state import SpecimenState
from bot.terms import Sex, Specimen, Stage

FIGURES = [
    value
    for name, value in vars(practice).items()
    if isinstance(value, practice.Figure) and not name.startswith("_")
]
TABLES = [
    practice.FEEDING_INTERVAL,
    practice.RETRY,
    practice.LONG_REST,
    practice.WATER_INTERVAL,
    practice.HOME_SPANS_CUBED,
    practice.UNMEASURED_PART,
    dict(practice.FIRST_MEAL_AFTER_MOLT),
]


def test_every_figure_lies_in_its_range_and_names_its_source():
    figures = FIGURES + [figure for table in TABLES for figure in table.values()]
    assert len(figures) > 40
    for figure in figures:
        assert figure.low <= figure.value <= figure.high
        assert figure.source


def test_every_stage_and_pace_has_a_feeding_interval_and_every_moisture_class_a_water_interval():
    assert set(practice.FEEDING_INTERVAL) == {(stage, pace) for stage in Stage for pace in Pace}
    assert set(practice.WATER_INTERVAL) == {(moisture, stage) for moisture in Moisture for stage in Stage}


# Trade practice: slings twice a week, juveniles once a week, adults once a week and less.
# British Tarantula Society: once or twice a week. Ranges by stage: common practice, no source.
@pytest.mark.parametrize(("stage", "low", "high"), [("sling", 3, 7), ("juvenile", 5, 10), ("adult", 7, 21)])
def test_feeding_intervals_keep_to_the_trades_ranges(stage, low, high):
    for pace in Pace:
        assert low <= practice.FEEDING_INTERVAL[Stage(stage), pace].value <= high


# Common practice, no source; Minch 1977 (J. Arachnol. 5:133) saw "several days" of delay.
@pytest.mark.parametrize(
    ("span", "low", "high"),
    [
        (1, 4, 5),
        (2.4, 4, 5),
        (2.5, 7, 7),
        (7.4, 7, 7),
        (7.5, 10, 10),
        (12.5, 14, 14),
        (18, 14, 21),
        (28, 14, 21),
    ],
)
def test_the_first_meal_after_a_molt_waits_by_span(span, low, high):
    assert low <= practice.for_span(practice.FIRST_MEAL_AFTER_MOLT, span).value <= high


def test_prey_grows_with_the_span_and_is_never_longer_than_about_a_quarter_of_it():
    # Lengths of house crickets by trade size in mm: common practice, no source.
    length_mm = {"pinhead": 3, "small": 6, "medium": 12, "large": 16, "adult": 19}
    for span in (1.2, 2, 2.5, 3.9, 4.8, 7, 11, 17, 25):
        meal = practice.for_span(practice.MEALS, span)
        assert length_mm[meal.size] <= span * 10 * 0.31


# Trade practice: juveniles from about 3.8 to 4.5 cm. Dwarf species: common practice, no source.
@pytest.mark.parametrize(
    ("species", "span", "word", "expected"),
    [
        ("Brachypelma hamorii", "3.5", "juvenile", "sling"),
        ("Brachypelma hamorii", "4.5", "sling", "juvenile"),
        ("Brachypelma hamorii", "13", "juvenile", "adult"),
        ("Brachypelma hamorii", "10", "adult", "adult"),
        ("Brachypelma hamorii", None, "sling", "sling"),
        ("Cyriocosmus elegans", "2", "sling", "juvenile"),
        ("Cyriocosmus elegans", "3.5", "juvenile", "adult"),
        ("Poecilotheria metallica", "4", "mature male", "mature male"),
    ],
)
def test_the_stage_goes_by_the_span_but_the_keepers_adult_stays(species, span, word, expected):
    specimen = Specimen(tag="A1", species=species, stage=Stage(word), span_cm=span and Decimal(span))
    assert Animal(specimen, SpecimenState()).stage == expected


def test_the_journal_stands_above_the_card():
    specimen = Specimen(tag="A1", species="Brachypelma hamorii", span_cm=Decimal(2), sex=Sex.FEMALE)
    state = SpecimenState(span_cm=Decimal(9), sex=Sex.MALE, stage=Stage.MATURE_MALE)
    animal = Animal(specimen, state)
    assert (animal.span_cm, animal.sex, animal.stage) == (9.0, Sex.MALE, Stage.MATURE_MALE)
    assert animal.adult_span_cm == 14


def test_an_unmeasured_animal_is_taken_for_one_of_its_stage():
    spans = [
        Animal(Specimen(tag="A1", species="Theraphosa blondi", stage=stage), SpecimenState()).span_cm
        for stage in (Stage.SLING, Stage.JUVENILE, Stage.ADULT)
    ]
    assert spans == [2.0, pytest.approx(12.6), 28.0]
