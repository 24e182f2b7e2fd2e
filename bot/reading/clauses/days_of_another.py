"""A day of another event than the one told: "12.5 cm after her molt on May 3" was not measured then. Pure."""

from __future__ import annotations

from collections.abc import Sequence
from enum import StrEnum
from typing import Final

from bot.reading.items.item import Item
from bot.reading.words.rule_words import rule_words


class Whose(StrEnum):
    """How surely a day is that of the other event, and none of what is told."""

    #: "since her molt on May 3", "after yesterday's molt".
    ITS_OWN = "its own"
    #: "after her molt on May 3": molted then, or then as well.
    EITHER = "either"
    #: "before her molt on May 3", "3 days after her molt on May 3": on neither of today and that day.
    NEITHER = "neither"


def of_another_event(items: Sequence[Item], place: int) -> Whose | None:
    """Whether the day at ``place`` stands with an event by which it is told when something else was."""
    before = place - 1
    while (
        before > 0
        and not _LEADS_TO_DAY.isdisjoint(items[before].senses)
        and "when" not in items[before].senses
    ):
        before -= 1  # "después de la muda del lunes"
    behind = place > 0 and _event(items[before])
    ahead = not behind and place + 1 < len(items) and _event(items[place + 1])
    if not (behind or ahead):
        return None
    at = before - 1 if behind else place - 1
    while at >= 0 and not _BETWEEN.isdisjoint(items[at].senses) and not _tells_when(items[at]):
        at -= 1
    if at < 0 or not _tells_when(items[at]):
        return None
    counted = at > 0 and (items[at - 1].cat in "PD" or items[at - 1].text in _LENGTHS)
    when = items[at].senses.get("when")
    if items[at].text in _BEFORE or (when is not None and when.group.act == "before") or counted:
        return Whose.NEITHER
    return Whose.EITHER if behind and items[at].text not in _SINCE else Whose.ITS_OWN


_SINCE: Final = rule_words("since")
_BEFORE: Final = rule_words("before")


def _tells_when(item: Item) -> bool:
    when = item.senses.get("when")
    return item.text in _WHEN or (when is not None and when.group.act in _BEFORE_OR_AFTER)


_BEFORE_OR_AFTER: Final = frozenset({"before", "after"})
#: Senses of the words between an event and its day.
_LEADS_TO_DAY: Final = frozenset({"of", "on"})


def _event(item: Item) -> bool:
    food = item.senses.part == "food"
    return item.cat == "W" and ("verb" in item.senses or "occasion" in item.senses or food)


#: Words that tell by one event when another was.
_WHEN: Final = rule_words("before_or_after")
#: Senses of the words between them and the event: "after her last molt".
_BETWEEN: Final = frozenset({"pron", "the", "a", "fill", "self"})
_LENGTHS: Final = rule_words("lengths_of_time")
