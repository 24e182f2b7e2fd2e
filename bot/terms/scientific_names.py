"""Scientific names of species as people spell them. Pure."""

from __future__ import annotations

import re
from typing import Final

#: The endings of an epithet that is an adjective, by the gender of its genus: an epithet that moves to a
#: genus of another gender changes its ending, and keepers go on writing the old one ("albopilosum" for
#: "albopilosus"). International Code of Zoological Nomenclature, articles 31.2 and 34.2.
_GENDERED: Final = (("us", "um", "a"), ("is", "e"))
_SHORTEST_STEM: Final = 4


def spellings(epithet: str) -> tuple[str, ...]:
    """An epithet in each gender it may be written in, as it stands first; most have but one form."""
    for endings in _GENDERED:
        for ending in endings:
            stem = epithet.removesuffix(ending)
            if stem != epithet and len(stem) >= _SHORTEST_STEM:
                others = (stem + other for other in endings if other != ending)
                return (epithet, *others)
    return (epithet,)


def respelled(name: str) -> tuple[str, ...]:
    """A name of genus and epithet with the epithet in each gender; anything else as it stands."""
    two_words = re.fullmatch(r"(\S+) (\w+)", name)
    if two_words is None:
        return (name,)
    return tuple(f"{two_words[1]} {epithet}" for epithet in spellings(two_words[2]))
