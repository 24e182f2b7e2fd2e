"""The next free tag of a place, in the way in which the keeper numbers it. Pure."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Sequence
from typing import Final

from bot.terms import Specimen

_NUMBERED: Final = re.compile(r"(.*?)(\d+)")
_NO_PLACE: Final = "T"
_SMALL_WORDS: Final = frozenset({"the", "of", "on", "in", "at", "my", "our"})


def next_tags(specimens: Sequence[Specimen], place: str | None, n: int = 1) -> list[str]:
    """The next ``n`` free tags: the place's usual letters, and the numbers after its highest one."""
    taken = {specimen.tag.casefold() for specimen in specimens}
    there = [specimen.tag for specimen in specimens if same_place(specimen.place, place)]
    prefix, width, highest = _habit(there) or (_letters(place), 1, 0)
    found: list[str] = []
    number = highest
    while len(found) < n:
        number += 1
        tag = f"{prefix}{number:0{width}d}"
        if tag.casefold() not in taken:
            found.append(tag)
    return found


def same_place(one: str | None, other: str | None) -> bool:
    """Whether two names are of one place; case and blanks do not matter."""
    return _key(one) == _key(other)


def known_place(places: Iterable[str], said: str) -> str:
    """The place as the shelf calls it, or as it was said where it is new."""
    return next((place for place in places if same_place(place, said)), " ".join(said.split()))


def like_places(places: Iterable[str], said: str) -> list[str]:
    """The places that may be meant by words that are none of them, the likest first: "desk shelf" may be
    "shelf above the desk". One holds all the words of the other, small words left out."""
    words = _words(said)
    if not words or any(same_place(place, said) for place in places):
        return []
    like = [place for place in places if words <= _words(place) or _words(place) < words]
    return sorted(like, key=lambda place: len(words ^ _words(place)))


def _words(place: str) -> set[str]:
    return set(_key(place).split()) - _SMALL_WORDS


def place_of_tag(specimens: Sequence[Specimen], tag: str) -> str | None:
    """The place where animals with such a tag stand, where they all stand in one."""
    prefix = _split(tag)[0]
    places = {specimen.place for specimen in specimens if prefix and _split(specimen.tag)[0] == prefix}
    return places.pop() if len(places) == 1 else None


def _habit(tags: Sequence[str]) -> tuple[str, int, int] | None:
    """The letters most tags begin with, how many digits the numbers have, and the highest number."""
    parts = [(prefix, digits) for prefix, digits in map(_split, tags) if digits]
    if not parts:
        return None
    prefix = Counter(prefix for prefix, _ in parts).most_common(1)[0][0]
    numbers = [digits for found, digits in parts if found == prefix]
    width = min(map(len, numbers)) if any(digits.startswith("0") for digits in numbers) else 1
    return prefix, width, max(map(int, numbers))


def _split(tag: str) -> tuple[str, str]:
    found = _NUMBERED.fullmatch(tag)
    return (found[1], found[2]) if found else (tag, "")


def _letters(place: str | None) -> str:
    """What tags of a new place begin with: its last word where that is short, else its first letter."""
    words = (place or "").split()
    if not words:
        return _NO_PLACE
    return words[-1].upper() if len(words[-1]) <= 2 and words[-1].isalpha() else words[0][0].upper()


def _key(place: str | None) -> str:
    return " ".join((place or "").casefold().split())
