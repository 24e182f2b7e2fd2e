"""An entry on record told of by its animal, kind and day: "delete the water for Ink on Thursday".

Taken back: a word that takes back, then the entry. Changed: a word that changes, the entry, "to" and what it
should say; or the entry, "was" or "should be", what it should say and what not; or an animal and two figures.
Nothing that begins so is ever an entry of its own.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from typing import Any, Final

from bot.reading.amends.amend_values import change, denied
from bot.reading.amends.entry_told import POINTERS, Told, number_of, value_of
from bot.reading.items.item import Item
from bot.reading.message.parse import Message
from bot.reading.model import About, Amend, Ask, Earlier, Option, Reading, ReadingKind
from bot.reading.words.rule_words import rule_words


def of_an_earlier_one(message: Message) -> Reading | None:
    """What a message says is wrong with an entry on record, ``None`` where it tells of none."""
    if not message.on_record:
        return None
    first = message.first_word(range(len(message.tokens)))
    if first is None or _is_an_order(message):
        return None
    begged = message.on_record.get(first)
    if begged is not None and any(s.cat == "begs" for s in begged[1]) and begged[0] < len(message.tokens):
        first = begged[0]
    elif message.tokens[-1].text == "?":
        return None
    return (
        _off_the_record(message, first)
        or _taken_back(message, first)
        or _changed(message, first)
        or _put_right(message)
    )


def _is_an_order(message: Message) -> bool:
    return any(message.cue_at(cat) is not None for cat in ("remind", "hold", "resume", "prompting"))


# -- taken back -----------------------------------------------------------------------------------


def _taken_back(message: Message, first: int) -> Reading | None:
    end, clears = _verb(message, first, "unlog")
    if end is None or end >= len(message.tokens):
        return None
    told = Told(message, range(end, _end_of_it(message, end)))
    if clears and told.only_prey and not told.days:
        return None  # "remove the cricket from Ink's tub"
    if told.says_enough():
        return with_animals(told, lambda of: Amend(action="undo", of=of))
    of_the_last = message.cues.get(first, (0,))[0] > end  # "undo that, it was Ink"
    return _which(message) if told.refs and not clears and not of_the_last else None


def _off_the_record(message: Message, first: int) -> Reading | None:
    """ "take Ink's molt off the record": words that only with those at the end are of an entry."""
    at = next((t for t in message.on_record if t > first and _verb(message, t, "off_record")[0]), None)
    if at is None:
        return None
    end = _verb(message, first, "takes_off")[0] or _verb(message, first, "unlog")[0]
    behind = _verb(message, at, "off_record")[0]
    left = range(behind or at, len(message.tokens))
    if end is None or end >= at or any(message.tokens[t].kind != "mark" for t in left):
        return None
    told = Told(message, range(end, at))
    if told.says_enough():
        return with_animals(told, lambda of: Amend(action="undo", of=of))
    return _which(message) if told.refs else None


def _end_of_it(message: Message, start: int) -> int:
    """Where the entry told of ends: before a mark behind which only a regret follows, "…, that was wrong"."""
    size = len(message.tokens)
    for mark in range(start + 1, size):
        if message.tokens[mark].kind == "mark" and message.tokens[mark].text in _PARTS:
            behind = mark + 1
            while behind < size and (message.light(behind) or _regrets(message, behind)):
                behind = message.cues[behind][0] if _regrets(message, behind) else behind + 1
            if behind >= size:
                return mark
    return size


_PARTS = frozenset({",", ".", ";", "–", "-", "!", "(", "?"})


def _regrets(message: Message, at: int) -> bool:
    return any(s.cat in ("undo", "amend", "chat") for s in message.cues.get(at, (0, ()))[1])


def _verb(message: Message, at: int, cat: str) -> tuple[int | None, bool]:
    """Where a word that takes back or changes ends; and whether it may be a keeper's work as well."""
    found = message.on_record.get(at)
    senses = [s for s in found[1] if s.cat == cat] if found else []
    if found is None or not senses:
        return None, False
    return found[0], any(s.group.act == "clears" for s in senses)


# -- changed --------------------------------------------------------------------------------------


def _changed(message: Message, first: int) -> Reading | None:
    """ "change Ink's meal of Monday to 3 crickets"."""
    end, _ = _verb(message, first, "relog")
    if end is None:
        return None
    to = next((t for t in range(len(message.tokens) - 2, end, -1) if _leads_on(message, t)), None)
    if to is None and message.cues.get(first, (0,))[0] > end and not _LAST.isdisjoint(message.keys[end:][:2]):
        return None  # "fix last: it was Ink" is of the last entry
    if to is None:
        told = Told(message, range(end, len(message.tokens)))
        edits = told.refs and message.cue_at("amend") == first
        return _which(message) if edits and len(told.items) > 1 else None
    told = Told(message, range(end, to))
    new = message.items([range(to + 1, len(message.tokens))])
    if any(i.cat == "S" and i.val.how == "place" for i in new):
        return None  # "move Ink to shelf B" is no matter of an entry
    if not told.refs or not told.fits():
        return None
    if _moves(message, first) and told.only_named():
        # "move Ink to B2": her last entry, or she herself? "Can I move Ink to a bigger tub?": herself
        return None if _asks_whether_one_may(message) else _which(message)
    return _with_changes(told, message, range(to + 1, len(message.tokens)))


_LAST: Final = rule_words("last")


def _moves(message: Message, first: int) -> bool:
    found = message.on_record.get(first)
    return found is not None and any(s.group.act == "moves" for s in found[1])


def _asks_whether_one_may(message: Message) -> bool:
    begging = any(s.group.act == "for oneself" for _, senses in message.on_record.values() for s in senses)
    return begging and message.tokens[-1].text == "?"


def _leads_on(message: Message, at: int) -> bool:
    return any(s.cat == "to" for s in message.senses(at))


def _put_right(message: Message) -> Reading | None:
    """ "that water on Monday was Ink, not Mole", "Ink's meal yesterday should be 3", "Ink is 14.5 not 14"."""
    first = begin = next(t for t, token in enumerate(message.tokens) if token.kind != "mark")
    while first in message.cues and any(s.cat == "amend" for s in message.cues[first][1]):
        first = message.cues[first][0]
        while first < len(message.tokens) and message.tokens[first].kind == "mark":
            first += 1
    for at, found in message.on_record.items():
        within = first < at < len(message.tokens) - 1
        if not within or not any(s.cat == "turns_into" for s in found[1]) or _guesses(message, at):
            continue
        told = Told(message, range(first, at))
        rest = range(found[0], len(message.tokens))
        if not rest or not told.fits():
            return None
        figures = _two_figures(message, rest) if told.only_named() else {}
        surely = first > begin or any(s.group.act == "should" for s in found[1])
        surely = surely or _contrasts(message.items([rest]))
        points = message.keys[first] in POINTERS
        of_the_last = not (told.refs or told.days or points)  # "weight should be 22 g"
        if figures or (told.kinds and told.named_by_noun() and (surely or points) and not of_the_last):
            reading = _with_changes(told, message, rest, **figures)
            return reading if surely or figures or reading.amend is not None else None
        return None
    return None


def _contrasts(items: Sequence[Item]) -> bool:
    """Whether one thing is put in the place of another: "Ink, not Mole"."""
    return any(item.cat == "X" or denied(items, place, opens=False) for place, item in enumerate(items))


def _guesses(message: Message, at: int) -> bool:
    """ "Ink's bald patch went black, must be in premolt": what is thought of it, and no word on an entry.

    "… gone dark, should be molting soon" likewise, where what is thought of is still to come.
    """
    if at == 0 or message.tokens[at - 1].text != ",":
        return False
    return message.keys[at] in _MUST or not _TO_COME.isdisjoint(message.keys[at:])


_MUST: Final = rule_words("must")
_TO_COME: Final = rule_words("still_to_come")


def _two_figures(message: Message, rest: range) -> dict[str, Any]:
    """ "14.5 not 14": what it is, and what it is not; empty where anything else is said."""
    items = [i for i in message.items([rest]) if i.cat != "M"]
    figures = [number_of(i) for i in items if number_of(i) is not None]
    between = [i for i in items if number_of(i) is None]
    alone = len(figures) == 2 and len(items) == 3 and "neg" in between[0].senses and between[0] is items[1]
    return {"changes": {"number": figures[0]}, "was": {"number": figures[1]}} if alone else {}


def _with_changes(
    told: Told,
    message: Message,
    rest: range,
    *,
    changes: Mapping[str, Any] | None = None,
    was: Mapping[str, Any] | None = None,
) -> Reading:
    said = change(message, rest) if changes is None else None
    if said is not None and said.amend is None:
        return _which(message)
    new = changes if changes is not None else said.amend.changes if said is not None and said.amend else {}
    if not new:
        return _which(message)
    told.was |= _denied_values(message, rest) if was is None else was
    return with_animals(told, lambda of: Amend(action="change", changes=new, of=of))


def _denied_values(message: Message, rest: range) -> dict[str, Any]:
    """What an entry says by the words behind a "not"."""
    out: dict[str, Any] = {}
    items = message.items([rest])
    for place, item in enumerate(items):
        if item.cat == "X":
            out["specimens"] = message.names.in_order(t for r in item.val if r.sure for t in r.tags)
        elif denied(items, place, opens=False):
            out |= value_of(item)
    return {name: value for name, value in out.items() if value}


# -- whom it is about ------------------------------------------------------------------------------


def with_animals(told: Told, made: Callable[[Earlier], Amend]) -> Reading:
    """The amendment, or the question which animal is meant."""
    unsure = next((r for r in told.refs if not r.sure), None)
    if unsure is None:
        return Reading(reading=ReadingKind.AMEND, amend=made(told.earlier()))
    of = told.earlier(())
    options = tuple(
        Option(
            value=tag,
            reading=Reading(reading=ReadingKind.AMEND, amend=made(replace(of, specimens=(tag,)))),
        )
        for tag in unsure.tags
    )
    ask = Ask(
        about=About.SPECIMEN,
        doubt=unsure.doubt,
        words=unsure.words,
        choices=unsure.tags,
        options=options,
    )
    return Reading(reading=ReadingKind.ASK, ask=ask)


def _which(message: Message) -> Reading:
    ask = Ask(about=About.KIND, doubt="which_entry", words=message.source.plain.strip())
    return Reading(reading=ReadingKind.ASK, ask=ask)
