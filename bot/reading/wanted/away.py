"""Going away: from when to when, and who looks after the animals. Pure.

A phrasing has to fit the whole message, its days have to be days by the grammar of days, and whoever
looks after them must not be an animal of the shelf: else the message is no hand-over. What is not said, or
not said for sure, is left open and asked. The phrasings are data, in ``lexicon/<language>/away.yaml``.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from enum import StrEnum
from functools import cache
from typing import Any, Final

from bot.reading.days import DaySpan, Moment, find_days, find_periods
from bot.reading.days.words import days_data
from bot.reading.names.names_alone import named_in
from bot.reading.names.shelf_names import ShelfNames
from bot.reading.questions.stretches import named_ahead
from bot.reading.words.normalise import plain_text
from bot.reading.words.phrasings import SHARED, Phrasings, all_alike, bare, either, fitting, folded, joined
from bot.reading.words.scan import Words
from bot.terms import KeeperSettings
from bot.terms.data_file import data_of

#: Nobody says so little in more characters; what is longer is not tried.
_LONGEST: Final = 240
_MOST_WORDS: Final = 4
_MOST_CUTS: Final = 20
_MACRO: Final = re.compile(r"<(\w+)>")
_EDGES: Final = " ,;:.-–—!"
_ONE_NUMBER: Final = re.compile(r"(?:the )?\d{1,2}(?:st|nd|rd|th)?\.?")
_WEEK: Final = timedelta(days=7)
_BOTH: Final = 2


class Wanted(StrEnum):
    """What a message about being away asks for."""

    HANDOVER = "handover"
    SHEET = "sheet"


@dataclass(frozen=True, slots=True)
class Days:
    """Local days from first to last; ``sure`` is false where they are a guess to be confirmed.

    ``None`` is what was not said or not understood.
    """

    first: date | None = None
    last: date | None = None
    sure: bool = True


@dataclass(frozen=True, slots=True)
class Away:
    """What a message says: what is wanted, who helps (in the keeper's own words), and the days."""

    wanted: Wanted
    helper: str | None = None
    days: Days = Days()


def read_away(text: str, names: ShelfNames, *, now: datetime, settings: KeeperSettings) -> Away | None:
    """What a message says about being away, or ``None`` if it is about something else. Never raises.

    ``now`` is aware, in the keeper's zone.
    """
    language = settings.language
    if text.rstrip().endswith("?") or len(text) > _LONGEST:
        return None
    words = bare(text, language=language)
    for wanted, found in fitting(words, language, _phrasings):
        for when, who in _said(found.groupdict(), language):
            helper = helper_meant(who, names, language) if who else ""
            days = days_ahead(when, now=now, settings=settings) if when else Days()
            if days is not None and helper is not None:
                return Away(wanted, helper or None, days)
    return None


def _said(slots: Mapping[str, str | None], language: str) -> Iterator[tuple[str, str]]:
    """The words for the days and for the helper; each way to cut them where one follows the other, the one
    that gives the days most words first."""
    one_after_the_other = slots.get("when_helper") or slots.get("helper_when")
    if not one_after_the_other:
        when, for_days = slots.get("when") or "", slots.get("for_days")
        length = f" {away_data(language)['length_as'].format(for_days)}" if for_days else ""
        yield f"{when}{length}", slots.get("helper") or ""
        return
    cuts = [space.span() for space in re.finditer(r"\s+", one_after_the_other)]
    days_first = bool(slots.get("when_helper"))
    for start, end in sorted(cuts[-_MOST_CUTS:], reverse=days_first):
        left, right = one_after_the_other[:start], one_after_the_other[end:]
        yield (left, right) if days_first else (right, left)


def helper_meant(words: str, names: ShelfNames, language: str) -> str | None:
    """Who helps, as it was said; empty for words that name nobody, ``None`` for what cannot be a person."""
    said = words.strip(_EDGES)
    said = re.sub(rf"^(?:{_either('between', language)})\s+|^the\s+(?=\w+$)", "", said, flags=re.I)
    if folded(said) in _nobody(language):
        return ""
    if not said or any(letter.isdigit() or letter in ",;?:" for letter in said):
        return None
    return None if len(said.split()) > _MOST_WORDS or named_in(said, names) else said


def days_ahead(words: str, *, now: datetime, settings: KeeperSettings) -> Days | None:
    """The days that words name, from today on; ``None`` where they are not days."""
    said = _without(words, "before_days", settings.language)
    if not said:
        return None
    for way in (_until, _length, _from_to, _named, _range, _single):
        found = way(said, _Calendar(now, settings))
        if found is not None:
            return found
    return None


@dataclass(frozen=True, slots=True)
class _Calendar:
    """The moment and the settings by which words are taken as days to come."""

    now: datetime
    settings: KeeperSettings

    @property
    def moment(self) -> Moment:
        return Moment.of(self.now, self.settings, "future")

    @property
    def today(self) -> date:
        """The keeper's date."""
        return self.moment.today

    @property
    def data(self) -> Mapping[str, Any]:
        """The keeper's words around days."""
        return away_data(self.settings.language)

    def without(self, words: str) -> str:
        """The words without the small ones before them that lead to days."""
        return _without(words, "before_days", self.settings.language)

    def spans(self, words: str) -> list[DaySpan]:
        return find_days(Words(plain_text(words).plain), self.moment, self.settings.language)

    def day(self, words: str) -> DaySpan | None:
        """The day that the words are, all of them."""
        said = self.without(words)
        for phrase in (said, *(put.format(said) for put in self.data["days_as"])):
            found = self.spans(phrase)
            if len(found) == 1 and self.without(phrase) in {
                said,
                self.without(phrase[found[0].start : found[0].end]),
            }:
                covers = self.without(phrase[: found[0].start] + phrase[found[0].end :])
                if not covers and (found[0].day is not None or found[0].options):
                    return found[0]
        return None

    def length(self, words: str) -> int | None:
        """The number of days that the words say; 0 where that is vague."""
        said = self.without(words)
        for word in self.data["behind_lengths"]:
            said = said.removesuffix(f" {word}")
        known: Mapping[str, int] = self.data["lengths"]
        if folded(said) in known:
            return known[folded(said)]
        phrase = self.data["length_as"].format(said)
        found = find_periods(Words(plain_text(phrase).plain), self.moment, self.settings.language)
        whole = (
            len(found) == 1 and found[0].kind == "for" and (found[0].start, found[0].end) == (0, len(phrase))
        )
        return (found[0].days or 0) if whole else None


def until_when(said: str, language: str) -> str | None:
    """The words for the day up to which it is: "Monday" of "until Monday"."""
    found = re.fullmatch(rf"(?:{_either('to', language)})\s+(.+)", said, re.I)
    return found[1] if found else None


def says_how_long(said: str, language: str) -> bool:
    """Whether words say a length rather than days by their names: "for 3 days", "the next two weeks"."""
    words = away_data(language)["length_words"]
    return re.search(either(sorted(words, key=len, reverse=True)), said, re.I) is not None


def _until(said: str, calendar: _Calendar) -> Days | None:
    """ "until 14 August": from today on."""
    until = until_when(said, calendar.settings.language)
    last = calendar.day(until) if until else None
    return None if last is None else _joined(calendar.today, last)


def _length(said: str, calendar: _Calendar) -> Days | None:
    """ "for two weeks from Monday", "from Monday for two weeks", "for 10 days"."""
    joints = _either("length_joints", calendar.settings.language)
    for found in re.finditer(rf"\s+(?:{joints})\s+", said, re.I):
        before, after = said[: found.start()], said[found.end() :]
        for days, start in ((before, after), (after, before)):
            n, first = calendar.length(days), calendar.day(start)
            if n is not None and first is not None and first.day is not None:
                last = first.day + timedelta(days=n - 1) if n else None
                return Days(first.day, last, sure=not first.doubt)
    n = calendar.length(said)
    if n is None:
        return None
    today = calendar.today
    return Days(today, today + timedelta(days=n - 1), sure=False) if n else Days()


def _from_to(said: str, calendar: _Calendar) -> Days | None:
    """ "3 to 14 August", "Friday until Sunday", "3/8 – 14/8": cut where both sides are days."""
    for cut in re.finditer(
        rf"\s+(?:{_either('to', calendar.settings.language)})\s+|\s*[-–—]\s*|\s+and\s+", said, re.I
    ):
        left, right = said[: cut.start()], said[cut.end() :]
        last = calendar.day(right)
        if last is None:
            continue
        first = calendar.day(left)
        if first is None and _ONE_NUMBER.fullmatch(calendar.without(left)):
            month = _month_in(right, calendar.settings.language)
            first = calendar.day(f"{calendar.without(left)} {month}") if month else None
        if first is not None and first.day is not None:
            return _joined(first.day, last, sure=not first.doubt)
    return None


def _range(said: str, calendar: _Calendar) -> Days | None:
    """ "3-14 August", where the grammar of days has both ends as one."""
    spans = calendar.spans(said)
    if len(spans) != 1 or len(spans[0].options) != _BOTH or calendar.without(said[spans[0].end :]):
        return None
    if calendar.without(said[: spans[0].start]):
        return None
    first, last = spans[0].options
    return Days(first, last, sure=spans[0].rule == "a range of days") if first <= last else Days()


def _named(said: str, calendar: _Calendar) -> Days | None:
    """ "next week", "in August": whole weeks and months, which have to be confirmed."""
    stretch = named_ahead(said, calendar.settings.language, calendar.today)
    return Days(stretch.first, stretch.last, sure=False) if stretch is not None else None


def _single(said: str, calendar: _Calendar) -> Days | None:
    """One day: the first of more, by the words before it, or the only one; either way it is asked."""
    found = calendar.day(said)
    if found is None:
        return None
    if len(found.options) == _BOTH and found.options[0] < found.options[1]:  # "this weekend"
        return Days(*found.options, sure=False)
    return Days(found.day, None, sure=not found.doubt)


def _joined(first: date, last: DaySpan, *, sure: bool = True) -> Days:
    day = last.day
    if day is not None and day < first and day + _WEEK >= first and "weekday" in last.rule:
        day += _WEEK  # "Friday to Tuesday": the Tuesday after that Friday
    if day is None or day < first:
        return Days(first, None, sure=sure)
    return Days(first, day, sure=sure and not last.doubt)


def _month_in(words: str, language: str) -> str | None:
    months = {word for said in days_data(language).words["month"].values() for word in said}
    return next((word for word in words.split() if word.lower().rstrip(".,") in months), None)


# --- the data -------------------------------------------------------------------------------


@cache
def own_away_data(language: str) -> Mapping[str, Any]:
    """The phrasings and words of one language alone."""
    found: Mapping[str, Any] = data_of("bot.reading", "lexicon", language, "away.yaml")
    return found


@cache
def away_data(language: str = SHARED) -> Mapping[str, Any]:
    """The phrasings of a language and those that all share, read once for all who take theirs from them."""
    found = own_away_data(language)
    return found if language == SHARED else joined(found, own_away_data(SHARED))


@cache
def _phrasings(language: str) -> Phrasings[Wanted]:
    return Phrasings((wanted, _unfolded(phrase, language)) for wanted, phrase in phrasings(language))


def _unfolded(phrase: str, language: str) -> str:
    """The phrasing with its lists of words written out."""
    return _MACRO.sub(lambda found: "|".join(own_away_data(language)[found[1]]), phrase)


@cache
def _nobody(language: str) -> frozenset[str]:
    return frozenset(map(folded, away_data(language)["nobody"]))


def _either(key: str, language: str) -> str:
    words = away_data(language)[key]
    return "|".join(re.escape(word) for word in sorted(words, key=len, reverse=True))


def _without(words: str, key: str, language: str) -> str:
    """The words without those of a list at their beginning, and without marks at their ends."""
    leading = re.compile(rf"^(?:{_either(key, language)})(?:\s+|$)", re.I)
    said, before = words.strip(_EDGES), None
    while before != said:
        before, said = said, leading.sub("", said).strip(_EDGES)
    return said


def phrasings(language: str = SHARED) -> Iterator[tuple[Wanted, str]]:
    """Every phrasing of a language's own, for whoever looks at them as such."""
    rows: Mapping[str, Sequence[str]] = own_away_data(language)
    return ((wanted, phrase) for wanted in Wanted for phrase in rows[wanted])


def read_another_helper(text: str, names: ShelfNames, language: str) -> tuple[str, str] | None:
    """ "Anna can't, make it Ben": who was to help, and who is to instead; ``None`` for anything else."""
    if text.rstrip().endswith("?") or len(text) > _LONGEST:
        return None
    words = bare(text, language=language)
    for _, found in fitting(words, language, _another_helper):
        before, now = (helper_meant(found[slot], names, language) for slot in ("old", "new"))
        if before and now:
            return before, now
    return None


@cache
def _another_helper(language: str) -> Phrasings[None]:
    return all_alike(_unfolded(phrase, language) for phrase in own_away_data(language)["another_helper"])
