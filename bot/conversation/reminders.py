"""What the keeper wants to be told, once or every so many days: set, listed, told, put off, ended.

Repeated reminders are fixed: they count from their day, whether or not the last one was done, and the
echo says so. A reminder without a time of day comes at the time of the round.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import UTC, date, datetime, time, timedelta
from typing import Any, Final
from zoneinfo import ZoneInfo

from bot.conversation import next_up, schedules, wording
from bot.conversation.model import Button, Reply
from bot.conversation.pages import fit
from bot.conversation.recurrence_words import spoken
from bot.conversation.texts import say
from bot.conversation.turn import Choice, Turn, rows_of, undo_row
from bot.reading.model import Reading, Reminder
from bot.reading.short_answers import snoozed_days
from bot.reading.wanted import Instruction
from bot.terms.recurrence import first_day, next_day
from storage.records import Prompt, StoredReminder

_LONGEST_LABEL: Final = 24
_MOST_LISTED: Final = 20
#: Several for each animal of a large shelf; more would flood the keeper first.
_MOST_OPEN: Final = 1000
_SNOOZED_WITHIN: Final = timedelta(hours=3)


def remind_me(turn: Turn, reading: Reading) -> list[Reply]:
    """The message asks for a reminder."""
    assert reading.reminder is not None
    return schedules.own_schedule(turn, reading.reminder) or set_reminder(turn, reading.reminder)


def set_reminder(turn: Turn, wanted: Reminder, *, change_id: int | None = None) -> list[Reply]:
    """Stores a reminder and says when it comes; asks where that moment has passed or was not said."""
    day = _first_day(turn, wanted)
    if day is None and wanted.rule is not None:
        return [turn.reply(say("remind.never"))]
    if day is None:
        return [turn.reply(say("remind.when", what=wanted.what))]
    moment = instant(day, wanted.time or turn.settings.round_time, turn.settings.zone)
    if moment <= turn.incoming.sent_at:
        return [_has_passed(turn, wanted, day)]
    if turn.work.reminders.count_open(turn.shelf_id) >= _MOST_OPEN:
        return [turn.reply(say("remind.too_many", n=_MOST_OPEN))]
    if change_id is None:
        change_id = turn.open_change()
    turn.work.reminders.add(
        change_id,
        what=wanted.what,
        tags=wanted.specimens,
        next_at=moment,
        day=day,
        time=wanted.time,
        repeats=wanted.repeats,
        from_done=wanted.from_done,
        zone=turn.settings.zone,
    )
    text = _echo(turn, wanted, moment)
    turn.note_done(change_id, text)
    return [turn.reply(text, [undo_row(change_id)], change_id=change_id)]


def _first_day(turn: Turn, wanted: Reminder) -> date | None:
    """The first day: the one said, the end of the first interval, or today or tomorrow by the clock time.

    Of a rule by the calendar the first of its days whose wall time is yet to come.
    """
    if wanted.rule is not None:
        today = turn.now.date()
        day = first_day(wanted.rule, max(wanted.day or today, today))
        at = wanted.time or turn.settings.round_time
        if day is not None and instant(day, at, turn.settings.zone) <= turn.incoming.sent_at:
            day = next_day(wanted.rule, day, day)
        return day
    if wanted.day is not None:
        return wanted.day
    if wanted.every_days is not None:
        return turn.now.date() + timedelta(days=wanted.every_days)
    if wanted.time is None:
        return None
    return turn.now.date()


def instant(day: date, at: time, zone: str) -> datetime:
    """A wall time as an instant (UTC); one in a gap is read with the offset before it."""
    return datetime.combine(day, at, ZoneInfo(zone)).astimezone(UTC)


def _has_passed(turn: Turn, wanted: Reminder, day: date) -> Reply:
    when = _when(turn, instant(day, wanted.time or turn.settings.round_time, turn.settings.zone))
    tomorrow = turn.now.date() + timedelta(days=1)
    action = {
        "do": "remind_on",
        "what": wanted.what,
        "tags": list(wanted.specimens),
        "day": tomorrow.isoformat(),
        "time": wanted.time.isoformat() if wanted.time else None,
        "every_days": wanted.every_days,
        "from_done": wanted.from_done,
        "word": "yes",
    }
    rows = [
        [
            Choice(say("remind.tomorrow"), action),
            Choice(say("button.no"), {"do": "none", "word": "no"}),
        ]
    ]
    return turn.reply(say("remind.passed", when=when), rows, pending={})


def _when(turn: Turn, moment: datetime) -> str:
    local = moment.astimezone(turn.now.tzinfo)
    return say(
        "remind.moment", day=wording.day_in_full(local.date(), turn.now.date()), time=wording.clock(local)
    )


def _echo(turn: Turn, wanted: Reminder, moment: datetime) -> str:
    when = _when(turn, moment)
    if wanted.repeats is None:
        return say("remind.set", what=wanted.what, when=when)
    days = spoken(wanted.repeats)
    if wanted.from_done:
        return say("remind.set_from_done", what=wanted.what, when=when, days=days)
    if wanted.rule is not None:
        return say("remind.set_by_calendar", what=wanted.what, when=when, days=days)
    return say("remind.set_every", what=wanted.what, when=when, days=days)


def pressed_remind_on(turn: Turn, _prompt: Prompt, action: Mapping[str, Any]) -> list[Reply]:
    """A reminder put to another day by a button."""
    turn.remember(reminded=None)
    return set_reminder(turn, _again(action))


def _again(kept: Mapping[str, Any]) -> Reminder:
    """A reminder as a button or the dialog keeps it."""
    at = kept.get("time")
    return Reminder(
        what=kept["what"],
        specimens=tuple(kept["tags"]),
        day=date.fromisoformat(kept["day"]),
        time=time.fromisoformat(at) if at else None,
        every_days=kept.get("every_days"),
        from_done=kept.get("from_done", False),
    )


# --- listed and ended -----------------------------------------------------------------------


def list_reminders(turn: Turn, *, after: str = "", in_place: bool = False) -> list[Reply]:
    """All open reminders, the next one first, each with a button that ends it; ``after`` comes first."""
    found = turn.work.reminders.open(turn.shelf_id)
    if not found:
        return [turn.reply("\n".join(filter(None, (after, say("remind.none")))), in_place=in_place)]
    lines = [after] if after else []
    lines += [_line(turn, number, reminder) for number, reminder in enumerate(found, 1)]
    choices = [
        Choice(
            say("remind.end_button", what=_short(reminder.what)),
            {"do": "end_reminder", "id": reminder.id, "listed": True},
        )
        for reminder in found[:_MOST_LISTED]
    ]
    return [fit(turn, "\n".join(lines), rows_of(choices, 1), in_place=in_place)]


def _line(turn: Turn, number: int, reminder: StoredReminder) -> str:
    when = _when(turn, reminder.next_at)
    if reminder.repeats is None:
        return say("remind.line", number=number, what=reminder.what, when=when)
    return say(
        "remind.line_every", number=number, what=reminder.what, when=when, days=spoken(reminder.repeats)
    )


def _short(what: str) -> str:
    return what if len(what) <= _LONGEST_LABEL else what[: _LONGEST_LABEL - 1] + "…"


def end_by_words(turn: Turn, wanted: Instruction) -> list[Reply]:
    """Ends the reminder of that number in the list, or the one whose words are meant; else lists them."""
    which = (wanted.value or "").casefold()
    found = turn.work.reminders.open(turn.shelf_id)
    if which.isdigit():
        meant: Sequence[StoredReminder] = found[int(which) - 1 : int(which)] if int(which) else ()
    else:
        meant = [reminder for reminder in found if which and which in reminder.what.casefold()]
    if len(meant) != 1:
        return list_reminders(turn)
    return [_end(turn, meant[0].id)]


def pressed_end(turn: Turn, _prompt: Prompt, action: Mapping[str, Any]) -> list[Reply]:
    """The button that ends a reminder; a list is shown again, so that its other buttons still act."""
    ended = _end(turn, action["id"])
    return list_reminders(turn, after=ended.text, in_place=True) if action.get("listed") else [ended]


def _end(turn: Turn, number: int) -> Reply:
    meant = next((found for found in turn.work.reminders.open(turn.shelf_id) if found.id == number), None)
    if meant is None:
        return turn.reply(say("remind.over"))
    turn.work.reminders.end(number)
    return turn.reply(say("remind.ended", what=meant.what))


# --- put off in words ---------------------------------------------------------------------


def typed_snooze(turn: Turn) -> list[Reply] | None:
    """ "Not today", "next week", soon after a reminder was told; ``None`` for anything else."""
    told = turn.dialog.get("reminded")
    days = snoozed_days(turn.incoming.text) if told else None
    if told is None or days is None:
        return None
    if turn.incoming.sent_at - datetime.fromisoformat(told["at"]) > _SNOOZED_WITHIN:
        return None
    turn.remember(reminded=None)
    later = (turn.now.date() + timedelta(days=days)).isoformat()
    put_off = told.get("of") or [told]
    return [reply for one in put_off for reply in set_reminder(turn, _again({**one, "day": later}))]


# --- told -----------------------------------------------------------------------------------


def tell(turn: Turn, due: Sequence[StoredReminder]) -> list[Reply]:
    """Words reminders whose time has come, as one message. The clock has moved them on or closed them."""
    turn.remember(reminded={"of": [_kept(one) for one in due], "at": turn.incoming.sent_at.isoformat()})
    if len(due) == 1:
        lines = [say("remind.told", what=due[0].what), *_more_of(turn, due[0])]
        return [turn.reply("\n".join(lines), [_put_off(turn, due[0]), _stop(due[0])])]
    lines = [say("remind.told_several", n=len(due))]
    buttons: list[tuple[Button, ...]] = []
    for number, one in enumerate(due, 1):
        more = [line for line in _more_of(turn, one) if line not in lines]
        lines += [say("remind.numbered", number=number, what=one.what), *more]
        choices = [*_put_off(turn, one), *_stop(one)]
        numbered = [Choice(say("remind.numbered", number=number, what=c.label), c.action) for c in choices]
        # a prompt of its own: pressing a button of one leaves those of the others good
        buttons += turn.reply("", [numbered]).buttons if number <= _MOST_LISTED else ()
    return [Reply(text="\n".join(lines), buttons=tuple(buttons))]


def _kept(reminder: StoredReminder) -> dict[str, Any]:
    return {
        "what": reminder.what,
        "tags": list(reminder.tags),
        "time": reminder.time.isoformat() if reminder.time else None,
    }


def _more_of(turn: Turn, reminder: StoredReminder) -> list[str]:
    """Who of it is at rest, and when it comes next."""
    lines = [
        say("remind.rests", who=turn.called(tag), why=rest)
        for tag in reminder.tags[:6]
        if (rest := next_up.rest_line(turn, tag))
    ]
    later = next(
        (found for found in turn.work.reminders.open(turn.shelf_id) if found.id == reminder.id), None
    )
    if later is not None and reminder.repeats is not None and later.next_at > turn.incoming.sent_at:
        lines.append(say("remind.next", when=_when(turn, later.next_at)))
    return lines


def _put_off(turn: Turn, reminder: StoredReminder) -> list[Choice]:
    today = turn.now.date()
    days = [(say("remind.tomorrow"), 1), (say("remind.next_week"), 7)]
    action = {"do": "remind_on", **_kept(reminder)}
    return [Choice(say("button.done"), {"do": "noted", "id": reminder.id})] + [
        Choice(label, {**action, "day": (today + timedelta(days=n)).isoformat()}) for label, n in days
    ]


def _stop(reminder: StoredReminder) -> list[Choice]:
    if reminder.repeats is None:
        return []
    return [Choice(say("remind.stop"), {"do": "end_reminder", "id": reminder.id})]


def pressed_noted(turn: Turn, _prompt: Prompt, action: Mapping[str, Any]) -> list[Reply]:
    """The keeper says that the thing reminded of is done; one counted from then begins anew."""
    meant = next((r for r in turn.work.reminders.open(turn.shelf_id) if r.id == action.get("id")), None)
    if meant is None or not meant.from_done:
        return [turn.reply(say("remind.noted"))]
    following = done_now(turn, meant)
    return [turn.reply(say("remind.noted_next", when=_when(turn, following)))]


def done_now(turn: Turn, reminder: StoredReminder) -> datetime:
    """Moves a repeated reminder on, now that the thing is done; when it comes next.

    Counted from done, it begins anew today; else the next of its days is passed over.
    """
    assert reminder.repeats is not None
    at = reminder.time or turn.settings.round_time
    today = turn.now.date()
    if reminder.from_done:
        day = next_day(reminder.repeats, today, today) or today
        following = instant(day, at, reminder.zone)
        turn.work.reminders.begins_anew(reminder.id, today, following)
        return following
    told_on = reminder.next_at.astimezone(ZoneInfo(reminder.zone)).date()
    following = instant(
        next_day(reminder.repeats, reminder.day or told_on, told_on) or told_on, at, reminder.zone
    )
    turn.work.reminders.moved(reminder.id, following)
    return following
