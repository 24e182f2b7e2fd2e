"""What is wanted of the animal just talked of: "move her to the cabinet", "call him Rex"."""

from __future__ import annotations

import re
from typing import Final

from bot.conversation.turn import Turn
from bot.reading.instructions import read_instruction
from bot.reading.model import ReadingKind
from bot.reading.wanted import Action, Instruction

#: Words for one animal; "it" may be a reminder, an entry or a tub as well.
_OF_ONE: Final = re.compile(r"\b(?:her|him|she|he|this one)\b", re.IGNORECASE)
_ACTIONS: Final = frozenset({Action.MOVE, Action.RENAME, Action.RETAG})
#: What a message may be read as beside: one that tells or corrects is taken as that.
_NOT_READ: Final = frozenset({ReadingKind.ASK, ReadingKind.UNCLEAR})


def of_the_one_talked_of(turn: Turn) -> Instruction | None:
    """The instruction with the animal in the pronoun's place; ``None`` where it is none of these."""
    tag = turn.dialog.get("of")
    words, found = _OF_ONE.subn(str(tag), turn.incoming.text, count=1)
    if not found or tag not in turn.shelf.by_tag:
        return None
    wanted = read_instruction(words, turn.shelf.names)
    if wanted is None or wanted.action not in _ACTIONS or wanted.tags != (tag,):
        return None
    return wanted if turn.reading.reading in _NOT_READ else None
