"""The day of an order put right within it: "remind me in 2 weeks, no, make it 10 days, to …". Pure."""

from __future__ import annotations

import re
from collections.abc import Iterable
from functools import cache
from typing import Final

from bot.reading.days import Moment, find_days, find_periods
from bot.reading.days.words import days_data
from bot.reading.message.parse import Message
from bot.reading.words.rule_words import rule_words
from bot.reading.words.scan import Words

_FIXES: Final = rule_words("day_put_right")
#: Words that lead to a time and hold for the one that is put in its place: "in 2 weeks, no, 3 weeks".
_LEADS: Final = rule_words("before_a_time")
_BEGIN: Final = frozenset(word.split()[0] for word in _FIXES)


def with_its_day_put_right(message: Message) -> Message | None:
    """The message with the day that was meant alone; ``None`` where no order has its day put right.

    A number with no unit behind the words that put right is in the place of the one before: "at 8, no, 9".
    """
    ordered = message.cue_at("remind") is not None or message.cue_at("hold") is not None
    if not ordered or _BEGIN.isdisjoint(message.keys):
        return None
    plain = message.source.plain
    for start, end in sorted(_times(message, message.scanned)):
        fix = _words_that_put_right().match(plain, end)
        if fix is None:
            continue
        meant = _meant(message, start, end, fix.end())
        if meant is not None:
            return message.saying(meant)
    return None


def _meant(message: Message, start: int, end: int, behind: int) -> str | None:
    """The text without the time from ``start`` to ``end``, where what is meant stands ``behind``."""
    plain = message.source.plain
    lead = plain[start:end].split()[0]
    leads = (f"{lead} ", "") if lead.lower() in _LEADS else ("",)
    for leading in leads:  # "in 2 weeks, no, 10 days"
        text = f"{plain[:start]}{leading}{plain[behind:]}"
        if any(at == start for at, _ in _times(message, Words(text))):
            return text
    number, said = _BARE.match(plain, behind), list(_NUMBER.finditer(plain, start, end))
    if number is None or len(said) != 1:
        return None
    return f"{plain[: said[0].start()]}{number[0]}{plain[said[0].end() : end]}{plain[number.end() :]}"


def _times(message: Message, words: Words) -> set[tuple[int, int]]:
    """Where days and lengths of time stand in a text."""
    language = message.settings.language
    moment = Moment.of(message.now, message.settings, "future")
    days = {(day.start, day.end) for day in find_days(words, moment, language)}
    periods = {(period.start, period.end) for period in find_periods(words, moment, language)}
    return days | periods | {match.span() for match in _lengths(language).finditer(words.text)}


@cache
def _lengths(language: str) -> re.Pattern[str]:
    """ "pausiere Ink 2 Wochen": a length of time with no word before it."""
    units = (str(word) for words in days_data(language).words["unit"].values() for word in words)
    return re.compile(rf"(?<!\S)\d+ (?:{_either(units)})\b", re.IGNORECASE)


@cache
def _words_that_put_right() -> re.Pattern[str]:
    return re.compile(rf"[\s,.–…-]+(?:(?:{_either(_FIXES)})\b[\s,.–…-]*)+", re.IGNORECASE)


def _either(words: Iterable[str]) -> str:
    return "|".join(sorted(map(re.escape, words), key=len, reverse=True))


_NUMBER: Final = re.compile(r"\d+")
#: A number with nothing behind it that it could count.
_BARE: Final = re.compile(r"\d+(?=\s*(?:$|[,.;!]|\bto\b))")
