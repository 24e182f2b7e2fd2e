"""Messages of people who are hurt, in words that were not taken from the table. All are invented."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from bot.reading import ShelfNames
from bot.reading.harm import tells_of_harm
from bot.terms import Specimen

NAMES = ShelfNames.of(
    (
        Specimen(tag="C1", name="Ink", species="Grammostola pulchra", place="shelf C"),
        Specimen(tag="C2", name="Mole", species="Brachypelma hamorii", place="shelf C"),
        Specimen(tag="C3", name="Puppy", species="Tliltocatl albopilosus", place="shelf C"),
    )
)


@pytest.mark.parametrize(
    "text",
    [
        "bitten by Ink",
        "Ink bit me",
        "Ouch, Mole just bit my left hand!!",
        "got bit by Mole this morning",
        "I've been bitten",
        "I\u2019ve just been bitten by C1, what now?",
        "my dog got bitten",
        "the cat was bitten by Ink",
        "my daughter has been bitten",
        "fed Ink a dubia and she bit my finger",
        "hairs in my eye",
        "I got hairs in my eye",
        "Mole kicked hairs in my face",
        "she flicked hairs at me",
        "urticating hairs all over my arm",
        "there are hairs in her eyes",
        "my eye is really burning after rehousing Mole",
        "my hand is swollen",
        "I have an itchy rash",
        "I can't breathe",
        "trouble breathing since the bite",
        "my dog ate a tarantula",
        "the cat has eaten Ink",
        "tarantula bite",
        "bitten",
    ],
)
def test_a_message_of_somebody_hurt_is_noticed(text):
    assert tells_of_harm(text, NAMES)


@pytest.mark.parametrize(
    "text",
    [
        "fed Ink 2 crickets",
        "Ink was bitten by a cricket",
        "Puppy got bitten by a cricket",
        "Puppy ate a roach",
        "Ink bit the tongs",
        "Mole kicked hairs",
        "Mole has kicked hairs, bald patch on her abdomen",
        "Ink never bit me",
        "she nearly bit me but missed",
        "no hairs in my eye this time, gloves on",
        "the dog ate her dinner",
        "the cat caught a cricket",
        "Ink took a bite of the worm",
        "rehoused Mole, glasses and gloves on",
        "watered all on shelf C",
        "remind me to wash my hands",
        "",
        "\u0000",
    ],
)
def test_an_ordinary_message_brings_no_first_aid(text):
    assert not tells_of_harm(text, NAMES)


def test_no_labelled_message_of_the_corpus_brings_first_aid_but_those_of_a_bite_or_hairs():
    labelled = Path(__file__).parents[1] / "corpus"
    texts = [
        row["text"]
        for file in sorted(labelled.rglob("*.jsonl"))
        for row in map(json.loads, file.read_text("utf-8").splitlines())
        if isinstance(row, dict) and "text" in row
    ]
    assert texts
    hits = [text for text in texts if tells_of_harm(text, NAMES)]
    assert [text for text in hits if not any(word in text.lower() for word in ("bit", "hair", "rash"))] == []
