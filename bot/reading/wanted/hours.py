"""What is wanted of hours and days: when the round comes, its pauses, quiet hours, the delivery day. Pure."""

from __future__ import annotations

import re
from collections.abc import Mapping
from datetime import time
from functools import cache
from typing import Final

from bot.reading.days.wall_times import wall_time
from bot.reading.days.weekdays_said import EVERY_DAY, weekdays_said
from bot.reading.names.shelf_names import ShelfNames
from bot.reading.wanted.wanted import Action, Instruction, Understand
from bot.reading.words.phrasings import OWNS, data, either, folded, meaning, slot, word_set

#: Hours, each with the days of the week, Monday 0, on which it holds.
_Hours = tuple[tuple[frozenset[int], time], ...]


def _hours(action: Action, found: re.Match[str], names: ShelfNames, language: str) -> Instruction | None:
    at, start, end = slot(found, "at"), slot(found, "from"), slot(found, "to")
    if at is not None:
        if slot(found, "days") is not None:
            return _hours_of_days(action, found, names, language)
        moment = wall_time(at, language)
        every_day = EVERY_DAY if _says("on_all_days", found.string, language) else None
        return Instruction(action=action, at=moment, value=at, weekdays=every_day) if moment else None
    if start is None or end is None:
        never = (time(0), time(0)) if action is Action.QUIET else None
        return Instruction(action=action, quiet=never)
    first, last = wall_time(start, language), wall_time(end, language)
    return Instruction(action=action, quiet=(first, last)) if first and last else None


def _hours_of_days(
    action: Action, found: re.Match[str], _names: ShelfNames, language: str
) -> Instruction | None:
    """ "9 on weekends and 7 on weekdays": an hour for each set of days; "only": on no other day."""
    places = (*found.span("at"), *found.span("days"))
    hours = _said_together(found.string[min(places) : max(places)], language)
    if hours is None:
        return None
    days = frozenset().union(*(days for days, _ in hours))
    only = _says("only_words", found.string, language)
    return Instruction(action=action, hours=hours, weekdays=days if only else None)


def _said_together(words: str, language: str) -> _Hours | None:
    """An hour and its days, and where a joint follows more of them."""
    alone = _one_hour(words, language)
    if alone is not None:
        return (alone,)
    for joint in _joints(language).finditer(words):
        first = _one_hour(words[: joint.start()], language)
        others = _said_together(words[joint.end() :], language) if first is not None else None
        if first is not None and others is not None:
            return (first, *others)
    return None


def _one_hour(words: str, language: str) -> tuple[frozenset[int], time] | None:
    """ "9 on weekends", "weekends at 9"."""
    for cut in re.finditer(r"\s+", words):
        left, right = words[: cut.start()], words[cut.end() :]
        for days_said, at_said in ((right, left), (left, right)):
            moment = wall_time(at_said, language)
            days = weekdays_said(days_said, language) if moment is not None else None
            if moment is not None and days is not None:
                return days, moment
    return None


@cache
def _joints(language: str) -> re.Pattern[str]:
    return re.compile(rf"\s*(?:,|;|{either(data(language)['joints_of_hours'])})\s*", re.I)


def _says(key: str, words: str, language: str) -> bool:
    """Whether one of a list of words stands in a message."""
    return re.search(either(sorted(word_set(key, language))), folded(words)) is not None


def _round_days(
    action: Action, found: re.Match[str], _names: ShelfNames, language: str
) -> Instruction | None:
    on, off = slot(found, "days"), slot(found, "off")
    if slot(found, "other") is not None:
        return Instruction(action=action)
    pause = slot(found, "pause")
    if pause is not None:
        return _pause(action, pause, found.string, language)
    if on is None and off is None:
        again = slot(found, "again")
        return Instruction(action=action, weekdays=EVERY_DAY if again else frozenset(), value=again)
    if off is not None and _starts_a_pause(off, language):
        return Instruction(action=action, pause=True, value=off)
    days = weekdays_said(on or off or "", language)
    if days is None:
        return None
    return Instruction(action=action, weekdays=days if on else EVERY_DAY - days)


def _pause(action: Action, pause: str, words: str, language: str) -> Instruction | None:
    """ "No rounds until Monday": from the word before the day on; "no round tomorrow"."""
    names = either(sorted(word_set("round_names", language), key=len, reverse=True))
    behind = re.search(rf"(?:{names})\s+(?P<said>\S.*)", words, re.I)
    said = behind["said"] if behind else OWNS.sub("", pause)
    last = OWNS.sub("", folded(pause).split()[-1])
    is_pause = last in word_set("ends_of_a_pause", language) or last.isdigit()
    return Instruction(action=action, pause=True, value=said) if is_pause else None


def _starts_a_pause(off: str, language: str) -> bool:
    return folded(off).startswith(tuple(f"{word} " for word in word_set("starts_of_a_pause", language)))


def _hush(action: Action, found: re.Match[str], _names: ShelfNames, _language: str) -> Instruction:
    return Instruction(action=action, value=slot(found, "speak"))


def _delivery(action: Action, found: re.Match[str], _names: ShelfNames, language: str) -> Instruction | None:
    said = slot(found, "weekday")
    if said is None:
        return Instruction(action=action)
    weekday = meaning("weekdays", language).get(folded(said))
    return Instruction(action=action, weekday=int(weekday)) if weekday is not None else None


OF_HOURS: Final[Mapping[Action, Understand]] = {
    Action.DAY_STARTS: _hours,
    Action.ROUND_TIME: _hours,
    Action.QUIET: _hours,
    Action.ROUND_DAYS: _round_days,
    Action.HUSH: _hush,
    Action.DELIVERY: _delivery,
}
