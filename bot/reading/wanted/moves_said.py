"""Where animals are put: "moved Fig and Pip to the cabinet and gave them fresh substrate". Pure."""

from __future__ import annotations

import re
from functools import cache
from typing import Final

from bot.reading.names.names_alone import whom
from bot.reading.names.shelf_names import ShelfNames
from bot.reading.wanted.wanted import Action, Instruction
from bot.reading.words.phrasings import (
    SHARED,
    Phrasings,
    all_alike,
    either,
    fitting,
    folded,
    own_data,
    slot,
    word_set,
)

_LONGEST_PLACE: Final = 60


def moved(action: Action, found: re.Match[str], names: ShelfNames, language: str) -> Instruction | None:
    """Animals, all of whom are meant, and the place they are at; what else the message says is ``rest``.

    Where one name fits several animals, one of them is meant and ``every`` is not set.
    """
    slots = found.groupdict()
    tags, every = _all_of(slots.get("who") or "", names, language)
    said, known = slots.get("place"), slots.get("known")
    if not tags or not (said or known):
        return None
    if known is not None:
        place, rest, fits = known, None, is_known(known, names)
    else:
        place, rest = _parted(said or "", names, language)
        fits = len(place) <= _LONGEST_PLACE and is_place(place, names, language)
    if not fits:
        return None
    return Instruction(action=action, tags=tags, value=place, every=every, rest=rest)


def place_typed(text: str, name: str | None, language: str = SHARED) -> str:
    """The place in an answer to where an animal is to stand, "on the counter", "put Zoe in the office".

    ``name`` is what the animal is called. An answer without words that lead to a place is the place itself.
    """
    called = word_set("pronouns", language) | {folded(name or "")}
    fit = (found for _, found in fitting(text.strip(), language, _place_answers))
    return next((found["place"] for found in fit if folded(slot(found, "who") or "") in {"", *called}), text)


@cache
def _place_answers(language: str) -> Phrasings[None]:
    return all_alike(own_data(language).get("place_answers", ()), {})


def is_known(words: str, names: ShelfNames) -> bool:
    """Whether words are a place where somebody of the shelf stands."""
    return folded(words) in _known(tuple(names.places))


def is_place(words: str, names: ShelfNames, language: str = SHARED) -> bool:
    """A place that the shelf has, or words with what one is called; "a bigger tub" is a home, no place."""
    said = folded(words).split()
    if not said:
        return False
    place = not word_set("places", language).isdisjoint(said)
    place = place and word_set("no_place", language).isdisjoint(said)
    return place or is_known(words, names)


@cache
def _between_animals(language: str) -> re.Pattern[str]:
    joint = either(sorted(word_set("move_joints", language), key=len, reverse=True))
    return re.compile(rf"\s*(?:,\s*(?:{joint})|,|&|\+|{joint})\s*", re.I)


@cache
def _next_matter(language: str) -> re.Pattern[str]:
    leads = either(sorted(word_set("move_next_matter", language), key=len, reverse=True))
    return re.compile(rf"\s*(?:,\s*(?:{leads})?|;|\.(?=\s)|{leads})\s+", re.I)


@cache
def _known(places: tuple[str, ...]) -> frozenset[str]:
    return frozenset(map(folded, places))


def _all_of(said: str, names: ShelfNames, language: str) -> tuple[tuple[str, ...], bool]:
    """The animals of a list, each of which is one; or those of whom a single name may mean one."""
    alone = whom(said, names)
    if alone:
        return alone, len(alone) == 1
    each = [whom(part, names) for part in _between_animals(language).split(said)]
    if len(each) > 1 and all(len(tags) == 1 for tags in each):
        return names.in_order(tag for tags in each for tag in tags), True
    return (), False


def _parted(said: str, names: ShelfNames, language: str) -> tuple[str, str | None]:
    """The place, and the matter that begins behind it: "cabinet", "gave her fresh substrate"."""
    for found in _next_matter(language).finditer(said):
        place, rest = said[: found.start()], said[found.end() :]
        if is_place(place, names, language) and rest and not is_known(said, names):
            return place, rest
    return said, None
