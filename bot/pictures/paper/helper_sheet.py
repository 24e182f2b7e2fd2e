"""A helper's sheet for a period: who gets what on which day, cautions, first aid. General practice."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from itertools import groupby
from typing import Final

from bot.husbandry.animal import Animal
from bot.pictures import measures
from bot.pictures.naming import prey_told
from bot.pictures.paper.cautions import cautions_of
from bot.pictures.paper.flow import Column, Flow
from bot.pictures.paper.helper_plan import HelperDay, Left, helper_days
from bot.pictures.paper.page import A4, GREY, LETTER, Paper
from bot.pictures.words import say, words
from bot.round.model import SpecimenFacts, Task
from bot.terms import KeeperSettings, Specimen, Units
from bot.terms.language import speaking

_HEAD_HEIGHT, _ROW_HEIGHT = 30.0, 6.0
"""Millimetres that a day takes, to keep it on one page."""
_WAITS: Final = "keeper"


@dataclass(frozen=True, slots=True, kw_only=True)
class HelperSheet:
    """What the sheet is about: whose shelf, its animals, and the days from first to last."""

    keeper: str
    facts: tuple[SpecimenFacts, ...]
    today: date
    first: date
    last: date


def helper_pages(sheet: HelperSheet, settings: KeeperSettings) -> bytes:
    """The sheet as a PDF, on Letter paper for US units and on A4 otherwise.

    Raises ``ValueError`` for a period that cannot be, or a shelf with nobody on it.
    """
    if not sheet.facts:
        raise ValueError("there is nobody on the shelf")
    with speaking(settings.language):
        return _pages(sheet, helper_days(sheet.facts, sheet.today, sheet.first, sheet.last), settings)


def _pages(sheet: HelperSheet, days: Sequence[HelperDay], settings: KeeperSettings) -> bytes:
    order = settings.date_order
    period = say(
        "helper.period", first=measures.day(sheet.first, order), last=measures.day(sheet.last, order)
    )
    title = say("helper.title", keeper=sheet.keeper)
    paper = Paper(f"{title}, {period}", sheet.today, LETTER if settings.units is Units.US else A4)
    flow = Flow(paper, say("helper.foot"))
    flow.title(title, period)
    flow.blanks(words("helper.blanks"), columns=2)
    flow.heading(say("helper.rules_head"))
    flow.points(words("helper.rules"))
    flow.heading(say("helper.aid_head"))
    flow.points(words("helper.aid"))
    flow.heading(say("helper.animal_head"))
    flow.points(words("helper.animal"))
    flow.text(say("helper.general"), grey=GREY)
    _animals(flow, sheet.facts)
    called = {one.specimen.tag: one for one in sheet.facts}
    flow.heading(say("helper.days_head"), keep=_HEAD_HEIGHT + _height(days[0]))
    for day in days:
        _day(flow, day, called, settings)
    if waiting := sorted({left.tag for day in days for left in day.left if left.reason is None}):
        flow.heading(say("helper.before_head"))
        names = ", ".join(one.specimen.called for one in sheet.facts if one.specimen.tag in waiting)
        flow.text(say("helper.before", names=names))
    return paper.finish()


def _animals(flow: Flow, facts: Sequence[SpecimenFacts]) -> None:
    flow.heading(say("helper.animals_head"))
    names = words("helper.animals_columns")
    columns = [Column(name, share) for name, share in zip(names, (2.6, 3.4, 2.0, 2.6, 3.4), strict=True)]
    rows = [
        [
            one.specimen.called,
            one.specimen.species,
            one.specimen.place or "",
            _cautions(one.specimen),
            _water(one),
        ]
        for one in facts
    ]
    flow.table(columns, rows)


def _day(flow: Flow, day: HelperDay, called: Mapping[str, SpecimenFacts], settings: KeeperSettings) -> None:
    on = say("helper.day", weekday=measures.weekday(day.on), day=measures.day(day.on, settings.date_order))
    rows = [_row("helper.feed", called[meal.tag], _meal(meal)) for meal in day.meals]
    rows += [_row("helper.give_water", called[tag], _water(called[tag])) for tag in day.water]
    flow.heading(on, keep=_height(day))
    names = words("helper.day_columns")
    if rows:
        columns = [Column(name, share) for name, share in zip(names, (1.0, 2.8, 2.0, 3.2, 2.2), strict=True)]
        flow.table(columns, rows, boxes=True)
    else:
        flow.text(say("helper.nothing"))
    if day.left:
        flow.text(say("helper.left", names=_left(day.left, called)), size=8.5)


def _height(day: HelperDay) -> float:
    return _HEAD_HEIGHT + (len(day.meals) + len(day.water)) * _ROW_HEIGHT


def _row(deed: str, one: SpecimenFacts, what: str) -> list[str]:
    specimen = one.specimen
    return [say(deed), specimen.called, specimen.place or "", what, _cautions(specimen)]


def _meal(meal: Task) -> str:
    return prey_told(meal.prey, meal.count, meal.size)


def _water(one: SpecimenFacts) -> str:
    return say(f"helper.water.{Animal(one.specimen, one.state).species.moisture.value}")


def _cautions(specimen: Specimen) -> str:
    return ", ".join(caution.words for caution in cautions_of(specimen))


def _left(left: Sequence[Left], called: Mapping[str, SpecimenFacts]) -> str:
    """Everyone who is left alone, by reason: ``sealed: Basalt (M3), Tide (M4); held: …``."""

    def reason(one: Left) -> str:
        return one.reason.value if one.reason else _WAITS

    groups = groupby(sorted(left, key=reason), key=reason)
    return "; ".join(
        say(
            "helper.left_for",
            reason=say(f"rest.{key}") if key != _WAITS else say("helper.waits"),
            names=", ".join(called[one.tag].specimen.called for one in group),
        )
        for key, group in groups
    )
