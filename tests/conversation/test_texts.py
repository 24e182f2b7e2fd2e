"""All sentences stand in one file for each language; those files and the code fit together."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

import bot.conversation
from bot.conversation.texts import blanks_of, say, sentences_in, written_in
from bot.husbandry.species import VenomCaution
from bot.reading.model import ReadingKind
from bot.round.model import TaskKind
from bot.round.reasons import REASONS
from bot.terms import DateOrder, Kind, SacEvent, Units, WaterHow
from bot.terms.language import LANGUAGES, speaking

#: Where the texts are said: the conversation, and whoever writes to the one who runs the bot.
ROOMS = [Path(bot.conversation.__file__).parents[1] / room for room in ("conversation", "clock", "telegram")]
TEXTS = sentences_in("en")
OTHERS = [language for language in LANGUAGES if language != "en"]
#: Families of words that each language has of its own.
OWN_WORDS = "plurals."
#: Lists whose places mean something: the first month is January.
IN_ORDER = ("calendar.", "remind.")
LONGEST_LINE = 260
CALLS = ("say", "say_of", "has", "words")


def calls() -> Iterator[tuple[str, str, frozenset[str], str]]:
    """Every use of a text: function, key, blanks given, where."""
    for path in (path for room in ROOMS for path in room.rglob("*.py")):
        if path.parent.name == "texts":
            continue
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in CALLS:
                key = node.args[0]
                where = f"{path.name}:{node.lineno}"
                assert isinstance(key, ast.Constant), f"{where}: the key must stand there as a word"
                blanks = frozenset(word.arg or "**" for word in node.keywords)
                yield node.func.id, str(key.value), blanks, where


USES = list(calls())


def family(name: str) -> dict[str, str]:
    return {
        key.removeprefix(f"{name}."): str(text)
        for key, text in TEXTS.items()
        if key.startswith(f"{name}.") and "." not in key.removeprefix(f"{name}.")
    }


def test_every_text_that_the_code_says_is_there():
    missing = {
        f"{where} {key}" for how, key, _, where in USES if how in ("say", "words") and key not in TEXTS
    }
    missing |= {
        f"{where} {key}" for how, key, _, where in USES if how in ("say_of", "has") and not family(key)
    }
    assert not missing


def test_every_text_that_is_there_is_said():
    said = {key for how, key, _, _ in USES if how in ("say", "words")}
    families = {key for how, key, _, _ in USES if how in ("say_of", "has")}
    unsaid = {key for key in TEXTS if key not in said and key.rpartition(".")[0] not in families}
    assert not unsaid


def test_the_blanks_of_a_text_are_those_that_the_code_fills():
    wrong = [
        f"{where} {key}: has {sorted(blanks_of(str(TEXTS[key])))}, given {sorted(blanks)}"
        for how, key, blanks, where in USES
        if how == "say" and "**" not in blanks and blanks_of(str(TEXTS[key])) != blanks
    ]
    assert not wrong


def test_a_text_of_a_family_has_no_blank_that_is_not_filled():
    wrong = [
        f"{where} {key}.{member}"
        for how, key, blanks, where in USES
        if how == "say_of" and "**" not in blanks
        for member, text in family(key).items()
        if not blanks_of(text) <= blanks
    ]
    assert not wrong


@pytest.mark.parametrize("language", OTHERS)
def test_every_language_has_the_same_texts(language):
    own = {key for key in written_in(language) if not key.startswith(OWN_WORDS)}
    assert own == {key for key in TEXTS if not key.startswith(OWN_WORDS)}


@pytest.mark.parametrize("language", OTHERS)
def test_the_texts_of_every_language_have_the_same_blanks(language):
    for key, text in sentences_in(language).items():
        if isinstance(text, str):
            assert blanks_of(text) == blanks_of(str(TEXTS.get(key, ""))), key
        elif key.startswith(IN_ORDER):
            assert len(text) == len(TEXTS[key]), key


@pytest.mark.parametrize("language", OTHERS)
def test_no_text_is_left_in_english(language):
    """Most texts of more than three words differ; those alike are names and frames of blanks."""
    alike = [
        key
        for key, text in sentences_in(language).items()
        if isinstance(text, str) and len(text.split()) > 3 and text == TEXTS.get(key)
    ]
    assert all("{" in str(TEXTS[key]) for key in alike), alike


def test_a_sentence_is_of_the_language_that_is_spoken_and_of_that_alone():
    with speaking("de"):
        assert say("log.nothing_stored") == "Nichts gespeichert."
        with speaking("es"):
            assert say("log.nothing_stored") == "No se guardó nada."
        assert say("log.nothing_stored") == "Nichts gespeichert."
    assert say("log.nothing_stored") == "Nothing stored."


def test_a_keeper_of_a_language_without_texts_reads_english():
    with speaking("fr"):
        assert say("log.nothing_stored") == "Nothing stored."


@pytest.mark.parametrize("key", sorted(REASONS))
def test_every_reason_of_the_round_has_a_sentence_with_blanks_of_its_facts(key):
    assert blanks_of(family("why")[key]) <= set(REASONS[key])


def test_every_rest_has_a_sentence_that_says_what_goes_on():
    rests = {key for key in REASONS if key.startswith("rest_")}
    assert set(family("rests")) == rests
    for key in rests:
        assert blanks_of(family("rests")[key]) <= {*REASONS[key], "until_about"}


@pytest.mark.parametrize(
    ("name", "members"),
    [
        ("told", Kind),
        ("water", WaterHow),
        ("sac", SacEvent),
        ("units", Units),
        ("orders", DateOrder),
        ("why_read.taken_as", ReadingKind),
        ("round.count", TaskKind),
        ("round.task", TaskKind),
        ("round.done_as", TaskKind),
    ],
)
def test_a_family_has_a_text_for_every_member(name, members):
    assert set(family(name)) == {member.value for member in members}


def test_strong_and_unknown_venom_are_cautioned_of():
    cautioned = set(family("caution.venom"))
    assert cautioned == {v.value for v in VenomCaution} - {"low"}


@pytest.mark.parametrize("language", LANGUAGES)
def test_a_text_is_plain_and_its_lines_are_short(language):
    for key, text in sentences_in(language).items():
        for line in [text] if isinstance(text, str) else text:
            assert not any(mark in line for mark in ("**", "`", "</", "__")), key
            assert max(map(len, line.split("\n"))) <= LONGEST_LINE, key


@pytest.mark.parametrize("language", LANGUAGES)
def test_a_button_is_short(language):
    texts = sentences_in(language)
    assert all(len(str(text)) <= 20 for key, text in texts.items() if key.startswith("button."))


#: Words that would tell to dig up, to feed a sealed or soft animal, or to stop watering.
HARMFUL = {
    "en": ("dig it", "dig up", "dig out", "stop watering", "no water", "pause water"),
    "de": ("grab es", "ausgraben", "kein wasser", "nicht wässern"),
    "es": ("excávala", "desentierra", "sin agua", "no des agua"),
}


@pytest.mark.parametrize("language", LANGUAGES)
def test_no_text_tells_to_do_what_harms(language):
    everything = " ".join(str(text) for text in sentences_in(language).values()).lower()
    assert not [words for words in HARMFUL[language] if words in everything]


def test_a_question_for_any_kind_of_thing_has_a_word_for_it():
    assert [kind for kind in Kind if f"thing.{kind.value}" not in TEXTS] == []
