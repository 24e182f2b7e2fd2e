"""What each action makes of the words in the slots of its phrasing: animals, names, hours, days. Pure."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import replace
from datetime import time
from typing import Final

from bot.reading.how_often import every_days, group_said, groups_said, months_said, twice_a_week
from bot.reading.moves_said import moved
from bot.reading.names import ShelfNames
from bot.reading.names_alone import whom
from bot.reading.newcomer_words import is_surely_name
from bot.reading.newcomers import is_animal, newcomers_from
from bot.reading.photo_words import whose
from bot.reading.phrasings import bare, folded, meaning, word_set
from bot.reading.species_said import species_said
from bot.reading.wall_times import wall_time
from bot.reading.wanted import Action, Instruction
from bot.reading.weekdays_said import EVERY_DAY, weekdays_said
from bot.terms import DateOrder, Stage, Units

_LONGEST_NAME: Final = 60
#: Longer than this many days is no schedule for a spider (common practice, no source).
LONGEST_INTERVAL: Final = 60
_OWNS: Final = re.compile(r"(?:'s|’s|(?<=s)')$")
_TAG: Final = re.compile(r"[\w.\-/#]{1,16}")
#: "I have a GBB", "I have 3 GBB": some of a kind, and not one that is known already.
_ONE_OF_A_KIND: Final = re.compile(r"(?:an?|another|one|two|three|four|five|six|some|\d{1,3}|these)\s", re.I)
#: "9 on weekends and 7", said before "on weekdays": the hour ends where days begin.
_OF_DAYS: Final = re.compile(r"\s+(?:on|every|each)\s+", re.I)
_IS_PURCHASE: Final = re.compile(r"(?<!\w)from(?!\w)|[€$£]|(?<!\w)(?:eur|usd|gbp)(?!\w)", re.I)


Understand = Callable[[Action, re.Match[str], ShelfNames], Instruction | None]


def _slot(found: re.Match[str], name: str) -> str | None:
    return found.groupdict().get(name)


def plain(action: Action, found: re.Match[str], _names: ShelfNames) -> Instruction:
    """An action of which nothing more than a zone or a number is said."""
    return Instruction(action=action, value=_slot(found, "zone") or _slot(found, "which"))


def of_animal(action: Action, found: re.Match[str], names: ShelfNames) -> Instruction | None:
    """An action on an animal of the shelf, with its new name or tag where there is one."""
    tags = whom(_OWNS.sub("", _slot(found, "who") or ""), names)
    value = _slot(found, "name") or _slot(found, "tag")
    if not tags or (value is not None and len(value) > _LONGEST_NAME):
        return None
    if action is Action.RENAME and _slot(found, "bare") is not None:
        value = _slot(found, "bare")
        if value is None or not is_surely_name(value, names):
            return None
    if action is Action.RETAG and not (value and _TAG.fullmatch(value)):
        return None
    return Instruction(action=action, tags=tags, value=value)


def _settings(action: Action, found: re.Match[str], _names: ShelfNames) -> Instruction | None:
    said = _slot(found, "units") or _slot(found, "order")
    if said is None:
        return Instruction(action=action)
    if action is Action.UNITS:
        units = meaning("units").get(folded(said))
        return Instruction(action=action, units=Units(units)) if units else None
    order = meaning("orders").get(folded(said))
    return Instruction(action=action, order=DateOrder(order)) if order else None


def _language(action: Action, found: re.Match[str], _names: ShelfNames) -> Instruction | None:
    said = _slot(found, "language")
    if said is None:
        return Instruction(action=action)
    language = meaning("languages").get(folded(said))
    return Instruction(action=action, value=language) if language else None


def _by_the_rule(action: Action, found: re.Match[str], names: ShelfNames) -> Instruction | None:
    who, work = _slot(found, "who") or "", meaning("works").get(folded(_slot(found, "work") or ""))
    if not work:
        return None
    group = group_said(who, names)
    tags = whom(who, names) if group is None else ()
    if tags or group:
        return Instruction(action=action, tags=tags, value=work, group=group)
    several = groups_said(who, names)
    return Instruction(action=action, value=work, groups=several[0], tags=several[1]) if several else None


def _schedule(action: Action, found: re.Match[str], names: ShelfNames) -> Instruction | None:
    work, done = _slot(found, "work"), _slot(found, "done")
    words = f"{_slot(found, 'who') or ''} {_slot(found, 'rest') or ''}".strip()
    said = every_days(words)
    called, days = said or (twice_a_week(words), None)
    group = group_said(called, names) if called else None
    tags = whom(called, names) if called and days and group is None else ()
    if days is not None and not 1 <= days <= LONGEST_INTERVAL:
        return None
    value = meaning("works")[folded(work)] if work else meaning("works_asked")[folded(done or "")]
    if group is not None or len(tags) == 1:
        return Instruction(action=action, value=value, tags=tags, group=group, days=days)
    several = groups_said(called, names) if called and days else None
    return (
        Instruction(action=action, value=value, groups=several[0], tags=several[1], days=days)
        if several
        else None
    )


def _schedule_of(action: Action, found: re.Match[str], names: ShelfNames) -> Instruction | None:
    work = meaning("works_asked")[folded(_slot(found, "done") or "")]
    group = group_said(_slot(found, "who") or "", names)
    return Instruction(action=action, value=work, group=group) if group else None


def _slow_months(action: Action, found: re.Match[str], _names: ShelfNames) -> Instruction:
    first, last = _slot(found, "from"), _slot(found, "to")
    return Instruction(action=action, months=months_said(first, last) if first and last else None)


def scheduled_work(text: str) -> str | None:
    """The work that a message begins with, where a schedule can be set for it: "feed", "water"."""
    return meaning("works").get(folded(bare(text)).partition(" ")[0])


def _picture(action: Action, found: re.Match[str], names: ShelfNames) -> Instruction | None:
    said, about = _slot(found, "who"), _slot(found, "chart")
    tags = whom(said, names) if said else ()
    kind = meaning("charts").get(folded(about)) if about else None
    species = species_said(said, names) if said else None
    if bool(tags or species) != bool(said) or bool(kind) != bool(about):
        return None
    return Instruction(action=action, tags=tags, value=kind, species=species)


def _photos(action: Action, found: re.Match[str], names: ShelfNames) -> Instruction | None:
    said = _slot(found, "rest")
    if said is None:
        return Instruction(action=action)
    tags, when = whose(said, names)
    return Instruction(action=action, tags=tags, value=when) if tags or when else None


def _notes(action: Action, found: re.Match[str], names: ShelfNames) -> Instruction | None:
    species = species_said(_slot(found, "who") or "", names)
    return Instruction(action=action, species=species) if species else None


def _concern(action: Action, found: re.Match[str], names: ShelfNames) -> Instruction | None:
    said = _slot(found, "who")
    tags = whom(said, names) if said else ()
    return Instruction(action=action, tags=tags) if bool(tags) == bool(said) else None


def _care(action: Action, found: re.Match[str], names: ShelfNames) -> Instruction | None:
    said = _slot(found, "who") or ""
    species = species_said(said, names)
    if species is not None:
        return Instruction(action=action, species=species)
    tags = whom(said, names)
    return Instruction(action=action, tags=tags) if tags else None


def _who_logged(action: Action, found: re.Match[str], names: ShelfNames) -> Instruction | None:
    said, verb = _slot(found, "who"), _slot(found, "verb")
    tags = whom(said, names) if said else ()
    kind = meaning("logged").get(folded(verb)) if verb else None
    fits = bool(tags) == bool(said) and bool(kind) == bool(verb)
    return Instruction(action=action, tags=tags, value=kind) if fits else None


def _hours(action: Action, found: re.Match[str], _names: ShelfNames) -> Instruction | None:
    at, start, end = _slot(found, "at"), _slot(found, "from"), _slot(found, "to")
    if at is not None:
        on = _slot(found, "days")
        moment = wall_time(_OF_DAYS.split(at)[0] if on else at)
        days = weekdays_said(on) if on else None
        if moment is None or (on and days is None):
            return None
        return Instruction(action=action, at=moment, value=at, weekdays=days)
    if start is None or end is None:
        never = (time(0), time(0)) if action is Action.QUIET else None
        return Instruction(action=action, quiet=never)
    first, last = wall_time(start), wall_time(end)
    return Instruction(action=action, quiet=(first, last)) if first and last else None


def _round_days(action: Action, found: re.Match[str], _names: ShelfNames) -> Instruction | None:
    on, off = _slot(found, "days"), _slot(found, "off")
    if _slot(found, "other") is not None:
        return Instruction(action=action)
    pause = _slot(found, "pause")
    if pause is not None:
        ends = folded(pause).split()[-1:]
        return Instruction(action=action, pause=True) if word_set("ends_of_a_pause") >= set(ends) else None
    if on is None and off is None:
        again = _slot(found, "again") is not None
        return Instruction(action=action, weekdays=EVERY_DAY if again else frozenset())
    days = weekdays_said(on or off or "")
    if days is None:
        return None
    return Instruction(action=action, weekdays=days if on else EVERY_DAY - days)


def _hush(action: Action, found: re.Match[str], _names: ShelfNames) -> Instruction:
    return Instruction(action=action, value=_slot(found, "speak"))


def _delivery(action: Action, found: re.Match[str], _names: ShelfNames) -> Instruction | None:
    said = _slot(found, "weekday")
    if said is None:
        return Instruction(action=action)
    weekday = meaning("weekdays").get(folded(said))
    return Instruction(action=action, weekday=int(weekday)) if weekday is not None else None


def _add(action: Action, found: re.Match[str], names: ShelfNames) -> Instruction | None:
    name = _slot(found, "newname")
    if name is not None and not (name.isalpha() and name[0].isupper() and not whom(name, names)):
        return None
    loose = _slot(found, "more") or _slot(found, "owned") or _slot(found, "listed")
    rest = name or loose or _slot(found, "rest") or ""
    if _IS_PURCHASE.search(rest) or (_slot(found, "owned") and not _ONE_OF_A_KIND.match(rest)):
        return None
    newcomers = newcomers_from(rest, names)
    if loose and not all(is_animal(newcomer, names) for newcomer in newcomers):
        return None
    if _slot(found, "owned"):
        newcomers = tuple(replace(newcomer, kept=newcomer.came is None) for newcomer in newcomers)
    word = _slot(found, "stage")
    if word is not None:
        stage = Stage(meaning("stages")[folded(word)])
        newcomers = tuple(replace(newcomer, stage=newcomer.stage or stage) for newcomer in newcomers)
    return Instruction(action=action, newcomers=newcomers if rest else ())


UNDERSTAND: Final[Mapping[Action, Understand]] = {
    Action.ADD: _add,
    Action.RENAME: of_animal,
    Action.RETAG: of_animal,
    Action.MOVE: moved,
    Action.RETIRE: of_animal,
    Action.BY_THE_RULE: _by_the_rule,
    Action.SCHEDULE: _schedule,
    Action.SCHEDULE_OF: _schedule_of,
    Action.SLOW_MONTHS: _slow_months,
    Action.PICTURE: _picture,
    Action.CONCERN: _concern,
    Action.DISTURB: _concern,
    Action.CARE: _care,
    Action.WHO_LOGGED: _who_logged,
    Action.NOTES: _notes,
    Action.PHOTOS: _photos,
    Action.UNITS: _settings,
    Action.DATE_ORDER: _settings,
    Action.LANGUAGE: _language,
    Action.DAY_STARTS: _hours,
    Action.ROUND_TIME: _hours,
    Action.QUIET: _hours,
    Action.ROUND_DAYS: _round_days,
    Action.HUSH: _hush,
    Action.DELIVERY: _delivery,
}


# --- tags and places -----------------------------------------------------------------------


def is_tag(text: str) -> bool:
    """Whether words can be a tag: a few letters, digits and marks without a blank."""
    return _TAG.fullmatch(text.strip()) is not None
