"""What each action makes of the words in the slots of its phrasing: animals, names, species. Pure."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import replace
from typing import Final

from bot.reading.names.names_alone import whom
from bot.reading.names.shelf_names import ShelfNames
from bot.reading.names.species_said import species_said
from bot.reading.wanted.feeders import OF_FEEDERS
from bot.reading.wanted.hours import OF_HOURS
from bot.reading.wanted.moves_said import moved
from bot.reading.wanted.newcomer_patterns import of_one, of_several
from bot.reading.wanted.newcomer_words import is_surely_name
from bot.reading.wanted.newcomers import is_animal, newcomers_from
from bot.reading.wanted.past import OF_THE_PAST
from bot.reading.wanted.photo_words import whose
from bot.reading.wanted.questions import QUESTIONS, of_some
from bot.reading.wanted.schedules import by_the_rule, schedule, schedule_of, slow_months
from bot.reading.wanted.wanted import Action, Instruction, Understand
from bot.reading.words.phrasings import OWNS, folded, meaning, slot, word_set
from bot.terms import DateOrder, Stage, Units

_LONGEST_NAME: Final = 60
_TAG: Final = re.compile(r"[\w.\-/#]{1,16}")


def plain(action: Action, found: re.Match[str], _names: ShelfNames, _language: str) -> Instruction:
    """An action of which nothing more than a zone or a number is said."""
    return Instruction(action=action, value=slot(found, "zone") or slot(found, "which"))


def of_animal(action: Action, found: re.Match[str], names: ShelfNames, language: str) -> Instruction | None:
    """An action on an animal of the shelf, with its new name or tag where there is one."""
    tags = whom(OWNS.sub("", slot(found, "who") or ""), names)
    value = slot(found, "name") or slot(found, "tag")
    if not tags or (value is not None and len(value) > _LONGEST_NAME):
        return None
    if action is Action.RENAME and slot(found, "bare") is not None:
        value = slot(found, "bare")
        if value is None or not is_surely_name(value, names, language):
            return None
    if action is Action.RETAG and not (value and _TAG.fullmatch(value)):
        return None
    return Instruction(action=action, tags=tags, value=value)


def _settings(action: Action, found: re.Match[str], _names: ShelfNames, language: str) -> Instruction | None:
    said = slot(found, "units") or slot(found, "order")
    if said is None:
        return Instruction(action=action)
    if action is Action.UNITS:
        units = meaning("units", language).get(folded(said))
        return Instruction(action=action, units=Units(units)) if units else None
    order = meaning("orders", language).get(folded(said))
    return Instruction(action=action, order=DateOrder(order)) if order else None


def _language(action: Action, found: re.Match[str], _names: ShelfNames, _language: str) -> Instruction | None:
    said = slot(found, "language")
    if said is None:
        return Instruction(action=action)
    language = meaning("languages").get(folded(said))
    return Instruction(action=action, value=language) if language else None


def _picture(action: Action, found: re.Match[str], names: ShelfNames, language: str) -> Instruction | None:
    said, about = slot(found, "who"), slot(found, "chart")
    tags = whom(said, names) if said else ()
    kind = meaning("charts", language).get(folded(about)) if about else None
    species = species_said(said, names) if said else None
    if bool(tags or species) != bool(said) or bool(kind) != bool(about):
        return None
    return Instruction(action=action, tags=tags, value=kind, species=species)


def _photos(action: Action, found: re.Match[str], names: ShelfNames, _language: str) -> Instruction | None:
    said = slot(found, "rest")
    if said is None:
        return Instruction(action=action)
    tags, when = whose(said, names)
    return Instruction(action=action, tags=tags, value=when) if tags or when else None


def _notes(action: Action, found: re.Match[str], names: ShelfNames, _language: str) -> Instruction | None:
    species = species_said(slot(found, "who") or "", names)
    return Instruction(action=action, species=species) if species else None


def _concern(action: Action, found: re.Match[str], names: ShelfNames, _language: str) -> Instruction | None:
    said = slot(found, "who")
    tags = whom(said, names) if said else ()
    return Instruction(action=action, tags=tags) if bool(tags) == bool(said) else None


def _posture(action: Action, found: re.Match[str], names: ShelfNames, language: str) -> Instruction | None:
    """How an animal lies that its keeper is afraid for: "Ink is on her back, is she dying?"."""
    who, said = slot(found, "who") or "", slot(found, "posture")
    tags = whom(who, names)
    if not tags and folded(who) not in word_set("some_animal", language):
        return None
    value = meaning("postures", language)[folded(said)] if said else None
    return Instruction(action=action, tags=tags, value=value)


def _sign(action: Action, found: re.Match[str], names: ShelfNames, language: str) -> Instruction | None:
    """What to do about a sign of trouble: "what do I do if she is stuck in molt", "what helps on mold"."""
    who, said = slot(found, "who"), slot(found, "sign")
    tags = whom(who, names) if who else ()
    if said is None or (who and not tags and folded(who) not in word_set("some_animal", language)):
        return None
    return Instruction(action=action, tags=tags, value=meaning("signs_feared", language)[folded(said)])


def _care(action: Action, found: re.Match[str], names: ShelfNames, _language: str) -> Instruction | None:
    said = slot(found, "who") or ""
    species = species_said(said, names)
    if species is not None:
        return Instruction(action=action, species=species)
    tags = whom(said, names)
    return Instruction(action=action, tags=tags) if tags else None


def _who_logged(
    action: Action, found: re.Match[str], names: ShelfNames, _language: str
) -> Instruction | None:
    said, verb = slot(found, "who"), slot(found, "verb")
    tags = whom(said, names) if said else ()
    kind = meaning("logged").get(folded(verb)) if verb else None
    fits = bool(tags) == bool(said) and bool(kind) == bool(verb)
    every = "latest" in found.re.groupindex  # of the whole shelf, whoever was talked of
    return Instruction(action=action, tags=tags, value=kind, every=every) if fits else None


def _add(action: Action, found: re.Match[str], names: ShelfNames, language: str) -> Instruction | None:
    name = slot(found, "newname")
    if name is not None and not (name.isalpha() and name[0].isupper() and not whom(name, names)):
        return None
    loose = slot(found, "more") or slot(found, "owned") or slot(found, "listed")
    rest = name or loose or slot(found, "rest") or ""
    known = slot(found, "owned") and not of_several(language).some.match(rest)
    if known or of_one(language).bought.search(rest):
        return None
    newcomers = newcomers_from(rest, names, language)
    if loose and not all(is_animal(newcomer, names, language) for newcomer in newcomers):
        return None
    if slot(found, "owned"):
        newcomers = tuple(replace(newcomer, kept=newcomer.came is None) for newcomer in newcomers)
    word = slot(found, "stage")
    if word is not None:
        stage = Stage(meaning("stages", language)[folded(word)])
        newcomers = tuple(replace(newcomer, stage=newcomer.stage or stage) for newcomer in newcomers)
    return Instruction(action=action, newcomers=newcomers if rest else ())


# --- tags and places -----------------------------------------------------------------------


def is_tag(text: str) -> bool:
    """Whether words can be a tag: a few letters, digits and marks without a blank."""
    return _TAG.fullmatch(text.strip()) is not None


#: What each action makes of the phrasing that it was said in.
UNDERSTAND: Final[Mapping[Action, Understand]] = {
    Action.BY_THE_RULE: by_the_rule,
    Action.SCHEDULE: schedule,
    Action.SCHEDULE_OF: schedule_of,
    Action.SLOW_MONTHS: slow_months,
    Action.CONCERN: _concern,
    Action.DISTURB: _concern,
    Action.CARE: _care,
    Action.WHO_LOGGED: _who_logged,
    Action.NOTES: _notes,
    Action.PHOTOS: _photos,
    Action.LANGUAGE: _language,
    Action.ADD: _add,
    Action.RENAME: of_animal,
    Action.RETAG: of_animal,
    Action.MOVE: moved,
    Action.RETIRE: of_animal,
    Action.PICTURE: _picture,
    Action.UNITS: _settings,
    Action.DATE_ORDER: _settings,
    Action.POSTURE: _posture,
    Action.SIGN: _sign,
    Action.LABELS: of_some,
    **OF_HOURS,
    **QUESTIONS,
    **OF_THE_PAST,
    **OF_FEEDERS,
}
