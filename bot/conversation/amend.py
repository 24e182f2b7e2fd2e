"""Taking back and putting right: undo, redo, "no, Rust", "make it 3", an edited message.

An undo voids, an amendment supersedes; both can be undone, and nothing is ever deleted.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from typing import Any, Final

from bot.conversation import asks, on_record, wording
from bot.conversation.changing import fits, replaced, resolved
from bot.conversation.log import Storing, store, told
from bot.conversation.model import Reply
from bot.conversation.rights import may_turn, refused_change
from bot.conversation.texts import say
from bot.conversation.turn import Choice, Turn, undo_row
from bot.husbandry.journal import MOLT_KINDS
from bot.reading.model import FEEDING, Amend, Reading, ReadingKind
from bot.terms import Entry, KeeperSettings, Kind
from storage.records import Change, JournalEntry, Prompt

# --- undo and redo --------------------------------------------------------------------------


def amend(turn: Turn, reading: Reading) -> list[Reply]:
    """The keeper says that the last thing is wrong, or one that is told of."""
    assert reading.amend is not None
    if reading.amend.of is not None:
        return on_record.amend_earlier(turn, reading.amend)
    return _ACTIONS[reading.amend.action](turn, reading.amend)


def undo_latest(turn: Turn, wanted: Amend | None = None) -> list[Reply]:
    """Takes back the change of the message replied to, or the keeper's latest one that still stands.

    A question that was just asked is what the keeper looks at: it is dropped, and nothing older is touched.
    """
    if question_is_open(turn):
        prompt = asks.open_ask(turn)
        assert prompt is not None
        asks.close(turn, prompt)
        return [turn.reply(say("undo.question"))]
    change = _meant(turn)
    if change is None:
        replied = bool(turn.incoming.reply_to)
        return [turn.reply(say("undo.nothing_of_it") if replied else say("undo.nothing"))]
    if not may_turn(turn, change):
        return refused_change(turn)
    if change.origin is None:
        return [turn.reply(say("undo.not_by_word"))]
    others = _of_other_kinds(turn, change, wanted.kinds if wanted else frozenset())
    if others:
        return [on_record.ask_which(turn, say("undo.other_kind"), others, {})]
    return [_undo(turn, change)]


def _of_other_kinds(turn: Turn, change: Change, kinds: frozenset[Kind]) -> list[JournalEntry]:
    """What a change stored, where the words that take back name another kind of entry; else nothing."""
    if not kinds:
        return []
    rows = [row for row in turn.work.journal.entries_of(change.id) if row.live]
    alike = kinds.union(*(family for family in (FEEDING, MOLT_KINDS) if family & kinds))
    return [] if any(row.entry.kind in alike for row in rows) else rows


def question_is_open(turn: Turn) -> bool:
    """Whether a word which takes back would drop a question: the one replied to, else one just asked."""
    prompt = asks.open_ask(turn)
    if prompt is None or not turn.incoming.reply_to:
        return prompt is not None and asks.just_asked(turn, prompt)
    return prompt.change_id is None


def latest_rows(turn: Turn) -> list[JournalEntry]:
    """What stands of the keeper's latest change that was made by a message."""
    change = turn.work.journal.latest_change(turn.shelf_id, turn.keeper.id)
    if change is None or change.origin is None:
        return []
    return [row for row in turn.work.journal.entries_of(change.id) if row.live]


def turned(turn: Turn, change: Change, do: str) -> list[Reply]:
    """A change undone or put in force again, and what is so."""
    return [_undo(turn, change) if do == "undo" else _redo(turn, change)]


def _meant(turn: Turn) -> Change | None:
    """The change that the message replied to shows or made, if any; without a reply, the latest in force."""
    answered = turn.incoming.reply_to
    if not answered:
        return turn.work.journal.latest_change(turn.shelf_id, turn.keeper.id)
    shown = turn.work.prompts.by_message(turn.keeper.id, turn.chat, answered)
    if shown is not None and shown.change_id is not None:
        return turn.work.journal.get_change(shown.change_id)
    own = turn.work.journal.change_of(turn.shelf_id, f"{turn.chat}:{answered}")
    corrected = dict(map(tuple, turn.dialog.get("corrected", []))).get(answered)
    return turn.work.journal.get_change(corrected) if own is None and corrected is not None else own


def pressed_undo(turn: Turn, prompt: Prompt, action: Mapping[str, Any]) -> list[Reply]:
    """Takes back the change that the button stands under, whatever came after it; its message says so."""
    change = turn.work.journal.get_change(action["change"])
    return [_undo(turn, change, in_place=prompt.change_id == change.id)]


def _undo(turn: Turn, change: Change, *, in_place: bool = False) -> Reply:
    lines = _summary(turn, change)
    if not turn.work.journal.entries_of(change.id) and turn.work.journal.replaced_by(change.id):
        return _put_back(turn, change, in_place=in_place)
    if not turn.work.journal.undo(change.id, at=turn.incoming.sent_at):
        return turn.reply(say("undo.already", what=lines), in_place=in_place)
    turn.note_turned(change.id)
    turn.refresh()
    before = dict(map(tuple, turn.dialog.get("before", []))).get(change.id)
    if before:
        lines = f"{lines}\n{say('undo.so_again', what=before)}"
    turn.remember(taken={"do": "redo", "change": change.id})
    rows = [[Choice(say("button.redo"), {"do": "redo", "change": change.id})]]
    if before and (older := _stands_again(turn, change)) is not None:
        rows.append([Choice(say("button.that_too"), {"do": "undo", "change": older})])
    return turn.reply(say("undo.done", what=lines), rows, change_id=change.id, in_place=in_place)


def _stands_again(turn: Turn, change: Change) -> int | None:
    """The one change of which something stands again, now that the correction of it is taken back."""
    again = {row.change_id for row in turn.work.journal.replaced_by(change.id) if row.live}
    if len(again) != 1:
        return None
    number = again.pop()
    older = turn.work.journal.get_change(number)
    return number if older.origin is not None and older.keeper_id == turn.keeper.id else None


def _put_back(turn: Turn, change: Change, *, in_place: bool) -> Reply:
    """What a change took back alone stands again."""
    lines = _told(turn, joined([row.entry for row in turn.work.journal.replaced_by(change.id)]))
    if not turn.work.journal.undo(change.id, at=turn.incoming.sent_at):
        return turn.reply(say("undo.redone_already", what=lines), in_place=in_place)
    turn.note_turned(change.id)
    turn.refresh()
    turn.remember(taken=None)
    again = Choice(say("button.undo"), {"do": "redo", "change": change.id})
    return turn.reply(say("undo.redone", what=lines), [[again]], change_id=change.id, in_place=in_place)


def pressed_redo(turn: Turn, prompt: Prompt, action: Mapping[str, Any]) -> list[Reply]:
    """Puts back what was taken back; the message that said it was taken back now says this."""
    change = turn.work.journal.get_change(action["change"])
    return [_redo(turn, change, in_place=prompt.change_id == change.id)]


def _redo(turn: Turn, change: Change, *, in_place: bool = False) -> Reply:
    if turn.work.reminders.set_and_over(change.id):
        return turn.reply(say("remind.over"), in_place=in_place)
    if not turn.work.journal.redo(change.id, at=turn.incoming.sent_at):
        return turn.reply(say("undo.redone_already", what=_summary(turn, change)), in_place=in_place)
    turn.note_turned(change.id)
    turn.refresh()
    if not turn.work.journal.entries_of(change.id) and (gone := turn.work.journal.replaced_by(change.id)):
        turn.remember(taken={"do": "undo", "change": change.id})
        text = say("undo.done", what=_told(turn, joined([row.entry for row in gone])))
        back = Choice(say("button.redo"), {"do": "undo", "change": change.id})
        return turn.reply(text, [[back]], change_id=change.id, in_place=in_place)
    turn.remember(taken=None)
    text = say("undo.redone", what=_summary(turn, change))
    return turn.reply(text, [undo_row(change.id)], change_id=change.id, in_place=in_place)


def _summary(turn: Turn, change: Change) -> str:
    """What a change did, in a few lines: as it was said at the time, else by its entries."""
    kept = dict(map(tuple, turn.dialog.get("did", []))).get(change.id)
    if kept:
        return str(kept)
    entries = joined([row.entry for row in turn.work.journal.entries_of(change.id)])
    return (
        _told(turn, entries)
        if entries
        else say("undo.other", time=wording.local_clock(change.at, turn.settings.zone))
    )


def _told(turn: Turn, entries: Sequence[Entry]) -> str:
    """Entries as lines, without what comes next."""
    return "\n".join(line for entry in entries for line in told(turn, entry))


def joined(entries: Sequence[Entry]) -> list[Entry]:
    """Entries that differ only in their animals, as one entry for all of them."""
    groups: dict[Entry, list[str]] = {}
    for entry in entries:
        groups.setdefault(replace(entry, specimens=()), []).extend(entry.specimens)
    return [replace(entry, specimens=tuple(tags)) for entry, tags in groups.items()]


# --- changing the last one ------------------------------------------------------------------


def _change_latest(turn: Turn, wanted: Amend) -> list[Reply]:
    change = _meant(turn)
    if change is not None and not may_turn(turn, change):
        return refused_change(turn)
    rows = turn.work.journal.entries_of(change.id) if change else ()
    rows = tuple(row for row in rows if row.live)
    if change is None or change.origin is None or not rows:
        replied = bool(turn.incoming.reply_to)
        return [turn.reply(say("amend.nothing_of_it") if replied else say("amend.nothing"))]
    old = joined([row.entry for row in rows])
    new = changed(old, wanted.changes, turn.settings)
    if new is None:
        return [turn.reply(say("amend.which"))]
    if not new:
        return [turn.reply(say("amend.does_not_fit"))]
    if new == old:
        return [turn.reply(say("amend.same"))]
    reading = Reading(reading=ReadingKind.ENTRIES, text=turn.incoming.text, entries=tuple(new))
    how = Storing(
        replaces=tuple(row.id for row in rows), origin=change.origin, amended=True, was=_told(turn, old)
    )
    return store(turn, reading, how)


def changed(
    entries: Sequence[Entry], changes: Mapping[str, Any], settings: KeeperSettings
) -> list[Entry] | None:
    """The entries with these fields replaced: ``None`` where it is not sure which entry is meant,
    an empty list where the fields belong to none of them.
    """
    said = {place: resolved(entry, changes, settings) for place, entry in enumerate(entries)}
    fitting = {place: new for place, new in said.items() if new is not None and fits(entries[place], new)}
    tags = {tag for place in fitting for tag in entries[place].specimens}
    of_one_only = {"specimens", "kind"} & changes.keys()
    if len(fitting) > 1 and set(changes) != {"day"}:
        return None
    if of_one_only and len(tags) > 1:
        return None
    if not fitting:
        return []
    return [replaced(e, fitting[place]) if place in fitting else e for place, e in enumerate(entries)]


def pressed_instead(turn: Turn, _prompt: Prompt, action: Mapping[str, Any]) -> list[Reply]:
    """ "Refused instead": the change's entry becomes one of another kind."""
    change = turn.work.journal.get_change(action["change"])
    rows = tuple(row for row in turn.work.journal.entries_of(change.id) if row.live)
    if not rows:
        return [turn.reply(say("amend.stands_no_more"))]
    new = [replaced(row.entry, {"kind": action["kind"]}) for row in rows]
    reading = Reading(reading=ReadingKind.ENTRIES, entries=tuple(joined(new)))
    how = Storing(
        replaces=tuple(row.id for row in rows),
        origin=change.origin,
        amended=True,
        was=_told(turn, joined([row.entry for row in rows])),
        passed=("fed_twice",),
    )
    return store(turn, reading, how, in_place=True)


# --- an edited message ----------------------------------------------------------------------


def edited(turn: Turn, reading: Reading) -> list[Reply] | None:
    """A message that was stored before now reads otherwise. ``None``: nothing is stored of it; it is new."""
    change = turn.work.journal.change_of(turn.shelf_id, turn.origin) if turn.incoming.reference else None
    if change is None or change.undone_at is not None:
        return None
    rows = tuple(row for row in turn.work.journal.entries_of(change.id) if row.live)
    if not rows:
        return None
    old = joined([row.entry for row in rows])
    if reading.reading is ReadingKind.ENTRIES:
        if list(reading.entries) == old:
            return []
        how = Storing(
            replaces=tuple(row.id for row in rows), origin=turn.origin, amended=True, was=_told(turn, old)
        )
        return store(turn, reading, how)
    text = say("amend.edit_not_read", what=_told(turn, old))
    return [turn.reply(text, [undo_row(change.id)])]


def edited_away(turn: Turn) -> str | None:
    """Undoes what an edited message did besides telling of entries, to be read anew; what stands then.

    ``None`` where it did nothing of the sort: it told of entries, or nothing of it is in force.
    """
    change = turn.work.journal.change_of(turn.shelf_id, turn.origin) if turn.incoming.reference else None
    if change is None or change.undone_at is not None:
        return None
    replaced_rows = turn.work.journal.replaced_by(change.id)
    told_entries = bool(turn.work.journal.entries_of(change.id))
    if told_entries and (not replaced_rows or turn.reading.reading is ReadingKind.ENTRIES):
        return None
    was = _summary(turn, change)
    turn.work.journal.undo(change.id, at=turn.incoming.sent_at)
    turn.note_turned(change.id)
    turn.read_anew()
    turn.remember(taken=None)
    if replaced_rows:
        return say("undo.redone", what=_told(turn, joined([row.entry for row in replaced_rows])))
    return say("undo.done", what=was)


_ACTIONS: Final[dict[str, Callable[[Turn, Amend], list[Reply]]]] = {
    "undo": undo_latest,
    "change": _change_latest,
}
