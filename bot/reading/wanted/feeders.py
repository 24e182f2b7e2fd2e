"""What is asked of feeders as such: what goes with a span, and how long a feeder is. Pure."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from decimal import Decimal
from typing import Final

from bot.reading.amounts.amounts import find_amounts
from bot.reading.names.names_alone import whom
from bot.reading.names.shelf_names import ShelfNames
from bot.reading.wanted.wanted import Action, Instruction, Understand
from bot.reading.words.lexicon import lexicon
from bot.reading.words.normalise import plain_text
from bot.reading.words.phrasings import folded, slot, word_set
from bot.reading.words.scan import Words
from bot.reading.words.tokens import tokens_of
from bot.terms import Units

#: An animal of a span is between these, in cm: smaller than any that hatches, and larger than any known.
_SMALLEST_CM: Final = Decimal("0.2")
_LARGEST_CM: Final = Decimal(35)
_WORD: Final = re.compile(r"[^\W\d_]+")


def span_said(words: str, language: str) -> Decimal | None:
    """The span in cm of an animal told of by its size alone: "a 1/4 inch sling", "sling of 2 cm"."""
    text = plain_text(words).plain
    found = find_amounts(Words(text), units=Units.METRIC, language=language)
    if len(found) != 1 or found[0].dimension != "length" or found[0].doubt is not None:
        return None
    rest = f"{text[: found[0].start]} {text[found[0].end :]}"
    of_a_size = word_set("of_a_size", language).issuperset(_WORD.findall(folded(rest)))
    fits = _SMALLEST_CM <= found[0].value <= _LARGEST_CM and not any(char.isdigit() for char in rest)
    return found[0].value if of_a_size and fits else None


def feeder_said(words: str, language: str) -> tuple[str, str | None] | None:
    """The feeder that all the words name, and its size where one is said: "medium crickets", "a pinhead"."""
    tokens = tokens_of(plain_text(words))
    keys, layer = [token.key for token in tokens], lexicon(language).account
    prey = size = None
    at = 0
    while at < len(tokens):
        found = layer.find(tokens, keys, at)
        named = next((sense.group for sense in found[1] if sense.cat in _OF_FEEDERS), None) if found else None
        if found is None or named is None or (named.prey and prey):
            return None
        prey, size, at = named.prey or prey, named.size or size, found[0]
    return (prey, size) if prey else None


_OF_FEEDERS: Final = frozenset({"prey", "size", "a", "the"})


def _of_a_span(action: Action, found: re.Match[str], _names: ShelfNames, language: str) -> Instruction | None:
    """What to feed one of a span, or whether a feeder fits it; without a span what goes with each."""
    said, feeder = slot(found, "size"), slot(found, "feeder")
    for size, prey in _parted(said, feeder):
        span = span_said(size, language) if size else None
        named = feeder_said(prey, language) if prey else None
        if bool(span) == bool(size) and bool(named) == bool(prey):
            return Instruction(action=action, span_cm=span, prey=named and named[0], value=named and named[1])
    return None


def _parted(said: str | None, feeder: str | None) -> Iterator[tuple[str | None, str | None]]:
    """The words of both slots in all ways that they may be parted, since no word may stand between them."""
    yield said, feeder
    words = f"{said} {feeder}".split() if said and feeder else []
    for at in range(1, len(words)):
        yield " ".join(words[:at]), " ".join(words[at:])
        yield " ".join(words[at:]), " ".join(words[:at])


def _how_long(action: Action, found: re.Match[str], names: ShelfNames, language: str) -> Instruction | None:
    """How long a feeder is: no animal of the shelf is called so."""
    said = slot(found, "feeder") or ""
    named = None if whom(said, names) else feeder_said(said, language)
    return Instruction(action=action, prey=named[0], value=named[1]) if named else None


OF_FEEDERS: Final[Mapping[Action, Understand]] = {
    Action.MEAL_OF_SPAN: _of_a_span,
    Action.FEEDER_SIZE: _how_long,
}
