"""The patterns of asides, as data: ``lexicon/<language>/asides.yaml``, ready to be matched with words.

In a pattern ``[a|b]`` is either, ``(c)`` may be missing, ``{list}`` is a word of a list, ``<list>`` any
number of them, and ``…`` are free words: one or more, ``(…)`` also none. Each stretch of free words is a
group of the regular expression that a pattern becomes.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from importlib import resources
from typing import Final

from pydantic import BaseModel, ConfigDict

from bot.reading.words.normalise import without_accents
from bot.reading.words.rule_words import rule_words
from bot.reading.words.tokens import Token
from bot.terms.data_file import data_of

#: Patterns by the words that they can begin with.
Patterns = Mapping[str, Sequence[re.Pattern[str]]]


@dataclass(frozen=True, slots=True)
class Asides:
    """The asides of a language.

    ``set_off`` stand behind a mark or open a sentence, ``running`` need none; ``reasons`` say why something
    was done. ``matters`` are words that make free words a matter of their own, ``joints`` those before which
    an aside may end.
    """

    set_off: Patterns
    running: Patterns
    reasons: Patterns
    doubting: Patterns
    matters: frozenset[str]
    joints: frozenset[str]

    def with_doubts(self) -> Asides:
        """These, and what says only that something is not known."""
        words = self.set_off.keys() | self.doubting.keys()
        both = {w: [*self.doubting.get(w, ()), *self.set_off.get(w, ())] for w in words}
        return replace(self, set_off=both)

    def may_begin(self, behind_marks: Sequence[str], words: Sequence[str]) -> bool:
        """Whether any of a message's words can begin an aside where it stands: most messages have none."""
        return not (
            self.set_off.keys().isdisjoint(behind_marks)
            and self.running.keys().isdisjoint(words)
            and self.reasons.keys().isdisjoint(words)
        )

    def may_doubt(self, behind_marks: Sequence[str]) -> bool:
        """Whether any of them may say that something is not known."""
        return not self.doubting.keys().isdisjoint(behind_marks)


class _File(BaseModel):
    model_config = ConfigDict(extra="forbid", frozen=True)

    lists: Mapping[str, Sequence[str]]
    set_off: Sequence[str]
    running: Sequence[str]
    reasons: Sequence[str]
    doubting: Sequence[str]
    matters: Sequence[str]
    joints: Sequence[str]


@lru_cache(maxsize=16)
def asides_of(language: str, *, doubts: bool = False) -> Asides | None:
    """The asides of a language, ``None`` where it has no such file."""
    if doubts:
        plain = asides_of(language)
        return plain.with_doubts() if plain is not None else None
    file = resources.files("bot.reading") / "lexicon" / language / "asides.yaml"
    if not file.is_file():
        return None
    data = _File.model_validate(data_of("bot.reading", "lexicon", language, "asides.yaml"))
    return Asides(
        _by_first_word(data.set_off, data.lists),
        _by_first_word(data.running, data.lists),
        _by_first_word(data.reasons, data.lists),
        _by_first_word(data.doubting, data.lists),
        frozenset(map(without_accents, data.matters)),
        frozenset(map(without_accents, data.joints)),
    )


def word_of(token: Token) -> str:
    """A token as the patterns have it: with no accents, "it's" as "its", but "we're" apart from "were"."""
    text = without_accents(token.text)
    return text if "'" not in text or text in _APART else text.replace("'", "")


_APART: Final = rule_words("short_forms_kept_apart")

_PIECE: Final = re.compile(r"\[([^\]]*)\]|(\(…\))|\(([^)]*)\)|\{(\w+)\}|<(\w+)>|(…)|([^\s\[\](){}<>]+)")
_FREE: Final = r"((?:\S+ )+?)"
_PERHAPS_FREE: Final = r"((?:\S+ )*?)"


def _by_first_word(
    patterns: Sequence[str], lists: Mapping[str, Sequence[str]]
) -> dict[str, list[re.Pattern[str]]]:
    out: dict[str, list[re.Pattern[str]]] = {}
    for pattern in patterns:
        ready = re.compile("".join(_piece(piece, lists) for piece in _PIECE.findall(pattern)))
        for word in _first_words(pattern, lists):
            out.setdefault(word, []).append(ready)
    return out


def _piece(piece: tuple[str, ...], lists: Mapping[str, Sequence[str]]) -> str:
    _, perhaps_free, perhaps, _, any_of, free, _ = piece
    if free or perhaps_free:
        return _FREE if free else _PERHAPS_FREE
    words = "|".join(_choice(phrase, lists) for phrase in _said(piece, lists))
    return f"(?:{words})" + ("?" if perhaps else "*" if any_of else "")


def _said(piece: tuple[str, ...], lists: Mapping[str, Sequence[str]]) -> Sequence[str]:
    """The phrases of which a piece of a pattern is one."""
    either, _, perhaps, one_of, any_of, _, word = piece
    return lists[one_of or any_of] if one_of or any_of else (either or perhaps or word).split("|")


def _choice(phrase: str, lists: Mapping[str, Sequence[str]]) -> str:
    return "".join(_word(word, lists) for word in phrase.split())


def _word(word: str, lists: Mapping[str, Sequence[str]]) -> str:
    if word == "…":
        return _FREE
    if word.startswith("{"):
        return f"(?:{'|'.join(_choice(one, lists) for one in lists[word[1:-1]])})"
    return re.escape(without_accents(word)) + " "


def _first_words(pattern: str, lists: Mapping[str, Sequence[str]]) -> Iterator[str]:
    for piece in _PIECE.findall(pattern):
        _, _, perhaps, _, any_of, free, _ = piece
        if free:
            return
        for phrase in _said(piece, lists):
            first = phrase.split()[0]
            firsts = [w.split()[0] for w in lists[first[1:-1]]] if first.startswith("{") else [first]
            yield from map(without_accents, firsts)
        if not (perhaps or any_of):
            return
