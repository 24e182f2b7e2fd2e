"""One thing put in another's place with a "not" between: "roach not cricket", "not today, it was Sunday"."""

from __future__ import annotations

from dataclasses import replace
from typing import Final

from bot.reading.items.of_one_sort import sort_of
from bot.reading.message.parse import Message
from bot.reading.model import FEEDING, MOLTS, Earlier, Reading
from bot.reading.words.rule_words import rule_openings, rule_words
from bot.terms import Kind


def contrasting(message: Message, start: int = 0) -> range | None:
    """ "yesterday, not today", "roach not cricket": nothing but one thing put in another's place."""
    everything = range(start, len(message.tokens))
    if len(everything) > LONGEST_CONTRAST or NOT.isdisjoint(message.keys[start:]):
        return None
    items = [i for i in message.items([everything]) if i.cat != "M"]
    if len(items) > 1 and items[-1].cat == "X" and items[-1].text.startswith(_NOT_SO) and items[0].cat == "S":
        return everything if len(items) == 2 and len(items[0].val.tags) == 1 else None  # "Dottie, not Dot"
    said = [i for i in items if not {"a", "the"} & set(i.senses)]
    event = len(said) > 1 and bool(said[0].senses.kinds) and said[1].text in _IT_WAS
    if event:  # "the molt was on the 12th, not the 13th"
        said, everything = said[1:], range(said[1].i, everything.stop)
    said = said[1:] if said[:1] and said[0].text in _IT_WAS else said  # "was 3 not 2"
    values = [i for i in said if sort_of(i)]
    nots = [i for i in said if "neg" in i.senses and i.text in NOT]
    sorts = [sort_of(i) for i in values]
    one_sort = len(set(sorts)) == 1 or sorts == ["A", "N"]  # "45 g not 54"
    alone = len(said) == 3 and len(values) == 2 and len(nots) == 1 and nots[0] is not said[-1]
    return everything if alone and one_sort else None


_NOT_SO: Final = rule_openings("not")
_IT_WAS: Final = rule_words("was")
NOT: Final = rule_words("not")
LONGEST_CONTRAST: Final = 12


def but_was(message: Message) -> range | None:
    """ "not today, it was Sunday": what is put in the place of what is denied before it."""
    everything = range(len(message.tokens))
    if len(everything) > LONGEST_CONTRAST or not any(s.cat == "neg" for s in message.senses(0)):
        return None
    items = message.items([everything])
    values = [i for i in items if sort_of(i)]
    if len(values) != 2 or sort_of(values[0]) != sort_of(values[1]):
        return None
    said = [i for i in items if not (i.cat == "M" or i.senses.keys() & _WAS or i.text in _HAPPENED)]
    parted = any(i.cat == "M" for i in items if values[0].j <= i.i < values[1].i)
    return range(values[1].i, len(message.tokens)) if parted and said == values else None


_HAPPENED: Final = rule_words("happened")
_WAS: Final = frozenset({"did", "pron", "the", "a", "fill", "but", "neg"})


def of_that_kind(message: Message, changed: Reading | None, rest: range) -> Reading | None:
    """ "the molt was on the 12th, not the 13th": the change of an entry of the kind and day that it names."""
    if changed is None or changed.amend is None or changed.amend.changes.keys() != {"day"}:
        return changed
    kinds = frozenset().union(*(item.senses.kinds for item in message.items([range(rest.start)])))
    if not kinds:
        return changed
    kinds |= next((family for family in (FEEDING, MOLTS) if family & kinds), frozenset())
    days = {item.val.day for item in message.items([rest]) if item.cat == "D"} - {
        changed.amend.changes["day"]
    }
    of = Earlier(kinds=tuple(kind for kind in Kind if kind in kinds), days=tuple(days - {None}))
    return replace(changed, amend=replace(changed.amend, of=of))
