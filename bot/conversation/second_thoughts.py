"""What a keeper thinks better of: "put it back", "she is alive after all", a setting or a hand-over amended.

A word that takes back or changes is of the last thing that was done. Where that was no entry, nothing older
is touched unasked.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any, Final

from bot.conversation import (
    amend,
    asks,
    handover_open,
    on_record,
    reminders,
    reminders_changed,
    round_put_off,
)
from bot.conversation.model import Reply
from bot.conversation.texts import say
from bot.conversation.turn import Turn
from bot.reading.model import Amend, Reading
from bot.reading.short_answers import speaks_of_life
from bot.reading.wanted.wanted import Instruction
from bot.terms import Kind

_GONE = frozenset({Kind.DIED, Kind.LEFT})

#: The presses that undo what was no entry.
_UNDONE_BY: Final[Mapping[str, Callable[[Turn, None, Mapping[str, Any]], list[Reply]]]] = {
    "remind_to": reminders_changed.pressed_moved,
    "remind_again": reminders.pressed_again,
    "round_again": round_put_off.pressed_again,
    "round_not_later": round_put_off.pressed_not_later,
}


def put_back(turn: Turn, _wanted: Instruction) -> list[Reply]:
    """ "Put it back": what was taken back last, where nothing was done since."""
    taken = turn.dialog.get("taken")
    if taken is None:
        return [turn.reply(say("undo.nothing_taken"))]
    turn.remember(taken=None)
    return amend.turned(turn, turn.work.journal.get_change(taken["change"]), taken["do"])


def amended(turn: Turn, reading: Reading) -> list[Reply]:
    """The keeper says that something is wrong: an entry told of, the last one, or what was no entry."""
    assert reading.amend is not None
    done = turn.dialog.get("elsewhere")
    if done is None or turn.incoming.reply_to or reading.amend.of is not None:
        return amend.amend(turn, reading)
    if reading.amend.action == "undo":
        if not amend.question_is_open(turn):
            return _undone_elsewhere(turn, done, reading.amend.kinds)
        return amend.amend(turn, reading)
    return _changed_elsewhere(turn, reading.amend)


def cancelled(turn: Turn) -> list[Reply] | None:
    """ "Cancel that" right after a hand-over was agreed; ``None`` where it can only mean something open."""
    done = turn.dialog.get("elsewhere")
    return handover_open.end_latest(turn) if done == "handover" else None


def _undone_elsewhere(turn: Turn, done: Any, kinds: frozenset[Kind]) -> list[Reply]:
    """What was no entry is taken back; "forget the misting" is not said of it."""
    if isinstance(done, dict) and not kinds:  # the press that undoes it
        turn.remember(elsewhere=None)
        return _UNDONE_BY[done["do"]](turn, None, done)
    if done == "handover" and not kinds:
        return handover_open.end_latest(turn)
    rows = amend.latest_rows(turn)
    if not rows:
        return [turn.reply(say("undo.no_entry"))]
    return [on_record.ask_which(turn, say("undo.no_entry_but"), rows, {})]


def _changed_elsewhere(turn: Turn, wanted: Amend) -> list[Reply]:
    rows = [row for row in amend.latest_rows(turn) if on_record.takes(turn, row, wanted.changes)]
    if not rows:
        return [turn.reply(say("amend.nothing"))]
    return [on_record.ask_which(turn, say("amend.no_entry_but"), rows, wanted.changes)]


def still_here(turn: Turn) -> list[Reply] | None:
    """ "No wait, it moved", "he's still here": offers to take back a death or a sale that was just told."""
    rows = [row for row in amend.latest_rows(turn) if row.entry.kind in _GONE]
    if len(rows) != 1 or not speaks_of_life(turn.incoming.text):
        return None
    return [on_record.ask_which(turn, say("on_record.still_here"), rows, {})]


def cancel(turn: Turn) -> list[Reply]:
    """The open question and the guided step are dropped; nothing of them is stored."""
    prompt = asks.open_ask(turn)
    if prompt is not None:
        asks.close(turn, prompt)
    if prompt is None and not turn.dialog.get("step"):
        ended = cancelled(turn)
        if ended is not None:
            return ended
        return [turn.reply(say("cancel.nothing"))]
    turn.remember(step=None)
    return [turn.reply(say("cancel.done"))]
