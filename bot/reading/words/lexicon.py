"""The lexicon: words and phrases of a language as data, loaded once, checked, and ready to be looked up.

A lexicon is a folder of YAML files, each a list of groups (:class:`bot.reading.words.word_groups.Group`).
A group has ``is`` (its category), ``say`` (its phrases) and ``example`` (a message in which ``{}`` stands for
each phrase in turn). What else a group says (``kind``, ``prey``, ``size`` …) goes with every phrase of it.
In a phrase ``[a|b]`` is either word and ``(c)`` may be missing; where a group is ``split``, "…" stands for
what its two parts are put around.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from importlib import resources
from itertools import product
from sys import intern
from typing import Any, Final

from pydantic import ValidationError

from bot.reading.words.normalise import plain_text
from bot.reading.words.spellings import letters_in_two
from bot.reading.words.tokens import Token, joins_words, tokens_of
from bot.reading.words.word_groups import CUES, EARLIER, IDEAS, SIGNS, Group
from bot.terms.data_file import data_of


@dataclass(frozen=True, slots=True)
class Sense:
    """What a phrase means: its category and what goes with it.

    ``words`` is the phrase itself; of what can be said in many forms, one of them with as many words.
    """

    cat: str
    words: str
    group: Group


class Senses(dict[str, Sense]):
    """The senses of one phrase by category, of which a second verb is "verb:…"; never changed once made.

    ``verbs`` are those of its verbs, ``kinds`` and ``acts`` what these tell of and do; ``part`` is what its
    noun is a part of, of a home or a body.
    """

    __slots__ = ("acts", "kinds", "part", "verbs")

    def __init__(self, senses: Sequence[Sense] = ()) -> None:
        super().__init__()
        for sense in senses:
            if sense.cat == "verb" and "verb" in self:
                self[f"verb:{sense.group.act or sense.group.kind}"] = sense
            else:
                self.setdefault(sense.cat, sense)
        self.verbs = tuple(sense for cat, sense in self.items() if cat.startswith("verb"))
        self.kinds = frozenset(s.group.kind for s in self.verbs if s.group.kind is not None)
        self.acts = frozenset(s.group.act or "" for s in self.verbs)
        self.part = self["noun"].group.part if "noun" in self else None


#: A phrase found in a message: the token after its last, and its senses.
Phrase = tuple[int, tuple[Sense, ...]]
#: Phrases by the token at which each begins.
Phrases = Mapping[int, Phrase]


@dataclass(frozen=True, slots=True)
class Layer:
    """Phrases that are looked up together, word by word.

    A node of ``tree`` is what a phrase means that no longer one begins with, its one sense or several, else a
    dict of the words that go on, with the meaning of what ends there under no word. Most phrases have one
    sense and no longer phrase, and take no more room than that. ``openers`` has for each category the words
    that its phrases begin with.
    """

    tree: Mapping[str, Any]
    openers: Mapping[str, set[str]]
    _meanings: dict[tuple[int, ...], Senses] = field(default_factory=dict)

    def meaning(self, senses: tuple[Sense, ...]) -> Senses:
        """The senses of a phrase by category: one value for all who say it."""
        said = tuple(map(id, senses))
        known = self._meanings.get(said)
        if known is None:
            known = self._meanings[said] = Senses(senses)
        return known

    def senses(self, word: str) -> tuple[Sense, ...]:
        """The senses of a single word, none if it is not known."""
        node = self.tree.get(word)
        return () if node is None else (node,) if type(node) is Sense else _ending(node)

    def phrases(self) -> Iterator[tuple[tuple[str, ...], tuple[Sense, ...]]]:
        """Every phrase, by its words, with its senses."""
        return _phrases_below(self.tree, ())

    def begun(self, tokens: Sequence[Token], keys: Sequence[str]) -> Phrases:
        """The longest phrase that begins at each token, where one does."""
        out: dict[int, Phrase] = {}
        for at, key in enumerate(keys):
            if key in self.tree:
                phrase = self.find(tokens, keys, at)
                if phrase is not None:
                    out[at] = phrase
        return out

    def find(self, tokens: Sequence[Token], keys: Sequence[str], at: int) -> Phrase | None:
        """The longest phrase that begins at a token."""
        node = self.tree.get(keys[at])
        if node is None:
            return None
        found: Phrase | None = None
        place = at
        while type(node) is dict:
            senses = node.get(_ENDS)
            if senses:
                found = place + 1, _ending(senses)
            place += 1
            while place < len(tokens) and tokens[place].kind == "mark" and joins_words(tokens, place):
                place += 1
            if place >= len(tokens) or tokens[place].kind == "mark":
                return found
            node = node.get(keys[place])
        return found if node is None else (place + 1, (node,) if type(node) is Sense else node)


@dataclass(frozen=True, slots=True)
class SplitPhrase:
    """A phrase in two parts: the words of both, and what it means."""

    opens: tuple[str, ...]
    closes: tuple[str, ...]
    sense: Sense


@dataclass(frozen=True, slots=True)
class Lexicon:
    """All phrases of a language, by their words; ``split`` has those in two parts by the first of them."""

    language: str
    account: Layer
    cues: Layer
    signs: Layer
    ideas: Layer
    earlier: Layer
    split: Mapping[str, tuple[SplitPhrase, ...]]
    short_forms: frozenset[str]
    groups: tuple[Group, ...]

    def key(self, token: Token) -> str:
        """The word a token is looked up by: "it's" is "its" where the lexicon has that short form."""
        if token.owns:
            joined = token.text.replace("'", "")
            if joined in self.short_forms:
                return joined
        return token.key


class LexiconError(ValueError):
    """A lexicon file says something that cannot be; the message tells file, group and fault."""


_ALTERNATIVES: Final = re.compile(r"\[([^\]]*)\]|\(([^)]*)\)|([^\[\]()]+)")


def phrasings(phrase: str) -> Iterator[str]:
    """Every way to say a phrase: ``(a) [b|c]`` is "b", "c", "a b" and "a c"."""
    parts: list[list[str]] = []
    for either, optional, plain in _ALTERNATIVES.findall(phrase):
        if either:
            parts.append(either.split("|"))
        elif optional:
            parts.append(["", *optional.split("|")])
        else:
            parts.append([plain])
    for chosen in product(*parts):
        yield " ".join("".join(chosen).split())


@lru_cache(maxsize=16)
def lexicon(language: str) -> Lexicon:
    """The lexicon of a language ("en", "de", "es"). Raises :class:`LexiconError`."""
    folder = resources.files("bot.reading") / "lexicon" / language
    groups: list[Group] = []
    for file in sorted(folder.iterdir(), key=lambda f: f.name):
        if file.name.endswith(".yaml") and file.name not in _OTHERS_FILES:
            groups += _groups(file.name, data_of("bot.reading", "lexicon", language, file.name))
    return _built(language, groups)


#: Files of the folder that have a shape of their own.
_OTHERS_FILES: Final = frozenset(
    {
        "asides.yaml",
        "days.yaml",
        "amounts.yaml",
        "numbers.yaml",
        "instructions.yaml",
        "harm.yaml",
        "stretches.yaml",
        "recurrences.yaml",
        "away.yaml",
        "spoken.yaml",
        "letters.yaml",
        "rule_words.yaml",
    }
)


def _groups(name: str, data: Any) -> list[Group]:
    out = []
    for number, raw in enumerate(data, 1):
        try:
            out.append(Group.model_validate({("is_" if k == "is" else k): v for k, v in raw.items()}))
        except ValidationError as error:
            first = error.errors()[0]
            where = ".".join(map(str, first["loc"])).replace("is_", "is")
            raise LexiconError(f"{name}, group {number}: {where}: {first['msg']}") from error
    return out


def _built(language: str, groups: Sequence[Group]) -> Lexicon:
    cut = _Cut(letters_in_two(language))
    split = [g for g in groups if g.split]
    groups = [g for g in groups if not g.split]
    return Lexicon(
        language,
        account=_layer([g for g in groups if g.is_ not in CUES | SIGNS | IDEAS | EARLIER], cut),
        cues=_layer([g for g in groups if g.is_ in CUES], cut),
        signs=_layer([g for g in groups if g.is_ in SIGNS], cut),
        ideas=_layer([g for g in groups if g.is_ in IDEAS], cut),
        earlier=_layer([g for g in groups if g.is_ in EARLIER], cut),
        split=_split(split, cut),
        short_forms=frozenset(cut.short_forms),
        groups=(*groups, *split),
    )


class _Cut:
    """The words of phrases as they are looked up, each cut once: phrases share most of theirs."""

    def __init__(self, in_two: Mapping[str, str]) -> None:
        self.short_forms: set[str] = set()
        self._in_two = str.maketrans(dict(in_two))
        self._keys: dict[str, tuple[str, ...]] = {}

    def spellings(self, phrase: str) -> set[tuple[str, ...]]:
        """The keys of a phrase, and those with letters written as two: "gefuettert" is "gefüttert"."""
        return {tuple(self.keys(said)) for said in {phrase, phrase.translate(self._in_two)}} - {()}

    def keys(self, phrase: str) -> list[str]:
        """The keys of a phrase; a mark has one only where it is the whole of a phrase."""
        if len(phrase) == 1:
            return [t.key for t in tokens_of(plain_text(phrase))]
        return [key for word in phrase.split() for key in self._keys.get(word) or self._of_new(word)]

    def _of_new(self, word: str) -> tuple[str, ...]:
        tokens = [t for t in tokens_of(plain_text(word)) if t.kind != "mark"]
        short = {t: t.text.replace("'", "") for t in tokens if t.owns}
        self.short_forms.update(short.values())
        keys = self._keys[word] = tuple(intern(short.get(t, t.key)) for t in tokens)
        return keys


def _layer(groups: Sequence[Group], cut: _Cut) -> Layer:
    tree: dict[str, Any] = {}
    openers: dict[str, set[str]] = {}
    for group in groups:
        for say in group.say:
            for phrase, sense in _forms(group, say):
                for keys in cut.spellings(phrase):
                    _put(tree, keys, sense)
                    openers.setdefault(group.is_, set()).add(keys[0])
    return Layer(_ends_shared(tree, {}), openers)


def _ends_shared(tree: dict[str, Any], known: dict[tuple[object, ...], dict[str, Any]]) -> dict[str, Any]:
    """The tree with one node for all that lead to the same: phrases end alike by the thousand."""
    for word, node in tree.items():
        if isinstance(node, dict):
            tree[word] = _ends_shared(node, known)
    return known.setdefault(tuple((word, id(node)) for word, node in tree.items()), tree)


def _split(groups: Sequence[Group], cut: _Cut) -> Mapping[str, tuple[SplitPhrase, ...]]:
    """Phrases in two parts by the word of their first, those with the longest second part first."""
    found: dict[str, list[SplitPhrase]] = {}
    for group in groups:
        for phrase, sense in (form for say in group.say for form in _forms(group, say)):
            opens, _, closes = phrase.partition("…")
            for first, second in product(cut.spellings(opens), cut.spellings(closes)):
                found.setdefault(first[0], []).append(SplitPhrase(tuple(first), tuple(second), sense))
    longest_first = {k: sorted(v, key=lambda p: -len(p.closes)) for k, v in found.items()}
    return {word: tuple(phrases) for word, phrases in longest_first.items()}


#: So many forms of one say have senses of their own; those of more take no more room than these.
_FEW: Final = 8


def _forms(group: Group, say: str) -> Iterator[tuple[str, Sense]]:
    """Each form of a say with its sense; of many forms those with as many words share one."""
    forms = list(phrasings(say))
    shared: dict[int, Sense] = {}
    for phrase in forms:
        if len(forms) <= _FEW:
            yield phrase, Sense(group.is_, phrase, group)
            continue
        length = phrase.count(" ")
        if length not in shared:
            shared[length] = Sense(group.is_, phrase, group)
        yield phrase, shared[length]


#: The branch of a node that holds the senses of the phrase that ends there; no word is empty.
_ENDS: Final = ""


def _put(tree: dict[str, Any], keys: Sequence[str], sense: Sense) -> None:
    """Puts a phrase into a tree, unless it is there with the same meaning."""
    node = tree
    for key in keys[:-1]:
        below = node.get(key)
        if not isinstance(below, dict):
            below = node[key] = {} if below is None else {_ENDS: below}
        node = below
    there = node.get(keys[-1], ())
    senses = _ending(there)
    if any(_meant(s.group) == _meant(sense.group) for s in senses):
        return
    meaning = (*senses, sense) if senses else sense
    if isinstance(there, dict):
        there[_ENDS] = meaning
    else:
        node[keys[-1]] = meaning


def _ending(node: Any) -> tuple[Sense, ...]:
    """What ends at a node: the senses of its phrase, none where it only leads to longer ones."""
    meaning: Any = node.get(_ENDS, ()) if isinstance(node, dict) else node
    return (meaning,) if isinstance(meaning, Sense) else meaning


def _phrases_below(
    node: Mapping[str, Any], before: tuple[str, ...]
) -> Iterator[tuple[tuple[str, ...], tuple[Sense, ...]]]:
    for key, below in node.items():
        if key == _ENDS:
            yield before, _ending(below)
        elif isinstance(below, dict):
            yield from _phrases_below(below, (*before, key))
        else:
            yield (*before, key), _ending(below)


def _meant(group: Group) -> tuple[object, ...]:
    """What tells the senses of one phrase apart: a phrase is in each group once, "due" in two ideas."""
    return (group.is_, group.kind, group.topic, group.act if group.is_ in IDEAS else None)
