"""Several places by one word: "shelves A and B", "racks 1-3", "die Regale A, B und C".

Which word stands for which, and what leads from the first to the last, is data (``several_places`` in
``lexicon/<language>/instructions.yaml``). Pure.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from functools import cache
from typing import Final, NamedTuple

from bot.reading.names.shelf_names import Hit, NameSpan, ShelfNames, keys_of
from bot.reading.words.lexicon import lexicon
from bot.reading.words.phrasings import own_data
from bot.reading.words.tokens import Token

Keys = tuple[str, ...]


class _Plurals(NamedTuple):
    """The words for several places, each with those for one, and the words from the first to the last."""

    places: Mapping[str, tuple[Keys, ...]]
    up_to: frozenset[str]


def several_places(tokens: Sequence[Token], names: ShelfNames, language: str) -> Iterator[NameSpan]:
    """The places that follow a word for several of them; each by itself, those of a range as one."""
    plurals = _plurals(language)
    for at, token in enumerate(tokens[:-1]):
        one = plurals.places.get(token.key)
        if one is not None:
            yield from _listed(tokens, at, names, one, plurals.up_to, language)


def _listed(
    tokens: Sequence[Token],
    at: int,
    names: ShelfNames,
    one: Sequence[Keys],
    up_to: frozenset[str],
    language: str,
) -> Iterator[NameSpan]:
    start, end = at, at + 1
    while end < len(tokens):
        hit = _place(tokens[end], names, one)
        if hit is None:
            return
        following = tokens[end + 1] if end + 1 < len(tokens) else None
        ranges = following is not None and (following.text in _DASHES or following.key in up_to)
        last = _place(tokens[end + 2], names, one) if ranges and end + 2 < len(tokens) else None
        if last is not None:
            tags = places_between(hit.place or "", last.place or "", names)
            yield NameSpan(start, end + 3, (Hit("place", tags, plural=True),), spaced=True)
            return
        yield NameSpan(start, end + 1, (hit,), spaced=True)
        start = end = _behind_joint(tokens, end + 1, language)


def _place(token: Token, names: ShelfNames, one: Sequence[Keys]) -> Hit | None:
    """The place that a letter or number behind one of the words for a place stands for."""
    said = ((*keys, token.key) for keys in (*one, ()))  # "racks A and B", where they are shelves
    hits = (hit for keys in said for hit in names.phrases.get(keys, ()) if hit.how == "place")
    return next(hits, None)


def places_between(first: str, last: str, names: ShelfNames) -> tuple[str, ...]:
    """The animals of the places of one row from the first to the last of them, and of these two."""
    (row, low), high = _split(first), _split(last)[1]
    between = {
        tag
        for tag, place in _places(names)
        if place in (_split(first), _split(last)) or (place[0] == row and low <= place[1] <= high)
    }
    return names.in_order(between)


def _places(names: ShelfNames) -> Iterator[tuple[str, tuple[Keys, Keys]]]:
    for specimen in names.specimens:
        if specimen.place:
            yield specimen.tag, _split(specimen.place)


def _split(place: str) -> tuple[Keys, Keys]:
    """A place's words, and the letter or number at their end so that it can be compared."""
    keys = keys_of(place)
    return keys[:-1], tuple(key.zfill(_WIDEST) if key.isdigit() else key for key in keys[-1:])


def _behind_joint(tokens: Sequence[Token], at: int, language: str) -> int:
    """The first token behind a comma, an "and" or both; the end where there is none."""
    words, start = lexicon(language), at
    while at < len(tokens) and (
        tokens[at].text in _JOINTS or any(s.cat == "and" for s in words.account.senses(tokens[at].key))
    ):
        at += 1
    return at if at > start else len(tokens)


_DASHES: Final = frozenset("-–")
_JOINTS: Final = frozenset(",&+")
#: Digits of the longest number of a place.
_WIDEST: Final = 6


@cache
def _plurals(language: str) -> _Plurals:
    data = own_data(language).get("several_places", {})
    places = {many: tuple(map(keys_of, one)) for many, one in data.get("words", {}).items()}
    return _Plurals(places, frozenset(data.get("up_to", ())))
