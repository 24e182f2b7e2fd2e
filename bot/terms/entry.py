"""An entry: one thing that happened, on one day, to one or more specimens."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import fields
from datetime import date, time
from decimal import Decimal
from enum import StrEnum
from types import MappingProxyType
from typing import Any, Final, TypeVar

from bot.terms.value_object import value_object

Plain = TypeVar("Plain")


class Kind(StrEnum):
    """What happened."""

    FED = "fed"
    REFUSED = "refused"
    OFFERED = "offered"
    WATERED = "watered"
    MOLTED = "molted"
    PREMOLT = "premolt"
    SEALED = "sealed"
    OPENED = "opened"
    MEASURED = "measured"
    REHOUSED = "rehoused"
    CLIMATE = "climate"
    CLEANED = "cleaned"
    CHECKED = "checked"
    SEXED = "sexed"
    MATURED = "matured"
    ACQUIRED = "acquired"
    DIED = "died"
    LEFT = "left"
    STOCKED = "stocked"
    COUNTED = "counted"
    PAIRED = "paired"
    SAC = "sac"
    NOTE = "note"


class PreySize(StrEnum):
    """How the trade sizes feeder insects."""

    PINHEAD = "pinhead"
    SMALL = "small"
    MEDIUM = "medium"
    LARGE = "large"
    ADULT = "adult"


class WaterHow(StrEnum):
    """Where the water went."""

    DISH = "dish"
    SUBSTRATE = "substrate"
    MISTED = "misted"


class SacEvent(StrEnum):
    """What happened to an egg sac."""

    LAID = "laid"
    PULLED = "pulled"
    HATCHED = "hatched"
    LOST = "lost"
    """Eaten, gone bad or given up: there is none any more."""


_MEAL = ("prey", "count", "size", "prekilled")

FIELDS_OF: Final[Mapping[Kind, tuple[str, ...]]] = MappingProxyType(
    {
        Kind.FED: _MEAL,
        Kind.REFUSED: _MEAL,
        Kind.OFFERED: _MEAL,
        Kind.WATERED: ("how", "ml"),
        Kind.MOLTED: (),
        Kind.PREMOLT: (),
        Kind.SEALED: (),
        Kind.OPENED: (),
        Kind.MEASURED: ("span_cm", "carapace_mm", "weight_g"),
        Kind.REHOUSED: ("volume_l", "substrate_cm"),
        Kind.CLIMATE: ("temp_c", "humidity_pct", "place"),
        Kind.CLEANED: (),
        Kind.CHECKED: (),
        Kind.SEXED: ("sex",),
        Kind.MATURED: (),
        Kind.ACQUIRED: ("species", "count", "span_cm", "price", "currency", "source"),
        Kind.DIED: ("count",),
        Kind.LEFT: ("to", "price", "currency", "count"),
        Kind.STOCKED: ("prey", "count", "size", "price", "currency"),
        Kind.COUNTED: ("prey", "count", "size"),
        Kind.PAIRED: ("partner",),
        Kind.SAC: ("event", "count"),
        Kind.NOTE: ("note",),
    }
)
"""The further fields that an entry of each kind may carry, in the order in which they are told."""

#: Names that the JSON of the command line uses where Python has the word taken.
JSON_NAMES: Final[Mapping[str, str]] = MappingProxyType({"source": "from", "partner": "with"})
_PYTHON_NAMES: Final[Mapping[str, str]] = MappingProxyType({v: k for k, v in JSON_NAMES.items()})


@value_object(kw_only=True)
class Entry:
    """One thing that happened. Fields with nothing said are ``None`` (``prekilled``: False).

    ``specimens`` are tags in shelf order; ``day`` and ``time`` are the keeper's local date and
    clock time. Lengths in cm (carapace in mm), volumes in litres, water in ml, weights in
    grams, temperatures in °C, humidity in per cent relative humidity; amounts are exact
    decimals. ``count`` is the number for each specimen; for a lot, for the lot. ``price`` is
    the total, ``currency`` an ISO 4217 code.
    """

    kind: Kind
    day: date
    specimens: tuple[str, ...] = ()
    time: time | None = None
    prey: str | None = None
    count: int | None = None
    size: PreySize | None = None
    prekilled: bool = False
    how: WaterHow | None = None
    ml: Decimal | None = None
    span_cm: Decimal | None = None
    carapace_mm: Decimal | None = None
    weight_g: Decimal | None = None
    volume_l: Decimal | None = None
    substrate_cm: Decimal | None = None
    temp_c: Decimal | None = None
    humidity_pct: Decimal | None = None
    place: str | None = None
    sex: str | None = None
    species: str | None = None
    price: Decimal | None = None
    currency: str | None = None
    source: str | None = None
    to: str | None = None
    partner: str | None = None
    event: SacEvent | None = None
    note: str | None = None

    def details(self) -> dict[str, Any]:
        """The further fields that are said, by their Python names."""
        return {
            name: value
            for name in FIELDS_OF[self.kind]
            if (value := getattr(self, name)) is not None and value is not False
        }

    def to_json(self) -> dict[str, Any]:
        """The entry as the reading contract writes it: plain JSON values, nothing unsaid."""
        out: dict[str, Any] = {
            "kind": self.kind.value,
            "specimens": list(self.specimens),
            "day": self.day.isoformat(),
        }
        if self.time is not None:
            out["time"] = self.time.strftime("%H:%M")
        for name, value in self.details().items():
            out[JSON_NAMES.get(name, name)] = plain_value(value)
        return out

    @classmethod
    def from_json(cls, data: Mapping[str, Any]) -> Entry:
        """The entry that :meth:`to_json` wrote. Raises ``ValueError``, ``TypeError``, ``KeyError`` or
        ``ArithmeticError`` on anything else."""
        values: dict[str, Any] = {}
        for key, value in data.items():
            name = _PYTHON_NAMES.get(key, key)
            parse = FIELD_PARSERS.get(name)
            values[name] = value if parse is None or (value is None and name not in _ALWAYS) else parse(value)
        return cls(**values)


#: What every entry has.
_ALWAYS: Final = frozenset({"kind", "day", "specimens"})

#: The fields that are amounts, in the order in which an entry tells them.
DECIMAL_FIELDS: Final = tuple(f.name for f in fields(Entry) if "Decimal" in str(f.type))


#: The fields that are words of any kind.
TEXT_FIELDS: Final = tuple(f.name for f in fields(Entry) if f.type == "str | None")


def decimal_from(value: Any) -> Decimal:
    """An amount from its JSON value."""
    return Decimal(str(value))


def _of(kind: type[Plain], value: Any) -> Plain:
    """The value, of exactly that type: true is no number. Raises ``TypeError`` for any other."""
    if type(value) is not kind:
        raise TypeError(f"{value!r} is no {kind.__name__}")
    return value


def _text(value: Any) -> str:
    return _of(str, value)


def _listed(value: Any) -> Sequence[Any]:
    return value if isinstance(value, tuple) else _of(list, value)


#: How a field is made of its JSON value; fields not named here are that value.
FIELD_PARSERS: Final[Mapping[str, Callable[[Any], Any]]] = MappingProxyType(
    {
        "kind": Kind,
        "day": date.fromisoformat,
        "time": time.fromisoformat,
        "specimens": lambda value: tuple(_text(tag) for tag in _listed(value)),
        "count": lambda value: _of(int, value),
        "prekilled": lambda value: _of(bool, value),
        "size": PreySize,
        "how": WaterHow,
        "event": SacEvent,
        **dict.fromkeys(DECIMAL_FIELDS, decimal_from),
        **dict.fromkeys(TEXT_FIELDS, _text),
    }
)


def plain_value(value: Any) -> Any:
    """A JSON value: decimals become numbers, whole ones integers; enums their word."""
    if isinstance(value, Decimal):
        return int(value) if value == value.to_integral_value() else float(value)
    if isinstance(value, StrEnum):
        return value.value
    return value
