"""On which days of the week the round comes by itself, and that nothing comes any more today."""

from __future__ import annotations

from datetime import timedelta

from bot.conversation import wording
from bot.conversation.model import Reply
from bot.conversation.texts import say, words
from bot.conversation.turn import Turn
from bot.reading.wanted import Instruction
from bot.terms import ALL_WEEK
from bot.terms.walltime import instant_of


def round_days(turn: Turn, wanted: Instruction) -> list[Reply]:
    """On which days of the week a round comes by itself; none at all where the keeper wants none."""
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


def hush(turn: Turn, wanted: Instruction) -> list[Reply]:
    """Nothing comes by itself until the keeper's next day, or what was so wished ends."""
    if wanted.value is not None:
        turn.save_settings(quiet_until=None)
        return [turn.reply(say("settings.speaks_up"))]
    tomorrow = turn.today + timedelta(days=1)
    turn.save_settings(quiet_until=instant_of(tomorrow, turn.settings.day_starts, turn.settings.zone))
    return [turn.reply(say("settings.hushed"))]
