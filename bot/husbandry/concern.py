"""What an experienced keeper would look at twice, calmly: water before food, and never a burrow dug up.

Each concern rests on the record alone. It is no diagnosis; where one is ``serious``, the signs that call
for a vet who sees invertebrates are told with it.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta
from types import MappingProxyType
from typing import Any, Final

from bot.husbandry import practice
from bot.husbandry.ailment_record import ailing_noted
from bot.husbandry.condition import Condition, condition_of
from bot.husbandry.journal import SpecimenRecord
from bot.husbandry.practice import COMMON, Figure
from bot.husbandry.species import Pace
from bot.terms import Entry, Kind, Stage

#: Without water on record for so many times the usual interval, and at least so many days.
WATERLESS: Final = Figure(2.5, 2, 4, COMMON)
WATERLESS_DAYS: Final = Figure(14, 10, 21, COMMON)
#: Room temperatures in °C beyond which something is to be done at once: well inside the lethal limits, 3.1 to
#: 4.4 and 39.8 to 44.3 °C for an Aphonopelma (Punzo 1991, Bull. Br. arachnol. Soc. 8(9):277-283).
TOO_COLD_C: Final = Figure(10, 8, 15, "well inside Punzo 1991's limits")
TOO_HOT_C: Final = Figure(35, 32, 37, "well inside Punzo 1991's limits")
#: Beyond the species' band by so many °C is worth a word.
OFF_BAND_C: Final = Figure(3, 2, 5, COMMON)
#: A reading older than this says nothing of today.
READING_DAYS: Final = 14
#: The part of its weight that an animal loses between two weighings with no molt between. An Aphonopelma
#: lost a fifth in a week of desiccation (Stewart & Martin 1970, abstract).
WEIGHT_LOSS: Final = Figure(0.15, 0.1, 0.2, "Stewart & Martin 1970, abstract: 20 % in a week without water")
#: Sealed for so many times what is looked at from outside as long.
LONG_SEALS: Final = Figure(2, 1.5, 3, COMMON)
#: Days without a meal, not sealed, in premolt or fresh. By measured metabolism an adult female's fat would
#: last some 600 days (Shillington 2005 and Stewart & Martin 1970, calculated), so this is far from harm.
FAST: Final[Mapping[Stage, Figure]] = MappingProxyType(
    {
        Stage.SLING: Figure(35, 21, 60, COMMON),
        Stage.JUVENILE: Figure(75, 45, 120, COMMON),
        Stage.ADULT: Figure(180, 120, 365, COMMON),
        Stage.MATURE_MALE: Figure(60, 30, 120, COMMON),
    }
)
SLOW_KINDS: Final = Figure(1.5, 1.2, 2, f"slow species fast longer: {COMMON}")
#: A note that it is not well is told again for so many days.
AILING_DAYS: Final = 14
#: Days with no entry at all.
SILENCE: Final = Figure(30, 21, 45, COMMON)


@dataclass(frozen=True, slots=True, kw_only=True)
class Concern:
    """One thing to look at. ``key`` names its sentence, whose blanks are ``facts``."""

    tag: str
    key: str
    serious: bool = False
    facts: Mapping[str, Any] = field(default_factory=dict)


def concerns(records: Sequence[SpecimenRecord], on: date) -> list[Concern]:
    """What to look at: in the order of the records, of each the weightier first, of those gone nothing."""
    return [
        concern
        for record in records
        if record.state.gone_on is None or record.state.gone_on > on
        for check in _CHECKS
        if (concern := check(record, on)) is not None
    ]


def _missing(record: SpecimenRecord, on: date) -> Concern | None:
    since = record.state.missing_since
    if since is None:
        return None
    return Concern(tag=record.specimen.tag, key="missing", facts={"since": since})


def _ailing(record: SpecimenRecord, on: date) -> Concern | None:
    """The keeper's own word that it is not well, until a later note says otherwise or it takes a meal."""
    last = _latest(record, on, lambda entry: entry.kind in {Kind.NOTE, Kind.FED})
    if last is None or not ailing_noted(last.note) or (on - last.day).days > AILING_DAYS:
        return None
    facts = {"note": last.note, "since": last.day}
    return Concern(tag=record.specimen.tag, key="ailing", serious=True, facts=facts)


def _water(record: SpecimenRecord, on: date) -> Concern | None:
    last = record.state.last_watered
    if last is None:
        return None  # the round asks for it as never noted
    animal = record.animal
    usual = practice.WATER_INTERVAL[animal.species.moisture, animal.stage]
    days = (on - last).days
    if days < max(WATERLESS_DAYS.value, WATERLESS.value * usual.value):
        return None
    return Concern(tag=record.specimen.tag, key="no_water", serious=True, facts={"days": days, "since": last})


def _warmth(record: SpecimenRecord, on: date) -> Concern | None:
    reading = _latest(record, on, lambda entry: entry.kind is Kind.CLIMATE and entry.temp_c is not None)
    if reading is None or reading.temp_c is None or (on - reading.day).days > READING_DAYS:
        return None
    celsius, species = float(reading.temp_c), record.animal.species
    facts = {"temp_c": reading.temp_c, "on": reading.day}
    if not TOO_COLD_C.value <= celsius <= TOO_HOT_C.value:
        key = "too_cold" if celsius < TOO_COLD_C.value else "too_hot"
        return Concern(tag=record.specimen.tag, key=key, serious=True, facts=facts)
    if celsius < species.temp_min_c - OFF_BAND_C.value:
        return Concern(tag=record.specimen.tag, key="cool", facts=facts)
    if celsius > species.temp_max_c + OFF_BAND_C.value:
        return Concern(tag=record.specimen.tag, key="warm", facts=facts)
    return None


def _weight(record: SpecimenRecord, on: date) -> Concern | None:
    since = max((day for day in record.molt_days if day <= on), default=date.min)
    weighed = [e for e in record.entries if e.weight_g is not None and since < e.day <= on]
    if len(weighed) < len(("before", "now")):
        return None
    before, now = weighed[-2], weighed[-1]
    if before.weight_g is None or now.weight_g is None or not before.weight_g:
        return None
    lost = 1 - float(now.weight_g / before.weight_g)
    if lost < WEIGHT_LOSS.value:
        return None
    facts = {"part": lost, "since": before.day, "weight_g": now.weight_g}
    return Concern(tag=record.specimen.tag, key="weight_falls", serious=True, facts=facts)


def _abdomen(record: SpecimenRecord, on: date) -> Concern | None:
    found = condition_of(record.animal, on)
    if found is None or found.condition is Condition.PLUMP:
        return None
    thin = found.condition is Condition.THIN
    return Concern(
        tag=record.specimen.tag, key=found.condition.value, serious=thin, facts={"since": found.on}
    )


def _seal(record: SpecimenRecord, on: date) -> Concern | None:
    since = record.state.sealed_since
    if since is None:
        return None
    days = (on - since).days
    if days < LONG_SEALS.value * practice.LONG_REST[record.animal.stage].value:
        return None
    return Concern(tag=record.specimen.tag, key="long_seal", facts={"days": days, "since": since})


def _fast(record: SpecimenRecord, on: date) -> Concern | None:
    state, animal = record.state, record.animal
    rests = state.sealed_since or state.premolt_since or not state.eaten_since_molt
    if state.last_fed is None or rests:
        return None
    limit = FAST[animal.stage].value * (SLOW_KINDS.value if animal.species.pace is Pace.SLOW else 1)
    days = (on - state.last_fed).days
    if days < limit:
        return None
    return Concern(tag=record.specimen.tag, key="long_fast", facts={"days": days, "since": state.last_fed})


def _silence(record: SpecimenRecord, on: date) -> Concern | None:
    own = _latest(record, on, lambda entry: entry.kind is not Kind.CLIMATE)
    if own is None or on - own.day < timedelta(days=SILENCE.days):
        return None
    facts = {"days": (on - own.day).days, "since": own.day}
    return Concern(tag=record.specimen.tag, key="no_entry", facts=facts)


def _latest(record: SpecimenRecord, on: date, wanted: Callable[[Entry], bool]) -> Entry | None:
    return next((entry for entry in reversed(record.entries) if entry.day <= on and wanted(entry)), None)


#: What the keeper saw, then water before food.
_CHECKS: Final[tuple[Callable[[SpecimenRecord, date], Concern | None], ...]] = (
    _missing,
    _ailing,
    _water,
    _warmth,
    _weight,
    _abdomen,
    _seal,
    _fast,
    _silence,
)
