"""The figures of a species, each from a small reckoner of its own."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from itertools import pairwise
from statistics import fmean
from typing import Final

from bot.husbandry.evidence.estimates import (
    Estimate,
    Waited,
    geometric_mean_over,
    median_time,
    seen,
    share,
)
from bot.husbandry.evidence.sizes import CLASSES, growth_factors, molts_before, size_class, span_with
from bot.husbandry.journal import SpecimenRecord
from bot.husbandry.seals import OPENS
from bot.husbandry.species import species_named
from bot.terms import Entry, Kind, Sex

#: From fewer animals than these nothing is claimed of the species (common practice, no source).
ENOUGH: Final = 3
#: Days before a molt that are counted together, from the molt backwards (common practice, no source).
BEFORE_MOLT: Final = ((0, 7), (8, 14), (15, 28), (29, 60), (61, None))
_OFFERS: Final = frozenset({Kind.FED, Kind.REFUSED})

CONFIDENCE, SEEN = "95 % confidence", "5 to 95 % of what was seen"


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """One figure. ``figure`` is its name, ``group`` the class it is given for, "" for all.

    ``value``, ``low`` and ``high`` are in ``unit``; ``None`` where the records do not say. ``interval``
    tells what low and high mean. ``n_entries`` are the observations that it rests on, of which
    ``n_running`` were still running and count as such.
    """

    figure: str
    unit: str
    value: float | None
    low: float | None
    high: float | None
    interval: str
    n_specimens: int
    n_entries: int
    group: str = ""
    n_running: int = 0

    @property
    def name(self) -> str:
        """The figure with its group: "molt_interval: 2 to 5 cm"."""
        return f"{self.figure}: {self.group}" if self.group else self.figure

    @property
    def enough(self) -> bool:
        """Whether there are animals enough to claim anything of the species."""
        return self.n_specimens >= ENOUGH


def findings(records: Sequence[SpecimenRecord], on: date) -> list[Finding]:
    """All figures that the records of one species hold, up to a day; those gone count as the living do."""
    known = [record.until(on) for record in records]
    return [finding for reckon in _RECKONERS for finding in reckon(known, on)]


def by_species(records: Sequence[SpecimenRecord], words: str) -> dict[str, list[SpecimenRecord]]:
    """The records of the species that words may name, by scientific name; none, one, or several."""
    wanted, said = {one.scientific_name for one in species_named(words)}, words.casefold()
    found: dict[str, list[SpecimenRecord]] = {}
    for record in records:
        name = record.animal.species.scientific_name
        folded = name.casefold()
        if name in wanted or said in {folded, folded.split()[-1], record.specimen.species.casefold()}:
            found.setdefault(name, []).append(record)
    return found


# -- gathering ------------------------------------------------------------------------------------

#: Observations of one figure: by group, then by the animal's tag.
_Gathered = Mapping[str, Mapping[str, list[float]]]


def _by_group(seen_: Iterable[tuple[str, str, float]]) -> _Gathered:
    """Observations (group, tag, value) sorted out."""
    out: dict[str, dict[str, list[float]]] = defaultdict(lambda: defaultdict(list))
    for group, tag, value in seen_:
        out[group][tag].append(value)
    return out


def _of(
    figure: str,
    unit: str,
    estimate: Estimate,
    interval: str,
    *,
    animals: int,
    entries: int,
    group: str = "",
    running: int = 0,
) -> Finding:
    return Finding(
        figure=figure,
        unit=unit,
        group=group,
        value=estimate.value,
        low=estimate.low,
        high=estimate.high,
        interval=interval,
        n_specimens=animals,
        n_entries=entries,
        n_running=running,
    )


def _ranges(figure: str, unit: str, gathered: _Gathered, order: Sequence[str] = ("",)) -> Iterator[Finding]:
    for group in sorted(gathered, key=lambda g: order.index(g) if g in order else len(order)):
        values = [value for own in gathered[group].values() for value in own]
        animals = len(gathered[group])
        yield _of(figure, unit, seen(values), SEEN, group=group, animals=animals, entries=len(values))


@dataclass(frozen=True, slots=True)
class _Stretch:
    tag: str
    group: str
    waited: Waited


def _times(figure: str, stretches: Sequence[_Stretch], order: Sequence[str] = ("",)) -> Iterator[Finding]:
    for group in order:
        own = [stretch for stretch in stretches if stretch.group == group]
        if any(stretch.waited.ended for stretch in own):
            yield _of(
                figure,
                "days",
                median_time([stretch.waited for stretch in own]),
                CONFIDENCE,
                group=group,
                animals=len({stretch.tag for stretch in own}),
                entries=len(own),
                running=sum(not stretch.waited.ended for stretch in own),
            )


def _single(records: Sequence[SpecimenRecord]) -> Iterator[SpecimenRecord]:
    """Animals kept alone: of a lot nobody knows which one molted or ate."""
    return (record for record in records if record.came == 1)


# -- the figures ----------------------------------------------------------------------------------


def _molt_intervals(records: Sequence[SpecimenRecord], on: date) -> Iterator[Finding]:
    """From molt to molt, by the span that the animal had in between; a running interval is censored."""
    stretches: list[_Stretch] = []
    for record in _single(records):
        days = record.molt_days
        for number, (start, end) in enumerate(pairwise(days), start=1):
            size = size_class(span_with(record, number))
            stretches.append(_Stretch(record.specimen.tag, size, Waited((end - start).days, ended=True)))
        done = record.state.gone_on or (days[-1] if days and _matured(record) else on)
        if days and done > days[-1]:
            size = size_class(span_with(record, len(days)))
            stretches.append(_Stretch(record.specimen.tag, size, Waited((done - days[-1]).days, ended=False)))
    return _times("molt_interval", stretches, CLASSES)


def _matured(record: SpecimenRecord) -> bool:
    """Whether its last molt was the ultimate one of a male, after which no interval runs."""
    return any(entry.kind is Kind.MATURED for entry in record.entries) and record.animal.sex is not Sex.FEMALE


def _growth(records: Sequence[SpecimenRecord], _on: date) -> Iterator[Finding]:
    """The mean factor of each animal, then the mean over animals: one with many molts counts once."""
    own = [factors for record in _single(records) if (factors := growth_factors(record))]
    if own:
        estimate = geometric_mean_over([geometric_mean_over(factors).value or 1.0 for factors in own])
        molts = sum(map(len, own))
        yield _of("growth_per_molt", "×", estimate, CONFIDENCE, animals=len(own), entries=molts)


def _acceptance(records: Sequence[SpecimenRecord], _on: date) -> Iterator[Finding]:
    """The share of offers with a known outcome that were taken, by prey and by days to the next molt."""
    by_prey = _by_group(
        (entry.prey or "prey not told", record.specimen.tag, float(entry.kind is Kind.FED))
        for record in records
        for entry in record.entries
        if entry.kind in _OFFERS
    )
    by_days = _by_group(
        (group, record.specimen.tag, float(entry.kind is Kind.FED))
        for record in _single(records)
        for entry in record.entries
        if entry.kind in _OFFERS and (group := _days_to_molt(record, entry.day))
    )
    yield from _shares("acceptance_by_prey", by_prey, sorted(by_prey))
    yield from _shares("acceptance_by_days_to_molt", by_days, [_label(*bounds) for bounds in BEFORE_MOLT])


def _shares(figure: str, gathered: _Gathered, order: Sequence[str]) -> Iterator[Finding]:
    for group in order:
        if group in gathered:
            values = [value for own in gathered[group].values() for value in own]
            estimate = share(round(sum(values)), len(values))
            animals = len(gathered[group])
            yield _of(
                figure, "share", estimate, CONFIDENCE, group=group, animals=animals, entries=len(values)
            )


def _days_to_molt(record: SpecimenRecord, day: date) -> str:
    ahead = next(((molt - day).days for molt in record.molt_days if molt >= day), None)
    if ahead is None:
        return ""
    return next(_label(low, high) for low, high in BEFORE_MOLT if high is None or ahead <= high)


def _label(low: int, high: int | None) -> str:
    return f"over {low - 1} days before" if high is None else f"{low} to {high} days before"


def _sealed(records: Sequence[SpecimenRecord], on: date) -> Iterator[Finding]:
    """How long a burrow stays sealed; it is open again when it was seen so, or when a meal was taken."""
    return _times("days_sealed", list(_from_to(records, on, Kind.SEALED, OPENS)))


def _first_meals(records: Sequence[SpecimenRecord], on: date) -> Iterator[Finding]:
    """From a molt to the first meal taken; a molt after which none was, up to the next, is censored."""
    ends = frozenset({Kind.FED})
    return _times("days_to_first_meal", list(_from_to(records, on, Kind.MOLTED, ends)))


def _from_to(
    records: Sequence[SpecimenRecord], on: date, begins: Kind, ends: frozenset[Kind]
) -> Iterator[_Stretch]:
    for record in _single(records):
        start: date | None = None
        for entry in record.entries:
            if start is not None and entry.kind in ends and entry.day >= start:
                yield _Stretch(record.specimen.tag, "", Waited((entry.day - start).days, ended=True))
                start = None
            elif entry.kind is begins:
                if start is not None and begins in {Kind.MOLTED}:
                    yield _Stretch(record.specimen.tag, "", Waited((entry.day - start).days, ended=False))
                    start = None
                start = start or entry.day
        last = record.state.gone_on or on
        if start is not None and last > start:
            yield _Stretch(record.specimen.tag, "", Waited((last - start).days, ended=False))


def _climate(records: Sequence[SpecimenRecord], _on: date) -> Iterator[Finding]:
    """Readings of the animals' places and of the room while they were kept; a shared one counts once."""
    for figure, unit, field in (("temperature", "°C", "temp_c"), ("humidity", "% RH", "humidity_pct")):
        felt = {
            record.specimen.tag: {
                entry
                for entry in record.entries
                if entry.kind is Kind.CLIMATE
                and getattr(entry, field) is not None
                and record.kept_on(entry.day)
            }
            for record in records
        }
        readings = set().union(*felt.values())
        if readings:
            near = sum(map(bool, felt.values()))
            values = sorted(float(getattr(entry, field)) for entry in readings)
            yield _of(figure, unit, seen(values), SEEN, animals=near, entries=len(values))


def _homes(records: Sequence[SpecimenRecord], _on: date) -> Iterator[Finding]:
    yield from _ranges("home_volume", "l", _values(records, Kind.REHOUSED, "volume_l", _size_then), CLASSES)
    yield from _ranges("substrate_depth", "cm", _values(records, Kind.REHOUSED, "substrate_cm"))


def _size_then(record: SpecimenRecord, entry: Entry) -> str:
    return size_class(span_with(record, molts_before(record, entry.day)))


def _values(
    records: Sequence[SpecimenRecord],
    kind: Kind,
    field: str,
    group: Callable[[SpecimenRecord, Entry], str] = lambda _record, _entry: "",
) -> _Gathered:
    return _by_group(
        (group(record, entry), record.specimen.tag, float(value))
        for record in records
        for entry in record.entries
        if entry.kind is kind and (value := getattr(entry, field)) is not None
    )


def _maturity(records: Sequence[SpecimenRecord], _on: date) -> Iterator[Finding]:
    """The span after the ultimate molt, by sex."""
    gathered = _by_group(
        (record.animal.sex.value, record.specimen.tag, span_with(record, molts_before(record, entry.day)))
        for record in _single(records)
        for entry in record.entries
        if entry.kind is Kind.MATURED
    )
    return _ranges("span_at_maturity", "cm", gathered, [sex.value for sex in Sex])


def _losses(records: Sequence[SpecimenRecord], _on: date) -> Iterator[Finding]:
    """The share of the animals that died, each of a lot counted; nothing is said of why."""
    kept = [record for record in records if record.entries]
    if kept:
        animals, died = sum(record.came for record in kept), sum(record.died for record in kept)
        entries = sum(len(record.entries) for record in kept)
        yield _of("died", "share", share(died, animals), CONFIDENCE, animals=animals, entries=entries)


def _rhythms(records: Sequence[SpecimenRecord], _on: date) -> Iterator[Finding]:
    """Days between meals taken, and between waterings."""
    yield from _rhythm("days_between_meals", _single(records), Kind.FED)
    yield from _rhythm("days_between_waterings", records, Kind.WATERED)


def _rhythm(figure: str, records: Iterable[SpecimenRecord], kind: Kind) -> Iterator[Finding]:
    """The days between entries of a kind: the mean of each animal, then what was seen over animals."""
    means: list[float] = []
    entries = 0
    for record in records:
        days = sorted({entry.day for entry in record.entries if entry.kind is kind})
        if gaps := [(b - a).days for a, b in pairwise(days)]:
            means.append(fmean(gaps))
            entries += len(gaps)
    if means:
        yield _of(figure, "days", seen(means), SEEN, animals=len(means), entries=entries)


_RECKONERS: Final[tuple[Callable[[Sequence[SpecimenRecord], date], Iterator[Finding]], ...]] = (
    _molt_intervals,
    _growth,
    _rhythms,
    _acceptance,
    _sealed,
    _first_meals,
    _climate,
    _homes,
    _maturity,
    _losses,
)
