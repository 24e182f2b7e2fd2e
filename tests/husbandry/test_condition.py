"""How the abdomen looks, by the keeper's eye and by the scale, and what it does to meals."""

from datetime import date, timedelta
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bot.husbandry import practice
from bot.husbandry.animal import Animal
from bot.husbandry.condition import HOLDS, Condition, condition_of
from bot.husbandry.condition_record import condition_noted
from bot.husbandry.feeding import meal_for, usual_gap
from bot.husbandry.practice import Meal
from bot.husbandry.prey import prey_of, sizes_of
from bot.husbandry.species import Pace
from bot.husbandry.state import state_of
from bot.terms import Entry, Kind, Specimen, Stage

TODAY = date(2026, 5, 14)
THIN, USUAL, PLUMP, FAT = Condition.THIN, Condition.USUAL, Condition.PLUMP, Condition.FAT


def entry(ago: int, kind: str, **fields) -> Entry:
    return Entry(kind=Kind(kind), day=TODAY - timedelta(days=ago), specimens=("C1",), **fields)


def note(words: str, ago: int = 0) -> Entry:
    return entry(ago, "note", note=words)


def animal(*entries, span="13.0", stage=Stage.ADULT, lot=1, species="Aphonopelma chalcodes") -> Animal:
    """An invented animal."""
    card = Specimen(tag="C1", species=species, stage=stage, span_cm=Decimal(span), lot_size=lot)
    return Animal(card, state_of(entries))


def found(*entries, **card) -> Condition | None:
    told = condition_of(animal(*entries, **card), TODAY)
    return None if told is None else told.condition


# -- what a note tells ----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("words", "told"),
    [
        ("Ink looks thin", THIN),
        ("Ink skinny", THIN),
        ("Ink's abdomen is a bit thin", THIN),
        ("Mole: abdomen shrivelled, water dish was empty", THIN),
        ("getting thin again", THIN),
        ("Ink looks plump", PLUMP),
        ("a plump abdomen", PLUMP),
        ("Ink is fat", PLUMP),
        ("Ink is very fat", FAT),
        ("too fat, no food this week", FAT),
        ("Ink is obese", FAT),
        ("Ink's abdomen looks normal", USUAL),
        ("Ink ist zu dick", FAT),
        ("Ink sieht dünn aus", THIN),
        ("Inks Hinterleib ist prall", PLUMP),
        ("Ink está muy gorda", FAT),
        ("Ink se ve delgada", THIN),
        # nothing is told of the abdomen
        ("Ink is not thin", None),
        ("isn't fat any more", None),
        ("thinner than in spring", None),
        ("Fat Tony in a threat pose", None),
        ("Chunky: threat pose", None),
        ("Fat Tony sat on the cork", None),
        ("thin layer of webbing", None),
        ("a fat cricket is still in there", None),
        ("web is thin at the corner", None),
        ("plump or thin, hard to say", None),
        ("Ink looks thin, Mole looks fat", None),
        ("threat pose", None),
        ("", None),
        (None, None),
    ],
)
def test_only_plain_words_of_the_abdomen_are_a_condition(words, told):
    assert condition_noted(words) is told


@given(st.text(max_size=120))
def test_no_note_breaks_it(words):
    condition_noted(words)


# -- what counts, and for how long -------------------------------------------------------------------------


def test_the_later_note_counts_and_a_usual_abdomen_ends_it():
    assert found(note("thin", 9), note("very fat", 2)) is FAT
    assert found(note("thin", 9), note("abdomen is normal", 2)) is None


def test_a_molt_ends_it_and_what_was_noted_long_ago_counts_no_more():
    assert found(note("thin", 9), entry(3, "molted")) is None
    gap = practice.FEEDING_INTERVAL[Stage.ADULT, Pace.SLOW].value
    assert found(note("thin", round(HOLDS[THIN].value * gap))) is THIN
    assert found(note("thin", round(HOLDS[THIN].value * gap) + 1)) is None


# The general figure of weight for span is from memory: 15 to 30 g at 14 cm; so wide that it tells only of
# what is beyond 4 to 14 mg for each cubic centimetre.
@pytest.mark.parametrize(("grams", "told"), [(8, THIN), (10, None), (20, None), (30, None), (35, FAT)])
def test_a_weight_far_beyond_what_its_span_leads_to_expect_tells(grams, told):
    weighed = entry(2, "measured", span_cm=Decimal("13.5"), weight_g=Decimal(grams))
    assert found(weighed) is told


def test_a_weight_beside_a_span_of_the_old_skin_tells_nothing():
    spanned = entry(60, "measured", span_cm=Decimal("13.5"))
    assert found(spanned, entry(30, "molted"), entry(2, "measured", weight_g=Decimal(40))) is None


def test_the_keepers_eye_counts_before_a_weight_of_the_same_day_and_a_later_weight_before_both():
    light = {"span_cm": Decimal("13.5"), "weight_g": Decimal(8)}
    assert found(entry(2, "measured", **light), note("plump", 2)) is PLUMP
    assert found(note("plump", 5), entry(2, "measured", **light)) is THIN


def test_nothing_is_made_of_a_mature_males_abdomen_or_of_one_of_a_lot():
    assert found(note("thin"), stage=Stage.MATURE_MALE) is None
    assert found(note("thin"), lot=5) is None


# -- meals ----------------------------------------------------------------------------------------------


# What keepers hold to by stage, in days: slings 3 to 7, juveniles 5 to 10, adults 7 to 21 (common practice,
# no source); a fat abdomen is fed less. An adult Aphonopelma's fat alone is worth some 286 days at rest
# (Shillington 2005 and Stewart & Martin 1970, calculated), so no gap here comes near to harm.
@pytest.mark.parametrize(
    ("stage", "span", "low", "high"),
    [(Stage.SLING, "2", 3, 7), (Stage.JUVENILE, "6", 5, 10), (Stage.ADULT, "14", 7, 21)],
)
def test_thin_is_fed_sooner_plump_later_within_the_trades_range_and_fat_beyond_it(stage, span, low, high):
    for species in ("Aphonopelma chalcodes", "Tliltocatl albopilosus", "Psalmopoeus cambridgei"):
        thin, usual, plump, fat = (
            usual_gap(one, condition_of(one, TODAY))
            for words in ("thin", "threat pose", "plump", "very fat")
            for one in (animal(note(words), stage=stage, span=span, species=species),)
        )
        assert low <= thin <= usual < plump <= high
        assert plump < fat <= 1.5 * high < 286 / 5


@pytest.mark.parametrize("span", ["1.5", "3", "5.5", "9", "13", "19"])
@pytest.mark.parametrize("kind", ["cricket", "red runner roach", "dubia roach"])
def test_a_fat_animal_is_offered_less_and_a_thin_one_no_larger_prey(span, kind):
    ate = entry(5, "fed", prey=kind, count=1)
    fat, usual, thin = (
        meal_for(
            animal(ate, note(words), span=span, stage=Stage.JUVENILE, species="Theraphosa blondi"), TODAY
        )
        for words in ("very fat", "threat pose", "thin")
    )

    def mass(meal: Meal) -> float:
        return prey_of(meal.prey, meal.size).mass_mg * meal.count

    assert thin == usual
    least = Meal(usual.prey, sizes_of(usual.prey)[0].size, 1)
    assert mass(fat) < mass(usual) or fat == usual == least
