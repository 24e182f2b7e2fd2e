"""Words not understood that may tell of a day: dropped, they would have an entry stand at today."""

from __future__ import annotations

import re
from functools import cache
from itertools import pairwise
from typing import Final

from bot.reading.clauses.frames import Frame
from bot.reading.days.words import days_data
from bot.reading.items.item import Item
from bot.reading.words.rule_words import rule_words

_LANGUAGE: Final = "en"
_NEVER: Final = "(?!)"


def unread_day(frame: Frame) -> str | None:
    """ "fed Ink tewsday", "fed Ink 3 sleeps ago": what may be the day of a clause, if none was read."""
    if frame.days or frame.periods:
        return None
    items = frame.clause.items
    strange = (item for _, item in frame.unknown if _like_a_day(item.text))
    word = next(strange, None) or _some_time_ago(items) or _day_of_a_name(items)
    return word.text if word is not None else None


def _day_of_a_name(items: list[Item]) -> Item | None:
    """ "on Labor Day", "paddys day Dot ate": a day by a name that no rule of days knows."""
    for at, (name, day) in enumerate(pairwise(items)):
        leads = at == 0 or "on" in items[at - 1].senses
        if leads and name.cat == "U" and day.text in _DAY:
            return name
    return None


_DAY: Final = rule_words("bare_day")


def _like_a_day(word: str) -> bool:
    return _shapes().fullmatch(word) is not None


@cache
def _shapes() -> re.Pattern[str]:
    said = days_data(_LANGUAGE).lists.get("like_a_day", ())
    return re.compile("|".join(re.escape(one).replace(r"\*", r"\S*") for one in said) or _NEVER)


def _some_time_ago(items: list[Item]) -> Item | None:
    """ "2 sleeps ago", "3 days bck": so long ago, in words that no rule of days knows."""
    last = items[-1] if items else None
    if last is not None and last.text in _AGO:
        return last
    for number, length in pairwise(items):
        behind = items[-1] if last is not None and items[-2:-1] == [length] else None
        if number.cat == "N" and "dur" in length.senses and behind is not None and behind.cat == "U":
            return behind
    return None


_AGO: Final = rule_words("ago")
