"""On which days and at which hours the round comes by itself, its pauses, and quiet until tomorrow."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, datetime, time, timedelta
from typing import Final

from bot.conversation import wording
from bot.conversation.model import Reply
from bot.conversation.texts import say, words
from bot.conversation.turn import Turn
from bot.reading.questions.stretches import named_ahead
from bot.reading.wanted.away import Days, days_ahead, says_how_long, until_when
from bot.reading.wanted.wanted import Instruction
from bot.terms import KeeperSettings
from bot.terms.keeper import as_round_hours
from bot.terms.walltime import instant_of

#: So many days ahead a round is looked for.
_FARTHEST: Final = 400
_DAY: Final = timedelta(days=1)
_WEEK: Final = 7
#: What lasts longer than this is no pause of some days.
_LONGEST_PAUSE: Final = timedelta(days=366)


def round_days(turn: Turn, wanted: Instruction) -> list[Reply]:
    """On which days of the week a round comes by itself; none at all where the keeper wants none."""
    if wanted.pause:
        return [_paused(turn, wanted.value or "")]
    if wanted.weekdays is None:
        return [turn.reply(say("settings.round_days_how"))]
    days = in_digits(wanted.weekdays)
    if wanted.value is None:
        turn.save_settings(round_days=days)
        return [turn.reply(days_text(turn))]
    over = [say("settings.pause_ended")] if _pause_ahead(turn) is not None else []
    days = turn.settings.round_days or days  # "start rounds again": on its days, where they are known
    turn.save_settings(round_days=days, rounds_off_from=None, rounds_off_until=None)
    return [turn.reply(" ".join([*over, days_text(turn)]))]


def in_digits(days: Iterable[int]) -> str:
    """Days of the week, Monday 0, as the settings keep them."""
    return "".join(map(str, sorted(days)))


def days_text(turn: Turn) -> str:
    """On which days and at which hours the round comes, as it is set, and when it is paused."""
    days = turn.settings.round_days
    if not days:
        return say("settings.no_rounds")
    usual, others = turn.settings.round_time, _by_hour(turn.settings)
    at_usual = [int(day) for day in days if turn.settings.round_at(int(day)) == usual]
    if len(at_usual) == _WEEK:
        lines = [say("settings.round_set", time=wording.clock(usual))]
    else:
        hours = {**({usual: at_usual} if at_usual else {}), **others}
        lines = [_at_on(at, those, alone=len(hours) == 1) for at, those in hours.items()]
    pause = _pause_ahead(turn)
    return " ".join([*lines, *([_pause_text(turn, *pause)] if pause else [])])


def _at_on(at: time, days: Iterable[int], *, alone: bool) -> str:
    if alone:
        return say("settings.round_on", days=_weekdays(days), time=wording.clock(at))
    return say("settings.round_at_on", days=_weekdays(days), time=wording.clock(at))


def _by_hour(settings: KeeperSettings) -> dict[time, list[int]]:
    """The days of the week with a round at another hour than most, by that hour."""
    found: dict[time, list[int]] = {}
    for day, at in settings.other_hours.items():
        if f"{day}" in settings.round_days and at != settings.round_time:
            found.setdefault(at, []).append(day)
    return found


def _weekdays(days: Iterable[int]) -> str:
    names = words("calendar.weekdays_in_full")
    return wording.listed([names[day] for day in days])


# --- a pause ----------------------------------------------------------------------------------


def _paused(turn: Turn, said: str) -> Reply:
    """No round comes for some days, and comes again by itself; today's may have come already."""
    found = _days_of_pause(turn, said)
    if found is None:
        return turn.reply(say("settings.round_pause_how"))
    first, last = found
    if last < first:
        return turn.reply(_next_text(turn) or days_text(turn))
    turn.save_settings(rounds_off_from=first, rounds_off_until=last)
    return turn.reply(" ".join(filter(None, (_pause_text(turn, first, last), _next_text(turn)))))


def today_held_off(turn: Turn) -> Reply | None:
    """Today's round does not come, where it is yet to; ``None`` where a pause to come would be lost."""
    if _has_come(turn):
        return turn.reply(_next_text(turn) or days_text(turn))
    first, last = _pause_ahead(turn) or (turn.today, turn.today)
    if first > turn.today + _DAY:
        return None
    first = min(first, turn.today)
    turn.save_settings(rounds_off_from=first, rounds_off_until=last)
    return turn.reply(" ".join(filter(None, (_pause_text(turn, first, last), _next_text(turn)))))


def _days_of_pause(turn: Turn, said: str) -> tuple[date, date] | None:
    """The first and the last day without a round; "until Monday" is over on that day."""
    found = named_ahead(said, turn.settings.language, turn.today)
    days = Days(*found) if found is not None else days_ahead(said, now=turn.now, settings=turn.settings)
    if days is None or days.first is None:
        return None
    first, last = days.first, days.last or days.first
    if until_when(said, turn.settings.language) is not None:
        last -= _DAY
    begins = turn.today + _DAY if _has_come(turn) else turn.today
    if first < begins and found is None and says_how_long(said, turn.settings.language):
        return begins, last + (begins - first)
    return (max(first, begins), last) if last - turn.today <= _LONGEST_PAUSE else None


def _has_come(turn: Turn) -> bool:
    """Whether the hour of today's round is past."""
    return turn.settings.round_on(turn.today) <= turn.incoming.sent_at


def _pause_ahead(turn: Turn) -> tuple[date, date] | None:
    """The first and the last day of a pause that is not over."""
    first, last = turn.settings.rounds_off_from, turn.settings.rounds_off_until
    return (first, last) if first is not None and last is not None and last >= turn.today else None


def _pause_text(turn: Turn, first: date, last: date) -> str:
    days = [wording.day_in_full(day, turn.today) for day in (first, last)]
    if first == last:
        return say("settings.no_round_on", day=days[0])
    return say("settings.no_rounds_from", first=days[0], last=days[1])


# --- the hour ---------------------------------------------------------------------------------


def hours_set(turn: Turn, wanted: Instruction) -> None:
    """The hour of the round on certain days of the week; ``weekdays``, where said, are all of its days."""
    hours = {day: turn.settings.round_at(day) for day in range(_WEEK)}
    for days, at in wanted.hours:
        hours |= dict.fromkeys(days, at)
    usual = max(
        hours.values(), key=lambda at: (list(hours.values()).count(at), at == turn.settings.round_time)
    )
    others = {day: at for day, at in hours.items() if at != usual}
    turn.save_settings(round_time=usual, round_hours=as_round_hours(others))
    named = frozenset(day for days, _ in wanted.hours for day in days)
    before = frozenset(map(int, turn.settings.round_days))
    turn.save_settings(round_days=in_digits(before | named if wanted.weekdays is None else wanted.weekdays))


def round_when(turn: Turn, _wanted: Instruction) -> list[Reply]:
    """When the next round comes by itself, and the hour and days that are set."""
    return [turn.reply(" ".join(filter(None, (_next_text(turn), days_text(turn)))))]


def _next_text(turn: Turn) -> str:
    """When the next round comes; empty where none does, or a helper asks."""
    coming = None if turn.helps else _next_round(turn)
    if coming is None:
        return ""
    local = coming.astimezone(turn.now.tzinfo)
    day = wording.day_in_full(local.date(), turn.now.date())
    return say("settings.round_next", day=day, time=wording.clock(local))


def _next_round(turn: Turn) -> datetime | None:
    """The moment of the keeper's next round: not while it is quiet, nor while a helper has the shelf."""
    settings, now = turn.settings, turn.incoming.sent_at
    helped = [one for one in turn.work.handovers.open(turn.shelf_id) if one.helper is not None]
    begins = settings.quiet_until if settings.quiet_until and settings.quiet_until > now else now
    for day in (turn.today + timedelta(days=n) for n in range(_FARTHEST)):
        moment = settings.round_on(day)
        has_helper = any(one.by == turn.keeper.id and one.first <= day <= one.last for one in helped)
        if moment > begins and settings.has_round(day) and not has_helper:
            return moment
    return None


def hush(turn: Turn, wanted: Instruction) -> list[Reply]:
    """Nothing comes by itself until the keeper's next day, or what was so wished ends."""
    if wanted.value is not None:
        turn.save_settings(quiet_until=None)
        return [turn.reply(say("settings.speaks_up"))]
    tomorrow = turn.today + timedelta(days=1)
    turn.save_settings(quiet_until=instant_of(tomorrow, turn.settings.day_starts, turn.settings.zone))
    return [turn.reply(say("settings.hushed"))]
