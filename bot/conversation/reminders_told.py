"""A reminder whose time has come: told, put off, done."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import datetime, time, timedelta
from typing import Any, Final

from bot.conversation import next_up, wording
from bot.conversation.model import Button, Reply
from bot.conversation.reminders import kept, on_the_calendar, open_one, put_off, when
from bot.conversation.round_board import by_button, does, newest_open
from bot.conversation.round_items import items_now
from bot.conversation.texts import say
from bot.conversation.turn import Choice, Turn, rows_of
from bot.reading.short_answers import is_word, snoozed_days
from bot.reading.wanted.work_done import asks_to_feed
from bot.terms.recurrence import next_day
from bot.terms.walltime import instant_of
from storage.records import Prompt, StoredReminder

_MOST_LISTED: Final = 20
_ANSWERED_WITHIN: Final = timedelta(hours=3)


# --- put off in words ---------------------------------------------------------------------


def typed_snooze(turn: Turn) -> list[Reply] | None:
    """ "Not today", "next week", soon after a reminder was told; ``None`` for anything else."""
    told = _told_of_late(turn)
    days = snoozed_days(turn.incoming.text, turn.settings.language) if told else None
    if days is None:
        return None
    turn.remember(reminded=None)
    later = [{**one, "day": _in_days(turn, days, one.get("time"))} for one in told]
    return [reply for one in later for reply in put_off(turn, one)]


def _told_of_late(turn: Turn) -> Sequence[Mapping[str, Any]]:
    """The reminders told last, as the dialog keeps them, where that was not long ago."""
    told = turn.dialog.get("reminded")
    if told is None or turn.incoming.sent_at - datetime.fromisoformat(told["at"]) > _ANSWERED_WITHIN:
        return ()
    return told.get("of") or (told,)


def _in_days(turn: Turn, days: int, at: str | None) -> str:
    """The date on which a reminder comes that is put off by so many of the keeper's days."""
    wall = time.fromisoformat(at) if at else None
    return on_the_calendar(turn, turn.today + timedelta(days=days), wall).isoformat()


# --- done in a word -------------------------------------------------------------------------


def typed_done(turn: Turn) -> list[Reply] | None:
    """ "Done", soon after a reminder was told; where a round is open too, it is asked which is."""
    told = _told_of_late(turn)
    if not told or not is_word("it_is_done", turn.incoming.text, turn.settings.language):
        return None
    occurrence = newest_open(turn)
    if occurrence is not None and any(map(by_button, items_now(turn, occurrence))):
        choices = [Choice(say("remind.done_round"), does(occurrence, "done"))]
        choices += [Choice(one["what"], {"do": "noted", "id": one.get("id")}) for one in told]
        choices.append(Choice(say("button.none_of_these"), {"do": "none"}))
        return [turn.reply(say("remind.what_is_done"), rows_of(choices, 1), pending={})]
    turn.remember(reminded=None)
    replies = [reply for one in told for reply in pressed_noted(turn, None, one)]
    return replies if len(told) == 1 else [turn.reply(say("remind.noted"))]


# --- told -----------------------------------------------------------------------------------


def tell(turn: Turn, due: Sequence[StoredReminder]) -> list[Reply]:
    """Words reminders whose time has come, as one message. The clock has moved them on or closed them."""
    turn.remember(reminded={"of": [kept(one) for one in due], "at": turn.incoming.sent_at.isoformat()})
    if len(due) == 1:
        lines = [say("remind.told", what=_asked(turn, due[0])), *_more_of(turn, due[0])]
        return [turn.reply("\n".join(lines), [_put_off(turn, due[0]), _stop(due[0])])]
    lines = [say("remind.told_several", n=len(due))]
    buttons: list[tuple[Button, ...]] = []
    for number, one in enumerate(due, 1):
        more = [line for line in _more_of(turn, one) if line not in lines]
        lines += [say("remind.numbered", number=number, what=_asked(turn, one)), *more]
        choices = [*_put_off(turn, one), *_stop(one)]
        numbered = [Choice(say("remind.numbered", number=number, what=c.label), c.action) for c in choices]
        # a prompt of its own: pressing a button of one leaves those of the others good
        buttons += turn.reply("", [numbered]).buttons if number <= _MOST_LISTED else ()
    return [Reply(text="\n".join(lines), buttons=tuple(buttons))]


def _asked(turn: Turn, reminder: StoredReminder) -> str:
    """The keeper's words; where they ask to feed one that gets no food now, that it is not to be done."""
    left = [tag for tag in reminder.tags if next_up.no_food_line(turn, tag)]
    if not left or not asks_to_feed(reminder.what, turn.settings.language):
        return reminder.what
    if len(left) == len(reminder.tags):
        return say("remind.not_now", what=reminder.what)
    names = wording.listed([turn.called(tag) for tag in left], most=next_up.MOST_NAMES)
    return say("remind.but_not", what=reminder.what, names=names)


def _more_of(turn: Turn, reminder: StoredReminder) -> list[str]:
    """Who of it is at rest, and when it comes next."""
    feeds = asks_to_feed(reminder.what, turn.settings.language)
    why = next_up.no_food_line if feeds else next_up.rest_line
    lines = next_up.who_rests(turn, reminder.tags, why)
    later = open_one(turn, reminder.id) if reminder.repeats is not None else None
    if later is not None and later.next_at > turn.incoming.sent_at:
        lines.append(say("remind.next", when=when(turn, later.next_at)))
    return lines


def _put_off(turn: Turn, reminder: StoredReminder) -> list[Choice]:
    days = [(say("remind.tomorrow"), 1), (say("remind.next_week"), 7)]
    action = {"do": "remind_on", **kept(reminder)}
    return [Choice(say("button.done"), {"do": "noted", "id": reminder.id})] + [
        Choice(label, {**action, "day": _in_days(turn, n, action["time"])}) for label, n in days
    ]


def _stop(reminder: StoredReminder) -> list[Choice]:
    if reminder.repeats is None:
        return []
    return [Choice(say("remind.stop"), {"do": "end_reminder", "id": reminder.id})]


def pressed_noted(turn: Turn, _prompt: Prompt | None, action: Mapping[str, Any]) -> list[Reply]:
    """The keeper says that the thing reminded of is done; one counted from then begins anew."""
    meant = open_one(turn, action.get("id"))
    if meant is None or not meant.from_done:
        return [turn.reply(say("remind.noted"))]
    following = done_now(turn, meant)
    return [turn.reply(say("remind.noted_next", when=when(turn, following)))]


def done_now(turn: Turn, reminder: StoredReminder) -> datetime:
    """Moves a repeated reminder on, now that the thing is done; when it comes next.

    Counted from done, it begins anew today; else the next of its days is passed over.
    """
    assert reminder.repeats is not None
    today = turn.today
    if reminder.from_done:
        day = next_day(reminder.repeats, today, today) or today
        following = instant_of(day, turn.settings.hour_on(day, reminder.time), reminder.zone)
        turn.work.reminders.begins_anew(reminder.id, today, following)
        return following
    told_on = reminder.on_the_wall.date()
    day = next_day(reminder.repeats, reminder.day or told_on, told_on) or told_on
    following = instant_of(day, turn.settings.hour_on(day, reminder.time), reminder.zone)
    turn.work.reminders.moved(reminder.id, following)
    return following
