"""What a keeper was to be reminded of and says is done: "cleaned box 4" for "clean box 4".

Meals and water that animals were to get are done once the journal has them, in whatever words.

Only a reminder that is due, or will be within the day, is ticked off, the earliest where several are alike. A
single one ends; a repeated one goes on to its next day.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from datetime import timedelta
from typing import Final

from bot.conversation import reminders_told
from bot.conversation.reminders import when
from bot.conversation.texts import say
from bot.conversation.turn import Turn
from bot.reading.phrasings import word_set
from bot.reading.wanted_schedules import work_said
from bot.reading.words import lexicon
from bot.terms import Kind, WaterHow
from bot.terms.schedule import Care
from storage.records import StoredReminder

_WITHIN: Final = timedelta(hours=24)
_WORD: Final = re.compile(r"[\w#]+")


def ticked_off(turn: Turn) -> str | None:
    """Ticks off the reminder that a message tells is done; what is said of that, or ``None``."""
    said = _words(turn.incoming.text)
    if not said or turn.incoming.text.rstrip().endswith("?"):
        return None
    soon = turn.incoming.sent_at + _WITHIN
    due = [found for found in turn.work.reminders.open(turn.shelf_id) if found.next_at <= soon]
    meant = next(
        (one for one in due if _is_done(said, _words(one.what), turn) or _is_on_record(one, turn)), None
    )
    return None if meant is None else _tick(turn, meant)


def _words(text: str) -> list[str]:
    light = word_set("light_in_a_reminder")
    return [word for word in _WORD.findall(text.casefold()) if word not in light]


def _is_done(said: list[str], wanted: list[str], turn: Turn) -> bool:
    """Whether both are of the same things, and the first word of one is the past of the other's."""
    return (
        len(said) == len(wanted) > 1
        and said[1:] == wanted[1:]
        and said[0] != wanted[0]
        and _kinds(said[0], turn) & _kinds(wanted[0], turn) != set()
    )


#: What on record is the work done: the kinds, and of water where it went, where that is told.
_DOES: Final[Mapping[Care, tuple[frozenset[Kind], frozenset[WaterHow]]]] = {
    Care.FEED: (frozenset({Kind.FED, Kind.REFUSED, Kind.OFFERED}), frozenset()),
    Care.WATER: (frozenset({Kind.WATERED}), frozenset(WaterHow)),
    Care.DISH: (frozenset({Kind.WATERED}), frozenset({WaterHow.DISH})),
    Care.MIST: (frozenset({Kind.WATERED}), frozenset({WaterHow.MISTED, WaterHow.SUBSTRATE})),
}


def _is_on_record(reminder: StoredReminder, turn: Turn) -> bool:
    """Whether the message tells that all animals got today the food or water that was due today."""
    work = work_said(reminder.what)
    if work is None or not reminder.tags or turn.day_of(reminder.next_at) > turn.today:
        return False
    kinds, hows = _DOES[Care(work)]
    told = [entry for entry in turn.reading.entries if entry.kind in kinds and entry.day == turn.today]
    done = {tag for entry in told if entry.how is None or entry.how in hows for tag in entry.specimens}
    return done >= set(reminder.tags)


def _kinds(word: str, turn: Turn) -> set[str]:
    """What a verb tells of, by the lexicon; and the word without the ending of the past."""
    senses = lexicon(turn.settings.language).account.senses(word)
    stem = re.sub(r"(?:(?<=([bdglmnprt]))\1ed|ed|d)$", "", word).rstrip("e")
    return {s.group.kind.value for s in senses if s.cat == "verb" and s.group.kind} | {f"~{stem}"}


def _tick(turn: Turn, reminder: StoredReminder) -> str:
    was_for = when(turn, reminder.next_at)
    if reminder.repeats is None:
        turn.work.reminders.end(reminder.id)
        return say("remind.ticked", what=reminder.what, when=was_for)
    following = reminders_told.done_now(turn, reminder)
    return say("remind.ticked_every", what=reminder.what, when=was_for, next=when(turn, following))
