"""Events that only say when something else was: "hasn't eaten since she molted", "fed Ink after she shed".

They were, nobody says on which day, and are no news: what stands behind the word is let go. A meal behind
"after" is one of that day; behind "since" and "before" nothing is.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from bot.reading.items.item import Item, begins_behind, ends_sentence, tells_a_deed
from bot.reading.model import FEEDING
from bot.reading.names.shelf_names import ShelfNames
from bot.reading.rewording.reworded import said_as
from bot.reading.words.rule_words import rule_words
from bot.terms import Kind

WHEN: Final = frozenset({"when"})
#: Acts of the words that say when by an event (``lexicon/<language>/grammar.yaml``).
_OF_ITS_PAST: Final = frozenset({"since", "before"})
#: Senses of the small words between whoever it was and the verb.
_SMALL: Final = frozenset({"did", "fill", "still", "same"})


def without_events(items: Sequence[Item], names: ShelfNames) -> list[Item]:
    """The items without the events by which others are dated."""
    out: list[Item] = []
    at = 0
    while at < len(items):
        if _feeding_of_another(items, at):
            fed, whom = said_as(items[at + 1], "fed"), items[at + 2]
            if out:
                out += [said_as(items[at], "and"), fed]
                at += 2
            else:  # "after feeding Ink I watered Mole"
                out += [fed, whom, Item("M", whom.j, whom.j, ",")]
                at += 3
            continue
        end = _event_from(items, at)
        if end is not None and _dates_something(out, items, end):
            at = end
            continue
        out.append(items[at])
        at += 1
    return out


def _dates_something(before: Sequence[Item], items: Sequence[Item], end: int) -> bool:
    """Whether something is told that an event dates; "how long since Ink ate" asks for the event itself."""
    opens = begins_behind(before, len(before), ends_sentence)
    said = before[opens:]
    if not said:
        return end < len(items) and items[end].text == ","
    return any(i.cat == "S" or "prey" in i.senses or tells_a_deed(i) for i in said)


def _event_from(items: Sequence[Item], at: int) -> int | None:
    """Where an event ends that a word of when leads to; ``None`` where it leads to none, or to news."""
    when = items[at].senses.get("when")
    whom = items[at + 1] if at + 1 < len(items) else None
    if when is None or when.group.act is None or whom is None:
        return None
    apart = _some_time(items, at)
    past = apart or when.group.act in _OF_ITS_PAST
    if apart and tells_a_deed(whom):
        return _end_of_event(items, at + 2)  # "Ink ate a day after refusing"
    if not (whom.cat == "S" or "pron" in whom.senses or (past and "self" in whom.senses)):
        return None
    verb = at + 2
    while verb < len(items) and not tells_a_deed(items[verb]) and not _SMALL.isdisjoint(items[verb].senses):
        verb += 1
    if verb >= len(items) or not tells_a_deed(items[verb]) or not (past or _is_no_meal(items[verb])):
        return None
    return _end_of_event(items, verb + 1)


def _end_of_event(items: Sequence[Item], start: int) -> int:
    return next((n for n in range(start, len(items)) if _ends(items[n])), len(items))


def _feeding_of_another(items: Sequence[Item], at: int) -> bool:
    """ "watered Mole after feeding Ink": a meal of that day, told in passing."""
    when = items[at].senses.get("when")
    told = when is not None and when.group.act == "after" and not _some_time(items, at)
    return told and at + 2 < len(items) and "occasion" in items[at + 1].senses and items[at + 2].cat == "S"


def _some_time(items: Sequence[Item], at: int) -> bool:
    """ "3 days after I fed her", "the day before": how long lies between makes it no news of today."""
    return at > 0 and ("dur" in items[at - 1].senses or items[at - 1].text in _ONE_OF_TIME)


_ONE_OF_TIME: Final = rule_words("one_of_time")


def _is_no_meal(item: Item) -> bool:
    kinds: frozenset[Kind] = frozenset(item.senses.kinds)
    return kinds.isdisjoint(FEEDING)


def _ends(item: Item) -> bool:
    return item.cat in "MS" or "and" in item.senses or "but" in item.senses or "self" in item.senses
