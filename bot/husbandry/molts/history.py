"""The molt history of a whole shelf as arrays: what the molt model learns from."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from bot.husbandry.growth_rule import span_after, span_before
from bot.husbandry.molts import priors
from bot.husbandry.molts.series import Series
from bot.husbandry.normal import Floats, Ints
from bot.husbandry.outlook_record import OutlookRecord
from bot.husbandry.species import Pace
from bot.terms import Entry, Kind

#: From so many meals on, and so many days, it is told how well an animal was fed.
_MEALS_THAT_TELL, _DAYS_THAT_TELL = 6, 30


@dataclass(frozen=True, slots=True)
class Past:
    """One animal's journal boiled down; days are ordinals of the proleptic Gregorian calendar.

    ``signs`` are days with a seal, or with premolt noted.
    """

    molts: tuple[int, ...]
    first: int
    signs: tuple[tuple[int, Kind], ...]
    span_day: int | None
    span_cm: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class MoltHistory:
    """A shelf's molts. Animals are numbered 0 to n-1, observed intervals 0 to k-1.

    ``who``, ``log_days``, ``expected``, ``design`` and ``ago`` belong to the intervals: the animal, the
    log of its length in days, the log that the priors expect, the columns (1, growth, adult), and how
    many molts before the current interval it began. Growth is how much shorter than the current one the
    priors expect it to be, adult how much less grown the animal was; both are 0 for the current one.
    ``species`` numbers the animals' species. ``waited`` are the days since the last molt, or since the
    journal began where ``has_molt`` is false; ``expects`` is the expected log of the current interval.
    """

    who: Ints
    log_days: Floats
    expected: Floats
    design: Floats
    ago: Floats
    species: Ints
    waited: Floats
    has_molt: NDArray[np.bool_]
    expects: Floats
    measured: NDArray[np.bool_]


def past_of(record: OutlookRecord) -> Past:
    """What one journal tells of molts, signs of them, and size."""
    first = (record.first_day or date.max).toordinal()
    signs = [(day.toordinal(), kind) for day, kind in record.signs]
    spans = [(m.day.toordinal(), float(m.span_cm)) for m in record.measures if m.span_cm is not None]
    if not spans and record.animal.measured_span_cm is not None:
        spans = [(date.max.toordinal(), record.animal.measured_span_cm)]
    days = tuple(day.toordinal() for day in record.molt_days)
    return Past(days, first, tuple(signs), *(spans[-1] if spans else (None, None)))


def felt_at(place: str | None, room: Sequence[Entry]) -> list[Entry]:
    """The climate entries of a place and of the whole room, which belong among those of who is there."""
    return [entry for entry in room if entry.place is None or entry.place == place]


@dataclass(frozen=True, slots=True)
class Noted:
    """What was noted of a shelf between molts: offers, and warmth."""

    offers: Series
    warmth: Series


def history_of(
    records: Sequence[OutlookRecord], pasts: Sequence[Past], noted: Noted, on: date
) -> MoltHistory:
    """The arrays for a shelf on a day; the pasts and what was noted must not reach beyond it."""
    today = on.toordinal()
    who = np.array([i for i, past in enumerate(pasts) for _ in past.molts[1:]], dtype=np.int64)
    days = np.array([b - a for past in pasts for a, b in pairwise(past.molts)], dtype=float)
    back = np.array(
        [len(past.molts) - 1 - j for past in pasts for j in range(len(past.molts) - 1)], dtype=np.int64
    )
    spans, adults = _spans_now(records, pasts)
    table = _spans_back(spans, adults, int(back.max()) if back.size else 0)
    paces = [record.animal.species.pace for record in records]
    then = table[who, back] if who.size else np.empty(0)
    expected = _by_pace(paces, who, then, adults)
    expects = _by_pace(paces, np.arange(len(records)), spans, adults)
    grown = priors.adult_share(then, adults[who]) - priors.adult_share(spans, adults)[who]
    shifts, is_current = _shifts(pasts, noted, today)
    names = {name: number for number, name in enumerate(dict.fromkeys(_species(r) for r in records))}
    return MoltHistory(
        who=who,
        log_days=np.log(np.maximum(days, 1.0)),
        expected=expected + shifts[~is_current],
        design=np.stack([np.ones(len(who)), expected - expects[who], grown], axis=1),
        ago=back.astype(float),
        species=np.array([names[_species(record)] for record in records], dtype=np.int64),
        waited=np.array(
            [max(0, today - (past.molts[-1] if past.molts else min(past.first, today))) for past in pasts],
            dtype=float,
        ),
        has_molt=np.array([bool(past.molts) for past in pasts]),
        expects=expects + shifts[is_current],
        measured=np.array([past.span_cm is not None for past in pasts]),
    )


def _species(record: OutlookRecord) -> str:
    return record.specimen.species


def _by_pace(paces: list[Pace], who: Ints, spans: Floats, adults: Floats) -> Floats:
    out = np.empty(len(who))
    kinds = np.array([list(Pace).index(pace) for pace in paces], dtype=np.int64)
    for number, pace in enumerate(Pace):
        mine = kinds[who] == number
        out[mine] = priors.log_interval(pace, spans[mine], adults[who[mine]])
    return out


def _spans_now(records: Sequence[OutlookRecord], pasts: Sequence[Past]) -> tuple[Floats, Floats]:
    """Spans today: as measured, grown by the molts since; and the adult spans of species and sex."""
    adults = np.array([record.animal.adult_span_cm for record in records], dtype=float)
    spans = np.array(
        [past.span_cm or record.animal.span_cm for record, past in zip(records, pasts, strict=True)],
        dtype=float,
    )
    since = np.array(
        [
            0 if past.span_day is None else len(past.molts) - bisect_right(past.molts, past.span_day)
            for past in pasts
        ],
        dtype=np.int64,
    )
    for step in range(1, int(since.max()) + 1 if since.size else 0):
        grows = since >= step
        spans[grows] = span_after(spans[grows], adults[grows], 1)
    return spans, adults


def _spans_back(spans: Floats, adults: Floats, molts: int) -> Floats:
    """Spans in a table: one row for an animal, column j the span j molts ago."""
    columns = [spans]
    for _ in range(molts):
        columns.append(np.maximum(span_before(columns[-1], adults, 1), 0.3))
    return np.stack(columns, axis=1)


@dataclass(frozen=True, slots=True)
class _Intervals:
    """All intervals and each animal's current one, in order: the animal, and the days around it."""

    who: Ints
    start: Ints
    end: Ints
    is_current: NDArray[np.bool_]

    @classmethod
    def of(cls, pasts: Sequence[Past], today: int) -> _Intervals:
        """The intervals of animals on a day; of one with no molt an empty one."""
        bounds = [(*past.molts, today) if past.molts else (today, today) for past in pasts]
        who = np.repeat(np.arange(len(pasts)), [len(own) - 1 for own in bounds])
        start = np.array([day for own in bounds for day in own[:-1]], dtype=np.int64)
        end = np.array([day for own in bounds for day in own[1:]], dtype=np.int64)
        return cls(who, start, end, np.append(who[1:] != who[:-1], True))


def _shifts(pasts: Sequence[Past], noted: Noted, today: int) -> tuple[Floats, NDArray[np.bool_]]:
    """How warmth and food shift the log length of each interval; and which of them are the current ones."""
    intervals = _Intervals.of(pasts, today)
    return _by_warmth(intervals, noted.warmth) + _by_food(intervals, noted.offers), intervals.is_current


def _by_warmth(intervals: _Intervals, warmth: Series) -> Floats:
    low, high = warmth.at(intervals.who, intervals.start), warmth.at(intervals.who, intervals.end)
    many, sums = np.maximum(high - low, 1), warmth.sums()
    animals = int(intervals.who[-1]) + 1
    of_each = np.maximum(np.bincount(warmth.who, minlength=animals), 1)
    usual = np.bincount(warmth.who, weights=warmth.value, minlength=animals) / of_each
    shift = priors.temperature_shift((sums[high] - sums[low]) / many, usual[intervals.who])
    return np.where(high > low, shift, 0.0)


def _by_food(intervals: _Intervals, offers: Series) -> Floats:
    """Meals a day in each interval against the animal's usual, where the interval is long enough to tell."""
    taken = np.arange(len(offers.day) + 1) - offers.sums()
    meals = taken[offers.at(intervals.who, intervals.end)] - taken[offers.at(intervals.who, intervals.start)]
    length = intervals.end - intervals.start
    all_meals, all_days = np.bincount(intervals.who, meals), np.bincount(intervals.who, length)
    tells = (all_meals >= _MEALS_THAT_TELL) & (all_days > 0) & (np.bincount(intervals.who) > 1)
    usual = np.where(tells, all_meals / np.maximum(all_days, 1), 1.0)[intervals.who]
    complete = (length > 0) & (~intervals.is_current | (length > _DAYS_THAT_TELL))
    times = meals / np.maximum(length, 1) / usual
    return priors.feeding_shift(np.where(tells[intervals.who] & complete, times, 0.0))
