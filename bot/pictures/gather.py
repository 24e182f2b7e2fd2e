"""From the journal to what a chart shows. Pure: entries may come in any order."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from datetime import date, timedelta
from itertools import pairwise
from types import MappingProxyType
from typing import Final

from bot.husbandry.journal import MOLT_KINDS, distinct_molts
from bot.husbandry.species import Species, species_of
from bot.husbandry.state import SpecimenState, advance, journal_order
from bot.husbandry.water_places import are_told_apart
from bot.pictures.data import (
    Acceptance,
    AcceptanceBin,
    Climate,
    Life,
    Meals,
    Moistures,
    MoltIntervals,
    MonthOfMeals,
    NextMolt,
    PlaceClimate,
    Reading,
    ShelfGlance,
    ShelfRow,
    Step,
    Stretch,
    StretchKind,
    Weights,
)
from bot.round.care import watering
from bot.round.intervals import feeding_interval
from bot.round.model import SpecimenFacts
from bot.round.rests import Case
from bot.terms import Entry, Kind, Specimen, Stage, WaterHow

#: Where an animal's state tells since when such a stretch lasts.
_SINCE: Final = MappingProxyType({StretchKind.SEALED: "sealed_since", StretchKind.PREMOLT: "premolt_since"})
#: The entries that can begin or end one.
_TURNS: Final = MOLT_KINDS | {Kind.SEALED, Kind.OPENED, Kind.PREMOLT, Kind.FED, Kind.DIED, Kind.LEFT}
MEAL_KINDS: Final = frozenset({Kind.FED, Kind.REFUSED})
#: Days before a molt that are counted together: common practice, no source.
_BINS: Final = ((0, 7), (8, 14), (15, 28), (29, 42), (43, 60), (61, 90), (91, None))


def of(tag: str, entries: Iterable[Entry]) -> list[Entry]:
    """The entries of one specimen, in the journal's order."""
    return sorted((entry for entry in entries if tag in entry.specimens), key=journal_order)


def life_of(
    specimen: Specimen, entries: Iterable[Entry], on: date, next_molt: NextMolt | None = None
) -> Life:
    """One animal's life up to a day."""
    own = [entry for entry in of(specimen.tag, entries) if entry.day <= on]
    molts = molts_in(own)
    return Life(
        specimen=specimen,
        first=own[0].day if own else on,
        last=on,
        spans=span_steps(own, molts),
        molts=molts,
        taken=_days(own, Kind.FED),
        refused=_days(own, Kind.REFUSED),
        stretches=stretches_in(own),
        next_molt=_foreseeable(specimen, next_molt),
    )


def molts_in(entries: Iterable[Entry]) -> tuple[date, ...]:
    """The days of molts, the ultimate one among them."""
    return distinct_molts(sorted(entry.day for entry in entries if entry.kind in MOLT_KINDS))


def span_steps(entries: Sequence[Entry], molts: Sequence[date]) -> tuple[Step, ...]:
    """Spans as steps: one measured after a molt holds from that molt on, else from its own day."""
    steps: list[Step] = []
    before = date.min
    for entry in entries:
        if entry.span_cm is None or entry.kind not in (Kind.MEASURED, Kind.ACQUIRED):
            continue
        since = max((molt for molt in molts if before < molt <= entry.day), default=entry.day)
        steps.append(Step(since=since, value=float(entry.span_cm)))
        before = entry.day
    return tuple(steps)


def stretches_in(entries: Iterable[Entry]) -> tuple[Stretch, ...]:
    """The sealed and premolt stretches, as the animal's state had them; what lasts still has no end.

    Entries are in journal order. A stretch ends at the latest when the animal died or left.
    """
    state = SpecimenState()
    found: list[Stretch] = []
    for entry in entries:
        if entry.kind not in _TURNS:
            continue
        after = advance(state, entry)
        found += [
            Stretch(kind=kind, since=since, until=entry.day)
            for kind, since in _lasting(state)
            if getattr(after, _SINCE[kind]) != since
        ]
        state = after
    found += [Stretch(kind=kind, since=since, until=state.gone_on) for kind, since in _lasting(state)]
    return tuple(sorted(found, key=lambda stretch: (stretch.since, stretch.kind)))


def _lasting(state: SpecimenState) -> list[tuple[StretchKind, date]]:
    return [(kind, since) for kind, name in _SINCE.items() if (since := getattr(state, name)) is not None]


def _days(entries: Iterable[Entry], kind: Kind) -> tuple[date, ...]:
    return tuple(entry.day for entry in entries if entry.kind is kind)


def glance_of(facts: Sequence[SpecimenFacts], on: date, next_molts: Mapping[str, NextMolt]) -> ShelfGlance:
    """The shelf on a day. ``next_molts`` are by tag; animals without one show only what is on record."""
    return ShelfGlance(on=on, rows=tuple(_row(one, on, next_molts.get(one.specimen.tag)) for one in facts))


def _row(facts: SpecimenFacts, on: date, next_molt: NextMolt | None) -> ShelfRow:
    case = Case(facts, on)
    rest, fed = case.rest, facts.state.last_fed
    return ShelfRow(
        specimen=facts.specimen,
        fed_days=(on - fed).days if fed else None,
        feed_every=feeding_interval(case).days,
        rest=rest.reason if rest else None,
        rest_days=(on - rest.since).days if rest else None,
        last_molt=facts.state.last_molted,
        next_molt=_foreseeable(facts.specimen, next_molt),
    )


def _foreseeable(specimen: Specimen, next_molt: NextMolt | None) -> NextMolt | None:
    """``None`` for a mature male, who does not molt again, and for a lot, where each molts in its turn."""
    return None if specimen.stage is Stage.MATURE_MALE or specimen.lot_size > 1 else next_molt


def meals_of(who: str, entries: Iterable[Entry], first: date, last: date) -> Meals:
    """Meals taken and refused in every month from ``first`` to ``last``; one for each animal offered."""
    counts: Counter[tuple[int, int, Kind]] = Counter()
    for entry in entries:
        if entry.kind in MEAL_KINDS and first <= entry.day <= last:
            counts[entry.day.year, entry.day.month, entry.kind] += max(1, len(entry.specimens))
    numbers = range(first.year * 12 + first.month - 1, last.year * 12 + last.month)
    starts = [date(number // 12, number % 12 + 1, 1) for number in numbers]
    months = [
        MonthOfMeals(
            month=start,
            taken=counts[start.year, start.month, Kind.FED],
            refused=counts[start.year, start.month, Kind.REFUSED],
        )
        for start in starts
    ]
    return Meals(who=who, months=tuple(months))


def intervals_of(species: str, specimens: Iterable[Specimen], entries: Sequence[Entry]) -> MoltIntervals:
    """The days between molts of every animal of a species that has two molts or more; lots are left out."""
    rows = []
    for specimen in specimens:
        if specimen.species != species or specimen.lot_size > 1:
            continue
        molts = molts_in(of(specimen.tag, entries))
        if gaps := tuple((later - earlier).days for earlier, later in pairwise(molts)):
            rows.append((specimen, gaps))
    return MoltIntervals(species=species, animals=tuple(rows))


def acceptance_of(who: str, specimens: Iterable[Specimen], entries: Sequence[Entry]) -> Acceptance:
    """How often food was taken by days to the next molt; meals with no later molt are not counted.

    Lots are left out: who of them molted is not known.
    """
    offers: Counter[int] = Counter()
    taken: Counter[int] = Counter()
    animals = molted = 0
    for specimen in specimens:
        own = of(specimen.tag, entries) if specimen.lot_size == 1 else []
        molts = molts_in(own)
        left = [(entry.kind, ahead) for entry in own if (ahead := _days_ahead(entry, molts)) is not None]
        for kind, ahead in left:
            place = next(i for i, (_, high) in enumerate(_BINS) if high is None or ahead <= high)
            offers[place] += 1
            taken[place] += kind is Kind.FED
        animals += bool(left)
        molted += len(molts) if left else 0
    bins = tuple(
        AcceptanceBin(low=low, high=high, taken=taken[i], offered=offers[i])
        for i, (low, high) in enumerate(_BINS)
    )
    return Acceptance(who=who, animals=animals, molts=molted, bins=bins)


def _days_ahead(entry: Entry, molts: Sequence[date]) -> int | None:
    if entry.kind not in MEAL_KINDS:
        return None
    return next(((molt - entry.day).days for molt in molts if molt >= entry.day), None)


def climate_of(specimens: Iterable[Specimen], entries: Iterable[Entry], first: date, last: date) -> Climate:
    """The readings of each place, with the temperatures that suit every species that stands there."""
    species: dict[str, set[str]] = {}
    homes: dict[str, str] = {}
    habits = {}
    for specimen in specimens:
        homes[specimen.tag] = specimen.place or ""
        habits[specimen.species] = specimen.habit
        species.setdefault(specimen.place or "", set()).add(specimen.species)
    readings: dict[str, list[Reading]] = {}
    for entry in entries:
        if entry.kind is not Kind.CLIMATE or not first <= entry.day <= last:
            continue
        for place in [entry.place] if entry.place else {homes.get(tag, "") for tag in entry.specimens}:
            if place:
                readings.setdefault(place, []).append(_reading(entry))
    places = [
        PlaceClimate(
            place=place,
            readings=tuple(sorted(found, key=lambda reading: reading.on)),
            band=_common_band([species_of(name, habits[name]) for name in sorted(species.get(place, ()))]),
            species=tuple(sorted(species.get(place, ()))),
        )
        for place, found in readings.items()
    ]
    order = list(species)
    places.sort(key=lambda one: order.index(one.place) if one.place in order else len(order))
    return Climate(first=first, last=last, places=tuple(places))


def _reading(entry: Entry) -> Reading:
    return Reading(
        on=entry.day,
        temp_c=None if entry.temp_c is None else float(entry.temp_c),
        humidity_pct=None if entry.humidity_pct is None else float(entry.humidity_pct),
    )


def _common_band(profiles: Sequence[Species]) -> tuple[float, float] | None:
    if not profiles:
        return None
    low = max(profile.temp_min_c for profile in profiles)
    high = min(profile.temp_max_c for profile in profiles)
    return (float(low), float(high)) if low < high else None


def weights_of(specimen: Specimen, entries: Iterable[Entry], on: date) -> Weights:
    """An animal's weights up to a day."""
    own = [entry for entry in of(specimen.tag, entries) if entry.day <= on]
    weights = tuple((entry.day, float(entry.weight_g)) for entry in own if entry.weight_g is not None)
    first = weights[0][0] if weights else on - timedelta(days=1)
    return Weights(
        specimen=specimen,
        first=first,
        last=on,
        weights=weights,
        molts=tuple(molt for molt in molts_in(own) if molt >= first),
    )


def moistures_of(facts: SpecimenFacts, entries: Iterable[Entry], on: date) -> Moistures:
    """An animal's waterings up to a day, and how long one lasts, as the round has it.

    Where refills of the dish are told apart from water on the substrate, only what wets the substrate counts.
    """
    own = [entry for entry in of(facts.specimen.tag, entries) if entry.day <= on]
    apart = are_told_apart(facts.state)
    lasts = watering(Case(facts, on))
    return Moistures(
        specimen=facts.specimen,
        last=on,
        watered=tuple(sorted({entry.day for entry in own if _wets(entry, apart=apart)})),
        early=lasts.early,
        late=lasts.late,
        basis=lasts.basis,
    )


def _wets(entry: Entry, *, apart: bool) -> bool:
    """Whether an entry is of water that the substrate got."""
    return entry.kind is Kind.WATERED and not (apart and entry.how is WaterHow.DISH)
