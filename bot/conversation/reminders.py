"""What the keeper wants to be told, once or every so many days: set, listed, told, put off, ended.

Repeated reminders are fixed: they count from their day, whether or not the last one was done, and the
echo says so. A reminder without a time of day comes at the time of the round.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import date, datetime, time, timedelta
from typing import Any, Final

from bot.conversation import next_up, schedules, wording
from bot.conversation.model import Reply
from bot.conversation.pages import fit
from bot.conversation.recurrence_words import spoken
from bot.conversation.schedule_words import every
from bot.conversation.texts import say
from bot.conversation.turn import Choice, Turn, rows_of, undo_row
from bot.reading.model import Reading, Reminder
from bot.reading.wanted.wanted import Instruction
from bot.reading.wanted.work_done import asks_to_feed
from bot.terms.recurrence import first_day, next_day
from bot.terms.walltime import instant_of
from storage.records import Prompt, StoredReminder

_LONGEST_LABEL: Final = 24
_MOST_LISTED: Final = 20
#: Several for each animal of a large shelf; more would flood the keeper first.
_MOST_OPEN: Final = 1000
_DAYS_OF_A_WEEK: Final = 7


def remind_me(turn: Turn, reading: Reading) -> list[Reply]:
    """The message asks for a reminder."""
    assert reading.reminder is not None
    return schedules.own_schedule(turn, reading.reminder) or set_reminder(turn, reading.reminder)


def set_reminder(turn: Turn, wanted: Reminder, *, change_id: int | None = None) -> list[Reply]:
    """Stores a reminder and says when it comes; asks where that moment has passed or was not said."""
    if wanted.time is None and wanted.part is not None:
        wanted = replace(wanted, time=part_begins(turn, wanted.part, wanted.day))
    day = _first_day(turn, wanted)
    if day is None and wanted.rule is not None:
        return [turn.reply(say("remind.never"))]
    if day is None:
        return [turn.reply(say("remind.when", what=wanted.what))]
    moment = instant_of(day, turn.settings.hour_on(day, wanted.time), turn.settings.zone)
    if moment <= turn.incoming.sent_at:
        return [_has_passed(turn, wanted, moment)]
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
    text = " ".join(filter(None, (_echo(turn, wanted, moment), _round_asks(turn, wanted))))
    text = "\n".join([text, *_no_food_now(turn, wanted)])
    turn.note_done(change_id, text)
    return [turn.reply(text, [undo_row(change_id)], change_id=change_id)]


def _first_day(turn: Turn, wanted: Reminder) -> date | None:
    """The first day: the one said, the end of the first interval, or today or tomorrow by the clock time.

    Of a rule by the calendar the first of its days whose wall time is yet to come.
    """
    if wanted.rule is not None:
        today = turn.now.date()
        day = first_day(wanted.rule, max(wanted.day or today, today))
        if day is None:
            return None
        moment = instant_of(day, turn.settings.hour_on(day, wanted.time), turn.settings.zone)
        return day if moment > turn.incoming.sent_at else next_day(wanted.rule, day, day)
    if wanted.day is not None:
        return wanted.day
    if wanted.every_days is not None:
        return turn.today + timedelta(days=wanted.every_days)
    if wanted.time is None:
        return None
    return turn.now.date()


#: Parts of the day from when to when, and when one is reminded in them (common practice, no source).
_PARTS: Final[Mapping[str, tuple[time, time, time]]] = {
    "morning": (time(0), time(12), time(8)),
    "afternoon": (time(12), time(17), time(15)),
    "evening": (time(17), time(21), time(19)),
    "night": (time(17), time(23), time(21)),
}


def part_begins(turn: Turn, part: str, day: date | None) -> time | None:
    """When one is reminded in a part of a day: with its round, where that is within it."""
    if part not in _PARTS:
        return None
    first, last, usual = _PARTS[part]
    of_round = turn.settings.hour_on(day, None) if day else turn.settings.round_time
    return of_round if first <= of_round < last else usual


def on_the_calendar(turn: Turn, day: date, at: time | None) -> date:
    """The date on the calendar of a time of the keeper's day, which may last on past midnight."""
    late = at is not None and at < turn.settings.day_starts
    return day + timedelta(days=1) if late else day


def _has_passed(turn: Turn, wanted: Reminder, moment: datetime) -> Reply:
    passed = when(turn, moment)
    tomorrow = on_the_calendar(turn, turn.today + timedelta(days=1), wanted.time)
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
    return turn.reply(say("remind.passed", when=wording.capital(passed)), rows, pending={})


def when(turn: Turn, moment: datetime) -> str:
    """An instant as the keeper is told it: the day, and the time on the wall."""
    local = moment.astimezone(turn.now.tzinfo)
    return say("remind.moment", day=wording.day_in_full(local.date(), turn.today), time=wording.clock(local))


def _echo(turn: Turn, wanted: Reminder, moment: datetime) -> str:
    first = when(turn, moment)
    if wanted.repeats is None:
        return say("remind.set", what=wanted.what, when=first)
    days = spoken(wanted.repeats)
    if wanted.from_done:
        return say("remind.set_from_done", what=wanted.what, when=first, days=days)
    if wanted.rule is not None:
        return say("remind.set_by_calendar", what=wanted.what, when=first, days=days)
    return say("remind.set_every", what=wanted.what, when=first, days=days)


def _round_asks(turn: Turn, wanted: Reminder) -> str:
    """That the round asks for the same again and again, and how to say how often; else empty."""
    if wanted.repeats is None or schedules.work_of_round(turn, wanted) is None:
        return ""
    return say("remind.round_asks", say=f"{wanted.what} {every(wanted.every_days or _DAYS_OF_A_WEEK)}")


def _no_food_now(turn: Turn, wanted: Reminder) -> list[str]:
    """Who gets no food now, and why, where a reminder is to feed them: it is looked up anew when it comes."""
    if not asks_to_feed(wanted.what, turn.settings.language):
        return []
    return next_up.who_rests(turn, wanted.specimens, next_up.no_food_line)


def pressed_remind_on(turn: Turn, _prompt: Prompt, action: Mapping[str, Any]) -> list[Reply]:
    """A reminder put to another day by a button."""
    turn.remember(reminded=None)
    return put_off(turn, action)


def put_off(turn: Turn, kept: Mapping[str, Any]) -> list[Reply]:
    """Sets a reminder once more, as a button or the dialog keeps it; not where it comes by then anyway."""
    wanted, one = again(kept), open_one(turn, kept.get("id"))
    if one is not None and wanted.day is not None:
        moment = instant_of(wanted.day, turn.settings.hour_on(wanted.day, wanted.time), turn.settings.zone)
        if turn.incoming.sent_at < one.next_at <= moment:
            return [turn.reply(say("remind.comes_anyway", what=one.what, when=when(turn, one.next_at)))]
    return set_reminder(turn, wanted)


def again(kept: Mapping[str, Any]) -> Reminder:
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


def kept(reminder: StoredReminder) -> dict[str, Any]:
    """What a button or the dialog keeps of a reminder that was told."""
    return {
        "id": reminder.id,
        "what": reminder.what,
        "tags": list(reminder.tags),
        "time": reminder.time.isoformat() if reminder.time else None,
    }


# --- listed and ended -----------------------------------------------------------------------


def open_one(turn: Turn, number: int | None) -> StoredReminder | None:
    """An open reminder of the shelf by its number."""
    return next((one for one in turn.work.reminders.open(turn.shelf_id) if one.id == number), None)


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
    moment = when(turn, reminder.next_at)
    if reminder.next_at <= turn.incoming.sent_at:
        moment = say("remind.was_due", when=moment)
    elif reminder.repeats is not None:
        moment = say("remind.next_time", when=moment)
    if reminder.repeats is None:
        return say("remind.line", number=number, what=reminder.what, when=moment)
    days = spoken(reminder.repeats)
    return say("remind.line_every", number=number, what=reminder.what, when=moment, days=days)


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
    return [ended(turn, meant[0].id)]


def pressed_end(turn: Turn, _prompt: Prompt, action: Mapping[str, Any]) -> list[Reply]:
    """The button that ends a reminder; a list is shown again, so that its other buttons still act."""
    if not action.get("listed"):
        return [ended(turn, action["id"])]
    return list_reminders(turn, after=_end(turn, action["id"]), in_place=True)


def ended(turn: Turn, number: int) -> Reply:
    """Ends an open reminder, and says which; a button opens it again."""
    text = _end(turn, number)
    again = turn.dialog.get("elsewhere")
    return turn.reply(text, [[Choice(say("button.undo"), again)]] if isinstance(again, dict) else [])


def _end(turn: Turn, number: int) -> str:
    meant = open_one(turn, number)
    if meant is None:
        return say("remind.over")
    turn.work.reminders.end(number)
    turn.remember(elsewhere={"do": "remind_again", "id": number})
    return say("remind.ended", what=meant.what)


def pressed_again(turn: Turn, _prompt: Prompt | None, action: Mapping[str, Any]) -> list[Reply]:
    """A reminder that was called off is wanted after all."""
    turn.work.reminders.reopen(action["id"])
    one = open_one(turn, action["id"])
    if one is None or one.next_at <= turn.incoming.sent_at:
        turn.work.reminders.end(action["id"])
        return [turn.reply(say("remind.over"))]
    turn.remember(elsewhere=None)
    return [turn.reply(say("remind.open_again", what=one.what, when=when(turn, one.next_at)))]
