"""A specimen's state as the store keeps it, and the identity that it was added with."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import fields
from datetime import date
from decimal import Decimal
from types import MappingProxyType
from typing import Any, Final, get_type_hints

from bot.husbandry import start
from bot.husbandry.state import SpecimenState, state_with
from bot.terms import Specimen
from storage.rows import HABITS, SEXES, STAGES

_DEFAULTS: Final[tuple[tuple[str, Any], ...]] = tuple((f.name, f.default) for f in fields(SpecimenState))


def _reader(hint: Any) -> Callable[[Any], Any] | None:
    """What makes a field's value of what JSON has kept; ``None`` where that is the value itself."""
    named = str(hint)
    for kind, read in _READ_AS.items():
        if kind in named:
            return read
    return None


_READ_AS: Final[Mapping[str, Callable[[Any], Any]]] = MappingProxyType(
    {
        "date": date.fromisoformat,
        "Decimal": Decimal,
        "Sex": SEXES.__getitem__,
        "Stage": STAGES.__getitem__,
    }
)
_READERS: Final[Mapping[str, Callable[[Any], Any] | None]] = {
    name: _reader(hint) for name, hint in get_type_hints(SpecimenState).items()
}


def facts_of(state: SpecimenState) -> dict[str, Any]:
    """The state's fields that are not at their default, as JSON keeps them; decimals as text."""
    facts: dict[str, Any] = {}
    for name, default in _DEFAULTS:
        value = getattr(state, name)
        if value != default:
            facts[name] = value if isinstance(value, int) or value is None else str(value)
    return facts


def state_from(facts: Mapping[str, Any]) -> SpecimenState:
    """The state that :func:`facts_of` wrote. A field that this version does not have is left out."""
    try:
        return state_with(_values_of(facts))
    except KeyError:
        return state_with(_values_of({name: facts[name] for name in facts.keys() & _READERS.keys()}))


def _values_of(facts: Mapping[str, Any]) -> dict[str, Any]:
    return {
        name: value if (read := _READERS[name]) is None or value is None else read(value)
        for name, value in facts.items()
    }


def identity_of(specimen: Specimen) -> dict[str, Any]:
    """What a specimen was added as, as JSON keeps it; its place is kept by the place's number."""
    return {
        "tag": specimen.tag,
        "name": specimen.name,
        "species": specimen.species,
        "common": list(specimen.common),
        "aka": list(specimen.aka),
        "sex": specimen.sex.value,
        "stage": specimen.stage.value,
        "span_cm": None if specimen.span_cm is None else str(specimen.span_cm),
        "habit": specimen.habit.value,
        "lot_size": specimen.lot_size,
    }


def start_of(added_as: Mapping[str, Any], added_on: date) -> SpecimenState:
    """The state before the first entry: what the specimen was added as."""
    return start.start_of(came_as(added_as), added_on)


def came_as(added_as: Mapping[str, Any]) -> Specimen:
    """The specimen that :func:`identity_of` wrote, without its place."""
    span = added_as["span_cm"]
    return Specimen(
        tag=added_as["tag"],
        species=added_as["species"],
        name=added_as["name"],
        common=tuple(added_as["common"]),
        aka=tuple(added_as["aka"]),
        sex=SEXES[added_as["sex"]],
        stage=STAGES[added_as["stage"]],
        span_cm=None if span is None else Decimal(span),
        habit=HABITS[added_as["habit"]],
        lot_size=added_as["lot_size"],
    )
