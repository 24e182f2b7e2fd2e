"""What came of the meals of all who were listed: "… All took it", "… Everyone ate except Mole". Pure."""

from __future__ import annotations

from dataclasses import replace
from typing import Final

from bot.reading.clauses.frames import Frame
from bot.reading.kinds.drafts import Draft
from bot.reading.model import FEEDING
from bot.terms import Kind


def came_of_all(drafts: list[Draft], draft: Draft, frame: Frame) -> bool:
    """Whether a word on all who were told of is what came of their meals, which then say so."""
    meals = [d for d in drafts if d.kind in FEEDING and d.day == draft.day]
    excepted = {t for r in frame.excepted if r.sure for t in r.tags}
    listed = {t for d in meals for t in d.tags}
    if len(meals) < _SEVERAL or draft.fields or draft.doubts or not excepted <= listed:
        return False
    if listed != {*draft.tags, *excepted} or any(d.kind is Kind.REFUSED for d in meals):
        return False
    for meal in meals:
        did_not = tuple(t for t in meal.tags if t in excepted)
        if did_not and draft.kind is Kind.FED:
            drafts.append(replace(meal, kind=Kind.REFUSED, tags=did_not, fields=dict(meal.fields)))
        meal.tags = tuple(t for t in meal.tags if t not in excepted)
        meal.kind = draft.kind
    drafts[:] = [d for d in drafts if d.tags or d not in meals]
    return True


_SEVERAL: Final = 2
