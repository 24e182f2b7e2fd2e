"""What is to come for each animal: its next molt, the span after it, and whether its home will do.

Every figure is a range. Where the animal's own record is short, the range is wide and says so by its
basis; mature males get no next molt.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Final

from bot.husbandry.animal import GENERAL_RULE, OWN_RECORD, SPECIES_FILE
from bot.husbandry.enclosure import outgrown_at_cm
from bot.husbandry.growth import Growth, growths, spans_after
from bot.husbandry.molts import Outlook, outlooks
from bot.husbandry.outlook_record import OutlookRecord
from bot.terms import Stage

#: Names of the five quantiles of the next molt, in the order of ``molts.PROBABILITIES``.
QUANTILES: Final = ("p05", "p25", "p50", "p75", "p95")
#: Own intervals from which on a forecast rests on the animal's own record.
_OWN_MOLTS: Final = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class Forecast:
    """One animal's outlook on a day.

    ``next_molt`` are days at :data:`QUANTILES`, ``None`` for a mature male; ``span_cm_after`` are cm at
    5, 50 and 95 % after that molt, ``None`` where no span is known. ``rehouse_by`` is the day by which
    it should have a larger home, ``None`` where that lies beyond the next molt or the home is not known.
    """

    tag: str
    last_molt: date | None
    molts: int
    days_apart: tuple[int, int] | None
    waited: int | None
    next_molt: tuple[date, ...] | None
    premolt_probability: float
    basis: str
    span_cm_after: tuple[float, float, float] | None
    rehouse_by: date | None


def forecasts(records: Sequence[OutlookRecord], on: date) -> list[Forecast]:
    """The forecast of every record on a day. Give the whole shelf: each animal learns from all others."""
    so_far = [record.until(on) for record in records]
    if not so_far:
        return []
    sizes = growths(so_far)
    told = zip(so_far, outlooks(so_far, on), sizes, spans_after(sizes, 1), strict=True)
    return [_forecast(record, outlook, growth, span, on) for record, outlook, growth, span in told]


def _forecast(
    record: OutlookRecord,
    outlook: Outlook,
    growth: Growth,
    span_after: tuple[float, float, float],
    on: date,
) -> Forecast:
    animal, days = record.animal, record.molt_days
    done = animal.stage is Stage.MATURE_MALE
    after = None if done or not growth.measures else span_after
    to_come = None if done else tuple(on + timedelta(days=round(ahead)) for ahead in outlook.days)
    apart = outlook.shortest, outlook.longest
    return Forecast(
        tag=record.specimen.tag,
        last_molt=days[-1] if days else None,
        molts=len(days),
        days_apart=(apart[0], apart[1]) if apart[0] is not None and apart[1] is not None else None,
        waited=(on - days[-1]).days if days else None,
        next_molt=to_come,
        premolt_probability=0.0 if done else outlook.premolt,
        basis=_basis(record),
        span_cm_after=after,
        rehouse_by=_rehouse_by(record, after, to_come, on),
    )


def _basis(record: OutlookRecord) -> str:
    if len(record.molt_days) >= _OWN_MOLTS:
        return OWN_RECORD
    return SPECIES_FILE if record.animal.species.known else GENERAL_RULE


def _rehouse_by(
    record: OutlookRecord,
    after: tuple[float, float, float] | None,
    to_come: tuple[date, ...] | None,
    on: date,
) -> date | None:
    """Before the molt that would outgrow the home; an early one, so that there is time."""
    volume, span = record.state.volume_l, record.animal.measured_span_cm
    if volume is None or span is None:
        return None
    at = outgrown_at_cm(record.animal.species.habit, float(volume))
    if span > at:
        return on
    outgrows = after is not None and after[1] > at
    return to_come[1] if outgrows and to_come is not None else None
