"""The lexicon: words and phrases of a language as data, loaded once, checked, and ready to be looked up.

A lexicon is a folder of YAML files, each a list of groups. A group has ``is`` (its category, one of
:data:`CATEGORIES`), ``say`` (its phrases) and ``example`` (a message in which ``{}`` stands for each
phrase in turn). What else a group says (``kind``, ``prey``, ``size`` …) goes with every phrase of it.
In a phrase ``[a|b]`` is either word and ``(c)`` may be missing.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from importlib import resources
from itertools import product
from sys import intern
from typing import Any, Final

from pydantic import BaseModel, ConfigDict, ValidationError, field_validator

from bot.reading.normalise import plain_text
from bot.reading.tokens import Token, joins_words, tokens_of
from bot.terms import Kind, PreySize, SacEvent, WaterHow
from bot.terms.data_file import data_of

#: What a group of words may be, and what that is to the grammar.
CATEGORIES: Final[Mapping[str, str]] = {
    "verb": "tells what happened",
    "prey": "a feeder animal",
    "size": "the size of a feeder",
    "prekilled": "the feeder was dead already",
    "ones": "stands for the prey just named",
    "feeder_food": "what is given to feeder insects, not to a specimen",
    "neg": "turns what follows round",
    "elided": "a denial that may stand for the whole of what was just said",
    "undone": "not done, or not yet",
    "hedge": "not known for sure",
    "which": "it is not known which of them",
    "leftover": "part of a meal that was not eaten",
    "future": "yet to come, or meant to",
    "habit": "as a rule, not once",
    "cond": "only if",
    "report": "somebody else's words or animals",
    "did": "makes a bare verb past",
    "pron": "stands for an animal just named",
    "self": "the keeper",
    "except": "takes the following animals out",
    "but": "takes the following animals out, or begins a new clause",
    "with": "joins a second animal or a helper",
    "on": "says where",
    "from": "says where it came from",
    "to": "says where it goes",
    "for": "says what came in return",
    "away": "from where it was",
    "rel": "begins what is said of the one just named",
    "other": "the second of two just named",
    "when": "says by another event when it was",
    "of": "part of",
    "the": "article",
    "a": "article for one",
    "some": "article for an amount not counted",
    "and": "joins",
    "or": "either",
    "then": "begins a new clause",
    "so": "begins what follows from it",
    "same": "as said before",
    "each": "for each",
    "all": "the whole of a group",
    "both": "two of them",
    "everyone": "every animal",
    "portion": "only a part of a group",
    "rest": "those not named yet",
    "one": "stands for an animal described",
    "group": "a word for animals by stage, sex or habit",
    "trait": "a word that describes an animal",
    "animal": "a tarantula, whichever",
    "yes": "it did",
    "no": "it did not",
    "none_of": "denies the things named behind it",
    "fix": "takes back what was just said within the message",
    "room": "the room of the animals",
    "noun": "a thing in or of an enclosure, or a part of an animal",
    "sign": "something seen that no other kind holds",
    "span": "names a leg span",
    "carapace": "names a carapace length",
    "weight": "names a weight",
    "temp": "names a temperature",
    "humid": "names a humidity",
    "still": "as before",
    "nomore": "no longer as before",
    "ask": "begins or makes a question",
    "topic": "what a question is about",
    "idea": "what the words of a question turn on, in whatever order they come",
    "remind": "asks to be told later",
    "hold": "asks for feeding prompts to pause",
    "resume": "asks for feeding prompts to go on",
    "prompting": "the feeding prompts, or what they do to the keeper",
    "pausing": "a pause of feeding prompts",
    "undo": "takes the last entry back",
    "amend": "says that the last entry is wrong",
    "unlog": "takes an entry back that is named behind it",
    "takes_off": "takes an entry back, together with words for the record",
    "off_record": "says that an entry goes from the record",
    "relog": "changes an entry that is named behind it",
    "turns_into": "stands between an entry and what it should say",
    "on_record": "an entry, whichever",
    "begs": "asks politely for an entry to be taken back or changed",
    "chat": "chatter",
    "stranger": "an animal that is none of the shelf, whatever it is called",
    "idle": "what is done or thought of an animal that is no matter of the journal",
    "danger": "shows that words are not about one event of one animal",
    "ordinal": "picks one of the answers offered",
    "neither": "takes none of the answers offered",
    "dur": "a length of time that dates nothing",
    "weather": "weather",
    "people": "people",
    "market": "where animals are sold",
    "fill": "harmless",
}


#: Categories that make a message other than a plain account; looked up apart, over the words of the account.
CUES: Final = frozenset(
    {
        "ask",
        "topic",
        "remind",
        "hold",
        "resume",
        "prompting",
        "pausing",
        "undo",
        "amend",
        "chat",
        "ordinal",
        "neither",
    }
)
SIGNS: Final = frozenset({"sign"})
IDEAS: Final = frozenset({"idea"})
#: What is said of an entry on record; looked up apart as well.
EARLIER: Final = frozenset({"unlog", "takes_off", "off_record", "relog", "turns_into", "on_record", "begs"})


class Group(BaseModel):
    """One group of a lexicon file, as it is written there."""

    model_config = ConfigDict(extra="forbid")

    is_: str
    say: list[str]
    example: str = "{}"
    kind: Kind | None = None
    weak: bool = False
    noun: bool = False
    base: bool = False
    keeper: bool = False
    act: str | None = None
    how: WaterHow | None = None
    event: SacEvent | None = None
    sex: str | None = None
    stage: str | None = None
    habit: str | None = None
    prey: str | None = None
    plural: bool = False
    size: PreySize | None = None
    topic: str | None = None
    about: Kind | None = None
    part: str | None = None
    count: int | None = None

    @field_validator("is_")
    @classmethod
    def _known(cls, value: str) -> str:
        if value not in CATEGORIES:
            raise ValueError(f"{value!r} is no category; one of: {', '.join(CATEGORIES)}")
        return value


@dataclass(frozen=True, slots=True)
class Sense:
    """What a phrase means: its category and what goes with it. ``words`` is the phrase itself."""

    cat: str
    words: str
    group: Group


@dataclass(frozen=True, slots=True)
class Layer:
    """Phrases that are looked up together, word by word.

    A node of ``tree`` is what a phrase means that no longer one begins with, its one sense or several, else a
    dict of the words that go on, with the meaning of what ends there under no word. Most phrases have one
    sense and no longer phrase, and take no more room than that.
    """

    tree: Mapping[str, Any]

    def senses(self, word: str) -> tuple[Sense, ...]:
        """The senses of a single word, none if it is not known."""
        return _ending(self.tree.get(word, ()))

    def phrases(self) -> Iterator[tuple[tuple[str, ...], tuple[Sense, ...]]]:
        """Every phrase, by its words, with its senses."""
        return _phrases_below(self.tree, ())

    def find(
        self, tokens: Sequence[Token], keys: Sequence[str], at: int
    ) -> tuple[int, tuple[Sense, ...]] | None:
        """The longest phrase that begins at a token: the token after it, and its senses."""
        node = self.tree.get(keys[at])
        if node is None:
            return None
        found: tuple[int, tuple[Sense, ...]] | None = None
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
        return found if node is None else (place + 1, _ending(node))


@dataclass(frozen=True, slots=True)
class Lexicon:
    """All phrases of a language, by their words."""

    language: str
    account: Layer
    cues: Layer
    signs: Layer
    ideas: Layer
    earlier: Layer
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
        "days.yaml",
        "amounts.yaml",
        "numbers.yaml",
        "instructions.yaml",
        "harm.yaml",
        "stretches.yaml",
        "recurrences.yaml",
        "away.yaml",
        "spoken.yaml",
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
    cut = _Cut()
    return Lexicon(
        language,
        account=_layer([g for g in groups if g.is_ not in CUES | SIGNS | IDEAS | EARLIER], cut),
        cues=_layer([g for g in groups if g.is_ in CUES], cut),
        signs=_layer([g for g in groups if g.is_ in SIGNS], cut),
        ideas=_layer([g for g in groups if g.is_ in IDEAS], cut),
        earlier=_layer([g for g in groups if g.is_ in EARLIER], cut),
        short_forms=frozenset(cut.short_forms),
        groups=tuple(groups),
    )


class _Cut:
    """The words of phrases as they are looked up, each cut once: phrases share most of theirs."""

    def __init__(self) -> None:
        self.short_forms: set[str] = set()
        self._keys: dict[str, tuple[str, ...]] = {}

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
    for group in groups:
        for phrase in (form for say in group.say for form in phrasings(say)):
            keys = cut.keys(phrase)
            if keys:
                _put(tree, keys, Sense(group.is_, phrase, group))
    return Layer(tree)


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
