"""A shelf written down as one JSON object: the keeper's settings and the animals, in shelf order.

Pure: it takes the parsed object and gives values; whoever opens the file says which file it was.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from decimal import Decimal, InvalidOperation
from enum import StrEnum
from types import MappingProxyType
from typing import Any, Final, TypeVar
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from bot.terms.keeper import DateOrder, KeeperSettings, Units
from bot.terms.specimen import Habit, Sex, Specimen, Stage

Word = TypeVar("Word", bound=StrEnum)


class ShelfFileError(ValueError):
    """The object is not a shelf; the text says what is wrong and where, in one line."""


def shelf_from_json(data: object) -> tuple[KeeperSettings, tuple[Specimen, ...]]:
    """The settings and the animals of a shelf object.

    ``keeper`` (``zone``, ``units``, ``date_order``, ``language``) may be left out, as may every key
    of a specimen but ``tag`` and ``species``; keys that are not known are not looked at.
    Raises :class:`ShelfFileError`.
    """
    if not isinstance(data, Mapping):
        raise ShelfFileError('expected a JSON object with the key "specimens"')
    rows = data.get("specimens")
    if not isinstance(rows, Sequence) or isinstance(rows, str):
        raise ShelfFileError('the key "specimens" must hold a list')
    specimens = tuple(specimen_from_json(row, f"specimen {number}") for number, row in enumerate(rows, 1))
    _refuse_twins(specimens)
    return settings_from_json(data.get("keeper") or {}), specimens


def settings_from_json(data: object) -> KeeperSettings:
    """The keeper's settings; what is not said has its default. Raises :class:`ShelfFileError`."""
    if not isinstance(data, Mapping):
        raise ShelfFileError('the key "keeper" must hold an object')
    found: dict[str, Any] = {
        key: parse(data[key], f"keeper, {key}")
        for key, parse in _SETTINGS.items()
        if data.get(key) is not None
    }
    return KeeperSettings(**found)


def specimen_from_json(data: object, where: str) -> Specimen:
    """One animal; ``where`` names it in an error. Raises :class:`ShelfFileError`."""
    if not isinstance(data, Mapping):
        raise ShelfFileError(f"{where}: expected an object")
    for key in ("tag", "species"):
        if not str(data.get(key) or "").strip():
            raise ShelfFileError(f"{where}: {key} is missing")
    found: dict[str, Any] = {
        key: parse(data[key], f"{where}, {key}")
        for key, parse in _SPECIMEN.items()
        if data.get(key) is not None
    }
    return Specimen(**found)


def specimen_to_json(specimen: Specimen) -> dict[str, Any]:
    """The object that :func:`specimen_from_json` reads back to the same animal."""
    span = specimen.span_cm
    return {
        "tag": specimen.tag,
        "name": specimen.name,
        "species": specimen.species,
        "common": list(specimen.common),
        "aka": list(specimen.aka),
        "sex": specimen.sex.value,
        "stage": specimen.stage.value,
        "span_cm": None if span is None else float(span),
        "habit": specimen.habit.value,
        "place": specimen.place,
        "lot_size": specimen.lot_size,
    }


def _refuse_twins(specimens: Sequence[Specimen]) -> None:
    seen: set[str] = set()
    for specimen in specimens:
        key = specimen.tag.casefold()
        if key in seen:
            raise ShelfFileError(f"two specimens have the tag {specimen.tag}")
        seen.add(key)


def _text(value: object, where: str) -> str:
    if not isinstance(value, str) or not value.strip():
        raise ShelfFileError(f"{where}: expected text, found {value!r}")
    return value.strip()


def _texts(value: object, where: str) -> tuple[str, ...]:
    if not isinstance(value, Sequence) or isinstance(value, str):
        raise ShelfFileError(f"{where}: expected a list of texts")
    return tuple(_text(item, where) for item in value)


def _one_of(words: type[Word]) -> Callable[[object, str], Word]:
    def parse(value: object, where: str) -> Word:
        try:
            return words(str(value))
        except ValueError:
            known = ", ".join(words)
            raise ShelfFileError(f"{where}: {value!r} is none of {known}") from None

    return parse


def _length(value: object, where: str) -> Decimal:
    try:
        length = Decimal(str(value))
    except InvalidOperation:
        raise ShelfFileError(f"{where}: {value!r} is not a number") from None
    if isinstance(value, bool) or not length.is_finite() or length <= 0:
        raise ShelfFileError(f"{where}: {value!r} is not a length above 0")
    return length


def _heads(value: object, where: str) -> int:
    if isinstance(value, bool) or not isinstance(value, int) or value < 1:
        raise ShelfFileError(f"{where}: {value!r} is not a whole number above 0")
    return value


def _zone(value: object, where: str) -> str:
    try:
        return ZoneInfo(str(value)).key
    except (ZoneInfoNotFoundError, ValueError, OSError):
        raise ShelfFileError(f"{where}: {value!r} is no time zone of the IANA data") from None


_Parse = Callable[[object, str], Any]

_SETTINGS: Final[Mapping[str, _Parse]] = MappingProxyType(
    {"zone": _zone, "units": _one_of(Units), "date_order": _one_of(DateOrder), "language": _text}
)

_SPECIMEN: Final[Mapping[str, _Parse]] = MappingProxyType(
    {
        "tag": lambda value, where: _text(str(value), where),
        "species": _text,
        "name": _text,
        "common": _texts,
        "aka": _texts,
        "sex": _one_of(Sex),
        "stage": _one_of(Stage),
        "span_cm": _length,
        "habit": _one_of(Habit),
        "place": _text,
        "lot_size": _heads,
    }
)
