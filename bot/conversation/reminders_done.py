"""What a keeper was to be reminded of and says is done: "cleaned box 4" for "clean box 4".

Meals and water that animals were to get are done once the journal has them, in whatever words.

What is due, or will be within the day, is ticked off, the earliest where several are alike: a single one
ends, a repeated one goes on to its next day. Of a repeated one that is nearer to the day that has come than
to the next nothing is passed over: what was told this morning and is done tonight is today's. One counted
from when it was done begins anew. What was told of late and is over is only heard.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import timedelta
from typing import Final

from bot.conversation import reminders_told
from bot.conversation.reminders import when
from bot.conversation.texts import say
from bot.conversation.turn import Turn
from bot.reading.wanted.schedules import work_said
from bot.reading.wanted.work_done import is_done, words_of_work
from bot.terms import Kind, WaterHow
from bot.terms.recurrence import days_of, next_day
from bot.terms.schedule import Care
from storage.records import StoredReminder

_WITHIN: Final = timedelta(hours=24)
#: So long ago a reminder may have been told that is said to be done.
_HEARD_FOR: Final = timedelta(days=7)


def ticked_off(turn: Turn) -> str | None:
    """Ticks off the reminder that a message tells is done; what is said of that, or ``None``."""
    text, language = turn.incoming.text, turn.settings.language
    said = words_of_work(text, language)
    if not said or text.rstrip().endswith("?"):
        return None
    found = turn.work.reminders.open(turn.shelf_id)
    meant = next((one for one in found if _is_at_hand(one, turn) and _is_on_record(one, turn)), None)
    in_words = [one for one in found if is_done(said, words_of_work(one.what, language), language)]
    meant = meant or next((one for one in in_words if _is_at_hand(one, turn)), None)
    if meant is not None:
        return _tick(turn, meant)
    repeated = next((one for one in in_words if one.repeats is not None), None)
    if repeated is not None:
        return say("remind.done_next", what=repeated.what, when=when(turn, repeated.next_at))
    at = turn.incoming.sent_at
    told = turn.work.reminders.told(turn.shelf_id, at - _HEARD_FOR, at)
    over = next((one for one in told if is_done(said, words_of_work(one.what, language), language)), None)
    return None if over is None else say("remind.done", what=over.what)


def _is_at_hand(reminder: StoredReminder, turn: Turn) -> bool:
    """Whether what is done now can be what the reminder would tell of next, and nothing before that."""
    if reminder.repeats is not None and reminder.from_done:
        return True
    if reminder.next_at > turn.incoming.sent_at + _WITHIN:
        return False
    ahead = (turn.day_of(reminder.next_at) - turn.today).days
    return ahead <= 0 or reminder.repeats is None or not _has_just_come(turn, reminder.repeats, ahead)


def _has_just_come(turn: Turn, rule: str, ahead: int) -> bool:
    """Whether a day of the rule that has come is as near as its next one, so many days ahead."""
    every = days_of(rule)
    if every is not None:
        return every <= 2 * ahead
    before = turn.today - timedelta(days=ahead + 1)
    following = next_day(rule, before, before)
    return following is not None and following <= turn.today


#: What on record is the work done: the kinds, and of water where it went, where that is told.
_DOES: Final[Mapping[Care, tuple[frozenset[Kind], frozenset[WaterHow]]]] = {
    Care.FEED: (frozenset({Kind.FED, Kind.REFUSED, Kind.OFFERED}), frozenset()),
    Care.WATER: (frozenset({Kind.WATERED}), frozenset(WaterHow)),
    Care.DISH: (frozenset({Kind.WATERED}), frozenset({WaterHow.DISH})),
    Care.MIST: (frozenset({Kind.WATERED}), frozenset({WaterHow.MISTED, WaterHow.SUBSTRATE})),
}


def _is_on_record(reminder: StoredReminder, turn: Turn) -> bool:
    """Whether the message tells that all animals got today the food or water that was due today."""
    work = work_said(reminder.what, turn.settings.language)
    is_to_come = turn.day_of(reminder.next_at) > turn.today and not reminder.from_done
    if work is None or not reminder.tags or is_to_come:
        return False
    kinds, hows = _DOES[Care(work)]
    told = [entry for entry in turn.reading.entries if entry.kind in kinds and entry.day == turn.today]
    done = {tag for entry in told if entry.how is None or entry.how in hows for tag in entry.specimens}
    return done >= set(reminder.tags)


def _tick(turn: Turn, reminder: StoredReminder) -> str:
    was_for = when(turn, reminder.next_at)
    is_near = reminder.next_at <= turn.incoming.sent_at + _WITHIN
    if reminder.repeats is None:
        turn.work.reminders.end(reminder.id)
        return say("remind.ticked", what=reminder.what, when=was_for)
    following = when(turn, reminders_told.done_now(turn, reminder))
    if not is_near:
        return say("remind.done_next", what=reminder.what, when=following)
    return say("remind.ticked_every", what=reminder.what, when=was_for, next=following)
