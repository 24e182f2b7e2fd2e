"""What a helper may do, in one place: answer the round, log what happened, take back what they logged, ask.

Everything else is the keeper's: who stands on the shelf and what they are called, reminders, holds, whatever
an animal is sold, bought or bred for, and whether one died. A helper whose period has not begun, or is over,
is told so and nothing is stored; first aid is told to everybody at any time.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any, Final

from bot.conversation import wording
from bot.conversation.model import Reply
from bot.conversation.people import keeper_of_shelf, name_of
from bot.conversation.texts import say
from bot.conversation.turn import Turn
from bot.reading.model import Reading, ReadingKind
from bot.reading.wanted.wanted import OF_THE_RECORD, Action
from bot.terms import Kind
from storage.records import Change, Prompt

#: What a helper may log.
HELPERS_KINDS: Final = frozenset(
    {
        Kind.FED,
        Kind.REFUSED,
        Kind.OFFERED,
        Kind.WATERED,
        Kind.MOLTED,
        Kind.PREMOLT,
        Kind.SEALED,
        Kind.OPENED,
        Kind.CLIMATE,
        Kind.CLEANED,
        Kind.CHECKED,
        Kind.STOCKED,
        Kind.COUNTED,
        Kind.SAC,
        Kind.NOTE,
    }
)
_READINGS: Final = frozenset(
    {ReadingKind.ENTRIES, ReadingKind.QUESTION, ReadingKind.AMEND, ReadingKind.ASK, ReadingKind.UNCLEAR}
)
#: What everybody may ask for at any time.
ALWAYS: Final = frozenset({Action.FIRST_AID, Action.EXPORT, Action.ERASE})
_ACTIONS: Final = (
    ALWAYS
    | OF_THE_RECORD
    | frozenset(
        {
            Action.ZONE,
            Action.UNITS,
            Action.DATE_ORDER,
            Action.LANGUAGE,
            Action.DAY_STARTS,
            Action.ROUND_TIME,
            Action.QUIET,
            Action.SETTINGS,
            Action.SCHEDULE_OF,
            Action.SCHEDULES,
            Action.HELP,
            Action.THANKS,
            Action.HELLO,
            Action.FAREWELL,
            Action.WHY,
            Action.MORE,
            Action.CANCEL,
            Action.REDO,
            Action.SHELF,
            Action.PLACES,
            Action.HOLDS,
            Action.ROUND_WHEN,
            Action.PICTURE,
            Action.PHOTOS,
            Action.CONCERN,
            Action.POSTURE,
            Action.SIGN,
            Action.DISTURB,
            Action.CARE,
            Action.WHO_LOGGED,
        }
    )
)
#: The buttons that a helper may use.
HELPERS_PRESSES: Final = frozenset(
    {
        "take",
        "none",
        "undo",
        "redo",
        "instead",
        "on_record",
        "more",
        "set_zone",
        "set_units",
        "set_round",
        "ask",
        "noted",
        "round",
        "round_said",
        "round_again",
        "round_not_later",
        "quick",
        "photo",
        "photo_of",
        "album",
        "picture",
        "keep_data",
    }
)

Readings = Mapping[ReadingKind, Callable[[Turn, Reading], list[Reply]]]
Presses = Mapping[str, Callable[[Turn, Prompt, Mapping[str, Any]], list[Reply]]]


def limit(turn: Turn) -> None:
    """Puts a refusal in the place of every handler that a helper may not reach."""
    if not turn.helps:
        return
    turn.readings = {
        kind: handler if kind in _READINGS else lambda turn, _reading: [_refused(turn)]
        for kind, handler in turn.readings.items()
    }
    turn.presses = {
        does: handler if does in HELPERS_PRESSES else lambda turn, _prompt, _action: [_refused(turn)]
        for does, handler in turn.presses.items()
    }


def may_instruct(turn: Turn, action: Action) -> bool:
    """Whether the one who writes may want that of the bot."""
    return not turn.helps or action in _ACTIONS


def may_turn(turn: Turn, change: Change) -> bool:
    """Whether the one who writes may take back or correct a change of the shelf: a helper only their own."""
    return not turn.helps or change.keeper_id == turn.keeper.id


def refused_change(turn: Turn) -> list[Reply]:
    """What is said where it is not."""
    return [_refused(turn)]


def refused_instruction(turn: Turn) -> list[Reply]:
    """What is said of an instruction that only the keeper may give."""
    return [_refused(turn)]


def refused_reading(turn: Turn, reading: Reading) -> list[Reply]:
    """What is said of a reading that only the keeper may have stored; empty where it may be stored."""
    if not turn.helps:
        return []
    kinds = {entry.kind for entry in reading.entries} - HELPERS_KINDS
    if Kind.DIED in kinds:
        return [turn.reply(say("handover.limited_death", keeper=keeper_of_shelf(turn)))]
    if kinds:
        return [turn.reply(say("handover.limited_kind", keeper=keeper_of_shelf(turn)))]
    return [_refused(turn)] if reading.reminder is not None or reading.hold is not None else []


def _refused(turn: Turn) -> Reply:
    return turn.reply(say("handover.limited", keeper=keeper_of_shelf(turn)))


# --- before the period, and after it ----------------------------------------------------------


def closed_to(turn: Turn) -> str:
    """What is said to somebody who came in only to help and does not now; empty for everybody else."""
    if turn.shelf_id != turn.keeper.shelf_id or turn.shelf.specimens:
        return ""
    if not turn.work.handovers.helps_only(turn.keeper.id):
        return ""
    latest = next(iter(turn.work.handovers.of_helper(turn.keeper.id)), None)
    if latest is None or latest.last < latest.first:  # called off before it began
        return say("handover.shut")
    if turn.today < latest.first:
        first = wording.date_of(latest.first, turn.today)
        keeper = name_of(turn, latest.by)
        return say("handover.not_yet", first=first, keeper=keeper)
    return say("handover.over")
