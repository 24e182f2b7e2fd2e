"""Letters that a language writes as two where a keyboard lacks them: "gefuettert" is "gefüttert"."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from importlib import resources

from bot.terms.data_file import data_of


@cache
def letters_in_two(language: str) -> Mapping[str, str]:
    """Each such letter of a language, with the two that stand for it; most languages have none."""
    file = resources.files("bot.reading") / "lexicon" / language / "letters.yaml"
    letters: Mapping[str, str] = (
        data_of("bot.reading", "lexicon", language, "letters.yaml") if file.is_file() else {}
    )
    return letters
