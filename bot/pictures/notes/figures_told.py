"""A figure of a species' evidence as the cells of a table: what, how much, its range, what it rests on."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Final

from bot.husbandry.evidence import Finding
from bot.husbandry.evidence.findings import CONFIDENCE
from bot.husbandry.evidence.sizes import BOUNDS, CLASSES
from bot.pictures import measures
from bot.pictures.naming import prey_told
from bot.pictures.words import has, say, some
from bot.terms import Units

_NBSP: Final = "\N{NO-BREAK SPACE}"
_WHOLE_FROM: Final = 20
"""Days from which on a tenth of a day says nothing."""


def cells_of(finding: Finding, units: Units, *, told_few: bool = False) -> tuple[str, str, str, str]:
    """The figure's name, its value, its range and its basis, in the keeper's units.

    ``told_few``: that there are too few animals for a claim is said already.
    """
    middle = _value(finding.value, finding.unit, units)
    return _name(finding, units), middle, _range(finding, units), _basis(finding, told_few=told_few)


def _name(finding: Finding, units: Units) -> str:
    name = say(f"notes.figures.{finding.figure}")
    if not finding.group:
        return name
    return say("notes.of_group", name=name, group=_group(finding, units))


def _group(finding: Finding, units: Units) -> str:
    """Whom a figure is of, in words: a class of sizes, days before a molt, a sex, a feeder."""
    group = finding.group
    if group in CLASSES:
        return size_words(group, units)
    return say(f"notes.group.{group}") if has(f"notes.group.{group}") else prey_told(group, None, None)


def size_words(size: str, units: Units) -> str:
    """A class of sizes in the keeper's units: "2 to 5 cm", "under 0.8 in"."""
    length, at = measures.length(units), CLASSES.index(size)
    ends = [length.told(bound) for bound in BOUNDS[max(0, at - 1) : at + 1]]
    if at == 0:
        return say("notes.size.under", high=ends[0])
    if at == len(BOUNDS):
        return say("notes.size.over", low=ends[0])
    return say("notes.size.between", low=_without_unit(*ends), high=ends[1])


_TELL: Final[Mapping[str, Callable[[float, Units], str]]] = {
    "share": lambda value, _units: say("notes.percent", n=round(100 * value)),
    "×": lambda value, _units: f"×{measures.marked(f'{value:.2f}')}",
    "days": lambda value, _units: _days(value),
    "cm": lambda value, units: measures.length(units).told(value),
    "l": lambda value, units: measures.volume(units).told(value),
    "°C": lambda value, units: measures.temperature(units).told(value),
    "% RH": lambda value, _units: say("notes.humidity", n=round(value)),
}


def _days(value: float) -> str:
    figure = measures.plain(value, 0 if value >= _WHOLE_FROM else 1)
    return say("days.one") if figure == "1" else say("days.many", n=figure)


def _value(value: float | None, unit: str, units: Units) -> str:
    return say("notes.not_known") if value is None else _TELL[unit](value, units)


def _range(finding: Finding, units: Units) -> str:
    low, high = (_value(end, finding.unit, units) for end in (finding.low, finding.high))
    if finding.n_entries == 1:
        return say("notes.range.one")
    if finding.low is None and finding.high is None:
        return say("notes.range.none")
    if finding.high is None:
        ends = say("notes.range.or_more", low=low)
    elif finding.low is None:
        ends = say("notes.range.up_to", high=high)
    elif low == high:
        return say("notes.range.same")
    else:
        ends = say("notes.range.ends", low=_without_unit(low, high), high=high)
    kind = "confidence" if finding.interval == CONFIDENCE else "seen"
    return say(f"notes.range.{kind}", ends=ends)


def _without_unit(low: str, high: str) -> str:
    """The lower end without the unit that the upper end has as well: "71" of "71 to 96 days"."""
    number, _, unit = low.replace(_NBSP, " ").partition(" ")
    return number if unit and high.replace(_NBSP, " ").endswith(f" {unit}") else low


def _basis(finding: Finding, *, told_few: bool) -> str:
    parts = [some(finding.n_specimens, "animal")]
    noun = f"notes.counted.{finding.figure}"
    if has(f"{noun}.many"):
        key = "one" if finding.n_entries == 1 else "many"
        parts.append(say(f"{noun}.{key}", n=finding.n_entries))
    if finding.n_running:
        parts.append(say("notes.running", n=finding.n_running))
    told = ", ".join(parts)
    return told if finding.enough or told_few else say("notes.no_claim", basis=told)
