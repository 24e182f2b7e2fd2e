"""An entry on record that the keeper tells of by its animal, kind and day: taken back, or changed.

Exactly one that fits is taken at once and told; of several the keeper picks by a button; where none fits that
is said. A helper reaches only what they logged. An entry is taken back alone, whatever else its message told.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from datetime import timedelta
from typing import Any, Final

from bot.conversation.changing import changed_row, is_of
from bot.conversation.log import Storing, store, told
from bot.conversation.model import Reply
from bot.conversation.texts import say
from bot.conversation.turn import Choice, Turn
from bot.reading.model import Amend, Earlier, Reading, ReadingKind
from bot.reading.serialise import changes_from, changes_to_json
from bot.terms import Kind
from storage.records import JournalEntry, Prompt

_MOST_OFFERED: Final = 4
_MOST_LOOKED_AT: Final = 500
"""Entries of a long record that are looked through, the newest; who means an older one has to say its day."""

_FRESH: Final = timedelta(hours=12)
"""An entry recorded so recently is the one meant where no day is said."""


def amend_earlier(turn: Turn, amend: Amend) -> list[Reply]:
    """Takes back or changes the entry that the keeper tells of, or asks which one it is."""
    assert amend.of is not None
    rows = list(_fitting(turn, amend.of, amend.changes))
    if amend.of.latest:
        rows = rows[:1]
    if not rows:
        return [_none_fits(turn, amend)]
    fresh = [row for row in rows if _is_fresh(turn, row)]
    if len(fresh) == 1 and not amend.of.days:
        return _carry_out(turn, fresh, amend.changes)
    if len(rows) == 1 and (amend.of.kinds or amend.of.days or amend.of.was):
        return _carry_out(turn, rows, amend.changes)
    return [ask_which(turn, say("on_record.which"), rows, amend.changes)]


def _fitting(turn: Turn, of: Earlier, changes: Mapping[str, Any]) -> Iterator[JournalEntry]:
    """The entries that fit what is said of one, newest first."""
    rows = turn.work.journal.entries(
        turn.shelf_id,
        tags=of.specimens or None,
        kinds=of.kinds or None,
        since=min(of.days, default=None),
        until=max(of.days, default=None),
        limit=_MOST_LOOKED_AT,
    )
    for row in rows:
        own = not turn.helps or row.by == turn.keeper.id
        on_day = not of.days or row.entry.day in of.days
        if own and on_day and is_of(row.entry, of.was, turn.settings) and takes(turn, row, changes):
            yield row


def takes(turn: Turn, row: JournalEntry, changes: Mapping[str, Any]) -> bool:
    """Whether an entry can be changed so; none at all is being taken back."""
    return not changes or changed_row(row.entry, changes, turn.settings) is not None


def _is_fresh(turn: Turn, row: JournalEntry) -> bool:
    return turn.incoming.sent_at - row.recorded_at <= _FRESH


def _none_fits(turn: Turn, amend: Amend) -> Reply:
    """That nothing of the kind is on record; with the nearest ones, where only the day does not fit."""
    assert amend.of is not None
    near = list(_fitting(turn, replace(amend.of, days=(), was={}), amend.changes))
    if any(changed_row(row.entry, amend.changes, turn.settings) == row.entry for row in near[:1]):
        return turn.reply(say("amend.same"))
    if near:
        return ask_which(turn, say("on_record.not_so"), near, amend.changes)
    return turn.reply(say("on_record.none"))


# -- what did not happen ----------------------------------------------------------------------------


def denied(turn: Turn) -> list[Reply] | None:
    """Asks whether an entry goes that a message denies; ``None`` where nothing on record is denied."""
    of = turn.reading.denies
    if of is None:
        return None
    if not of.days:
        lately = range(_LATELY if _OFTEN.isdisjoint(of.kinds) else 1)
        of = replace(of, days=tuple(turn.today - timedelta(days=ago) for ago in lately))
    rows = list(_fitting(turn, of, {}))
    return [ask_which(turn, say("on_record.denied"), rows, {})] if rows else None


#: What happens so often that without a day only today's is meant by "I haven't fed Ink".
_OFTEN: Final = frozenset({Kind.FED, Kind.OFFERED, Kind.WATERED, Kind.CHECKED, Kind.CLEANED})
#: How many days ago other things may be that are denied without a day: "Ink did not molt".
_LATELY: Final = 15


# -- which one ------------------------------------------------------------------------------------


def ask_which(turn: Turn, text: str, rows: Sequence[JournalEntry], changes: Mapping[str, Any]) -> Reply:
    """A question with a button for each of the newest entries, that takes it back or changes it."""
    choices = [
        [Choice(line_of(turn, row).rstrip("."), {"do": "on_record", **_kept([row], changes)})]
        for row in rows[:_MOST_OFFERED]
    ]
    if 1 < len(rows) <= len(turn.shelf.specimens) and not changes and len({r.entry.day for r in rows}) == 1:
        every = {"do": "on_record", **_kept(rows, changes)}
        choices.append([Choice(say("on_record.all", n=len(rows)), every)])
    choices.append([Choice(say("on_record.keep"), {"do": "on_record", **_kept((), {})})])
    return turn.reply(text, choices, pending={})


def _kept(rows: Sequence[JournalEntry], changes: Mapping[str, Any]) -> dict[str, Any]:
    return {"rows": [[row.change_id, row.id] for row in rows], "changes": changes_to_json(changes)}


def pressed(turn: Turn, _prompt: Prompt, action: Mapping[str, Any]) -> list[Reply]:
    """The entry meant was picked: it is taken back or changed."""
    if not action["rows"]:
        return [turn.reply(say("on_record.kept"), in_place=True)]
    wanted = {row_id for _, row_id in action["rows"]}
    changes = dict.fromkeys(change_id for change_id, _ in action["rows"])
    rows = [row for number in changes for row in turn.work.journal.entries_of(number) if row.id in wanted]
    if not rows or not all(row.live for row in rows):
        return [turn.reply(say("amend.stands_no_more"), in_place=True)]
    return _carry_out(turn, rows, changes_from(action["changes"]), in_place=True)


def line_of(turn: Turn, row: JournalEntry) -> str:
    """An entry as one line, with whom, what and when."""
    line = " ".join(told(turn, row.entry))
    return line if row.entry.day != turn.today else say("on_record.today", line=line.rstrip("."))


# -- done -----------------------------------------------------------------------------------------


def _carry_out(
    turn: Turn, rows: Sequence[JournalEntry], changes: Mapping[str, Any], *, in_place: bool = False
) -> list[Reply]:
    if not changes:
        return [take_back(turn, rows, in_place=in_place)]
    row = rows[0]
    new = changed_row(row.entry, changes, turn.settings)
    if new is None:
        return [turn.reply(say("amend.does_not_fit"), in_place=in_place)]
    if new == row.entry:
        return [turn.reply(say("amend.same"), in_place=in_place)]
    reading = Reading(reading=ReadingKind.ENTRIES, text=turn.incoming.text, entries=(new,))
    was = "\n".join(told(turn, row.entry))
    how = Storing(replaces=(row.id,), origin=turn.origin, amended=True, was=was)
    return store(turn, reading, how, in_place=in_place)


def take_back(turn: Turn, rows: Sequence[JournalEntry], *, in_place: bool = False) -> Reply:
    """Takes entries back alone, and says which. The change that does so can be undone."""
    lines = "\n".join(line_of(turn, row) for row in rows)
    change_id = turn.open_change()
    turn.work.journal.replace(change_id, [row.id for row in rows], (), zone=turn.settings.zone)
    turn.refresh()
    turn.remember(taken={"do": "undo", "change": change_id})
    back = Choice(say("button.redo"), {"do": "undo", "change": change_id})
    text = say("undo.done", what=lines)
    return turn.reply(text, [[back]], change_id=change_id, in_place=in_place)
