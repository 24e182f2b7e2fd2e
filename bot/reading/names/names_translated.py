"""Names said by words that mean the same: "balda B" for a "shelf B", "la negra" for "the black one".

Which words mean the same in the names of places, lots and nicknames is data (``same_in_names`` in
``lexicon/<language>/instructions.yaml``). Pure.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from functools import cache
from typing import Final, NamedTuple

from bot.reading.names.shelf_names import Hit, NameSpan, ShelfNames, keys_of
from bot.reading.words.phrasings import own_data
from bot.reading.words.tokens import Token

#: Ways of naming in which words of another language may stand; those of a species are the same in all.
_TRANSLATED: Final = frozenset({"place", "name", "aka"})
#: So many words may follow what is said in other words: the letter of a shelf, its number and that of a tub.
_MOST_BEHIND: Final = 3

Keys = tuple[str, ...]


class _Way(NamedTuple):
    """A phrase, and the others that mean the same in a name."""

    said: Keys
    others: tuple[Keys, ...]


def translated(tokens: Sequence[Token], names: ShelfNames, language: str) -> Iterator[NameSpan]:
    """Names of the shelf of which words are said by others that mean the same; none where two would fit."""
    by_first = _others(language)
    for at, token in enumerate(tokens if by_first else ()):
        span = _longest(tokens, at, names, by_first.get(token.key, ()))
        if span is not None:
            yield span


def _longest(tokens: Sequence[Token], at: int, names: ShelfNames, ways: Sequence[_Way]) -> NameSpan | None:
    """The name that the words from one on say, by the longest of the phrases that they begin with."""
    for way in ways:
        words = [token.key for token in tokens[at : at + len(way.said) + _MOST_BEHIND]]
        if tuple(words[: len(way.said)]) != way.said:
            continue
        for end in range(len(words), len(way.said) - 1, -1):
            behind = tuple(words[len(way.said) : end])
            found = {hit for other in way.others for hit in _named((*other, *behind), names)}
            if len(found) == 1:
                return NameSpan(at, at + end, tuple(found), spaced=end > 1)
    return None


def _named(keys: Keys, names: ShelfNames) -> Iterator[Hit]:
    return (
        hit for hit in names.phrases.get(keys, ()) if hit.how in _TRANSLATED and not _of_a_part(hit, keys)
    )


def _of_a_part(hit: Hit, keys: Keys) -> bool:
    """Whether a place is meant by less than its name: the letter alone stands for a place as it is."""
    return hit.how == "place" and hit.place is not None and len(keys) < len(keys_of(hit.place))


@cache
def _others(language: str) -> Mapping[str, tuple[_Way, ...]]:
    """The phrases that may be said by others in a name, by their first word, the longest first."""
    rows = [[keys_of(phrase) for phrase in row] for row in own_data(language).get("same_in_names", ())]
    found: dict[Keys, list[Keys]] = {}
    for row in rows:
        for said in row:
            found.setdefault(said, []).extend(other for other in row if other != said)
    ways = [_Way(said, tuple(dict.fromkeys(others))) for said, others in found.items()]
    by_first: dict[str, list[_Way]] = {}
    for way in sorted(ways, key=lambda way: len(way.said), reverse=True):
        by_first.setdefault(way.said[0], []).append(way)
    return {first: tuple(begun) for first, begun in by_first.items()}
