"""Figures in the keeper's units, and days in the keeper's order. Pure."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Final

from bot.pictures.words import say, words
from bot.terms import DateOrder, Units
from bot.terms.keeper import CM_PER_INCH, LITRES_PER_US_GALLON

Number = float | Decimal


@dataclass(frozen=True, slots=True)
class Measure:
    """From the store's unit to the keeper's: ``value * factor + offset``, told with so many places.

    ``key`` names the unit, whose sign is a word of the language.
    """

    key: str
    factor: float = 1.0
    offset: float = 0.0
    places: int = 1

    @property
    def unit(self) -> str:
        """The unit's sign: ``cm``, ``°F``."""
        return say(f"unit.{self.key}")

    def of(self, value: Number) -> float:
        """The figure in the keeper's unit."""
        return float(value) * self.factor + self.offset

    def told(self, value: Number) -> str:
        """The figure with its unit: ``12.5 cm``; a no-break space keeps the two together."""
        return f"{plain(self.of(value), self.places)}\N{NO-BREAK SPACE}{self.unit}"


CM: Final = Measure("cm")
INCHES: Final = Measure("inches", 1 / float(CM_PER_INCH))
CELSIUS: Final = Measure("celsius")
FAHRENHEIT: Final = Measure("fahrenheit", 1.8, 32.0, 0)
GRAMS: Final = Measure("grams", places=2)
LITRES: Final = Measure("litres", places=2)
US_GALLONS: Final = Measure("gallons", 1 / float(LITRES_PER_US_GALLON), places=2)


def length(units: Units) -> Measure:
    """Centimetres, or inches for US units."""
    return INCHES if units is Units.US else CM


def temperature(units: Units) -> Measure:
    """Degrees Celsius, or Fahrenheit for US units."""
    return FAHRENHEIT if units is Units.US else CELSIUS


def volume(units: Units) -> Measure:
    """Litres, or US gallons for US units."""
    return US_GALLONS if units is Units.US else LITRES


def plain(value: float, places: int = 1) -> str:
    """A figure without needless noughts, with the language's decimal mark: ``12``, ``1.5``; never ``-0``."""
    text = f"{value:.{places}f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return marked("0" if text == "-0" else text)


def marked(figure: str) -> str:
    """A figure with the language's decimal mark: ``1.05``, ``1,05``."""
    return figure.replace(".", say("decimal"))


def day(on: date, order: DateOrder) -> str:
    """A day with its year in the keeper's order: ``14 May 2026``, ``May 14, 2026``, ``2026-05-14``."""
    return say(f"date.{order.value}", day=on.day, month=month(on), year=on.year, iso=on.isoformat())


def short_day(on: date, order: DateOrder) -> str:
    """A day without its year: ``14 May``, ``May 14``."""
    return say(f"date.short_{order.value}", day=on.day, month=month(on))


def weekday(on: date) -> str:
    """``Thu``."""
    return words("date.weekdays")[on.weekday()]


def month(on: date) -> str:
    """``May``."""
    return words("date.months")[on.month - 1]
