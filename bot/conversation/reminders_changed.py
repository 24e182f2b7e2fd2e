"""An open reminder moved or called off by its words, and all of them where the keeper changes zones."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date, time
from typing import Any, Final

from bot.conversation import wording
from bot.conversation.model import Reply
from bot.conversation.reminders import ended, list_reminders, open_one, part_begins, when
from bot.conversation.texts import say
from bot.conversation.turn import Choice, Turn, rows_of
from bot.reading.model import ReadingKind
from bot.reading.names.names_alone import whom
from bot.reading.orders.reminder_changes import (
    ReminderChange,
    Then,
    in_so_long,
    is_called,
    moments,
    reminder_change,
    weekday_said,
)
from bot.terms.recurrence import days_of
from bot.terms.walltime import instant_of
from storage.records import Prompt, StoredReminder

_MOST_CHOICES: Final = 8


def said(turn: Turn) -> list[Reply] | None:
    """A reminder moved, or called off as one; ``None`` where the words are for none that is open."""
    change = None if turn.helps else reminder_change(turn.incoming.text, turn.settings.language)
    if change is None or (change.ends and not change.named and _is_of_an_entry(turn)):
        return None
    found = _meant(turn, change)
    if not found:
        return None
    if change.ends:
        return [ended(turn, found[0].id)] if len(found) == 1 else list_reminders(turn)
    return _moved(turn, change, found)


def _is_of_an_entry(turn: Turn) -> bool:
    """Whether what is called off can be an entry: "cancel the water for Ink"."""
    return turn.reading.amend is not None and turn.reading.amend.of is not None


def none_called(turn: Turn) -> list[Reply] | None:
    """ "move the weigh-in to Friday", and there is no such reminder: nothing is set in its place."""
    if turn.helps or turn.reading.reading is not ReadingKind.REMINDER:
        return None
    change = reminder_change(turn.incoming.text, turn.settings.language)
    if change is None or change.ends:
        return None
    return [turn.reply(say("remind.none_called", what=change.which))]


def _meant(turn: Turn, change: ReminderChange) -> list[StoredReminder]:
    return [
        one
        for one in turn.work.reminders.open(turn.shelf_id)
        if is_called(change.which, one.what, _beside(turn, one), turn.settings.language)
    ]


def _beside(turn: Turn, one: StoredReminder) -> list[str]:
    """What a reminder is called by besides its words: its animals and the day of the week."""
    return [
        *(turn.called(tag) for tag in one.tags),
        weekday_said(one.on_the_wall.date(), turn.settings.language),
    ]


# --- moved ----------------------------------------------------------------------------------


def _moved(turn: Turn, change: ReminderChange, found: Sequence[StoredReminder]) -> list[Reply] | None:
    then = _then(turn, change)
    if not then:
        only_animal = not change.named and bool(whom(change.which, turn.shelf.names))
        return None if only_animal else [turn.reply(say("remind.move_when", what=found[0].what))]
    choices = [
        Choice(_label(turn, one, at, several=len(found) > 1), _action(turn, change, one, at))
        for one in found
        for at in then
    ]
    if len(choices) == 1:
        return pressed_moved(turn, None, choices[0].action)
    rows = [*rows_of(choices[:_MOST_CHOICES], 1), [Choice(say("button.no"), {"do": "none", "word": "no"})]]
    return [turn.reply(say("remind.move_which"), rows, pending={})]


def _then(turn: Turn, change: ReminderChange) -> list[Then]:
    words = in_so_long(change.by, turn.settings.language) if change.by else change.to
    return moments(words, turn.shelf.names, now=turn.now, settings=turn.settings)


def _action(turn: Turn, change: ReminderChange, one: StoredReminder, then: Then) -> dict[str, Any]:
    """Its new day and time on the wall; whichever was not said stays."""
    day = then.day or one.on_the_wall.date()
    if change.by and then.day is not None:
        day = one.on_the_wall.date() + (then.day - turn.today)
    at = then.time or (part_begins(turn, then.part, day) if then.part else None) or one.time
    return _put_to(one, day, at)


def _put_to(one: StoredReminder, day: date, at: time | None) -> dict[str, Any]:
    """The press that puts a reminder to a day and a time on the wall."""
    return {
        "do": "remind_to",
        "id": one.id,
        "day": day.isoformat(),
        "time": at.isoformat() if at else None,
    }


def _label(turn: Turn, one: StoredReminder, then: Then, *, several: bool) -> str:
    if several:
        return say("remind.move_one", what=one.what, when=when(turn, one.next_at))
    day = wording.day_in_full(then.day or one.on_the_wall.date(), turn.today)
    return say("remind.moment", day=day, time=wording.clock(then.time)) if then.time else day


def pressed_moved(turn: Turn, _prompt: Prompt | None, action: Mapping[str, Any]) -> list[Reply]:
    """Puts a reminder to another day or time; one by the calendar only this once. A button puts it back."""
    one = open_one(turn, action["id"])
    if one is None:
        return [turn.reply(say("remind.over"))]
    day, at = (
        date.fromisoformat(action["day"]),
        time.fromisoformat(action["time"]) if action["time"] else None,
    )
    moment = instant_of(day, turn.settings.hour_on(day, at), turn.settings.zone)
    if moment <= turn.incoming.sent_at:
        return [turn.reply(say("remind.move_passed", when=when(turn, moment)))]
    back = _put_to(one, one.on_the_wall.date(), one.time)
    by_calendar = one.repeats is not None and days_of(one.repeats) is None
    if by_calendar:
        turn.work.reminders.moved(one.id, moment)
    else:
        turn.work.reminders.put_to(one.id, day=day, time=at, next_at=moment, zone=turn.settings.zone)
    turn.remember(elsewhere=back)
    then = when(turn, moment)
    text = (
        say("remind.moved_once", what=one.what, when=then)
        if by_calendar
        else say("remind.moved", what=one.what, when=then)
    )
    return [turn.reply(text, [[Choice(say("button.undo"), back)]])]


# --- another zone ---------------------------------------------------------------------------


def in_another_zone(turn: Turn, zone: str) -> int:
    """Keeps the time on the wall of the keeper's reminders in their new zone; how many there are."""
    own = [
        r for r in turn.work.reminders.open(turn.shelf_id) if r.keeper_id == turn.keeper.id and r.zone != zone
    ]
    # the second look at a round comes at the hour that was told, and is none of them
    for one in (*own, *turn.work.reminders.second_looks(turn.shelf_id, turn.keeper.id)):
        local = one.on_the_wall
        turn.work.reminders.put_to(
            one.id,
            day=one.day,
            time=one.time,
            next_at=instant_of(local.date(), local.time(), zone),
            zone=zone,
        )
    return len(own)
