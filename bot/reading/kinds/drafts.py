"""Entries in the making: a kind, animals, a day and fields, with whatever is still in doubt."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date, time
from decimal import Decimal
from typing import Any, Final, TypeVar

from bot.reading.model import FEEDING, About
from bot.terms import FIELDS_OF, Entry, Kind

_Check = TypeVar("_Check")
#: Amounts are kept to the thousandth of their unit, which is finer than any of them is measured.
_FINEST: Final = Decimal("0.001")


def _kept(value: Any) -> Any:
    return to_thousandths(value) if isinstance(value, Decimal) else value


def to_thousandths(amount: Decimal) -> Decimal:
    """An amount to the thousandth, without trailing zeros: 33 °F is 0.556 °C."""
    rounded = amount.quantize(_FINEST).normalize()
    return rounded if rounded != rounded.to_integral_value() else rounded.quantize(Decimal(1))


@dataclass(slots=True)
class Doubt:
    """What has to be asked: about what, why (a key), which words raised it, and the answers to offer.

    Each choice is the value that stands for it and the changes it makes to the draft.
    """

    about: About
    key: str
    words: str = ""
    choices: list[tuple[str, dict[str, Any]]] = field(default_factory=list)


def kind_choices(*kinds: Kind) -> list[tuple[str, dict[str, Any]]]:
    """The choices of a doubt that the answer settles by naming the kind."""
    return [(kind.value, {"kind": kind}) for kind in kinds]


def day_choices(*days: date) -> list[tuple[str, dict[str, Any]]]:
    """The choices of a doubt that the answer settles by a day."""
    return [(day.isoformat(), {"day": day}) for day in days]


@dataclass(slots=True)
class Draft:
    """An entry in the making. ``of_group``: said of many at once, so that a word on one of them wins.
    ``only_well``: says no more than that they are well. ``lasted``: for so many days, where that is said.
    ``dated``: its day is said, and not taken to be today.
    """

    kind: Kind
    tags: tuple[str, ...]
    day: date
    time: time | None = None
    fields: dict[str, Any] = field(default_factory=dict)
    doubts: list[Doubt] = field(default_factory=list)
    of_group: bool = False
    only_well: bool = False
    lasted: int | None = None
    dated: bool = False
    words: str = ""

    def entry(self) -> Entry:
        """The entry as it stands, doubts left out of account."""
        fields = {k: _kept(v) for k, v in self.fields.items() if k in FIELDS_OF[self.kind]}
        return Entry(kind=self.kind, specimens=self.tags, day=self.day, time=self.time, **fields)

    def changed(self, changes: dict[str, Any]) -> Draft:
        """The draft with an answer filled in."""
        own = {k: v for k, v in changes.items() if k in {"kind", "tags", "day", "time"}}
        fields = {k: v for k, v in changes.items() if k not in own}
        return replace(self, **own, fields={**self.fields, **fields})


def of_another_kind(draft: Draft, key: str, words: str = "") -> Doubt:
    """A doubt whether it was of its kind, with that kind as the answer."""
    return Doubt(About.KIND, key, words, kind_choices(draft.kind))


def others_left(
    meal: tuple[Kind, date, tuple[str, ...]], answered: Sequence[tuple[Kind, date, tuple[str, ...]]]
) -> tuple[str, ...]:
    """Those of whom a meal still tells: "the GBBs ate, one refused", answered with the one that refused."""
    kind, day, tags = meal
    others = {
        tag
        for other, when, some in answered
        if {kind, other} <= FEEDING and other is not kind and when == day and set(some) < set(tags)
        for tag in some
    }
    return tuple(tag for tag in tags if tag not in others)


def by_kind(*checks: tuple[_Check, frozenset[Kind]]) -> Mapping[Kind, Sequence[_Check]]:
    """Checks, each with the kinds of entry that it is for, as those of each kind in their order."""
    return {kind: [check for check, of in checks if kind in of] for kind in Kind}
