"""The species file and its lookup."""

import re
from decimal import Decimal

import pytest

from bot.husbandry.species import (
    Moisture,
    Pace,
    VenomCaution,
    all_species,
    species_named,
    species_of,
)
from bot.husbandry.species.worlds import World, world_of, worlds
from bot.terms import Habit, Sex
from bot.terms.data_file import data_of

EVERY = all_species()
IDS = [species.scientific_name for species in EVERY]


def test_the_file_has_its_species_once_each():
    assert len(EVERY) == len(set(IDS)) >= 100


def test_every_species_that_is_read_by_name_has_its_row_and_no_other_has():
    read_by_name = {row["species"] for row in data_of("bot.reading", "lexicon", "taxa.yaml")}
    assert set(IDS) == read_by_name


@pytest.mark.parametrize(
    ("said", "meant"),
    [
        ("Tliltocatl albopilosum", "Tliltocatl albopilosus"),
        ("Haplopelma albostriatus", "Cyriopagopus albostriatus"),
        ("Caribena versicolor", "Caribena versicolor"),
        ("Ornithoctonus aureotibiale", "Ornithoctonus aureotibialis"),
    ],
)
def test_an_epithet_is_known_in_the_gender_of_another_genus(said, meant):
    # International Code of Zoological Nomenclature, article 31.2: an adjective agrees with its genus.
    assert species_of(said).scientific_name == meant


@pytest.mark.parametrize("species", EVERY, ids=IDS)
def test_each_row_is_sound(species):
    assert re.fullmatch(r"[A-Z][a-z]+ [a-z]+", species.scientific_name)
    assert re.search(r"\d{4}\)?$", species.author_year)
    assert 15 <= species.temp_min_c < species.temp_max_c <= 32
    assert Decimal(3) <= species.male_span_cm <= species.female_span_cm <= Decimal(30)
    assert species.cites in {"none", "II", "unsure"}
    assert species.basis
    assert species.known


@pytest.mark.parametrize("species", EVERY, ids=IDS)
def test_each_species_is_found_by_its_name_in_any_case(species):
    assert species_of(f"  {species.scientific_name.upper()} ") is species


def test_former_and_trade_names_find_the_species():
    assert species_of("Haplopelma lividum").scientific_name == "Cyriopagopus lividus"
    assert species_of("gbb").scientific_name == "Chromatopelma cyaneopubescens"


def test_a_trade_name_of_two_species_is_not_guessed():
    assert {s.scientific_name for s in species_named("Mexican redknee")} == {
        "Brachypelma hamorii",
        "Brachypelma smithi",
    }
    assert not species_of("Mexican redknee").known


def test_an_unknown_species_of_a_known_genus_gets_what_its_genus_has_in_common():
    profile = species_of("Poecilotheria tigrinawesseli")
    assert (profile.known, profile.habit, profile.pace) == (False, Habit.ARBOREAL, Pace.FAST)
    assert profile.venom_caution is VenomCaution.HIGH
    assert profile.basis == "species file: other Poecilotheria (10)"


def test_the_greatest_caution_of_a_genus_is_taken():
    for genus in {name.split()[0] for name in IDS}:
        of_genus = [s.venom_caution for s in EVERY if s.scientific_name.startswith(genus + " ")]
        assert (
            VenomCaution.HIGH not in of_genus or species_of(f"{genus} sp.").venom_caution is VenomCaution.HIGH
        )


def test_a_wholly_unknown_species_gets_a_general_profile_of_its_habit():
    profile = species_of("Nova invented", Habit.ARBOREAL)
    assert (profile.known, profile.habit, profile.moisture) == (False, Habit.ARBOREAL, Moisture.PART_MOIST)
    assert profile.venom_caution is VenomCaution.UNKNOWN
    assert species_of("").habit is Habit.TERRESTRIAL


def test_the_adult_span_goes_by_sex():
    species = species_of("Psalmopoeus irminia")
    assert species.adult_span_cm(Sex.MALE) == 12
    assert species.adult_span_cm() == species.adult_span_cm(Sex.FEMALE) == 15


# --- old and new world ------------------------------------------------------------------------


def test_each_genus_of_the_species_file_is_of_one_of_the_two_worlds():
    genera = {species.scientific_name.split()[0] for species in all_species()}
    assert genera <= worlds().keys()


def test_hairs_that_urticate_are_of_the_new_world_alone():
    """They are known of theraphosids of the Americas only (Bertani & Guadanucci 2013, from memory)."""
    with_hairs = [species for species in all_species() if species.urticating]
    assert with_hairs
    assert {world_of(species.scientific_name) for species in with_hairs} == {World.NEW}


def test_the_caution_that_the_species_file_has_for_the_old_world_is_that_of_its_genera():
    """The file's rule, from other hands than the table: high for every Old World species."""
    for species in all_species():
        of_old = world_of(species.scientific_name) is World.OLD
        assert (species.venom_caution is VenomCaution.HIGH) == of_old, species.scientific_name


def test_a_genus_that_nobody_told_is_of_no_known_world():
    assert world_of("Fictitia inventa") is None
