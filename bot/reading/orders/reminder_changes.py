"""A reminder that is open, moved or called off by its words: "move the sac check to Friday". Pure.

Whether there is such a reminder is for whoever knows them to say; without one it is a message as any other.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime, time
from functools import cache
from typing import Final

from bot.reading.message.parse import Message
from bot.reading.names.shelf_names import ShelfNames
from bot.reading.words.phrasings import (
    SHARED,
    Phrasings,
    all_alike,
    bare,
    data,
    either,
    fitting,
    folded,
    own_data,
    word_set,
)
from bot.terms import KeeperSettings

_WORD: Final = re.compile(r"[\w#]+")
#: As few letters as two words have to share to be forms of one: "weigh" and "weighing".
_STEM: Final = 4


@dataclass(frozen=True, slots=True)
class ReminderChange:
    """What a message wants of an open reminder.

    ``which`` are the words for it, ``to`` those for its new day or time and ``by`` those for how much later;
    both are empty where it is to end. ``named``: the message calls it a reminder.
    """

    which: str
    to: str = ""
    by: str = ""
    named: bool = False

    @property
    def ends(self) -> bool:
        """Whether it is not wanted any more."""
        return not (self.to or self.by)


@dataclass(frozen=True, slots=True)
class Then:
    """When it is to be: a day, a time on the wall or a part of the day; whatever was not said is ``None``."""

    day: date | None = None
    time: time | None = None
    part: str | None = None


def reminder_change(text: str, language: str = SHARED) -> ReminderChange | None:
    """What a message wants of a reminder, ``None`` where it has no such form."""
    words = bare(text, language=language)
    _, found = next(fitting(words, language, _phrasings), (None, None))
    if found is None:
        return None
    said = found.groupdict()
    which = said["which"]
    called = either(sorted(word_set("called_reminders", language)))
    named = re.search(called, words.removeprefix(which), re.IGNORECASE) is not None
    return ReminderChange(which, said.get("to") or "", said.get("by") or "", named)


@cache
def _phrasings(language: str) -> Phrasings[None]:
    own = own_data(language)
    phrases = (*own.get("reminder_moved", ()), *own.get("reminder_ended", ()))
    return all_alike(phrases, language=language)


def is_called(which: str, what: str, also: Sequence[str], language: str = SHARED) -> bool:
    """Whether words mean a reminder that says ``what``; ``also`` are its animals and its day."""
    small = word_set("reminder_small", language)
    wanted = [word for word in _words(which) if word not in small]
    said = [*_words(what), *(word for more in also for word in _words(more))]
    return bool(wanted) and all(any(_alike(word, other) for other in said) for word in wanted)


def in_so_long(length: str, language: str = SHARED) -> str:
    """The words for the moment that is a length from now: "in 2 days"."""
    return str(data(language)["in_so_long"]).format(length)


def weekday_said(day: date, language: str = SHARED) -> str:
    """The words for the day of the week of a date."""
    return " ".join(data(language)["weekdays"][day.weekday()])


def _words(text: str) -> list[str]:
    return _WORD.findall(folded(text.replace("'s", "")))


def _alike(first: str, second: str) -> bool:
    shorter, longer = sorted((first, second), key=len)
    return first == second or (len(shorter) >= _STEM and longer.startswith(shorter))


def moments(words: str, names: ShelfNames, *, now: datetime, settings: KeeperSettings) -> list[Then]:
    """What words for a moment to come may mean: one, several to choose from, or none that is sure."""
    message = Message(words, names, now, settings, None)
    items = message.items([range(len(message.tokens))], "future")
    spans = [i.val for i in items if i.cat in "DP"]
    if len(spans) != 1 or any(i.cat not in "DPM" and _LIGHT.isdisjoint(i.senses) for i in items):
        return []
    span = spans[0]
    times: tuple[time, ...] = getattr(span, "times", ())
    if span.doubt:
        return [Then(span.day, at) for at in times] or [Then(day, span.time) for day in span.options]
    day = span.day if not getattr(span, "implied", False) else None
    return [Then(day, span.time, span.part)]


_LIGHT: Final = frozenset({"fill", "on", "the", "to"})
