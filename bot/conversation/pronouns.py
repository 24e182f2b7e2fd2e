"""What is wanted of the animal just talked of: "move her to the cabinet", "call him Rex"."""

from __future__ import annotations

import re
from collections.abc import Collection
from typing import Final

from bot.conversation.turn import Turn
from bot.reading.model import ReadingKind
from bot.reading.wanted.instructions import read_instruction
from bot.reading.wanted.wanted import Action, Instruction

#: Words for one animal; "it" may be a reminder, an entry or a tub as well, but for what is asked.
_OF_ONE: Final = re.compile(r"\b(?:her|him|she|he|this one)\b", re.IGNORECASE)
_IT: Final = re.compile(r"\b(?:its|it)\b", re.IGNORECASE)
_ACTIONS: Final = frozenset({Action.MOVE, Action.RENAME, Action.RETAG})
#: What a message may be read as beside: one that tells or corrects is taken as that.
_NOT_READ: Final = frozenset({ReadingKind.ASK, ReadingKind.UNCLEAR})
_QUESTIONS: Final = frozenset({Action.ORIGIN, Action.WENT, Action.WARMTH, Action.TASTE, Action.SAY_WHEN})
_MAY_BE_QUESTION: Final = _NOT_READ | {ReadingKind.QUESTION, ReadingKind.REMINDER}


def of_the_one_talked_of(turn: Turn) -> Instruction | None:
    """The instruction with the animal in the pronoun's place; ``None`` where it is none of these."""
    tag = turn.dialog.get("of")
    if not isinstance(tag, str) or tag not in turn.shelf.by_tag:
        return None
    wanted = _wanted(turn, _OF_ONE, tag, _ACTIONS) or _wanted(turn, _OF_ONE, tag, _QUESTIONS)
    wanted = wanted or _wanted(turn, _IT, tag, _QUESTIONS)
    if wanted is None:
        return None
    fits = _MAY_BE_QUESTION if wanted.action in _QUESTIONS else _NOT_READ
    return wanted if turn.reading.reading in fits else None


def _wanted(
    turn: Turn, pronoun: re.Pattern[str], tag: str, actions: Collection[Action]
) -> Instruction | None:
    words, found = pronoun.subn(tag, turn.incoming.text, count=1)
    wanted = read_instruction(words, turn.shelf.names, turn.settings.language) if found else None
    return wanted if wanted is not None and wanted.action in actions and wanted.tags == (tag,) else None
