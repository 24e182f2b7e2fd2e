"""The molt history of a whole shelf as arrays: what the molt model learns from."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from itertools import accumulate, pairwise
from typing import Final

import numpy as np
from numpy.typing import NDArray

from bot.husbandry.growth_rule import log_growth, span_after
from bot.husbandry.journal import MOLT_KINDS, SpecimenRecord, distinct_molts
from bot.husbandry.molts import priors
from bot.husbandry.normal import Floats
from bot.husbandry.species import Pace
from bot.terms import Entry, Kind, Specimen

Ints = NDArray[np.int64]

#: Offers of the current cycle that are looked at, newest first.
OFFERS_LOOKED_AT: Final = 14


@dataclass(frozen=True, slots=True)
class Past:
    """One animal's journal boiled down; days are ordinals of the proleptic Gregorian calendar.

    ``offers`` are days with whether the food was refused; ``temps`` are days with °C; ``signs`` are days
    with a seal, or with premolt noted.
    """

    molts: tuple[int, ...]
    first: int
    offers: tuple[tuple[int, bool], ...]
    temps: tuple[tuple[int, float], ...]
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


def past_of(record: SpecimenRecord) -> Past:
    """One pass over a journal. Warmth noted for a place or the room must be among the entries."""
    molts: list[date] = []
    offers: list[tuple[int, bool]] = []
    temps: list[tuple[int, float]] = []
    signs: list[tuple[int, Kind]] = []
    span: tuple[int, float] | None = None
    for entry in record.entries:
        kind = entry.kind
        if kind is Kind.FED or kind is Kind.REFUSED:
            offers.append((entry.day.toordinal(), kind is Kind.REFUSED))
        elif kind in MOLT_KINDS:
            molts.append(entry.day)
        elif kind is Kind.CLIMATE and entry.temp_c is not None:
            temps.append((entry.day.toordinal(), float(entry.temp_c)))
        elif kind is Kind.MEASURED and entry.span_cm is not None:
            span = (entry.day.toordinal(), float(entry.span_cm))
        elif kind is Kind.SEALED or kind is Kind.PREMOLT:
            signs.append((entry.day.toordinal(), kind))
    first = record.entries[0].day.toordinal() if record.entries else date.max.toordinal()
    if span is None and record.animal.measured_span_cm is not None:
        span = (date.max.toordinal(), record.animal.measured_span_cm)
    days = tuple(day.toordinal() for day in distinct_molts(molts))
    return Past(days, first, tuple(offers), tuple(temps), tuple(signs), *(span or (None, None)))


def felt_by(specimen: Specimen, room: Sequence[Entry]) -> list[Entry]:
    """The climate entries of an animal's place and of the whole room, which belong among its own."""
    return [entry for entry in room if entry.place is None or entry.place == specimen.place]


def history_of(records: Sequence[SpecimenRecord], pasts: Sequence[Past], on: date) -> MoltHistory:
    """The arrays for a shelf on a day; the pasts must not reach beyond it."""
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
    shifts = [_shifts(past, today) for past in pasts]
    names = {name: number for number, name in enumerate(dict.fromkeys(_species(r) for r in records))}
    return MoltHistory(
        who=who,
        log_days=np.log(np.maximum(days, 1.0)),
        expected=expected + np.array([s for own in shifts for s in own[:-1]], dtype=float),
        design=np.stack([np.ones(len(who)), expected - expects[who], grown], axis=1),
        ago=back.astype(float),
        species=np.array([names[_species(record)] for record in records], dtype=np.int64),
        waited=np.array(
            [max(0, today - (past.molts[-1] if past.molts else min(past.first, today))) for past in pasts],
            dtype=float,
        ),
        has_molt=np.array([bool(past.molts) for past in pasts]),
        expects=expects + np.array([own[-1] for own in shifts], dtype=float),
        measured=np.array([past.span_cm is not None for past in pasts]),
    )


def _species(record: SpecimenRecord) -> str:
    return record.specimen.species


def _by_pace(paces: list[Pace], who: Ints, spans: Floats, adults: Floats) -> Floats:
    out = np.empty(len(who))
    kinds = np.array([list(Pace).index(pace) for pace in paces], dtype=np.int64)
    for number, pace in enumerate(Pace):
        mine = kinds[who] == number
        out[mine] = priors.log_interval(pace, spans[mine], adults[who[mine]])
    return out


def _spans_now(records: Sequence[SpecimenRecord], pasts: Sequence[Past]) -> tuple[Floats, Floats]:
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
        now = columns[-1]
        columns.append(np.maximum(now / np.exp(log_growth(now / 1.2, adults)), 0.3))
    return np.stack(columns, axis=1)


def _shifts(past: Past, today: int) -> list[float]:
    """For each interval and the current one, how warmth and food shift its log length."""
    bounds = (*past.molts, today)
    if len(bounds) < 2:
        return [0.0]
    warmth = _warmth(past, bounds)
    return [warm + food for warm, food in zip(warmth, _food(past, bounds), strict=True)]


def _warmth(past: Past, bounds: tuple[int, ...]) -> list[float]:
    if not past.temps:
        return [0.0] * (len(bounds) - 1)
    days = [day for day, _ in past.temps]
    sums = list(accumulate((temp for _, temp in past.temps), initial=0.0))
    usual = sums[-1] / len(days)
    out = []
    for start, end in pairwise(bounds):
        low, high = bisect_left(days, start), bisect_left(days, end)
        noted = high - low
        out.append(priors.temperature_shift((sums[high] - sums[low]) / noted, usual) if noted else 0.0)
    return out


def _food(past: Past, bounds: tuple[int, ...]) -> list[float]:
    """Meals a day in each interval against the animal's usual, where the interval is long enough to tell."""
    days = [day for day, refused in past.offers if not refused]
    whole = bounds[-1] - bounds[0]
    inside = bisect_left(days, bounds[-1]) - bisect_left(days, bounds[0])
    if inside < 6 or whole <= 0 or len(bounds) < 3:
        return [0.0] * (len(bounds) - 1)
    usual = inside / whole
    out = []
    for start, end in pairwise(bounds):
        meals = bisect_left(days, end) - bisect_left(days, start)
        complete = end != bounds[-1] or end - start > 30
        out.append(
            priors.feeding_shift(meals / (end - start), usual) if meals and complete and end > start else 0.0
        )
    return out
