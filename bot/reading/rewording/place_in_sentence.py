"""Words whose meaning turns on where they stand: a "luego" before what was, an "a ver" that opens. Pure."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache
from typing import Final

from bot.reading.items.item import Item, ends_sentence, tells_a_deed
from bot.reading.names.shelf_names import ShelfNames
from bot.reading.rewording.reworded import exceptions_joined, said_as
from bot.reading.words.phrasings import data
from bot.terms.language import LANGUAGES

#: The sense of words that may be of what is yet to come, and what they do then.
LATER: Final = "future"
_LATER_ON: Final = "later"


def placed(items: Sequence[Item], _names: ShelfNames) -> list[Item]:
    """The items with such words read by where they stand."""
    return _happened_later(_opened_with(items))


def _happened_later(items: Sequence[Item]) -> list[Item]:
    """The items with "luego" as "then" where the verb behind it is past; else it is yet to come.

    Nothing of one's own may stand between but whom it is of: "luego la Ink comió".
    """
    out = list(items)
    for at, item in enumerate(items):
        future = item.senses.get(LATER)
        if future is not None and future.group.act == _LATER_ON and _is_past(items, at + 1):
            out[at] = said_as(item, "then")
    return out


def _opened_with(items: Sequence[Item]) -> list[Item]:
    """The items without an "a ver" that opens what is told: elsewhere it says that it is not known yet."""
    return [
        item
        for at, item in enumerate(items)
        if not (
            any(verb.group.part == _OPENS for verb in item.senses.verbs)
            and (at == 0 or ends_sentence(items[at - 1]))
            and _goes_on_telling(items[at + 1 :])
        )
    ]


def _goes_on_telling(behind: Sequence[Item]) -> bool:
    """Whether what follows tells something at once: "a ver cuándo mudó" asks."""
    nxt = behind[0] if behind else None
    at_once = nxt is not None and (nxt.cat in "DSM" or not _AT_ONCE.isdisjoint(nxt.senses))
    return at_once and any(map(tells_a_deed, behind))


_OPENS: Final = "opens"
_AT_ONCE: Final = frozenset({"verb", "did", "self", "pron", "the", "to"})


def _is_past(items: Sequence[Item], at: int) -> bool:
    """Whether the verb that stands next is of what has been: it ends so, or "has" stands before it."""
    has = False
    for item in items[at:]:
        if any(not (verb.group.base or verb.group.noun) for verb in item.senses.verbs):
            return has or _ends_as_past(item.text)
        has = has or item.text in _words("past_helpers")
        if item.cat != "S" and (item.cat != "W" or _BETWEEN.isdisjoint(item.senses)):
            return False
    return False


def _ends_as_past(words: str) -> bool:
    """Whether one of a verb's words as written has an ending of the past, or is known to be past.

    "alimento" for "alimentó" is not: it may be what one is about to do.
    """
    said = words.split()
    return any(word.endswith(_words("past_ends")) or word in _words("past_words") for word in said)


@cache
def _words(key: str) -> tuple[str, ...]:
    """A list of words in every language, with their accents."""
    return tuple(str(word) for language in LANGUAGES for word in data(language)[key])


#: Senses of the words that may stand between, and no verbs.
_BETWEEN: Final = frozenset({"did", "pron", "self", "the", "to", "fill", "same"})


def exceptions_said(items: Sequence[Item], names: ShelfNames) -> list[Item]:
    """The items with exceptions that are said in two words, or set off by marks, as one word before whom."""
    return exceptions_joined(_but_not(items), names)


def _but_not(items: Sequence[Item]) -> list[Item]:
    """ "alimenté la C pero no a Mole": a "but" and a "not" that take out whom they stand before.

    Before a verb they begin what was not so: "comió el grillo pero no quiso la dubia".
    """
    out: list[Item] = []
    at = 0
    while at < len(items):
        end = _behind_but_not(items, at)
        if end is not None:
            out.append(said_as(items[at], "except", items[end - 1].j))
            at = end
            continue
        out.append(items[at])
        at += 1
    return out


def _behind_but_not(items: Sequence[Item], at: int) -> int | None:
    """Where an animal stands behind a "but not", small words passed over; ``None`` where none does."""
    if at == 0 or at + 2 >= len(items) or items[at].cat != "W" or "but" not in items[at].senses:
        return None
    if items[at + 1].cat != "W" or not items[at + 1].senses.keys() >= _PLAIN_NO:
        return None
    end = at + 2
    while end < len(items) and items[end].cat == "W" and not _TO_WHOM.isdisjoint(items[end].senses):
        end += 1
    return end if end < len(items) and items[end].cat == "S" else None


_PLAIN_NO: Final = frozenset({"neg", "no"})
_TO_WHOM: Final = frozenset({"to", "the"})
