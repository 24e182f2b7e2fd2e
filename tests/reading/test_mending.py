"""Slips of the thumb and vowels left out in the words of the trade.

The list of words that are no slips is held against the English words of pyspellchecker, a reference library:
whatever it has is never mended into another word.
"""

import os
import random
from datetime import UTC, datetime
from importlib import resources

import pytest
from hypothesis import given
from hypothesis import strategies as st
from spellchecker import SpellChecker

from bot.reading import ShelfNames, read
from bot.reading.message.mending import SHORTEST, vocabulary, words_known
from bot.reading.model import ReadingKind
from bot.reading.words.lexicon import lexicon
from bot.terms import KeeperSettings, Kind, Specimen
from tests.conversation.given import INVENTED_SHELF

_NAMES = ShelfNames.of(INVENTED_SHELF)
_NOW = datetime(2026, 5, 14, 19, 30, tzinfo=UTC)
_KNOWN = vocabulary("en")
assert _KNOWN is not None


def _read(text: str, names: ShelfNames = _NAMES):
    return read(text, names, now=_NOW, settings=KeeperSettings())


def _told(text: str):
    reading = _read(text)
    return (
        reading.reading,
        reading.entries,
        reading.question,
        reading.amend,
        reading.reminder
        and (
            reading.reminder.day,
            reading.reminder.specimens,
        ),
    )


#: As it was typed, and as it was meant.
SLIPS = {
    "Pebble mltd": "Pebble molted",
    "Pebble 2 crkts, tkn": "Pebble 2 crickets, taken",
    "Rust rfsd a crckt": "Rust refused a cricket",
    "Pebble ref 1 roach": "Pebble refused 1 roach",
    "Nib ate 3 friut flies": "Nib ate 3 fruit flies",
    "Pebble didnt wnat her cricket": "Pebble didnt want her cricket",
    "Pebble has sealled her burow": "Pebble has sealed her burrow",
    "wateerd Pebble and Rust": "watered Pebble and Rust",
    "mesured Pebble, 12 cm": "measured Pebble, 12 cm",
    "any in premlt?": "any in premolt?",
    "does anyone need a biger tank": "does anyone need a bigger tank",
    "rember that Pebble molted": "remember that Pebble molted",
}


@pytest.mark.parametrize("typed", SLIPS)
def test_a_slip_in_a_word_is_read_as_the_word(typed):
    assert _told(typed) == _told(SLIPS[typed])


def test_a_note_keeps_the_keepers_spelling():
    text = "her webbing is amzing, Pebble"
    found = _read(text)
    assert [entry.note for entry in found.entries if entry.kind is Kind.NOTE] == [text]


@pytest.mark.parametrize("name", ["Molty", "Crickett", "Sealle"])
def test_a_name_of_the_shelf_is_never_mended(name):
    names = ShelfNames.of((*INVENTED_SHELF, Specimen(tag="Z9", species="Nhandu coloratovillosus", name=name)))
    found = _read(f"{name.lower()} ate a roach", names)
    assert [(entry.kind, entry.specimens) for entry in found.entries] == [(Kind.FED, ("Z9",))]


def test_a_word_in_capitals_may_be_anybodys_name():
    assert _read("sold Pebble to Molter").entries[0].to == "Molter"


@pytest.mark.parametrize("somebody", ["Conor", "Cass", "Marek", "Matteo", "Morey", "Watters"])
def test_whoever_is_named_is_mended_into_no_other_word(somebody):
    for name in (somebody, somebody.lower()):
        given = _read(f"{name} gave me two Nhandu chromatus slings").entries
        assert [(e.kind, e.count, e.source) for e in given] == [(Kind.ACQUIRED, 2, name)]
        sold = _read(f"sold Pebble to {name}").entries
        assert [(e.kind, e.specimens, e.to) for e in sold] == [(Kind.LEFT, sold[0].specimens, name)]


@pytest.mark.parametrize("somebody", ["conor", "cass", "marek", "matteo", "morey", "watters"])
@pytest.mark.parametrize("said", ["{} ate a roach", "fed {} a roach", "{}: refused", "{} and Rust ate"])
def test_an_unknown_name_is_never_the_animal_talked_of(somebody, said):
    talked_of = INVENTED_SHELF[0].tag
    for name in (somebody, somebody.title()):
        found = read(said.format(name), _NAMES, now=_NOW, settings=KeeperSettings(), talked_of=talked_of)
        assert talked_of not in {tag for entry in found.entries for tag in entry.specimens}, name


def test_no_word_of_english_is_taken_for_a_slip():
    english = SpellChecker(language="en").word_frequency.dictionary
    asked = {w for w in english if w.isascii() and w.isalpha() and len(w) <= _KNOWN.longest}
    slips = {w for w in asked - words_known("en") if _KNOWN.nearest(w) is not None}
    listed = resources.files("bot.reading") / "lexicon" / "en" / "no_slips.txt"
    if os.environ.get("BURROWBELL_WRITE_GOLDEN"):
        with resources.as_file(listed) as file:
            file.write_text("".join(f"{word}\n" for word in sorted(slips)), "utf-8", newline="\n")
    assert sorted(slips) == listed.read_text("utf-8").split()


_VERBS = sorted(
    {
        keys[0]: senses
        for keys, senses in lexicon("en").account.phrases()
        if len(keys) == 1 and len(keys[0]) >= SHORTEST and keys[0].isalpha()
        if all(s.cat == "verb" and not s.group.weak and not s.group.base for s in senses)
    }
)


def _slipped(word: str, chance: random.Random) -> str:
    """A word with a letter left out, doubled, or changed about with the next; its first letter stands."""
    at = chance.randrange(1, len(word) - 1)
    return chance.choice(
        [
            word[:at] + word[at + 1 :],
            word[:at] + word[at] + word[at:],
            word[:at] + word[at + 1] + word[at] + word[at + 2 :],
        ]
    )


@given(st.sampled_from(_VERBS), st.randoms(use_true_random=False))
def test_a_slip_in_a_verb_never_makes_another_kind_of_entry(verb, chance):
    typed = _slipped(verb, chance)
    if typed in _KNOWN.words:
        return
    meant, found = _read(f"Pebble {verb}"), _read(f"Pebble {typed}")
    if found.reading is ReadingKind.ENTRIES and all(e.kind is not Kind.NOTE for e in found.entries):
        assert {e.kind for e in found.entries} <= {e.kind for e in meant.entries}, typed
