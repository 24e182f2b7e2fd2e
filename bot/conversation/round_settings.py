"""On which days of the week the round comes by itself, and that nothing comes any more today."""

from __future__ import annotations

from datetime import datetime, time, timedelta
from typing import Final

from bot.conversation import wording
from bot.conversation.model import Reply
from bot.conversation.texts import say, words
from bot.conversation.turn import Choice, Turn
from bot.reading.wanted import Instruction
from bot.terms import ALL_WEEK
from bot.terms.walltime import instant_of

#: So many days ahead a round is looked for.
_FARTHEST: Final = 90


def round_days(turn: Turn, wanted: Instruction) -> list[Reply]:
    """On which days of the week a round comes by itself; none at all where the keeper wants none."""
    if wanted.pause:
        return [turn.reply(say("settings.round_pause"))]
    if wanted.weekdays is None:
        return [turn.reply(say("settings.round_days_how"))]
    turn.save_settings(round_days="".join(map(str, sorted(wanted.weekdays))))
    return [turn.reply(days_text(turn))]


def days_text(turn: Turn) -> str:
    """On which days the round comes, as it is set."""
    days, at = turn.settings.round_days, wording.clock(turn.settings.round_time)
    if not days:
        return say("settings.no_rounds")
    if days == ALL_WEEK:
        return say("settings.round_set", time=at)
    names = words("calendar.weekdays_in_full")
    return say("settings.round_on", days=wording.listed([names[int(day)] for day in days]), time=at)


def one_hour_for_all(turn: Turn, at: time) -> Reply:
    """An hour of its own for some days cannot be had: what can, in a tap or in words."""
    everywhere = Choice(
        say("settings.at_on_all_days", time=wording.clock(at)), {"do": "set_round", "time": at.isoformat()}
    )
    return turn.reply(say("settings.one_round_time", now=days_text(turn)), [[everywhere]])


def round_when(turn: Turn, _wanted: Instruction) -> list[Reply]:
    """When the next round comes by itself, and the hour and days that are set."""
    coming = None if turn.helps else _next_round(turn)
    if coming is None:
        return [turn.reply(days_text(turn))]
    local = coming.astimezone(turn.now.tzinfo)
    day = wording.day_in_full(local.date(), turn.now.date())
    return [turn.reply(f"{say('settings.round_next', day=day, time=wording.clock(local))} {days_text(turn)}")]


def _next_round(turn: Turn) -> datetime | None:
    """The moment of the keeper's next round: not while it is quiet, nor while a helper has the shelf."""
    settings, now = turn.settings, turn.incoming.sent_at
    helped = [one for one in turn.work.handovers.open(turn.shelf_id) if one.helper is not None]
    begins = settings.quiet_until if settings.quiet_until and settings.quiet_until > now else now
    for day in (turn.now.date() + timedelta(days=n) for n in range(_FARTHEST)):
        moment = instant_of(day, settings.round_time, settings.zone)
        has_helper = any(one.by == turn.keeper.id and one.first <= day <= one.last for one in helped)
        if moment > begins and f"{day.weekday()}" in settings.round_days and not has_helper:
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
