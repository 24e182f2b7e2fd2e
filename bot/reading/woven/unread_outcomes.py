"""What came of an offered meal, in a word not understood: "offered Ink a locust and she splorged it"."""

from __future__ import annotations

from typing import Final

from bot.reading.clauses.clause_model import SENTENCE, START
from bot.reading.clauses.frames import Frame
from bot.reading.words.rule_words import rule_words_in_order

#: The flag of an offer of which it is not understood what came.
UNREAD: Final = "unread outcome"


def mark_unread_outcome(prev: Frame, frame: Frame) -> None:
    """Flags a clause that offers a meal, where the next one tells what she did with it in a strange word."""
    if prev.meals and prev.verbs and _strange_deed(frame):
        prev.flags.add(UNREAD)


def _strange_deed(frame: Frame) -> bool:
    """Whether a word not understood opens a clause, behind a "she" at most, before what it was done to."""
    if frame.verbs or not frame.unknown or frame.clause.sep in {SENTENCE, START}:
        return False
    items = frame.clause.items
    at = next((n for n, item in enumerate(items) if _BEFORE.isdisjoint(item.senses)), len(items))
    done_to = items[at + 1] if at + 1 < len(items) else None
    if done_to is None or items[at].cat != "U" or items[at].upper or not items[at].text.isalpha():
        return False
    meal = done_to.cat == "N" or not _MEAL.isdisjoint(done_to.senses)
    whole = done_to.cat == "S" and done_to.val.everyone
    return (meal or whole) and not items[at].text.endswith(_HOW)


_BEFORE: Final = frozenset({"pron", "and", "but", "then", "did", "fill"})
_MEAL: Final = frozenset({"pron", "both", "all", "everyone", "a", "prey", "size", "prekilled"})
_HOW: Final = rule_words_in_order("ending_of_manner")
