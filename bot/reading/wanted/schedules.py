"""How often animals are to be fed and watered, from the words in the slots of a phrasing. Pure."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import Final

from bot.reading.names.names_alone import whom
from bot.reading.names.shelf_names import ShelfNames
from bot.reading.wanted.how_often import (
    animals_said,
    every_days,
    group_said,
    groups_said,
    months_said,
    twice_a_week,
)
from bot.reading.wanted.wanted import Action, Instruction
from bot.reading.words.phrasings import OWNS, SHARED, bare, folded, meaning, slot

#: Longer than this many days is no schedule for a spider (common practice, no source).
LONGEST_INTERVAL: Final = 60


def by_the_rule(
    action: Action, found: re.Match[str], names: ShelfNames, _language: str
) -> Instruction | None:
    """By the rule of thumb again."""
    who, work = OWNS.sub("", slot(found, "who") or ""), _work(found)
    if slot(found, "other") is not None and every_days(f"every {slot(found, 'other')}") is None:
        return None
    group = group_said(who, names)
    tags = whom(who, names) if group is None else ()
    if tags or group:
        return Instruction(action=action, tags=tags, value=work, group=group)
    return _of_several(action, work, who, names)


def _work(found: re.Match[str]) -> str:
    """The work that a phrasing names: to be done, done, being done, or by what is filled."""
    for name, table in (("work", "works"), ("done", "works_asked"), ("doing", "works_doing")):
        said = slot(found, name)
        if said is not None:
            return meaning(table)[folded(said)]
    return "dish"


def _of_several(action: Action, work: str, who: str, names: ShelfNames) -> Instruction | None:
    """Something wanted for several groups and animals, or for those of a place."""
    several = groups_said(who, names)
    if several is not None:
        return Instruction(action=action, value=work, groups=several[0], tags=several[1])
    tags = animals_said(who, names)
    return Instruction(action=action, value=work, tags=tags, every=True) if tags else None


def schedule(action: Action, found: re.Match[str], names: ShelfNames, _language: str) -> Instruction | None:
    """So often from now on, in whole days; without days where it is twice a week."""
    who, dish = slot(found, "who") or "", slot(found, "dish")
    words = f"{OWNS.sub('', who) if dish else who} {slot(found, 'rest') or ''}".strip()
    said = every_days(words)
    called, days = said or (twice_a_week(words), None)
    if dish and not called and meaning("dishes")[folded(dish)] == "every":
        called = "everyone"
    if not called or (days is not None and not 1 <= days <= LONGEST_INTERVAL):
        return None
    work, group = _work(found), group_said(called, names)
    tags = whom(called, names) if group is None else ()
    if group is not None or len(tags) == 1:
        return Instruction(action=action, value=work, tags=tags, group=group, days=days)
    several = _of_several(action, work, called, names) if days else None
    return replace(several, days=days) if several is not None else None


def schedule_of(
    action: Action, found: re.Match[str], names: ShelfNames, _language: str
) -> Instruction | None:
    """How often a group is fed or watered."""
    who = slot(found, "who") or ""
    group = group_said(who, names) or group_said(f"all {who}", names)  # "a sling" is any of them
    return Instruction(action=action, value=_work(found), group=group) if group else None


def slow_months(action: Action, found: re.Match[str], _names: ShelfNames, _language: str) -> Instruction:
    """The months in which meals come less often."""
    first, last = slot(found, "from"), slot(found, "to")
    return Instruction(action=action, months=months_said(first, last) if first and last else None)


def scheduled_work(text: str, language: str = SHARED) -> tuple[str, str] | None:
    """The work that words begin with, where a schedule can be set for it, and what stands behind it."""
    said = folded(bare(text, language=language))
    works = sorted(meaning("works", language).items(), key=lambda work: len(work[0]), reverse=True)
    found = ((work, said[len(word) :].strip()) for word, work in works if said.startswith(f"{word} "))
    return next(found, None)


def work_said(text: str, language: str = SHARED) -> str | None:
    """The work that words begin with, and that of the dish where one is named: "refill the dish of C3"."""
    said = scheduled_work(text, language)
    names_a_dish = said is not None and not meaning("dishes", language).keys().isdisjoint(
        folded(said[1]).split()
    )
    return "dish" if names_a_dish else (said[0] if said is not None else None)
