"""Whom it was, with what is known said again: "no wait it was Sunny that got the one cricket". Pure."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from bot.reading.corrections.corrections import fixes
from bot.reading.corrections.words_of_fixing import SMALL, past_it_was
from bot.reading.items.item import Item
from bot.reading.items.of_one_sort import same
from bot.reading.words.rule_words import rule_words
from bot.terms import Kind


def whom_alone(out: list[Item], items: Sequence[Item], at: int) -> int:
    """Puts whom it was behind the words that take back, without what is known; the next item.

    "no wait it was Sunny that got the one cricket" says no more than "no wait Sunny".
    """
    start = past_it_was(items, at)
    if start >= len(items) or items[start].cat != "S":
        return at
    if start + 2 < len(items) and items[start + 1].text in _WHO and items[start + 2].senses.verbs:
        behind = start + 2  # "it was Sunny that got a locust" as "Sunny got a locust"
    else:
        behind = start + 1
    told_of = any(same(items[start], item) for item in out)
    end = behind if told_of else past_what_is_known(out, items, behind)
    twice = items[end : end + 3]
    if len(twice) == 3 and twice[1].text in _WAS and same(twice[2], items[start]):
        end += 3  # "no GBB three it was GBB three"
    if end == start + 1:
        return at
    out.append(items[start])
    others = items[end : end + 2]
    if len(others) > 1 and "and" in others[0].senses and others[1].cat == "S":
        out.append(Item("M", items[end].i, items[end].i, ";"))  # "…, and Ink had two": no more of those meant
    return end


_WAS: Final = rule_words("was")
_WHO: Final = rule_words("who_did")


def past_what_is_known(out: Sequence[Item], items: Sequence[Item], at: int) -> int:
    """Past a clause that tells of somebody what was told before: "that got the one cricket"."""
    end = at
    while end < len(items) and items[end].cat != "M" and not _ends_clause(items[end]):
        end += 1
    clause = items[at:end]
    if not any(item.senses.verbs for item in clause):
        return at
    return end if all(_is_known(out, item) for item in clause) else at


def _ends_clause(item: Item) -> bool:
    return not {"and", "then", "but"}.isdisjoint(item.senses) or fixes(item)


def _is_known(out: Sequence[Item], item: Item) -> bool:
    if any(same(item, i) for i in out):
        return True
    if item.senses.verbs:
        return Kind.FED in item.senses.kinds and any(Kind.FED in i.senses.kinds for i in out)
    if item.cat == "N" and item.val.value == 1:
        return any("a" in i.senses for i in out)
    return item.cat == "W" and not SMALL.isdisjoint(item.senses)
