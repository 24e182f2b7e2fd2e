"""What each chart shows, as plain values. Lengths in cm, weights in g, temperatures in °C, days local."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from bot.round.model import RestReason
from bot.terms import Specimen


@dataclass(frozen=True, slots=True, kw_only=True)
class NextMolt:
    """When the next molt falls: half of all chance between ``even_from`` and ``even_to``, nine tenths
    between ``early`` and ``late``. ``basis`` tells in words what it rests on."""

    early: date
    even_from: date
    middle: date
    even_to: date
    late: date
    basis: str = ""

    @classmethod
    def at(cls, quantiles: Sequence[date], basis: str = "") -> NextMolt:
        """From the days at 5, 25, 50, 75 and 95 % of all chance."""
        early, even_from, middle, even_to, late = quantiles
        return cls(
            early=early,
            even_from=even_from,
            middle=middle,
            even_to=even_to,
            late=late,
            basis=basis,
        )


class PictureKind(StrEnum):
    """What can be drawn. Life, weight and moisture are of one animal, molts of one species; the others are
    of the shelf, or of an animal or species where one is named."""

    LIFE = "life"
    SHELF = "shelf"
    MEALS = "meals"
    MOLTS = "molts"
    ACCEPTANCE = "acceptance"
    CLIMATE = "climate"
    WEIGHT = "weight"
    MOISTURE = "moisture"


class StretchKind(StrEnum):
    """Stretches of a life in which an animal is left in peace."""

    SEALED = "sealed"
    PREMOLT = "premolt"


@dataclass(frozen=True, slots=True, kw_only=True)
class Stretch:
    """From a day to a day; still lasting where ``until`` is ``None``."""

    kind: StretchKind
    since: date
    until: date | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """A size that holds from a day on."""

    since: date
    value: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Life:
    """One animal's life on record, from ``first`` to ``last``; ``last`` is the day of the picture.

    ``spans`` are steps: a span measured after a molt holds from that molt on. ``taken`` and
    ``refused`` are the days of meals, one for each offer.
    """

    specimen: Specimen
    first: date
    last: date
    spans: tuple[Step, ...] = ()
    molts: tuple[date, ...] = ()
    taken: tuple[date, ...] = ()
    refused: tuple[date, ...] = ()
    stretches: tuple[Stretch, ...] = ()
    next_molt: NextMolt | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class ShelfRow:
    """One animal at a glance. ``meal_in`` is the days until its next meal, below 0 where overdue,
    ``None`` while it rests. ``since_molt`` is ``None`` where no molt is on record; the days of
    ``next_molt`` count from then."""

    specimen: Specimen
    fed_days: int | None
    feed_every: int
    rest: RestReason | None
    rest_days: int | None
    last_molt: date | None
    next_molt: NextMolt | None


@dataclass(frozen=True, slots=True, kw_only=True)
class ShelfGlance:
    """The shelf on a day, in its order."""

    on: date
    rows: tuple[ShelfRow, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class MonthOfMeals:
    """Meals of one month, told by its first day."""

    month: date
    taken: int
    refused: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Meals:
    """Meals over the months; ``who`` names the animal or the shelf."""

    who: str
    months: tuple[MonthOfMeals, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class MoltIntervals:
    """The days between the molts of each animal of a species, in their order."""

    species: str
    animals: tuple[tuple[Specimen, tuple[int, ...]], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class AcceptanceBin:
    """Meals offered from ``low`` to ``high`` days before a molt; ``high`` is ``None`` for an open end."""

    low: int
    high: int | None
    taken: int
    offered: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Acceptance:
    """How often food was taken, by the days left to the next molt."""

    who: str
    animals: int
    molts: int
    bins: tuple[AcceptanceBin, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """One look at thermometer and hygrometer; what was not read is ``None``."""

    on: date
    temp_c: float | None
    humidity_pct: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class PlaceClimate:
    """A place's readings, and the temperatures in °C that suit every species there.

    ``band`` is ``None`` where no animal is known there, or where no temperature suits them all.
    """

    place: str
    readings: tuple[Reading, ...]
    band: tuple[float, float] | None
    species: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Climate:
    """The climate of places over time."""

    first: date
    last: date
    places: tuple[PlaceClimate, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Weights:
    """An animal's weights in grams, and the days of its molts."""

    specimen: Specimen
    first: date
    last: date
    weights: tuple[tuple[date, float], ...]
    molts: tuple[date, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Moistures:
    """The days on which an animal was watered, oldest first, up to ``last``; and for how many days a watering
    lasts, at 5 and 95 %, with what that rests on."""

    specimen: Specimen
    last: date
    watered: tuple[date, ...]
    early: int
    late: int
    basis: str
