"""Whether words name an animal and say nothing else, and which animals a message names. Pure."""

from __future__ import annotations

from typing import Final

from bot.reading.names.shelf_names import ShelfNames
from bot.reading.words.normalise import plain_text
from bot.reading.words.rule_words import rule_words
from bot.reading.words.tokens import tokens_of


def whom(words: str, names: ShelfNames) -> tuple[str, ...]:
    """The animals that words may name: one, or several of which one is meant; empty where they name nobody.

    The words have to be the name and nothing else, but for an article before it.
    """
    tokens = tokens_of(plain_text(words))
    if len(tokens) > 1 and tokens[0].text in _ARTICLES:
        spans = names.find(tokens) or names.find(tokens[1:])
    else:
        spans = names.find(tokens)
    covered = sum(span.j - span.i for span in spans)
    if len(spans) != 1 or covered < len(tokens) - (tokens[0].text in _ARTICLES):
        return ()
    hits = [hit for hit in spans[0].hits if hit.how != "place" and not hit.plural]
    return hits[0].tags if hits else ()


_ARTICLES: Final = rule_words("the_or_bare_my")


def named_in(words: str, names: ShelfNames) -> frozenset[str]:
    """The animals that a message calls by their very names or tags, not as one of a group or place."""
    hits = [hit for span in names.find(tokens_of(plain_text(words))) for hit in span.hits]
    return frozenset(
        hit.tags[0] for hit in hits if hit.how != "place" and not hit.plural and len(hit.tags) == 1
    )
