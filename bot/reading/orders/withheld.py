"""Food that is not to be given: "no crickets for Ink until June", "not Ink today".

A "no" right before prey for somebody, or a "not" before somebody and a day, puts nothing right that was told
before. Where an end is said it asks for a pause; otherwise it is told, and asked about.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import chain
from typing import Final

from bot.reading.items.item import Item
from bot.reading.message.parse import Message
from bot.reading.portions.meals import denied_at


def withholds(message: Message, at: int) -> bool:
    """Whether what begins with the words of denial at ``at`` says for whom food is not, or who is not now."""
    starts = range(at, message.cues.get(at, (at + 1,))[0])  # "sorry no crickets for Ink"
    rest = (message.items([range(start, len(message.tokens))]) for start in starts)
    return any(_nothing_for(items) or _not_now(items) for items in rest)


def may_withhold(message: Message) -> bool:
    """Whether a message has a word that denies, as most have not, which are not taken apart for this."""
    return any(map(message.may_say, _DENIES))


def withheld_from(message: Message, part: range) -> bool:
    """Whether a part of a message, such as a sentence, withholds food up to an end that it says."""
    if not _denies(message, part):
        return False
    items = message.items([part], "future")
    at = _no_prey(items)
    if at is None:
        at = next((n for n in range(len(items)) if _not_now(items[n:])), None)
    if at is None or any("verb" in i.senses for i in items[:at]):
        return False
    ends = any(i.cat == "P" and str(i.val.kind) in _ENDS for i in items[at:])
    return ends and any(i.cat == "S" for i in items)


_ENDS: Final = frozenset({"until", "for"})


def _denies(message: Message, part: range) -> bool:
    """Whether a word that denies stands in a part of a message, alone or as the beginning of a phrase."""
    phrases = (message.phrases.get(at) for at in part)
    said = (sense for found in phrases if found is not None for sense in found[1])
    alone = (sense for at in part for sense in message.senses(at))
    return any(sense.cat in _DENIES for sense in chain(alone, said))


def _nothing_for(items: Sequence[Item]) -> bool:
    """ "no crickets for Ink", "no treats for Ink", but not "no roach, a cricket for Ink"."""
    if len(items) < len(("no", "crickets", "today")) or "none_of" not in items[0].senses:
        return False
    prey = [n for n, i in enumerate(items) if "prey" in i.senses]
    denied = [n for n in prey if denied_at(items, n) == 0]
    thing = not prey and (items[1].cat == "U" or "noun" in items[1].senses) and "for" in items[2].senses
    whom_or_when = any(i.cat in "SDP" or "for" in i.senses for i in items)
    return whom_or_when and (thing or (denied == prey != []))


def _no_prey(items: Sequence[Item]) -> int | None:
    """Where the first "no" stands that denies prey: "no more roaches for Ink"."""
    places = (denied_at(items, place) for place, i in enumerate(items) if "prey" in i.senses)
    return next((at for at in places if at is not None), None)


def _not_now(items: Sequence[Item]) -> bool:
    """ "not Ink today", "not for Ink until Friday": one word that denies, nobody but those, and a day."""
    if not items or _DENIES.isdisjoint(items[0].senses) or items[0].j - items[0].i > 1:
        return False  # "no sign of Mole for a week"
    if any(i.cat == "M" for i in items[1:2]):
        return False  # "no, Ink today"
    said = [i.cat for i in items[1:] if i.cat != "M" and {"for", "fill"}.isdisjoint(i.senses)]
    return said in (["S", "D"], ["S", "P"])


_DENIES: Final = frozenset({"neg", "none_of"})
