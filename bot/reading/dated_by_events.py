"""Events that only say when something else was: "hasn't eaten since she molted", "fed Ink after she shed".

They were, nobody says on which day, and are no news: what stands behind the word is let go. A meal behind
"after" is one of that day; behind "since" and "before" nothing is.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from bot.reading.items import Item, begins_behind, ends_sentence, tells_a_deed
from bot.reading.model import FEEDING
from bot.reading.names import ShelfNames
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
    past = when.group.act in _OF_ITS_PAST
    if not (whom.cat == "S" or "pron" in whom.senses or (past and "self" in whom.senses)):
        return None
    verb = at + 2
    while verb < len(items) and not tells_a_deed(items[verb]) and not _SMALL.isdisjoint(items[verb].senses):
        verb += 1
    if verb >= len(items) or not tells_a_deed(items[verb]) or not (past or _is_no_meal(items[verb])):
        return None
    return next((n for n in range(verb + 1, len(items)) if _ends(items[n])), len(items))


def _is_no_meal(item: Item) -> bool:
    kinds: frozenset[Kind] = frozenset(item.senses.kinds)
    return kinds.isdisjoint(FEEDING)


def _ends(item: Item) -> bool:
    return item.cat in "MS" or "and" in item.senses or "but" in item.senses or "self" in item.senses
