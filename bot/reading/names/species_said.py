"""Which species words name: as the shelf has it, else as the trade has it. Pure."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from typing import Final

from bot.reading.names.genera import genera_in_short
from bot.reading.names.shelf_names import ShelfNames
from bot.reading.names.taxa import taxa
from bot.reading.words.normalise import plain_text
from bot.reading.words.rule_words import rule_words
from bot.reading.words.tokens import tokens_of

#: Words before a species that say nothing of it.
_BEFORE: Final = rule_words("before_a_species")


def species_said(words: str, names: ShelfNames | None) -> str | None:
    """The scientific name of the one species that all the words name; ``None`` for anything else.

    What is an animal's own name as well is that animal, not the species.
    """
    tokens = tokens_of(plain_text(words))
    while len(tokens) > 1 and tokens[0].text in _BEFORE:
        tokens = tokens[1:]
    if not tokens:
        return None
    spans = names.find(tokens) if names is not None else []
    if len(spans) == 1 and (spans[0].i, spans[0].j) == (0, len(tokens)):
        return spans[0].hits[0].species  # the surest way of naming stands first
    named = taxa().find(tokens, 0)
    return named[1] if named is not None and named[0] == len(tokens) else None


#: The ways of naming animals that are their kind's.
_BY_KIND: Final = frozenset({"genus", "species", "common", "initials", "part"})


def of_a_kind(words: str, names: ShelfNames) -> tuple[str, ...]:
    """The animals of the shelf that all the words call by genus, species or trade name, be they several."""
    tokens = tokens_of(plain_text(words))
    spans = names.find(tokens)
    if len(spans) != 1 or (spans[0].i, spans[0].j) != (0, len(tokens)):
        return ()
    hits = spans[0].hits
    if hits[0].how not in _BY_KIND:  # the surest way of naming stands first
        return ()
    return names.in_order({tag for hit in hits if hit.how in _BY_KIND for tag in hit.tags})


def genus_said(words: str) -> str | None:
    """The genus that a single word is, in full or in short, capitalised; it need not be on the shelf."""
    word = words.strip().lower()
    for one in (word, word.removesuffix("s"), word.removesuffix("ies") + "y"):
        genus = one if one in taxa().genera else _genus_in_short().get(one)
        if genus is not None:
            return genus.capitalize()
    return None


@cache
def _genus_in_short() -> Mapping[str, str]:
    return {short: genus for genus, shorts in genera_in_short().items() for short in shorts}
