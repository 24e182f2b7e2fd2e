"""Numbers that count no prey and no animals: "molt no. 6", "two insertions"."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from bot.reading.items.item import Item
from bot.reading.words.rule_words import rule_words
from bot.terms import Kind

#: Small words between a molt and which one it was: "molt no. 6".
_BEFORE_ORDINAL: Final = rule_words("before_an_ordinal") | {"#"}
#: Words before the number of a day that is counted from an event: "sac pulled at day 30".
_DAY_OF: Final = rule_words("day_of")
#: Words that name a molt or an insertion, where other forms of the verb tell of it: "molted 2 cm".
_EVENT_NOUNS: Final = rule_words("event_nouns")


#: Words before the sum of what was done so far: "refused again, that's 3 now".
_MAKES: Final = rule_words("makes_it")


def counts_events(items: Sequence[Item], place: int, *, prey: bool) -> bool:
    """Whether a number says which molt it was, or how often something was done; ``prey``: some follows it."""
    at = place - 1
    while at >= 0 and items[at].text in _BEFORE_ORDINAL:
        at -= 1
    which = at >= 0 and _names(items[at], Kind.MOLTED) and (at < place - 1 or not prey)
    nxt = items[place + 1] if place + 1 < len(items) else None
    which = which or (place > 0 and items[place - 1].text in _MAKES and not prey)
    if nxt is None:
        return which or _feast_for(items, place)
    which = which or (place > 0 and items[place - 1].text in _IN and nxt.text in _BITES)
    waste = nxt.senses.part == "waste"  # "pulled two boluses"
    waste = waste or nxt.text in _SKINS  # "both molted, two skins"
    return which or waste or any(_names(nxt, kind) for kind in (Kind.PAIRED, Kind.MOLTED, Kind.REFUSED))


_IN: Final = rule_words("in")
_SKINS: Final = rule_words("skins")


def _feast_for(items: Sequence[Item], place: int) -> bool:
    """ "…, teatime for two", "…, table for one": how many were at it, where nothing of animals is told."""
    if (
        place < _SHORTEST_FEAST
        or items[place - 1].text not in _FOR
        or any(i.cat not in "UW" for i in items[:place])
    ):
        return False
    feast = items[place - 2]
    food = feast.senses.part == "food"
    meant = feast.cat == "U" or food or feast.text in _MEALTIMES
    return meant and not any(
        "prey" in i.senses or i.senses.verbs or "size" in i.senses for i in items[:place]
    )


_FOR: Final = rule_words("for")
_SHORTEST_FEAST: Final = 2
_MEALTIMES: Final = rule_words("mealtimes")
#: What an animal does with its prey, so many times: "in one grab", "in two bites".
_BITES: Final = rule_words("bites")


def counts_days(items: Sequence[Item], place: int) -> bool:
    """ "pulled @ d35", "day 30": on which day after another event it was."""
    here, behind, before = (items[n] if 0 <= n < len(items) else None for n in (place, place + 1, place - 1))
    if here is not None and here.text in _DAY_OF:
        return behind is not None and behind.text.isdigit()
    return here is not None and here.text.isdigit() and before is not None and before.text in _DAY_OF


def numbers_a_molt(items: Sequence[Item], place: int) -> bool:
    """Whether a word is the "no." of "molt no. 6", which denies nothing."""
    if items[place].text not in _BEFORE_ORDINAL or not 0 < place < len(items) - 1:
        return False
    return _names(items[place - 1], Kind.MOLTED) and items[place + 1].cat == "N"


def _names(item: Item, kind: Kind) -> bool:
    if item.text.split()[-1] not in _EVENT_NOUNS:
        return False
    return kind in item.senses.kinds
