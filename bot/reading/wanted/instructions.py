"""What a keeper wants of the bot that is no matter of the journal: the shelf's animals, settings, help.

Pure, like all reading. A phrasing has to fit the whole message, and whatever it calls an animal has
to be one of the shelf: else the message is left to the ordinary reading. The phrasings are data, in
``lexicon/<language>/instructions.yaml``; the grammar of a phrasing is told at the top of the English file.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import cache
from typing import Final

from bot.reading.names.shelf_names import ShelfNames
from bot.reading.wanted.moves_said import moved
from bot.reading.wanted.wanted import OF_THE_RECORD, Action, Instruction
from bot.reading.wanted.words import UNDERSTAND, of_animal, plain
from bot.reading.words.phrasings import SHARED, Phrasings, bare, fitting, own_data


def read_instruction(text: str, names: ShelfNames, language: str = SHARED) -> Instruction | None:
    """What a message wants of the bot, or ``None`` if it is no instruction. Never raises.

    ``language`` is the keeper's, who may use the English phrasings as well.
    """
    asked = text.rstrip().endswith("?")
    words = bare("; ".join(text.splitlines()), language=language)
    if not words:
        return _nothing_but_courtesy(text)
    for action, found in fitting(words, language, _phrasings):
        if asked and action not in _MAY_BE_ASKED:
            continue
        instruction = _understood(action, found, names, language)
        if instruction is not None:
            return instruction
    return None


def _understood(action: Action, found: re.Match[str], names: ShelfNames, language: str) -> Instruction | None:
    return UNDERSTAND.get(action, plain)(action, found, names, language)


def sounds_like_instruction(text: str, language: str = SHARED) -> bool:
    """Whether words have the form of an instruction about an animal, be it one that is not of the shelf."""
    fit = fitting(bare(text, language=language), language, _phrasings)
    return any(UNDERSTAND.get(action) in (of_animal, moved) for action, _ in fit)


def _nothing_but_courtesy(text: str) -> Instruction | None:
    if text.strip() == "?":
        return Instruction(action=Action.HELP)
    return Instruction(action=Action.THANKS) if bare(text, polite=False) else None


@cache
def _phrasings(language: str) -> Phrasings[Action]:
    groups = own_data(language).get("actions", {}).items()
    return Phrasings(
        ((Action(action), phrase) for action, group in groups for phrase in group["say"]), language=language
    )


def examples(language: str = SHARED) -> Mapping[Action, str]:
    """For each action that a language has phrasings of its own for a message that reaches it."""
    return {
        Action(action): group["example"] for action, group in own_data(language).get("actions", {}).items()
    }


_MAY_BE_ASKED: Final = OF_THE_RECORD | frozenset(
    {
        Action.HELP,
        Action.WHY,
        Action.SHELF,
        Action.PLACES,
        Action.REMINDERS,
        Action.HOLDS,
        Action.SETTINGS,
        Action.ROUND_WHEN,
        Action.SCHEDULE_OF,
        Action.SCHEDULES,
        Action.FIRST_AID,
        Action.CONCERN,
        Action.POSTURE,
        Action.SIGN,
        Action.DISTURB,
        Action.CARE,
        Action.MORE,
        Action.EXPORT,
        Action.ERASE,
        Action.HANDOVERS,
        Action.WHO_LOGGED,
        Action.PHOTOS,
        Action.LABELS,
    }
)
