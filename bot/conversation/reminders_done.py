"""What a keeper was to be reminded of and says is done: "cleaned box 4" for "clean box 4".

Only a reminder that is due, or will be within the day, is ticked off, the earliest where several are alike. A
single one ends; a repeated one goes on to its next day.
"""

from __future__ import annotations

import re
from datetime import timedelta
from typing import Final

from bot.conversation import reminders_told
from bot.conversation.reminders import when
from bot.conversation.texts import say
from bot.conversation.turn import Turn
from bot.reading.phrasings import word_set
from bot.reading.words import lexicon
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
    meant = next((found for found in due if _is_done(said, _words(found.what), turn)), None)
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
