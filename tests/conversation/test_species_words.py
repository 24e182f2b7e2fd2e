"""Which species a keeper's words mean; the trade names are common practice, no source."""

import pytest

from bot.conversation.species_words import species_meant


@pytest.mark.parametrize(
    ("words", "species"),
    [
        ("rosie", ["Grammostola rosea"]),
        ("rose hair", ["Grammostola rosea"]),
        ("Stirmi", ["Theraphosa stirmi"]),
        ("genics", ["Acanthoscurria geniculata"]),
        ("B. hamorii", ["Brachypelma hamorii"]),
        ("Mexican red knee", ["Brachypelma hamorii", "Brachypelma smithi"]),
        ("a friend's spider", []),
    ],
)
def test_a_trade_name_is_every_species_that_the_trade_calls_so(words, species):
    assert species_meant(words) == species
