"""An account that puts right what is on record by a contrast: "Ink was fed Tuesday, not Monday".

"It was not Ink who got water, it was Mole" as well. What is denied says which entry is meant, what is
affirmed what it should say; such words are never two things that happened.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from bot.reading.amends.amend_values import denied
from bot.reading.amends.earlier import with_animals
from bot.reading.amends.entry_told import Told, value_of
from bot.reading.items.item import Item
from bot.reading.items.of_one_sort import sort_of
from bot.reading.message.parse import Message
from bot.reading.model import Amend, Earlier, Reading
from bot.reading.words.rule_words import rule_words

#: Small words beside the two of a contrast.
_SMALL: Final = frozenset({"a", "the", "fill", "on", "but", "neg", "pron", "did"})


def put_right(message: Message) -> Reading | None:
    """The entry that a contrast puts right, ``None`` where a message says none."""
    if message.tokens[-1].text == "?" or not _denies(message):
        return None
    return _somebody_else(message) or _said_otherwise(message)


def _denies(message: Message) -> bool:
    if not message.may_say("neg"):
        return False
    return any(s.cat == "neg" for at in range(len(message.tokens)) for s in message.senses(at))


# -- who it was ---------------------------------------------------------------------------------


def _somebody_else(message: Message) -> Reading | None:
    """ "it was not Ink who got water, it was Mole", "it was Mole who ate, not Ink"."""
    items = message.items([range(len(message.tokens))])
    first = next((i for i in items if i.cat != "M" and "fix" not in i.senses), None)  # "my bad, it was …"
    who = next((n for n, i in enumerate(items) if n and ("rel" in i.senses or i.text in _WHO)), None)
    if first is None or who is None or first.text not in _IT:
        return None
    wrong, right = _parted(items)
    end = next((i.i for i in items[who + 1 :] if i.cat in "MSX" or "but" in i.senses), len(message.tokens))
    if len(wrong) != 1 or len(right) != 1 or items[who].j >= end:
        return None
    told = Told(message, range(items[who].j, end))
    told.refs += [ref for item in wrong for ref in (item.val if item.cat == "X" else (item.val,))]
    if not told.kinds or not told.fits() or not right[0].val.sure:
        return None
    changes = {"specimens": right[0].val.tags}
    return with_animals(told, lambda of: Amend(action="change", changes=changes, of=of))


_IT: Final = rule_words("it_was_another")
_WHO: Final = rule_words("who_did")


def _parted(items: Sequence[Item]) -> tuple[list[Item], list[Item]]:
    """The animals that it was not, and those that it was."""
    wrong = [i for i in items if i.cat == "X"]
    right: list[Item] = []
    for before, item in zip((None, *items), items, strict=False):
        if item.cat == "S":
            is_not = before is not None and "neg" in before.senses
            (wrong if is_not else right).append(item)
    return wrong, right


# -- what it was --------------------------------------------------------------------------------


def _said_otherwise(message: Message) -> Reading | None:
    """ "Ink was fed Tuesday, not Monday", "Ink ate a roach, not a cricket, on Monday"."""
    items = message.items([range(len(message.tokens))])
    places = [n for n in range(len(items)) if items[n].cat != "S" and _is_denied(items, n)]
    if len(places) != 1:
        return None
    no = places[0]
    pair = [n for n, i in enumerate(items) if n != no and sort_of(i) == sort_of(items[no])]
    if len(pair) != 1 or not _side_by_side(items, *sorted((no, pair[0]))):
        return None
    start, end = _with_small(items, *sorted((no, pair[0])))
    told = Told(message, range(items[0].i, items[start].i))
    told.days += [i.val for i in items[end + 1 :] if i.cat == "D" and not i.val.doubt]
    behind = [i for i in items[end + 1 :] if i.cat not in "DM"]
    if behind or not told.refs or not told.kinds or not told.fits():
        return None
    changes, was = value_of(items[pair[0]]), value_of(items[no])
    if not changes or not was:
        return None
    told.was |= was
    if not (told.days or "day" in was):  # of what was told lately; an older one has to be told by its day
        told.lately = True
    return with_animals(told, lambda of: Amend(action="change", changes=changes, of=of))


# -- which day it was not -------------------------------------------------------------------------


def not_on_that_day(message: Message) -> tuple[Message, Earlier] | None:
    """ "Friday refused a cricket on Wednesday, not on Friday": an account, and the entry that it denies.

    An animal first, what it did, and a meal told for the first time ("a cricket"): news, where "Ink was fed
    Tuesday, not Monday" puts right what was told. The account comes without the words that deny.
    """
    if _NOT.isdisjoint(message.keys) or message.tokens[-1].text == "?":
        return None
    items = message.items([range(len(message.tokens))])
    days = [n for n, i in enumerate(items) if i.cat == "D"]
    if len(days) != 2 or not _is_denied(items, days[1]) or not _side_by_side(items, *days):
        return None
    start, _ = _with_small(items, *days)
    told = Told(message, range(items[0].i, items[start].i))
    behind = [i for i in items[days[1] + 1 :] if i.cat != "M"]
    if behind or items[0].cat != "S" or not _tells_of_a_meal(told.items) or not told.fits():
        return None
    plain, wrong = message.source.plain, items[days[1]]
    shorter = message.saying(plain[: message.tokens[items[days[0]].j - 1].end])
    told.days = [wrong.val]
    return shorter, told.earlier()


_NOT: Final = rule_words("not")


def _tells_of_a_meal(items: Sequence[Item]) -> bool:
    """Whether a feeder comes behind an article or a number: "a cricket", "2 small crickets"."""
    new = [n for n, i in enumerate(items) if i.cat == "N" or "a" in i.senses]
    return any("prey" in i.senses for n in new for i in items[n + 1 : n + 3])


def _is_denied(items: Sequence[Item], place: int) -> bool:
    return denied(items, place, opens=False)


def _side_by_side(items: Sequence[Item], first: int, second: int) -> bool:
    """Whether nothing but small words, marks and what is counted stands between two items."""
    small = _SMALL | {"prey"} if items[first].cat == "N" else _SMALL
    return all(i.cat == "M" or not small.isdisjoint(i.senses) for i in items[first + 1 : second])


def _with_small(items: Sequence[Item], first: int, second: int) -> tuple[int, int]:
    while first and not {"a", "neg", "on"}.isdisjoint(items[first - 1].senses):
        first -= 1
    return first, second
