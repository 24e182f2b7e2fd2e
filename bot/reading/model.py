"""What a message is understood to say: the reading, and its JSON as the reading contract has it.

A reading is a value: nothing is stored by reading. Where the message cannot be stored safely, the
reading is an :class:`Ask` that carries everything needed to go on from the answer: the readings that
each offered choice stands for, and a draft whose hole a typed answer fills.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import field
from datetime import date, time
from enum import StrEnum
from typing import Any, Final

from bot.terms import Entry, Kind
from bot.terms.recurrence import every
from bot.terms.value_object import value_object

#: The kinds that tell of a meal.
FEEDING: Final = frozenset({Kind.FED, Kind.REFUSED, Kind.OFFERED})
#: The kinds that tell of a molt, the last one among them.
MOLTS: Final = frozenset({Kind.MOLTED, Kind.MATURED})


class ReadingKind(StrEnum):
    """What sort of thing the message is."""

    ENTRIES = "entries"
    QUESTION = "question"
    REMINDER = "reminder"
    HOLD = "hold"
    AMEND = "amend"
    ASK = "ask"
    UNCLEAR = "unclear"


class Topic(StrEnum):
    """What a question is about."""

    LAST = "last"
    DUE = "due"
    HISTORY = "history"
    STATUS = "status"
    SEALED_NOW = "sealed_now"
    PREMOLT_NOW = "premolt_now"
    NOT_EATEN = "not_eaten"
    SIZE = "size"
    GROWTH = "growth"
    MATURITY = "maturity"
    HOME = "home"
    NEXT_MOLT = "next_molt"
    MOLT_INTERVAL = "molt_interval"
    SHOPPING = "shopping"
    STOCK = "stock"
    COUNT = "count"
    REHOUSE_DUE = "rehouse_due"
    SPECIES_SUMMARY = "species_summary"
    WHERE = "where"
    CLIMATE = "climate"
    SPENDING = "spending"
    MEAL = "meal"
    NOT_SINCE = "not_since"


class About(StrEnum):
    """What has to be asked."""

    SPECIMEN = "specimen"
    KIND = "kind"
    DAY = "day"
    AMOUNT = "amount"
    PREY = "prey"


@value_object(kw_only=True)
class Question:
    """The keeper wants to know something. ``species`` is a scientific name.

    ``since`` and ``until`` are the first and last local day that it is about, where it names any.
    ``everyone``: no animal is named, since all are asked about, each for itself.
    ``prey`` is the feeder asked about.
    """

    topic: Topic
    kind: Kind | None = None
    specimens: tuple[str, ...] = ()
    everyone: bool = False
    species: str | None = None
    days: int | None = None
    prey: str | None = None
    since: date | None = None
    until: date | None = None


@value_object(kw_only=True)
class Reminder:
    """The keeper wants to be told later: on ``day``, at ``time``, or again and again.

    ``every_days`` counts days, ``rule`` is an RFC 5545 rule that follows the calendar. ``from_done``: it is
    counted from when it was done, not from its day. ``part`` is the part of the day that was said in place of
    a time: "evening".
    """

    what: str
    specimens: tuple[str, ...] = ()
    day: date | None = None
    time: time | None = None
    every_days: int | None = None
    rule: str | None = None
    from_done: bool = False
    part: str | None = None

    @property
    def repeats(self) -> str | None:
        """The rule it comes by, one that counts days too."""
        return self.rule or (every(self.every_days) if self.every_days is not None else None)


@value_object(kw_only=True)
class Hold:
    """Feeding prompts to be paused (``hold``) or resumed (``resume``), until a date or for good."""

    specimens: tuple[str, ...]
    state: str
    until: date | None = None


@value_object(kw_only=True)
class Earlier:
    """An entry that is on record by the keeper's words: of these animals, of one of these kinds and days.

    Whatever is empty was not said. ``latest``: the last such one. ``was`` has what it says by the keeper's
    words, under the names of :class:`Amend`'s changes.
    """

    specimens: tuple[str, ...] = ()
    kinds: tuple[Kind, ...] = ()
    days: tuple[date, ...] = ()
    latest: bool = False
    was: Mapping[str, Any] = field(default_factory=dict)


@value_object(kw_only=True)
class Amend:
    """The previous entry is wrong, or the one that ``of`` tells: ``undo`` it, or ``change`` fields of it.

    ``changes`` has the names and values of :class:`bot.terms.Entry` attributes; ``number`` is one that was
    said without what it measures. ``kinds`` are those that the words which take back name: "the weigh-in".
    """

    action: str
    changes: Mapping[str, Any] = field(default_factory=dict)
    of: Earlier | None = None
    kinds: frozenset[Kind] = frozenset()


@value_object(kw_only=True)
class Option:
    """One answer to an ask: what it stands for, and what the message says if it is taken.

    ``value`` is what fills the hole: a tag, an ISO day, a kind, a number or a prey word.
    """

    value: str
    reading: Reading


@value_object(kw_only=True)
class Ask:
    """It cannot be stored safely without an answer.

    ``doubt`` is the key of the sentence that names the doubt (``two_fit``, ``unknown_name``,
    ``future_day``, …), ``words`` the words of the message that raised it. ``options`` are the
    answers to offer, best guess first. ``draft`` is the reading with the hole: the entries at the
    indices ``holes`` of ``draft.entries`` wait for the answer, so that it can also be typed.
    """

    about: About
    doubt: str
    words: str = ""
    choices: tuple[str, ...] = ()
    options: tuple[Option, ...] = ()
    draft: Reading | None = None
    holes: tuple[int, ...] = ()


@value_object(kw_only=True)
class Reading:
    """What one message says.

    ``denies`` is what did not happen by it: all that it says, or of another day than its entries.
    ``beside`` is an order that has to be asked about, beside what the message tells.
    """

    reading: ReadingKind
    text: str = ""
    entries: tuple[Entry, ...] = ()
    question: Question | None = None
    reminder: Reminder | None = None
    hold: Hold | None = None
    amend: Amend | None = None
    ask: Ask | None = None
    denies: Earlier | None = None
    beside: Reading | None = None
