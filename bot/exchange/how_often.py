"""How often animals are to be fed and watered, as rows of a shelf's file, and back."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Final

from bot.terms import Stage
from bot.terms.schedule import NOTHING_SAID, Care, Group, Schedule, Scope, SlowMonths

_ANIMAL: Final = "specimen"
_SLOW: Final = "slow"


@dataclass(frozen=True, slots=True)
class HowOften:
    """What was said for groups, and for single animals: tag, work and days of each."""

    schedule: Schedule = NOTHING_SAID
    own: tuple[tuple[str, Care, int], ...] = ()


#: Of a shelf of which nothing was said.
NOT_SAID: Final = HowOften()


def rows_of(said: HowOften) -> Iterator[dict[str, Any]]:
    """A row for each thing said, groups first, then single animals, then the slow months."""
    for (work, group), days in sorted(said.schedule.every.items()):
        yield _row(work, group.scope.value, group.value, days)
    for tag, work, days in said.own:
        yield _row(work, _ANIMAL, tag, days)
    if (slow := said.schedule.slow) is not None:
        yield {"work": _SLOW, "first_month": slow.first, "last_month": slow.last}


def _row(work: Care, whom: str, value: str | None, days: int) -> dict[str, Any]:
    return {"work": work.value, "for": whom, "value": value, "every_days": days}


def from_rows(rows: Sequence[Mapping[str, Any]]) -> HowOften:
    """What rows say. Raises ``ValueError``, which names the row, for what cannot be."""
    every: dict[tuple[Care, Group], int] = {}
    own: list[tuple[str, Care, int]] = []
    slow: SlowMonths | None = None
    for number, row in enumerate(rows, start=1):
        try:
            if row.get("work") == _SLOW:
                slow = SlowMonths(_whole(row, "first_month"), _whole(row, "last_month"))
            elif row.get("for") == _ANIMAL:
                own.append((_words(row), Care(_word(row, "work")), _days(row)))
            else:
                every[Care(_word(row, "work")), _group(row)] = _days(row)
        except ValueError as problem:
            raise ValueError(f"how_often {number}: {problem}") from problem
    schedule = Schedule(every, slow) if every or slow else NOTHING_SAID
    return HowOften(schedule, tuple(own))


def _group(row: Mapping[str, Any]) -> Group:
    scope = Scope(_word(row, "for"))
    if scope is Scope.SHELF:
        return Group(scope)
    return Group(scope, Stage(_words(row)).value if scope is Scope.STAGE else _words(row))


def _word(row: Mapping[str, Any], name: str) -> str:
    return str(row.get(name))


def _words(row: Mapping[str, Any]) -> str:
    value = row.get("value")
    if not isinstance(value, str) or not value.strip():
        raise ValueError("value must say whom it is for")
    return value


def _days(row: Mapping[str, Any]) -> int:
    days = _whole(row, "every_days")
    if days < 1:
        raise ValueError("every_days must be 1 or more")
    return days


def _whole(row: Mapping[str, Any], name: str) -> int:
    value = row.get(name)
    if not isinstance(value, int) or isinstance(value, bool) or abs(value) > _MOST_DAYS:
        raise ValueError(f"{name} must be a whole number")
    return value


#: More than any schedule has, and what every database takes.
_MOST_DAYS: Final = 10_000
