"""Old notebooks: dated notes as people keep them on paper, cut into notes with a day each.

A date stands at a line's beginning, with the note behind it or on the lines below. Its year is that of the
date before it, where that goes on in order; a notebook in which the year is not told, or in which the days
jump about so that it could be another, is asked about rather than guessed at. No day is later than today.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from functools import lru_cache
from typing import Final

from bot.reading.days.words import days_data
from bot.reading.model import Reading, ReadingKind
from bot.reading.names.shelf_names import ShelfNames
from bot.reading.read import read
from bot.reading.words.lexicon import lexicon
from bot.terms import DateOrder, KeeperSettings

#: A date that lies so far back in its year from the one before it begins a new year ("28/12", then "3/1").
_A_NEW_YEAR: Final = timedelta(days=183)
#: Two-digit years up to this many ahead of today's are of this century.
_CENTURY: Final = 100
_MONTHS: Final = 12
_LATEST_MINUTE: Final = time(23, 59)
_MARKS: Final = re.compile(r"^[\s*#=>•·\-–—]+|[\s=]+$")
_AFTER: Final = re.compile(r"^[\s:;,.\-–—|)]*")
_WEEKDAY_END: Final = re.compile(r"^[.,]?\s+")
_NUMERIC: Final = re.compile(r"(\d{1,4})([./-])(\d{1,2})(?:\2(\d{4}|\d{2}))?(?![\d./-]*\d)\.?")
_WORD: Final = re.compile(r"[^\W\d_]+")
_FRACTION: Final = re.compile(r"[1-3]/[2-8]")
_YEAR_ALONE: Final = re.compile(r"(?:19|20)\d\d")
_ORDINAL: Final = r"(?:st|nd|rd|th|\.)?"


@dataclass(frozen=True, slots=True)
class Note:
    """One note: its line as ``written``, the day it is of, its ``text``. ``doubt`` says why it has no day."""

    line: int
    written: str
    text: str
    day: date | None
    doubt: str = ""


@dataclass(frozen=True, slots=True)
class ReadNote:
    """A note and how it is read, as on the evening of its day."""

    note: Note
    reading: Reading | None


def notes_in(
    text: str,
    *,
    today: date,
    order: DateOrder,
    language: str = "en",
    year: int | None = None,
    names: Collection[str] = (),
) -> list[Note]:
    """The notes of a text, line by line; empty lines and lines that begin with ``#`` say nothing.

    ``year`` is that of the first date, where it does not tell its own. ``names`` are animals' names: a
    line that begins with one is not taken for a date because a month is called alike.
    """
    called = frozenset(name.casefold() for name in names)
    return list(_Notebook(today, order, language, year, called).notes(text))


def read_notes(
    notes: Sequence[Note], names: ShelfNames, *, now: datetime, settings: KeeperSettings
) -> list[ReadNote]:
    """How each note is read, a pronoun going on from the note before. ``now`` is in the keeper's zone."""
    out: list[ReadNote] = []
    of: str | None = None
    for note in notes:
        if note.day is None:
            out.append(ReadNote(note, None))
            continue
        evening = datetime.combine(note.day, _LATEST_MINUTE, now.tzinfo)
        reading = read(note.text, names, now=min(evening, now), settings=settings, talked_of=of)
        told_of = {tag for entry in reading.entries for tag in entry.specimens}
        of = told_of.pop() if len(told_of) == 1 else None
        out.append(ReadNote(note, reading))
    return out


def is_sure(read_note: ReadNote) -> bool:
    """Whether a note can be stored as it is read: entries and nothing beside them."""
    reading = read_note.reading
    return reading is not None and reading.reading is ReadingKind.ENTRIES


class _Notebook:
    """Goes through a notebook from top to bottom, and keeps in mind the date last seen."""

    def __init__(
        self, today: date, order: DateOrder, language: str, year: int | None, names: frozenset[str]
    ) -> None:
        self._today, self._order, self._year, self._names = today, order, year, names
        self._lexicon = lexicon(language)
        self._months = _months(language)
        self._weekdays = _weekdays(language)
        self._named = _named_date(language)
        self._last: date | None = None
        self._doubt = "no_day"
        self._mixed = self._either_way = False

    def notes(self, text: str) -> Iterator[Note]:
        self._mixed = any(map(self._turned_round, text.splitlines()))
        for number, raw in enumerate(text.splitlines(), start=1):
            if raw.lstrip().startswith("#") or not raw.strip():
                continue
            line = _MARKS.sub("", raw)
            if _YEAR_ALONE.fullmatch(line.strip(" :.")):
                self._year, self._last, self._doubt = int(line.strip(" :.")), None, "no_day"
                continue
            found = self._date_at(line)
            doubt = found is not None and self._may_be_no_date(line, found[1])
            if found is not None and not doubt:
                parts, end = found
                self._settle(*parts)
                line = line[end:]
            words = _AFTER.sub("", line).strip()
            if any(char.isalnum() for char in words):
                why = "date_or_not" if doubt else self._doubt
                yield Note(number, raw.strip(), words, None if why else self._last, why)

    # --- what stands there

    def _date_at(self, line: str) -> tuple[tuple[int | None, int, int], int] | None:
        """Year (if told), month and day that a line begins with, and where they end."""
        start = 0
        weekday = self._weekdays.match(line)
        if weekday and (gap := _WEEKDAY_END.match(line[weekday.end() :])):
            start = weekday.end() + gap.end()
        numeric = _NUMERIC.match(line, start)
        self._either_way = False
        if numeric and (parts := self._ordered(numeric)):
            return parts, numeric.end()
        named = self._named.match(line, start)
        if named:
            day = named["day"] or named["day2"]
            month = self._months[(named["month"] or named["month2"]).lower()]
            return (self._whole_year(named["year"] or named["year2"]), month, int(day)), named.end()
        return None

    def _ordered(self, match: re.Match[str]) -> tuple[int | None, int, int] | None:
        first, mark, second, third = match.groups()
        if len(first) == len("2025"):
            return (int(first), int(second), int(third)) if third else None
        if len(first) > len("31") or (third is None and mark == "-"):
            return None
        numbers = (int(first), int(second))
        if self._order is DateOrder.YMD and third is not None:
            return self._whole_year(first), numbers[1], int(third)
        self._either_way = max(numbers) <= _MONTHS and numbers[0] != numbers[1]
        day, month = numbers if self._order is DateOrder.DMY else reversed(numbers)
        return self._whole_year(third), month, day

    def _turned_round(self, raw: str) -> bool:
        """Whether a line begins with a date that fits the other order alone: "5/13" of DMY."""
        match = _NUMERIC.match(_MARKS.sub("", raw))
        parts = self._ordered(match) if match else None
        return parts is not None and parts[1] > _MONTHS >= parts[2] and self._order is not DateOrder.YMD

    def _whole_year(self, said: str | None) -> int | None:
        if said is None:
            return None
        year = int(said.lstrip("'"))
        if year >= _CENTURY:
            return year
        century = self._today.year - self._today.year % _CENTURY
        return century + year if century + year <= self._today.year else century + year - _CENTURY

    def _may_be_no_date(self, line: str, end: int) -> bool:
        """ "May 2 crickets" of an animal called May; "1/2 roach for Ink" under a date."""
        first = _WORD.match(line)
        if first and first.group().casefold() in self._names:
            return True
        following = _WORD.search(line, end)
        fraction = _FRACTION.fullmatch(line[:end].strip()) is not None
        if not (fraction and following):
            return False
        senses = self._lexicon.account.senses(following.group().lower())
        return any(sense.cat in {"prey", "size"} for sense in senses)

    # --- what it means

    def _settle(self, year: int | None, month: int, day: int) -> None:
        """The day a date stands for; where that is in doubt, so are all notes up to the next date."""
        self._doubt = ""
        if self._mixed and self._either_way:
            self._doubt = "either_order"
            return
        if year is None:
            year = self._carried(month, day)
        if year is None:
            self._doubt = self._doubt or "no_year"
            return
        try:
            found = date(year, month, day)
        except ValueError:
            self._doubt = "no_such_day"
            return
        if found > self._today:
            self._doubt = "future_day"
            return
        self._last = found

    def _carried(self, month: int, day: int) -> int | None:
        """The year of a date without one: that of the date before, or the next where a year has turned."""
        if self._last is None:
            return self._year
        try:
            same = date(self._last.year, month, day)
        except ValueError:
            return self._last.year  # 29 February, or no day at all: settled where the day is made
        if same >= self._last:
            return same.year
        if self._last - same >= _A_NEW_YEAR:
            return same.year + 1
        self._doubt = "days_out_of_order"
        return None


@lru_cache(maxsize=16)
def _months(language: str) -> dict[str, int]:
    data = days_data(language).words
    return {
        word.lower(): int(number)
        for name in ("month", "month_sure")
        for number, words in data.get(name, {}).items()
        for word in words
    }


@lru_cache(maxsize=16)
def _weekdays(language: str) -> re.Pattern[str]:
    data = days_data(language).words
    words = {
        w.lower() for name in data if name.startswith("weekday") for ws in data[name].values() for w in ws
    }
    return re.compile(rf"(?:{_either(words)})(?!\w)", re.IGNORECASE)


@lru_cache(maxsize=16)
def _named_date(language: str) -> re.Pattern[str]:
    """ "3 Nov 2025", "Nov 3rd, 2025", "3rd of November"."""
    month, year = _either(_months(language)), r"(?:,?[ ]?(?P<{}>(?:19|20)\d\d|'\d\d))?"
    return re.compile(
        rf"(?P<day>[0-3]?\d){_ORDINAL}[ ]?(?:of[ ])?(?P<month>{month})\b\.?{year.format('year')}"
        rf"|(?P<month2>{month})\b\.?[ ](?P<day2>[0-3]?\d){_ORDINAL}(?!\d){year.format('year2')}",
        re.IGNORECASE,
    )


def _either(words: set[str] | dict[str, int]) -> str:
    return "|".join(re.escape(word) for word in sorted(words, key=len, reverse=True))
