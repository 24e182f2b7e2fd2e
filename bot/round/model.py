"""The round as a value: what is to be done on a day, and who is left in peace."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from enum import StrEnum
from typing import Any, Final

from bot.husbandry.state import SpecimenState
from bot.husbandry.water_places import WaterPlace
from bot.husbandry.watering import Air
from bot.terms import Specimen
from bot.terms.schedule import NOTHING_SAID, Care, Schedule
from bot.terms.value_object import value_object

_FEED: Final = Care.FEED
_WATER: Final = Care.WATER
#: The field of an animal's own interval for each work, the same in the store.
OWN_INTERVALS: Final[Mapping[Care, str]] = {
    Care.FEED: "feed_every",
    Care.WATER: "water_every",
    Care.DISH: "dish_every",
    Care.MIST: "mist_every",
}


class TaskKind(StrEnum):
    """What there is to do for a specimen."""

    FEED = "feed"
    WATER = "water"
    CHECK = "check"
    REHOUSE = "rehouse"
    REMOVE = "remove"


class RestReason(StrEnum):
    """Why a specimen gets no feeding prompt."""

    MISSING = "missing"
    SEALED = "sealed"
    PREMOLT = "premolt"
    FRESH_MOLT = "fresh molt"
    SETTLING = "settling"
    HELD = "held"


@value_object(kw_only=True)
class SpecimenFacts:
    """All that the round needs to know of one specimen.

    ``held_since`` is set while the keeper holds its feeding prompts, ``held_until`` where an end
    was said. ``added_on`` is the day it came to the keeper: it settles in from then; ``None`` where it
    lived with the keeper before the journal began. ``feed_every``, ``water_every``, ``dish_every`` and
    ``mist_every`` are the keeper's own intervals in days for this animal, which stand above every rule;
    ``schedule`` is what they said for groups of the shelf. ``air`` is the latest reading of its place, else
    of the room.
    """

    specimen: Specimen
    state: SpecimenState = field(default_factory=SpecimenState)
    held_since: date | None = None
    held_until: date | None = None
    added_on: date | None = None
    feed_every: int | None = None
    water_every: int | None = None
    dish_every: int | None = None
    mist_every: int | None = None
    schedule: Schedule = NOTHING_SAID
    air: Air | None = None

    @property
    def arrived_on(self) -> date | None:
        """The day it came as a new arrival; ``None`` for one whose journal begins before that day."""
        first = self.state.first_entry
        return (
            None if self.added_on is None or (first is not None and first < self.added_on) else self.added_on
        )

    def own_interval(self, work: Care) -> int | None:
        """The keeper's own interval for this animal, in days; ``None`` where none was said."""
        if work is _FEED:
            return self.feed_every
        own: int | None = self.water_every if work is _WATER else getattr(self, OWN_INTERVALS[work])
        return own


@value_object(kw_only=True)
class Why:
    """Why a line stands in the round: the key of its sentence, the facts for the blanks, the basis.

    ``basis`` is ``own record``, ``species file``, ``general rule`` or ``keeper's setting``.
    """

    key: str
    facts: Mapping[str, Any] = field(default_factory=dict)
    basis: str = "general rule"


@value_object(kw_only=True)
class Task:
    """One thing to do for one specimen. ``overdue_days`` is 0 on the day it falls due."""

    tag: str
    task: TaskKind
    why: Why
    prey: str | None = None
    size: str | None = None
    count: int | None = None
    overdue_days: int = 0


@value_object(kw_only=True)
class Rest:
    """A specimen that gets no feeding prompt, since when, and until about when."""

    tag: str
    reason: RestReason
    since: date
    expected_until: date | None
    why: Why


@dataclass(frozen=True, slots=True, kw_only=True)
class Worklist:
    """The day's tasks and rests, each in shelf order."""

    on: date
    tasks: tuple[Task, ...]
    rests: tuple[Rest, ...]


@value_object(kw_only=True)
class NextUp:
    """What comes next for one specimen, for the echo under an entry.

    ``rest`` is set while it rests; ``feed_on`` is the day of the next meal (today where it is due or
    overdue), ``None`` where the end of the rest is not known. ``feed_task`` is ``check`` where the
    fangs are to be looked at first. Water is due on ``water_on`` in ``water_place`` and should
    not wait beyond ``water_by``. ``rehouse`` is set where it has outgrown its home.
    """

    tag: str
    rest: Rest | None
    feed_on: date | None
    feed_task: TaskKind | None
    feed_why: Why | None
    water_on: date
    water_by: date
    water_place: WaterPlace = WaterPlace.ANY
    rehouse: Why | None = None
