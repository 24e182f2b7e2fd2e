"""All sentences stand in one file, and that file and the code fit together."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

import bot.conversation
from bot.conversation.texts import blanks_of, sentences
from bot.husbandry.species import VenomCaution
from bot.reading.model import ReadingKind
from bot.round.model import TaskKind
from bot.round.reasons import REASONS
from bot.terms import DateOrder, Kind, SacEvent, Units, WaterHow

ROOM = Path(bot.conversation.__file__).parent
TEXTS = sentences()
CALLS = ("say", "say_of", "has", "words")


def calls() -> Iterator[tuple[str, str, frozenset[str], str]]:
    """Every use of a text: function, key, blanks given, where."""
    for path in ROOM.rglob("*.py"):
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
        if how == "say" and blanks_of(str(TEXTS[key])) != blanks
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


@pytest.mark.parametrize("key", sorted(TEXTS))
def test_a_text_is_plain_and_its_lines_are_short(key):
    text = TEXTS[key]
    for line in [text] if isinstance(text, str) else text:
        assert not any(mark in line for mark in ("**", "`", "</", "__")), key
        assert max(map(len, line.split("\n"))) <= 260, key


@pytest.mark.parametrize("key", sorted(key for key in TEXTS if key.startswith("button.")))
def test_a_button_is_short(key):
    assert len(str(TEXTS[key])) <= 20


def test_no_text_tells_to_do_what_harms():
    """Nothing tells to dig up, to feed a sealed or soft animal, or to stop watering."""
    everything = " ".join(str(text) for text in TEXTS.values()).lower()
    for words in ("dig it", "dig up", "dig out", "stop watering", "no water", "pause water"):
        assert words not in everything
