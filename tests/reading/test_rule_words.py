"""The words that rules turn on are data: each key is used, and no rule keeps words of its own."""

import ast
import re
from collections import Counter
from collections.abc import Iterator
from enum import Enum
from functools import cache
from pathlib import Path
from typing import Any, get_args

import pytest

import bot.reading
import bot.terms
from bot.reading import model
from bot.reading.amounts import words as amounts_words
from bot.reading.clauses import frames
from bot.reading.names import shelf_names as names
from bot.reading.words import word_groups
from bot.reading.words.lexicon import lexicon
from bot.reading.words.phrasings import folded
from bot.reading.words.rule_words import rule_meanings, rule_words, rule_words_in_order, rules_data
from bot.terms import entry
from bot.terms.data_file import data_of
from bot.terms.language import LANGUAGES

_FOLDER = Path(bot.reading.__file__).parent
_MODULES = {
    path.relative_to(_FOLDER).with_suffix("").as_posix(): ast.parse(path.read_text(encoding="utf-8"))
    for path in sorted(_FOLDER.rglob("*.py"))
}
_ASKS = {"rule_words", "rule_words_in_order", "rule_meanings", "rule_openings", "rule_pattern"}
_SHARED = LANGUAGES[0]

#: Collections of strings that are no words of keepers, nor names that the program goes by elsewhere.
_NO_WORDS = {
    ("questions/asked_of", "_SINCE_ONE"): "an example, of which only the length counts",
    ("woven/elliptic", "_STANDS_FOR"): "the verbs that a short answer may stand for, by name",
    ("woven/fields", "_COUNTED"): "the doubts of a number",
    ("wanted/newcomer", "_CM"): "units",
    ("questions/ideas", "_WHOSE"): "of whom a rule of that table is",
}


def _keys_asked_for() -> Counter[str]:
    calls = (node for tree in _MODULES.values() for node in ast.walk(tree) if isinstance(node, ast.Call))
    asked = (call.args for call in calls if isinstance(call.func, ast.Name) and call.func.id in _ASKS)
    return Counter(key.value for key, *_ in asked if isinstance(key, ast.Constant))


def _words(language: str) -> Iterator[tuple[str, str]]:
    for key, words in rules_data(language).items():
        for said in words.values() if isinstance(words, dict) else [words]:
            for word in said.split(", "):
                yield key, word


def test_every_key_is_asked_for_and_every_key_that_is_asked_for_is_there() -> None:
    assert set(_keys_asked_for()) - {"key"} == set(rules_data(_SHARED))


@pytest.mark.parametrize("language", LANGUAGES[1:])
def test_no_language_has_a_key_that_the_shared_one_lacks(language: str) -> None:
    own, shared = rules_data(language), rules_data(_SHARED)
    assert not set(own) - set(shared)
    assert {key for key, words in own.items() if isinstance(words, dict)} == {
        key for key in own if isinstance(shared[key], dict)
    }


@pytest.mark.parametrize("language", LANGUAGES)
def test_words_are_as_rules_compare_them(language: str) -> None:
    for key, word in _words(language):
        assert word == " ".join(folded(word).split()) != "", (key, word)


@pytest.mark.parametrize("language", LANGUAGES)
def test_no_word_stands_twice_under_one_key(language: str) -> None:
    assert [word for word, times in Counter(_words(language)).items() if times > 1] == []


def test_no_two_keys_have_the_same_words() -> None:
    plain = (key for key, words in rules_data(_SHARED).items() if isinstance(words, str))
    keys: dict[frozenset[str], list[str]] = {}
    for key in plain:
        keys.setdefault(rule_words(key), []).append(key)
    assert [same for same in keys.values() if len(same) > 1] == []


def test_words_of_all_languages_stand_beside_one_another() -> None:
    own = {word for key, word in _words("de") if key == "short_for_number"}
    assert own
    assert own < rule_words("short_for_number")
    assert rule_words_in_order("ordinals")[:2] == ("first", "second")
    assert rule_meanings("small_numbers")["nine"] == "9"


def test_a_key_that_nobody_has_is_an_error() -> None:
    with pytest.raises(KeyError):
        rule_words("no such key")


def test_no_module_keeps_a_list_of_words_of_its_own() -> None:
    kept = [
        f"{module}.{name}: {', '.join(strange)}"
        for module, tree in _MODULES.items()
        for name, value in _constants(tree)
        if (module, name) not in _NO_WORDS
        and (strange := [word for word in _literal_words(value) if word not in _vocabulary()])
    ]
    assert kept == []


def test_no_rule_compares_what_is_said_with_words_of_its_own() -> None:
    compared = []
    for module, tree in _MODULES.items():
        constants = {name: set(_literal_words(value)) for name, value in _constants(tree)}
        for node in ast.walk(tree):
            sides = _compared(node)
            if any(map(_is_said, sides)):
                parts = [part for side in sides for part in _outside_calls(side)]
                words = {part.value for part in parts if isinstance(part, ast.Constant)}
                words |= {
                    w for part in parts if isinstance(part, ast.Name) for w in constants.get(part.id, ())
                }
                if any(map(_is_word, words)):
                    compared.append(f"{module}:{node.lineno}: {ast.unparse(node)}")
    assert compared == []


def _compared(node: ast.AST) -> list[ast.expr]:
    """What an expression compares: ``a == b``, ``a in b``, ``a.isdisjoint(b)``, ``a.startswith(b)``."""
    if isinstance(node, ast.Compare):
        return [node.left, *node.comparators]
    if not (isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute)):
        return []
    return [node.func.value, *node.args] if node.func.attr in _COMPARING else []


_COMPARING = {"isdisjoint", "intersection", "startswith", "endswith"}


def _is_said(node: ast.expr) -> bool:
    """Whether an expression is words of the message: ``item.text``, ``message.keys[at]``, or cut of them."""
    if isinstance(node, ast.Attribute):
        of_a_doubt = isinstance(node.value, ast.Name) and node.value.id in {"doubt", "d"}
        return node.attr in {"text", "key", "keys"} and not of_a_doubt
    if isinstance(node, ast.Subscript):
        return _is_said(node.value)
    return isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute) and _is_said(node.func.value)


def _outside_calls(node: ast.expr) -> Iterator[ast.AST]:
    """The parts of an expression that are no arguments of a call: a key of words is none of the words."""
    yield node
    for part in () if isinstance(node, ast.Call) else ast.iter_child_nodes(node):
        if isinstance(part, ast.expr):
            yield from _outside_calls(part)


def _constants(tree: ast.Module) -> Iterator[tuple[str, ast.expr]]:
    for node in tree.body:
        target = node.targets[0] if isinstance(node, ast.Assign) else getattr(node, "target", None)
        named = isinstance(target, ast.Name) and not target.id.startswith("__")
        if named and isinstance(node, ast.Assign | ast.AnnAssign) and node.value is not None:
            yield target.id, node.value


def _literal_words(value: ast.expr) -> Iterator[str]:
    """The words in the sets, lists, tuples and keys of mappings within an expression."""
    for node in ast.walk(value):
        if isinstance(node, ast.Set | ast.List | ast.Tuple):
            parts = node.elts
        else:
            parts = [key for key in node.keys if key is not None] if isinstance(node, ast.Dict) else []
        for part in parts:
            if isinstance(part, ast.Constant) and _is_word(part.value):
                yield part.value


def _is_word(value: Any) -> bool:
    return isinstance(value, str) and re.fullmatch(r"(?=.*[a-zà-ÿ]{2})[a-zà-ÿ' ]+", value) is not None


@cache
def _vocabulary() -> frozenset[str]:
    """The names that the program goes by: of senses, acts, kinds, fields, flags, slots, rules and tables."""
    groups = [group for language in LANGUAGES for group in lexicon(language).groups]
    values = {value for group in groups for field, value in group if field not in {"say", "example"}}
    enums = [*vars(bot.terms).values(), *vars(model).values()]
    members = {m.value for made in enums if isinstance(made, type) and issubclass(made, Enum) for m in made}
    return frozenset(
        {value for value in values | members if isinstance(value, str)}
        | {*word_groups.CATEGORIES, *frames.FLAGS, *names.RANKS, *get_args(amounts_words.Dimension)}
        | {field for fields in entry.FIELDS_OF.values() for field in fields}
        | {flag for tree in _MODULES.values() for flag in _flags_set(tree)}
        | {name for file in _TABLES for name in _names_in(data_of("bot.reading", "lexicon", _SHARED, file))}
        | {*LANGUAGES}
    )


#: Files of the lexicon whose tables, rules and slots have names of their own.
_TABLES = ("days.yaml", "instructions.yaml", "stretches.yaml")
_NAMES_OF_A_RULE = {"name", "kind", "means"}


def _names_in(data: Any) -> Iterator[str]:
    """The keys of a file's tables, the names of its rules, and the slots of its phrasings."""
    if isinstance(data, dict):
        for key, value in data.items():
            yield str(key)
            if key in _NAMES_OF_A_RULE and isinstance(value, str):
                yield value
            yield from _names_in(value)
    elif isinstance(data, list):
        for value in data:
            yield from _names_in(value)
    elif isinstance(data, str):
        yield from re.findall(r"\{(\w+)\}", data)


def _flags_set(tree: ast.Module) -> Iterator[str]:
    """The flags that a module sets: ``frame.flags |= {"took"}``, ``frame.flags.add("took")``."""
    for node in ast.walk(tree):
        sets = isinstance(node, ast.AugAssign) and ast.unparse(node.target).endswith(".flags")
        adds = isinstance(node, ast.Call) and ast.unparse(node.func).endswith(".flags.add")
        for part in ast.walk(node) if sets or adds else ():
            if isinstance(part, ast.Constant) and isinstance(part.value, str):
                yield part.value
