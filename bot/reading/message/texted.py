"""Words as thumbs write them in a hurry: "done b4 i shut the lid", "moved dot 2 a new cup", "moltedddd"."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence
from itertools import product
from typing import Final

from bot.reading.message.spoken import Texted, spoken
from bot.reading.names.shelf_names import ShelfNames
from bot.reading.words.lexicon import lexicon
from bot.reading.words.tokens import Token

#: A word whose letters are drawn out is not made shorter than this: "nooo" is no "no" to what was told.
_SHORTEST: Final = 3
#: Letters in a row of which no English word has so many.
_DRAWN_OUT: Final = re.compile(r"([a-z])\1{2,}")
_MOST_RUNS: Final = 3


def texted(tokens: Sequence[Token], names: ShelfNames, language: str) -> Iterator[tuple[int, int, str]]:
    """The figures that stand for words: the first token of each, the one after its last, and the word."""
    known = spoken(language)
    for place, token in enumerate(tokens):
        rule = known.texted.get(token.key) or known.texted.get(_glued(tokens, place))
        if rule is None or token.upper or place == 0:
            continue
        end = place + (1 if token.key in known.texted else 2)
        if _stands_for_a_word(tokens, place, end, rule) and not _is_a_name(
            tokens, place, end, names, language, rule
        ):
            yield place, end, rule.read


def _glued(tokens: Sequence[Token], place: int) -> str:
    """A letter and the figure right behind it: "b4" is two tokens."""
    behind = tokens[place + 1] if place + 1 < len(tokens) else None
    return f"{tokens[place].key}{behind.key}" if behind is not None and not behind.gap else ""


def _stands_for_a_word(tokens: Sequence[Token], place: int, end: int, rule: Texted) -> bool:
    ahead = [token.key for token in tokens[end : end + 2]]
    if not ahead or ahead[0] not in rule.ahead or ahead[-1] in rule.but:
        return False
    return not rule.after or any(token.key in rule.after for token in tokens[:place])


def _is_a_name(
    tokens: Sequence[Token], place: int, end: int, names: ShelfNames, language: str, rule: Texted
) -> bool:
    """ "fed b4 i think", "moved gbb 2 her tub": an animal, unless behind what became of food."""
    said = tuple(token.key for token in tokens[place:end])
    before = tokens[place - 1].key
    if (before, *said) in names.phrases:
        return True
    if said not in names.phrases:
        return False
    senses = lexicon(language).account.senses(before)
    done = any(s.cat == "verb" and not s.group.keeper for s in senses)
    return not (done or before in rule.behind)


def in_short(word: str, known: Callable[[str], bool]) -> str | None:
    """ "moltedddd", "againnn": the word whose letters are drawn out; ``None`` where it may be two."""
    runs = _DRAWN_OUT.findall(word)
    if not 0 < len(runs) <= _MOST_RUNS:
        return None
    parts = _DRAWN_OUT.split(word)
    found = set()
    for lengths in product((1, 2), repeat=len(runs)):
        short = parts[0]
        for n, length in enumerate(lengths):
            short += parts[1 + 2 * n] * length + parts[2 + 2 * n]
        if len(short) >= _SHORTEST and known(short):
            found.add(short)
    return found.pop() if len(found) == 1 else None
