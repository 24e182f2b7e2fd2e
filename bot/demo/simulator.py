"""A made-up journal that could be true: what a careful keeper would have entered over the years.

Pure: residents, a seed and a last day go in, entries come out; the same go in, the same come out.
The keeper feeds by stage and pace, is refused before molts, leaves sealed, freshly molted and newly
moved animals in peace, and never forgets water. Figures are those of ``bot.husbandry.practice``.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import date, time
from decimal import Decimal
from random import Random
from types import MappingProxyType
from typing import Any, Final

from bot.demo.animals import Resident, Scene
from bot.demo.life import Life, life_of
from bot.demo.molts import Cycle
from bot.husbandry import practice
from bot.husbandry.species import Moisture, VenomCaution
from bot.terms import Entry, Habit, Kind, PreySize, SacEvent, Sex, Stage, WaterHow

YEAR_AND_A_HALF: Final = 548
#: On the last days nobody has been fed or watered yet, so that there is something to do today.
_UNFED_DAYS: Final = 2
_UNWATERED_DAYS: Final = 1

_OTHER_PREY: Final[Mapping[str, tuple[str, ...]]] = MappingProxyType(
    {"small": ("fruit fly", "cricket"), "large": ("red runner roach", "dubia roach", "mealworm", "locust")}
)
_NOTES: Final = (
    "out on the cork at dusk",
    "webbed the front of the hide",
    "dug at the water dish",
    "dark patch on the abdomen looks larger",
    "threw the dish over",
)
_HAIR_NOTE: Final = "kicked hairs when the lid came off"
_THREAT_NOTE: Final = "threat pose at the tongs"


def journal_of(
    residents: Sequence[Resident], *, seed: int, end: date, days: int = YEAR_AND_A_HALF
) -> list[Entry]:
    """The entries of a shelf over ``days`` days up to ``end``, in the order of days.

    Each entry has the tag of one resident, or none where it is of the whole shelf. Every resident's
    life hangs on the seed and its own tag alone.
    """
    entries: list[Entry] = []
    last = end.toordinal()
    for resident in residents:
        rng = Random(f"{seed}:{resident.specimen.tag}")
        entries += _entries_of(life_of(resident, rng, start=last - days, end=last), rng)
    entries += _room(residents, Random(f"{seed}:room"), last - days, last)
    entries.sort(key=lambda entry: entry.day)
    return entries


def _entries_of(life: Life, rng: Random) -> Iterator[Entry]:
    for stream in (_arrival, _molts, _meals, _water, _upkeep, _brood):
        for entry in stream(life, rng):
            if life.first <= entry.day.toordinal() <= life.last:
                yield entry


def _entry(life: Life, kind: Kind, day: int, **details: Any) -> Entry:
    return Entry(kind=kind, day=date.fromordinal(day), specimens=(life.resident.specimen.tag,), **details)


def _tenths(value: float) -> Decimal:
    return Decimal(round(value * 10)) / 10


# --- coming, growing, moving ----------------------------------------------------------------


def _arrival(life: Life, rng: Random) -> Iterator[Entry]:
    specimen = life.resident.specimen
    if life.resident.on_shelf_days is not None:
        yield Entry(
            kind=Kind.ACQUIRED,
            day=date.fromordinal(life.first),
            species=specimen.species,
            count=specimen.lot_size,
            span_cm=_tenths(life.cycle_at(life.first).span_cm),
            price=Decimal(rng.randrange(15, 90, 5)),
            currency="EUR",
            source="a breeder at the fair",
        )
    for move in life.moves:
        yield _entry(
            life,
            Kind.REHOUSED,
            move.day,
            volume_l=_tenths(move.volume_l) if move.volume_l >= 1 else Decimal("0.25"),
            substrate_cm=_tenths(move.substrate_cm),
        )


def _molts(life: Life, rng: Random) -> Iterator[Entry]:
    for cycle in life.cycles:
        yield from _molt(life, cycle, rng)
        yield from _towards_next_molt(life, cycle, rng)
    sex = life.resident.specimen.sex
    if sex is not Sex.UNKNOWN and life.cycles[-1].stage is Stage.JUVENILE:
        yield _entry(life, Kind.SEXED, life.cycles[-1].molted + 2, sex=sex.value)


def _molt(life: Life, cycle: Cycle, rng: Random) -> Iterator[Entry]:
    ultimate = cycle.stage is Stage.MATURE_MALE
    yield _entry(life, Kind.MATURED if ultimate else Kind.MOLTED, cycle.molted)
    if cycle is life.cycles[-1] or rng.random() < 0.8:
        yield _entry(life, Kind.MEASURED, cycle.molted + rng.randint(2, 4), span_cm=_tenths(cycle.span_cm))


def _towards_next_molt(life: Life, cycle: Cycle, rng: Random) -> Iterator[Entry]:
    if cycle.premolt_on is None or cycle.ends is None:
        return
    today = life.resident.scene is Scene.PREMOLT and cycle is life.cycles[-1]
    if today or rng.random() < 0.5:
        yield _entry(life, Kind.PREMOLT, cycle.premolt_on + (0 if today else rng.randint(1, 3)))
    if cycle.sealed_on is not None and cycle.sealed_on >= life.first:
        yield _entry(life, Kind.SEALED, cycle.sealed_on)
        for day in range(cycle.sealed_on + 10, cycle.ends - 1, 10):
            yield _entry(life, Kind.CHECKED, day)


# --- food -----------------------------------------------------------------------------------


def _meals(life: Life, rng: Random) -> Iterator[Entry]:
    """Meals by stage and pace; refusals towards a molt, then a pause until it is over."""
    last = life.last - _days_unfed(life)
    day = life.first + rng.randint(0, 4)
    while day <= last:
        peace = life.peace_until(day)
        if peace is not None:
            day = peace + rng.randint(0, 2)
            continue
        cycle = life.cycle_at(day)
        meal = _meal(life, cycle, rng)
        if cycle.in_premolt(day):
            yield _entry(life, Kind.REFUSED, day, **meal)
            day = _after_refusal(life, cycle, day, rng)
            continue
        kinds = _outcome(rng, overnight=life.peace_until(day + 1) is None and not cycle.in_premolt(day + 1))
        for late, kind in enumerate(kinds):
            yield _entry(life, kind, day + late, **meal)
        day += len(kinds) - 1 + _pause(life, cycle, kinds[-1], rng)
    if life.resident.scene is Scene.OPEN_OFFER:
        yield _entry(life, Kind.OFFERED, life.last - 1, **_meal(life, life.cycles[-1], rng))


def _outcome(rng: Random, *, overnight: bool) -> tuple[Kind, ...]:
    """Taken at once, as a rule; refused; or put in and, ``overnight``, found taken the next day."""
    luck = rng.random()
    if luck < 0.05:
        return (Kind.REFUSED,)
    return (Kind.OFFERED, Kind.FED) if overnight and luck < 0.1 else (Kind.FED,)


def _pause(life: Life, cycle: Cycle, kind: Kind, rng: Random) -> int:
    eats = practice.FEEDING_INTERVAL[cycle.stage, life.resident.species.pace]
    figure = practice.RETRY[cycle.stage] if kind is Kind.REFUSED else eats
    return round(rng.triangular(figure.low, figure.high, figure.value))


def _after_refusal(life: Life, cycle: Cycle, day: int, rng: Random) -> int:
    """One more try, or none any more before the molt."""
    wait = round(practice.RETRY[cycle.stage].high)
    if not cycle.in_premolt(day - wait) and rng.random() < 0.6:
        return day + wait
    return cycle.ends or life.last + 1


def _days_unfed(life: Life) -> int:
    """How many days before the last one the meals stop."""
    if life.resident.scene in {Scene.HUNGRY, Scene.OPEN_OFFER}:
        eats = practice.FEEDING_INTERVAL[life.cycles[-1].stage, life.resident.species.pace]
        return eats.days + 1
    return _UNFED_DAYS


def _meal(life: Life, cycle: Cycle, rng: Random) -> dict[str, Any]:
    if cycle.stage is Stage.MATURE_MALE:
        meal = practice.MALE_MEAL
    else:
        meal = practice.for_span(practice.MEALS, cycle.span_cm)
    prey, count = meal.prey, meal.count * life.resident.specimen.lot_size
    if rng.random() < 0.25:
        prey = rng.choice(_OTHER_PREY["small" if cycle.span_cm < 4 else "large"])
    details: dict[str, Any] = {"prey": prey, "count": count}
    if prey == meal.prey:
        details["size"] = meal.size
    if cycle.stage is Stage.SLING and rng.random() < 0.3:
        details["prekilled"] = True
    return details


# --- water and upkeep -----------------------------------------------------------------------


def _water(life: Life, rng: Random) -> Iterator[Entry]:
    """Water whatever else is going on, sealed or not: in the dish, and damp where the species wants it."""
    moisture = life.resident.species.moisture
    day = life.first + rng.randint(0, 3)
    turn = 0
    while day <= life.last - _UNWATERED_DAYS:
        stage = life.cycle_at(day).stage
        how = _water_how(life, stage, turn)
        ml = {} if how is WaterHow.MISTED else {"ml": Decimal(10 if stage is Stage.SLING else 60)}
        yield _entry(life, Kind.WATERED, day, how=how, **(ml if turn % 3 == 0 else {}))
        figure = practice.WATER_INTERVAL[moisture, stage]
        day += round(rng.triangular(figure.low, figure.high, figure.value))
        turn += 1


def _water_how(life: Life, stage: Stage, turn: int) -> WaterHow:
    moisture = life.resident.species.moisture
    if stage is Stage.SLING:
        return WaterHow.MISTED if life.resident.specimen.habit is Habit.ARBOREAL else WaterHow.SUBSTRATE
    damp_every = {Moisture.DRY: 0, Moisture.PART_MOIST: 3, Moisture.MOIST: 2}[moisture]
    return WaterHow.SUBSTRATE if damp_every and turn % damp_every == 1 else WaterHow.DISH


def _upkeep(life: Life, rng: Random) -> Iterator[Entry]:
    """Cleaning, where the animal is not to be left alone, and what was worth a note."""
    notes = list(_NOTES)
    if life.resident.species.urticating:
        notes.append(_HAIR_NOTE)
    if life.resident.species.venom_caution is VenomCaution.HIGH:
        notes.append(_THREAT_NOTE)
    day = life.first + rng.randint(5, 40)
    while day <= life.last - _UNFED_DAYS:
        if life.peace_until(day) is None and not life.cycle_at(day).in_premolt(day):
            yield _entry(life, Kind.CLEANED, day)
            if rng.random() < 0.3:
                yield _entry(life, Kind.NOTE, day, note=rng.choice(notes))
        day += rng.randint(28, 45)


def _brood(life: Life, _rng: Random) -> Iterator[Entry]:
    if life.sac_on is not None and life.paired_on is not None:
        yield _entry(life, Kind.PAIRED, life.paired_on)
        yield _entry(life, Kind.NOTE, life.paired_on, note="a visiting male; insertions seen, male went home")
        yield _entry(life, Kind.SAC, life.sac_on, event=SacEvent.LAID)


# --- the room -------------------------------------------------------------------------------


def _room(residents: Iterable[Resident], rng: Random, start: int, end: int) -> Iterator[Entry]:
    """Temperature and humidity of each place once a week, and what was bought to feed them all."""
    places = dict.fromkeys(resident.specimen.place for resident in residents if resident.specimen.place)
    for number, place in enumerate(places):
        base = 22.5 + 0.6 * (number % 5)
        for day in range(start + number, end + 1, 7):
            yield Entry(
                kind=Kind.CLIMATE,
                day=date.fromordinal(day),
                time=time(8, 15),
                place=place,
                temp_c=_tenths(rng.gauss(base, 0.5)),
                humidity_pct=Decimal(rng.randint(50, 68)),
            )
    for number, day in enumerate(range(start + 2, end + 1, 17)):
        prey, size, count, price = _PURCHASES[number % len(_PURCHASES)]
        yield Entry(
            kind=Kind.STOCKED,
            day=date.fromordinal(day),
            prey=prey,
            size=size,
            count=count,
            price=Decimal(price),
            currency="EUR",
        )


_PURCHASES: Final = (
    ("cricket", PreySize.MEDIUM, 100, "4.50"),
    ("red runner roach", PreySize.SMALL, 60, "6.00"),
    ("cricket", PreySize.SMALL, 100, "4.50"),
    ("dubia roach", PreySize.LARGE, 30, "9.00"),
    ("cricket", PreySize.ADULT, 50, "4.00"),
)
