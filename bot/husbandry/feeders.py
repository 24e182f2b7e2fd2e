"""What the coming days will use of feeders, what is left of those bought, what to buy, what will outgrow.

Pure arithmetic over who eats what how often. What is left is what was counted in the box or bought, less what
was offered since; what was bought or counted long ago is not counted at all.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from math import ceil, floor, sqrt
from typing import Final

from bot.husbandry.practice import COMMON, Figure
from bot.husbandry.prey import prey_of, sizes_of
from bot.terms import Entry, Kind, PreySize

#: How often a meal is taken by an animal of which nothing is known, and how many offers that counts for.
TAKEN: Final = Figure(0.85, 0.7, 0.95, COMMON)
_WORTH_OFFERS: Final = 10.0
#: Of feeders refused, the part that is lost: the others go back or to another animal.
LOST_WHEN_REFUSED: Final = Figure(0.5, 0.2, 0.8, COMMON)
#: What was bought longer ago is not counted as left, in days.
STOCK_KEEPS: Final = Figure(60, 30, 90, COMMON)
#: How far back own offers tell of today's appetite, in days.
_APPETITE_DAYS: Final = 365
_P95: Final = 1.645

Sort = tuple[str, str]


@dataclass(frozen=True, slots=True)
class Eater:
    """One enclosure: what a meal of it takes, in how many days the next one is, and every how many days.

    ``first_in`` is ``None`` while its rest has no known end. ``taken`` is how likely a meal is taken.
    """

    prey: str
    size: PreySize
    count: int
    first_in: int | None
    every: int
    taken: float


@dataclass(frozen=True, slots=True)
class Use:
    """What some days use of one sort: at 5 %, the mean, at 95 %; and what is offered if nobody is full."""

    low: int
    likely: float
    high: int
    offered: int


@dataclass(frozen=True, slots=True)
class Batch:
    """Feeders bought together: how many are left, of what size by now, and in how many days of the next."""

    prey: str
    size: str
    left: int
    grows_in: int | None


def appetite(entries: Iterable[Entry], on: date) -> float:
    """How likely an animal takes a meal: its own offers of the last year, the general figure counted in."""
    taken = offered = 0
    for entry in entries:
        if entry.kind in {Kind.FED, Kind.REFUSED} and 0 <= (on - entry.day).days <= _APPETITE_DAYS:
            offered += 1
            taken += entry.kind is Kind.FED
    return (taken + _WORTH_OFFERS * TAKEN.value) / (offered + _WORTH_OFFERS)


def uses(eaters: Iterable[Eater], days: int) -> dict[Sort, Use]:
    """What so many days, today the first of them, use of each prey and size."""
    mean: dict[Sort, float] = defaultdict(float)
    variance: dict[Sort, float] = defaultdict(float)
    offered: dict[Sort, int] = defaultdict(int)
    for eater in eaters:
        meals = meals_within(eater, days)
        if not meals:
            continue
        sort, lost = (eater.prey, eater.size.value), LOST_WHEN_REFUSED.value
        offered[sort] += meals * eater.count
        mean[sort] += meals * eater.count * (eater.taken + (1.0 - eater.taken) * lost)
        variance[sort] += meals * (eater.count * (1.0 - lost)) ** 2 * eater.taken * (1.0 - eater.taken)
    return {sort: _use(mean[sort], variance[sort], offered[sort]) for sort in offered}


def _use(mean: float, variance: float, offered: int) -> Use:
    wide = _P95 * sqrt(variance)
    return Use(max(0, floor(mean - wide)), mean, min(offered, ceil(mean + wide)), offered)


def meals_within(eater: Eater, days: int) -> int:
    """How many meals fall due within so many days."""
    if eater.first_in is None or eater.first_in >= days:
        return 0
    return 1 + (days - 1 - eater.first_in) // eater.every


# -- what is left -------------------------------------------------------------------------------------


def stock_left(entries: Sequence[Entry], on: date) -> list[Batch]:
    """What is left of the feeders bought, from the journal in its order; those of one size by now together.

    A count of the box stands above what was bought of that kind and size before it.
    Offers come from the oldest batch of their kind and size, else from the oldest of their kind.
    """
    batches: list[_Bought] = []
    for entry in entries:
        if entry.day > on or entry.prey is None:
            continue
        if entry.kind is Kind.COUNTED:
            batches = [batch for batch in batches if not _was_counted(batch, entry)]
        if entry.kind in {Kind.STOCKED, Kind.COUNTED} and (on - entry.day).days <= STOCK_KEEPS.value:
            size = entry.size.value if entry.size else _only_size(entry.prey)
            batches.append(_Bought(entry.prey, size, entry.day, entry.count or 0))
        elif entry.kind in {Kind.FED, Kind.REFUSED}:
            lost = 1.0 if entry.kind is Kind.FED else LOST_WHEN_REFUSED.value
            _take(batches, entry, lost * (entry.count or 1))
    together: dict[tuple[str, str, int | None], float] = defaultdict(float)
    for batch in batches:
        size, grows_in = _grown(batch, on)
        together[batch.prey, size, grows_in] += batch.left
    return [
        Batch(prey, size, floor(left), days) for (prey, size, days), left in together.items() if left >= 1
    ]


@dataclass(slots=True)
class _Bought:
    prey: str
    size: str
    day: date
    left: float


def _was_counted(batch: _Bought, count: Entry) -> bool:
    """Whether a batch is among those counted: of that kind, and by then of the size that was said, if any."""
    of_size = count.size is None or _grown(batch, count.day)[0] in {count.size.value, ""}
    return batch.prey == count.prey and of_size


def _only_size(prey: str) -> str:
    sizes = sizes_of(prey)
    return sizes[0].size.value if len(sizes) == 1 else ""


def _take(batches: Sequence[_Bought], entry: Entry, count: float) -> None:
    own = [batch for batch in batches if batch.prey == entry.prey]
    if entry.size is not None:
        own.sort(key=lambda batch: _grown(batch, entry.day)[0] != entry.size)
    for batch in own:
        taken = min(batch.left, count)
        batch.left -= taken
        count -= taken


def _grown(batch: _Bought, on: date) -> tuple[str, int | None]:
    """The size of a batch by now, and the days until it is of the next."""
    age, prey = (on - batch.day).days, prey_of(batch.prey, batch.size) if batch.size else None
    if prey is None:
        return batch.size, None
    sizes = sizes_of(batch.prey)
    at = sizes.index(prey)
    while sizes[at].days_at_size is not None and at + 1 < len(sizes):
        if age < (sizes[at].days_at_size or 0):
            return sizes[at].size.value, (sizes[at].days_at_size or 0) - age
        age -= sizes[at].days_at_size or 0
        at += 1
    return sizes[at].size.value, None


# -- what to buy, and what will outgrow ---------------------------------------------------------------


def to_buy(wanted: Mapping[Sort, Use], stock: Iterable[Batch]) -> dict[Sort, int]:
    """How many of each sort to buy, so that nine times in ten nobody goes without.

    What was bought with no size said counts for whichever of its kind is wanted.
    """
    left: dict[Sort, int] = defaultdict(int)
    for batch in stock:
        left[batch.prey, batch.size] += batch.left
    buy = {}
    for (prey, size), use in wanted.items():
        missing = max(0, use.high - left[prey, size])
        unsized = min(missing, left[prey, ""])
        left[prey, ""] -= unsized
        buy[prey, size] = missing - unsized
    return buy


def outgrowing(eaters: Sequence[Eater], stock: Iterable[Batch]) -> list[Batch]:
    """What of the stock its eaters will not have used when it is of the next size, which nobody eats."""
    eaten = {(eater.prey, eater.size.value) for eater in eaters}
    spare = []
    for batch in stock:
        if batch.grows_in is None:
            continue
        used = uses((e for e in eaters if (e.prey, e.size) == (batch.prey, batch.size)), batch.grows_in)
        over = batch.left - (used[batch.prey, batch.size].high if used else 0)
        if over > 0 and (batch.prey, _next_size(batch)) not in eaten:
            spare.append(replace(batch, left=over))
    return spare


def _next_size(batch: Batch) -> str:
    sizes = [prey.size.value for prey in sizes_of(batch.prey)]
    return sizes[sizes.index(batch.size) + 1]
