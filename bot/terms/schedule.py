"""How often a keeper wants animals fed or watered: said for a species, a stage or the whole shelf."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from types import MappingProxyType

from bot.terms.specimen import Stage

_MONTHS = 12


class Care(StrEnum):
    """What comes again and again: meals, and water as a whole, into the dish, or as mist."""

    FEED = "feed"
    WATER = "water"
    DISH = "dish"
    MIST = "mist"


class Scope(StrEnum):
    """For whom something is said, the narrowest first: where several hold, that one stands."""

    SPECIES = "species"
    STAGE = "stage"
    SHELF = "shelf"

    def narrower_than(self, other: Scope) -> bool:
        """Whether it stands before another."""
        order = tuple(Scope)
        return order.index(self) < order.index(other)


@dataclass(frozen=True, slots=True)
class Group:
    """Those for whom something is said, now and later: ``value`` is a scientific name or a stage's value.

    In order, the narrowest stand first.
    """

    scope: Scope
    value: str | None = None

    def __lt__(self, other: Group) -> bool:
        return self._place < other._place

    @property
    def _place(self) -> tuple[int, str]:
        return tuple(Scope).index(self.scope), self.value or ""


@dataclass(frozen=True, slots=True)
class SlowMonths:
    """The months, 1 to 12, both inclusive, in which the keeper feeds less; may run over the new year."""

    first: int
    last: int

    def __post_init__(self) -> None:
        if not (1 <= self.first <= _MONTHS and 1 <= self.last <= _MONTHS):
            raise ValueError(f"months are counted from 1 to 12, not {self.first} to {self.last}")

    def __contains__(self, month: int) -> bool:
        return (month - self.first) % _MONTHS < len(self)

    def __len__(self) -> int:
        return (self.last - self.first) % _MONTHS + 1

    @property
    def is_whole_year(self) -> bool:
        """Whether no month is left in which nothing is slower."""
        return len(self) == _MONTHS


@dataclass(frozen=True, slots=True)
class Said:
    """What holds for an animal by the keeper's word: days, and for which group; ``None`` for it alone."""

    days: int
    group: Group | None

    def narrower_than(self, other: Said) -> bool:
        """Whether it was said for fewer than another word."""
        if self.group is None or other.group is None:
            return self.group is None and other.group is not None
        return self.group.scope.narrower_than(other.group.scope)


@dataclass(frozen=True, slots=True)
class Schedule:
    """All that a keeper has said for groups of a shelf: days by work and group, and the slow months."""

    every: Mapping[tuple[Care, Group], int] = field(default_factory=lambda: MappingProxyType({}))
    slow: SlowMonths | None = None

    def said_for(self, work: Care, species: tuple[str, ...], stage: Stage) -> Said | None:
        """What holds for an animal of a species, under any of its names, and a stage.

        What was said for its species stands before what was said for its stage, and that before what was
        said for all.
        """
        if not self.every:
            return None
        for group in _groups(species, stage):
            days = self.every.get((work, group))
            if days is not None:
                return Said(days, group)
        return None


def _groups(species: tuple[str, ...], stage: Stage) -> Iterator[Group]:
    for name in species:
        yield Group(Scope.SPECIES, name)
    yield Group(Scope.STAGE, stage.value)
    yield EVERYONE


#: The whole shelf.
EVERYONE = Group(Scope.SHELF)
#: A shelf of which nothing was said.
NOTHING_SAID = Schedule()
