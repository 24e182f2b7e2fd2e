"""The answer to a question that the reading asked: typed in words instead of tapped."""

from __future__ import annotations

import logging
from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from datetime import datetime
from typing import Any, Final

from bot.reading.kinds.drafts import others_left
from bot.reading.message.parse import Message
from bot.reading.model import FEEDING, About, Ask, Option, Reading, ReadingKind
from bot.reading.names.shelf_names import ShelfNames
from bot.reading.orders.orders import order_in
from bot.terms import Entry, KeeperSettings, Kind

_log: Final = logging.getLogger(__name__)

#: An answer is short; more words than these are a new message.
LONGEST_ANSWER: Final = 8


def read_answer(
    text: str, ask: Ask, names: ShelfNames, *, now: datetime, settings: KeeperSettings, alone: bool = False
) -> Reading | None:
    """What the message says once the question is answered by ``text``.

    ``alone``: the text has to be the answer and nothing else, as when other matters came between.
    ``None`` where the text is no answer to the question but a new message. "Neither" makes the
    message ``unclear``: nothing is stored. Never raises.
    """
    try:
        return _Answer(Message(text, names, now, settings, None), ask).reading(alone=alone)
    except Exception:  # a fault of ours must not lose the keeper's message
        _log.exception("an answer could not be read")
        return None


#: Senses of words that an answer may have beside what was asked for.
_OF_ANSWERS: Final = frozenset(
    {"fill", "pron", "did", "hedge", "prey", "size", "ordinal", "neither", "yes", "no"}
)
#: What makes of an answer a message of its own.
_TELLS_MORE: Final = frozenset({"prey", "except"})


class _Answer:
    def __init__(self, message: Message, ask: Ask) -> None:
        self.message, self.ask = message, ask
        self.items = message.items([range(len(message.tokens))])

    def reading(self, *, alone: bool) -> Reading | None:
        """The reading that the answer makes, if it is one."""
        words = [t for t in self.message.tokens if t.kind != "mark"]
        if not words or len(words) > LONGEST_ANSWER or (alone and self._says_more()):
            return None
        if self._covers("neither"):
            return Reading(reading=ReadingKind.UNCLEAR, text=self._text())
        picked = self._picked()
        if picked is not None:
            return picked
        return _ABOUT[self.ask.about](self)

    def _text(self) -> str:
        return self.ask.draft.text if self.ask.draft is not None else self.message.text

    def _covers(self, cat: str) -> bool:
        """Whether a cue of this sort is all that is said."""
        marks = {n for n, t in enumerate(self.message.tokens) if t.kind == "mark"}
        for at, (end, senses) in self.message.cues.items():
            if any(s.cat == cat for s in senses):
                rest = [n for n in range(len(self.message.tokens)) if n not in marks and not at <= n < end]
                if all(self.message.light(n) for n in rest):
                    return True
        return False

    def _says_more(self) -> bool:
        """Whether a word is no part of an answer: "better today" tells of more than the day."""
        kinds = self.ask.about is About.KIND
        return any(
            item.cat not in "SDAN"
            and _OF_ANSWERS.isdisjoint(item.senses)
            and not (kinds and item.senses.verbs)
            for item in self.items
        )

    def _picked(self) -> Reading | None:
        """ "The second", "2" where answers are offered in a row, "yes" where there is one."""
        options = self.ask.options
        number = next(
            (
                s.group.count
                for _, (_, senses) in self.message.cues.items()
                for s in senses
                if s.cat == "ordinal"
            ),
            None,
        )
        if (
            number is not None
            and not any(i.cat in "SDA" for i in self.items)
            and self.ask.about is not About.DAY
        ):
            place = number - 1 if number > 0 else len(options) - 1
            return options[place].reading if 0 <= place < len(options) else None
        if (
            len(options) == 1
            and any("yes" in i.senses for i in self.items)
            and not any(i.cat == "S" for i in self.items)
        ):
            return options[0].reading
        if len(options) == 1 and self.items and "no" in self.items[0].senses and len(self.items) == 1:
            return Reading(reading=ReadingKind.UNCLEAR, text=self._text())
        return None

    def _option(self, value: str) -> Option | None:
        return next((o for o in self.ask.options if o.value == value), None)

    # -- by what was asked --

    def specimen(self) -> Reading | None:
        """A tag, a name, a description that fits one of the choices."""
        refs = [i.val for i in self.items if i.cat == "S"]
        if not refs or self._more_is_said():
            return None
        chosen: list[str] = []
        for ref in refs:
            tags = [t for t in ref.tags if t in self.ask.choices] if self.ask.choices else list(ref.tags)
            tags = tags or list(ref.tags if ref.sure else ())
            if not tags or (len(tags) > 1 and not (ref.sure and ref.plural)):
                return None
            chosen += tags
        tags_in_order = self.message.names.in_order(chosen)
        if len(tags_in_order) == 1:
            option = self._option(tags_in_order[0])
            if option is not None:
                return option.reading
        return self._filled({"specimens": tags_in_order})

    def day(self) -> Reading | None:
        """A day that is not to come, or the days of a reminder."""
        if self.ask.doubt == "remind_when":
            return self._reminded()
        spans = [i.val for i in self.items if i.cat == "D"]
        if any(i.cat == "S" for i in self.items) or len(spans) != 1 or spans[0].day is None:
            return None
        day = spans[0].day
        if spans[0].doubt or (day > self.message.today and not self._looks_ahead()):
            return None
        option = self._option(day.isoformat())
        if option is not None:
            return option.reading
        changes: dict[str, Any] = {"day": day}
        if spans[0].time is not None:
            changes["time"] = spans[0].time
        return self._filled(changes)

    def _reminded(self) -> Reading | None:
        """ "Tomorrow", "every two weeks": the order that lacked its days, read on with them."""
        draft = self.ask.draft
        if draft is None or draft.reminder is None or not self._only_days():
            return None
        order = order_in(self.message.saying(f"{draft.text} {self.message.source.plain}"))
        if order is None or order[1].reminder is None:
            return None
        reminder = replace(order[1].reminder, what=draft.reminder.what, specimens=draft.reminder.specimens)
        return Reading(reading=ReadingKind.REMINDER, text=draft.text, reminder=reminder)

    def _only_days(self) -> bool:
        """Whether nothing but days is said; a day may be somebody's name as well."""
        items = [i for i in self.message.items([range(len(self.message.tokens))], "future") if i.cat != "M"]
        days = [i for i in items if i.cat in "DP" or (i.alt is not None and i.alt.day is not None)]
        small = {"fill", "on", "to", "for", "each", "the", "a"}
        return bool(days) and all(i in days or not small.isdisjoint(i.senses) for i in items)

    def _looks_ahead(self) -> bool:
        draft = self.ask.draft
        return draft is not None and draft.reminder is not None and not draft.entries

    def kind(self) -> Reading | None:
        """A word for what happened."""
        kinds = [
            verb.group.kind for i in self.items for verb in i.senses.verbs if verb.group.kind is not None
        ]
        if not kinds or any(i.cat == "S" for i in self.items):
            return None
        option = self._option(kinds[0].value)
        if option is not None:
            return option.reading
        return self._filled({"kind": kinds[0]})

    def amount(self) -> Reading | None:
        """A number, or an amount with its unit."""
        if any(i.cat in "SU" for i in self.items):
            return None
        numbers = [i.val for i in self.items if i.cat == "N"]
        amounts = [i.val for i in self.items if i.cat == "A"]
        if len(numbers) == 1 and not amounts and not numbers[0].doubt:
            option = self._option(str(numbers[0].value))
            return option.reading if option is not None else self._filled({"count": int(numbers[0].value)})
        if len(amounts) == 1 and not numbers and not amounts[0].doubt:
            return self._measured(amounts[0])
        return None

    def _measured(self, amount: Any) -> Reading | None:
        draft = self.ask.draft
        if draft is None:
            return None
        for hole in self.ask.holes:
            for name in _FIELDS_OF_DIMENSION.get(amount.dimension, ()):
                if getattr(draft.entries[hole], name) is not None:
                    return self._filled({name: amount.value * _FACTORS.get(name, 1)})
        return None

    def prey(self) -> Reading | None:
        """A feeder's name."""
        preys = [i.senses["prey"].group.prey for i in self.items if "prey" in i.senses]
        if any(i.cat == "S" for i in self.items):
            return None  # "Ink had a roach": told of an animal, and no answer
        if len(set(preys)) != 1 or preys[0] is None:
            return None
        option = self._option(preys[0])
        return option.reading if option is not None else self._filled({"prey": preys[0]})

    def _more_is_said(self) -> bool:
        """Whether more than the answer is told or wanted, "feed Ink again": then it is a new message.

        So it is where one is excepted, and where a tick stands behind a name: "B done except Ink".
        """
        named = next((n for n, i in enumerate(self.items) if i.cat == "S"), len(self.items))
        return any(
            i.cat in "DANXU"  # "stop the round for Moss" tells nothing of what was asked about
            or not _TELLS_MORE.isdisjoint(i.senses)
            or i.senses.verbs
            or (n > named and "yes" in i.senses)
            for n, i in enumerate(self.items)
        )

    # -- the hole --

    def _filled(self, changes: Mapping[str, Any]) -> Reading | None:
        draft = self.ask.draft
        if draft is None or not self.ask.holes:
            return None
        return filled(draft, self.ask.holes, changes)


def filled(draft: Reading, holes: Sequence[int], changes: Mapping[str, Any]) -> Reading:
    """The draft with an answer put into its holes; what else is to be asked is asked next."""
    entries = tuple(_changed(e, changes) if n in holes else e for n, e in enumerate(draft.entries))
    told = [(e.kind, e.day, e.specimens) for n, e in enumerate(entries) if n in holes]
    if "specimens" in changes:
        entries = tuple(
            e if n in holes else replace(e, specimens=others_left((e.kind, e.day, e.specimens), told))
            for n, e in enumerate(entries)
        )
    if draft.ask is None:
        return replace(draft, entries=entries)
    ask = draft.ask
    asked = replace(
        ask,
        draft=filled(ask.draft, holes, changes) if ask.draft is not None else None,
        options=tuple(Option(value=o.value, reading=filled(o.reading, holes, changes)) for o in ask.options),
    )
    return replace(draft, entries=entries if draft.reading is ReadingKind.ENTRIES else (), ask=asked)


def _changed(entry: Entry, changes: Mapping[str, Any]) -> Entry:
    known = {
        k: v
        for k, v in changes.items()
        if k != "count"
        or entry.kind in FEEDING | {Kind.SAC, Kind.STOCKED, Kind.DIED, Kind.LEFT, Kind.ACQUIRED}
    }
    return replace(entry, **known)


_FIELDS_OF_DIMENSION: Final[Mapping[str, tuple[str, ...]]] = {
    "length": ("span_cm", "carapace_mm", "substrate_cm"),
    "weight": ("weight_g",),
    "volume": ("volume_l", "ml"),
    "temperature": ("temp_c",),
    "humidity": ("humidity_pct",),
    "money": ("price",),
}
_FACTORS: Final[Mapping[str, int]] = {"carapace_mm": 10, "ml": 1000}
_ABOUT: Final[Mapping[About, Callable[[_Answer], Reading | None]]] = {
    About.SPECIMEN: _Answer.specimen,
    About.DAY: _Answer.day,
    About.KIND: _Answer.kind,
    About.AMOUNT: _Answer.amount,
    About.PREY: _Answer.prey,
}
