"""What a keeper wants of the bot that is no matter of the journal: the shelf's animals, settings, help.

Pure, like all reading. A phrasing has to fit the whole message, and whatever it calls an animal has
to be one of the shelf: else the message is left to the ordinary reading. The phrasings are data, in
``lexicon/en/instructions.yaml``; the grammar of a phrasing is told at the top of that file.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from datetime import time
from enum import StrEnum
from functools import cache
from typing import Final

from bot.reading.how_often import every_days, group_said, months_said, twice_a_week
from bot.reading.names import ShelfNames
from bot.reading.names_alone import whom
from bot.reading.newcomer import Newcomer, newcomer_from
from bot.reading.photo_words import whose
from bot.reading.phrasings import bare, compiled, data, either, folded, meaning, word_set
from bot.reading.species_said import species_said
from bot.terms import DateOrder, Stage, Units
from bot.terms.schedule import Group, SlowMonths


class Action(StrEnum):
    """What is wanted."""

    ADD = "add"
    RENAME = "rename"
    RETAG = "retag"
    MOVE = "move"
    RETIRE = "retire"
    BY_THE_RULE = "by_the_rule"
    SCHEDULE = "schedule"
    SCHEDULE_OF = "schedule_of"
    SCHEDULES = "schedules"
    SLOW_MONTHS = "slow_months"
    NO_SLOW_MONTHS = "no_slow_months"
    ZONE = "zone"
    UNITS = "units"
    DATE_ORDER = "date_order"
    LANGUAGE = "language"
    DAY_STARTS = "day_starts"
    ROUND_TIME = "round_time"
    QUIET = "quiet"
    DELIVERY = "delivery"
    SETTINGS = "settings"
    HELP = "help"
    THANKS = "thanks"
    HELLO = "hello"
    WHY = "why"
    MORE = "more"
    CANCEL = "cancel"
    REMINDERS = "reminders"
    END_REMINDER = "end_reminder"
    SHELF = "shelf"
    HOLDS = "holds"
    FIRST_AID = "first_aid"
    PICTURE = "picture"
    CONCERN = "concern"
    DISTURB = "disturb"
    CARE = "care"
    EXPORT = "export"
    ERASE = "erase"
    BACK = "back"
    END_HANDOVER = "end_handover"
    HANDOVERS = "handovers"
    NEW_LINK = "new_link"
    WHO_LOGGED = "who_logged"
    NOTES = "notes"
    PHOTOS = "photos"


@dataclass(frozen=True, slots=True, kw_only=True)
class Instruction:
    """One thing wanted. ``tags`` are the animals it may be about: one, or several of which one is meant.

    ``species`` is the scientific name where a species was named.
    ``value`` is the new name, tag, place, zone or reminder in the keeper's own words; settings that
    were understood come as ``units``, ``order``, ``at``, ``quiet`` and ``weekday``, Monday 0 (``None`` in
    ``value`` and there: asked for, or of a delivery day that there is none). ``group`` are those for whom
    work, as in ``value``, is to be done every so many ``days`` (``None``: twice a week); ``months`` the slow
    ones, ``None`` where they were not said as months.
    """

    action: Action
    tags: tuple[str, ...] = ()
    value: str | None = None
    species: str | None = None
    newcomer: Newcomer | None = None
    units: Units | None = None
    order: DateOrder | None = None
    at: time | None = None
    quiet: tuple[time, time] | None = None
    weekday: int | None = None
    group: Group | None = None
    days: int | None = None
    months: SlowMonths | None = None


def read_instruction(text: str, names: ShelfNames) -> Instruction | None:
    """What a message wants of the bot, or ``None`` if it is no instruction. Never raises."""
    asked = text.rstrip().endswith("?")
    words = bare(text)
    if not words:
        return _nothing_but_courtesy(text)
    for action, pattern in _patterns():
        if asked and action not in _MAY_BE_ASKED:
            continue
        found = pattern.fullmatch(words)
        if found is not None:
            instruction = _UNDERSTAND.get(action, _plain)(action, found, names)
            if instruction is not None:
                return instruction
    return None


def sounds_like_instruction(text: str) -> bool:
    """Whether words have the form of an instruction about an animal, be it one that is not of the shelf."""
    words = bare(text)
    return any(
        _UNDERSTAND.get(action) is _of_animal and pattern.fullmatch(words) is not None
        for action, pattern in _patterns()
    )


def _nothing_but_courtesy(text: str) -> Instruction | None:
    if text.strip() == "?":
        return Instruction(action=Action.HELP)
    return Instruction(action=Action.THANKS) if bare(text, polite=False) else None


def is_yes(text: str) -> bool:
    """Whether the whole message is a yes."""
    return folded(bare(text, polite=False)) in word_set("yes")


def is_no(text: str) -> bool:
    """Whether the whole message is a no."""
    return folded(bare(text, polite=False)) in word_set("no")


def is_word(key: str, text: str) -> bool:
    """Whether the whole message is one of a list of words, and no word of courtesy beside it."""
    return folded(bare(text, polite=False)) in word_set(key)


def is_follow_up(text: str) -> bool:
    """Whether the message goes on from the question before: "and Rust?"."""
    words = folded(bare(text))
    return any(words.startswith(f"{word} ") for word in word_set("follow_ups"))


def is_the_others(text: str) -> bool:
    """Whether the message asks the question before of all the others: "and the others?"."""
    return folded(bare(text)) in word_set("the_others")


def snoozed_days(text: str) -> int | None:
    """For how many days a reminder just told is put off; ``None`` where the message says no such thing."""
    days = meaning("snoozes").get(folded(bare(text)))
    return int(days) if days is not None else None


def has_pronoun(text: str) -> bool:
    """Whether a word of the message stands for the animal just talked of."""
    return _pronouns().search(folded(text)) is not None


@cache
def _pronouns() -> re.Pattern[str]:
    return re.compile(either(sorted(word_set("pronouns"))))


def is_nobody(text: str) -> bool:
    """Whether the whole message says that there is no name, or that nothing is to be set."""
    return folded(bare(text)) in word_set("nobody")


@cache
def _patterns() -> tuple[tuple[Action, re.Pattern[str]], ...]:
    return tuple(
        (Action(action), compiled(phrase))
        for action, group in data()["actions"].items()
        for phrase in group["say"]
    )


def examples() -> Mapping[Action, str]:
    """For each action a message that reaches it."""
    return {Action(action): group["example"] for action, group in data()["actions"].items()}


# --- what each action makes of its words ----------------------------------------------------

Understand = Callable[[Action, re.Match[str], ShelfNames], Instruction | None]


def _slot(found: re.Match[str], name: str) -> str | None:
    return found.groupdict().get(name)


def _plain(action: Action, found: re.Match[str], _names: ShelfNames) -> Instruction:
    return Instruction(action=action, value=_slot(found, "zone") or _slot(found, "which"))


def _of_animal(action: Action, found: re.Match[str], names: ShelfNames) -> Instruction | None:
    tags = whom(_slot(found, "who") or "", names)
    value = _slot(found, "name") or _slot(found, "tag") or _slot(found, "place")
    if not tags or (value is not None and len(value) > _LONGEST_NAME):
        return None
    if action is Action.MOVE and not (value and _is_place(value, names)):
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
    group = group_said(who, names)
    tags = whom(who, names) if group is None else ()
    return (
        Instruction(action=action, tags=tags, value=work, group=group) if work and (tags or group) else None
    )


def _schedule(action: Action, found: re.Match[str], names: ShelfNames) -> Instruction | None:
    work, done = _slot(found, "work"), _slot(found, "done")
    words = f"{_slot(found, 'who') or ''} {_slot(found, 'rest') or ''}".strip()
    said = every_days(words)
    called, days = said or (twice_a_week(words), None)
    group = group_said(called, names) if called else None
    tags = whom(called, names) if called and days and group is None else ()
    if (group is None and len(tags) != 1) or (days is not None and not 1 <= days <= LONGEST_INTERVAL):
        return None
    value = meaning("works")[folded(work)] if work else meaning("works_asked")[folded(done or "")]
    return Instruction(action=action, value=value, tags=tags, group=group, days=days)


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
    tags, when = whose(said, names) if said else ((), _slot(found, "when"))
    return Instruction(action=action, tags=tags, value=when) if bool(tags) == bool(said) else None


def _notes(action: Action, found: re.Match[str], names: ShelfNames) -> Instruction | None:
    species = species_said(_slot(found, "who") or "", names)
    return Instruction(action=action, species=species) if species else None


def _concern(action: Action, found: re.Match[str], names: ShelfNames) -> Instruction | None:
    said = _slot(found, "who")
    tags = whom(said, names) if said else ()
    return Instruction(action=action, tags=tags) if bool(tags) == bool(said) else None


def _who_logged(action: Action, found: re.Match[str], names: ShelfNames) -> Instruction | None:
    said, verb = _slot(found, "who"), _slot(found, "verb")
    tags = whom(said, names) if said else ()
    kind = meaning("logged").get(folded(verb)) if verb else None
    fits = bool(tags) == bool(said) and bool(kind) == bool(verb)
    return Instruction(action=action, tags=tags, value=kind) if fits else None


def _hours(action: Action, found: re.Match[str], _names: ShelfNames) -> Instruction | None:
    at, start, end = _slot(found, "at"), _slot(found, "from"), _slot(found, "to")
    if at is not None:
        moment = wall_time(at)
        return Instruction(action=action, at=moment, value=at) if moment else None
    if start is None or end is None:
        never = (time(0), time(0)) if action is Action.QUIET else None
        return Instruction(action=action, quiet=never)
    first, last = wall_time(start), wall_time(end)
    return Instruction(action=action, quiet=(first, last)) if first and last else None


def _delivery(action: Action, found: re.Match[str], _names: ShelfNames) -> Instruction | None:
    said = _slot(found, "weekday")
    if said is None:
        return Instruction(action=action)
    weekday = meaning("weekdays").get(folded(said))
    return Instruction(action=action, weekday=int(weekday)) if weekday is not None else None


def _add(action: Action, found: re.Match[str], names: ShelfNames) -> Instruction | None:
    rest = _slot(found, "rest") or ""
    name = _slot(found, "newname")
    if name is not None and not (name.isalpha() and name[0].isupper() and not whom(name, names)):
        return None
    rest = name or rest
    if _IS_PURCHASE.search(rest):
        return None
    word = _slot(found, "stage")
    newcomer = newcomer_from(rest)
    if word is not None:
        stage = Stage(meaning("stages")[folded(word)])
        newcomer = replace(newcomer, stage=newcomer.stage or stage)
    return Instruction(action=action, newcomer=newcomer)


_UNDERSTAND: Final[Mapping[Action, Understand]] = {
    Action.ADD: _add,
    Action.RENAME: _of_animal,
    Action.RETAG: _of_animal,
    Action.MOVE: _of_animal,
    Action.RETIRE: _of_animal,
    Action.BY_THE_RULE: _by_the_rule,
    Action.SCHEDULE: _schedule,
    Action.SCHEDULE_OF: _schedule_of,
    Action.SLOW_MONTHS: _slow_months,
    Action.PICTURE: _picture,
    Action.CONCERN: _concern,
    Action.DISTURB: _concern,
    Action.CARE: _concern,
    Action.WHO_LOGGED: _who_logged,
    Action.NOTES: _notes,
    Action.PHOTOS: _photos,
    Action.UNITS: _settings,
    Action.DATE_ORDER: _settings,
    Action.LANGUAGE: _language,
    Action.DAY_STARTS: _hours,
    Action.ROUND_TIME: _hours,
    Action.QUIET: _hours,
    Action.DELIVERY: _delivery,
}
_MAY_BE_ASKED: Final = frozenset(
    {
        Action.HELP,
        Action.WHY,
        Action.SHELF,
        Action.REMINDERS,
        Action.HOLDS,
        Action.SETTINGS,
        Action.SCHEDULE_OF,
        Action.SCHEDULES,
        Action.FIRST_AID,
        Action.CONCERN,
        Action.DISTURB,
        Action.CARE,
        Action.MORE,
        Action.EXPORT,
        Action.ERASE,
        Action.HANDOVERS,
        Action.WHO_LOGGED,
        Action.PHOTOS,
    }
)

_LONGEST_NAME: Final = 60
#: Longer than this many days is no schedule for a spider (common practice, no source).
LONGEST_INTERVAL: Final = 60
_TAG: Final = re.compile(r"[\w.\-/#]{1,16}")
_IS_PURCHASE: Final = re.compile(r"(?<!\w)from(?!\w)|[€$£]|(?<!\w)(?:eur|usd|gbp)(?!\w)", re.I)


# --- animals, places, times -----------------------------------------------------------------


def is_tag(text: str) -> bool:
    """Whether words can be a tag: a few letters, digits and marks without a blank."""
    return _TAG.fullmatch(text.strip()) is not None


def _is_place(words: str, names: ShelfNames) -> bool:
    """A place that the shelf has, or words that begin with what a place is called."""
    first = folded(words).split()[0]
    return first in word_set("places") or folded(words) in map(folded, names.places)


_HOUR: Final = re.compile(
    r"(?P<hour>\d{1,2})(?:\s*[:.h]\s*(?P<minute>\d{2})?)?\s*(?P<half>am|pm|a\.m\.|p\.m\.)?(?:\s*(?:o'clock|hours|h))?",
    re.I,
)
_NOON: Final = {"noon": time(12), "midday": time(12), "midnight": time(0)}


def wall_time(words: str) -> time | None:
    """A time of day: ``8``, ``7:30``, ``20.15``, ``8 pm``, ``noon``; ``None`` for anything else."""
    said = folded(words)
    if said in _NOON:
        return _NOON[said]
    found = _HOUR.fullmatch(said)
    if found is None:
        return None
    hour, minute = int(found["hour"]), int(found["minute"] or 0)
    half = (found["half"] or "")[:1]
    if half and not 1 <= hour <= 12:
        return None
    hour = hour % 12 + 12 * (half == "p") if half else hour
    return time(hour, minute) if hour < 24 and minute < 60 else None
