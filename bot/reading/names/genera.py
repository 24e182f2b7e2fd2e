"""What keepers call the animals of a genus in short: "avics", "pokies". The words are data."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import cache

from bot.terms.data_file import data_of


@cache
def genera_in_short() -> Mapping[str, Sequence[str]]:
    """The short words for each genus, without the plural's s; all in lower case."""
    found: Mapping[str, Sequence[str]] = data_of("bot.reading", "lexicon", "genus_shorts.yaml")
    return found
