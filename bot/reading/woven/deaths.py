"""Whose death is told: "gave Ink a roach, it was dead by morning" is of the roach as well as of Ink. Pure."""

from __future__ import annotations

from typing import Final

from bot.reading.clauses.frames import Frame
from bot.reading.clauses.neighbours import kinds
from bot.reading.words.rule_words import rule_words
from bot.terms import Kind


def doubt_whose_death(prev: Frame, frame: Frame) -> None:
    """Has it asked, behind a meal, who died, unless a word stands for an animal alone: "she was dead"."""
    if prev.meals and kinds(frame) == {Kind.DIED} and not frame.ref_at and _may_be_prey(frame):
        frame.flags.add("hedge")


def _may_be_prey(frame: Frame) -> bool:
    words = (item.text.split()[0] for item in frame.clause.items if "pron" in item.senses)
    return not frame.prons or any(word in _IT for word in words)


_IT: Final = rule_words("it_may_be_prey")
