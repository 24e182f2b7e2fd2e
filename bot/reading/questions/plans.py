"""Sentences that open like a question and ask nothing: "did the water", "will feed Ink tomorrow". Pure."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from bot.reading.items.item import Item
from bot.reading.message.parse import Message
from bot.reading.words.rule_words import rule_openings, rule_words


def plans(message: Message, first: int, items: Sequence[Item]) -> bool:
    """ "will feed Ink tomorrow", "did the water", "do not feed Ink": an opening word that asks nothing.

    What asks turns subject and verb round ("will Ink eat", "did I feed Ink"); what tells does not.
    """
    opening = next((i for i in items if i.i <= first < i.j), None)
    if opening is None or first + 1 >= len(message.tokens):
        return False
    done = opening.senses.get("verb")
    if opening.j > opening.i + 1 and opening.text.startswith(_DID_SO) and done and not done.group.base:
        return True  # "did the water on shelf C"
    if _OPENS_A_PLAN.isdisjoint(opening.senses):
        return False
    nxt = next((i for i in items if i.i == opening.j), None)
    if opening.text in _DID and nxt is not None and _told_with_did(items, nxt):
        return True
    asks_of = any(s.cat == "topic" for s in message.cues.get(opening.i, (0, ()))[1])
    phrase = opening.j > opening.i + 1 and not {"future", "undone"}.isdisjoint(opening.senses)
    if phrase and nxt is not None and not asks_of:
        return True  # "going to order more dubia"
    if nxt is None or nxt.cat not in "WU":
        return nxt is not None and opening.text in _MUST and _work_on_her(items, nxt)
    if "future" in opening.senses:
        if nxt.senses.verbs or "did" in nxt.senses:
            return True
        asks = asks_of or bool(message.cues_in("ask", range(nxt.i, nxt.j)))
        return not asks and _SUBJECTS.isdisjoint(nxt.senses)
    turned = _turned_round(opening, nxt, next((i for i in items if i.i == nxt.j), None)) or (
        opening.text in _TURNED and any(_too_much(item) for item in items)
    )
    return not turned and any(c in nxt.senses for c in ("neg", "the", "a", "undone", "future"))


def _work_on_her(items: Sequence[Item], whom: Item) -> bool:
    """ "muss Ink noch füttern": the keeper's own work, with no "ich", which would make it a question."""
    behind = [item for item in items if item.i >= whom.j] if whom.cat == "S" else []
    verbs = [verb.group for item in behind for verb in item.senses.verbs]
    keepers = bool(verbs) and all(group.keeper and group.base for group in verbs)
    return keepers and not any("self" in item.senses for item in behind)


_MUST: Final = rule_words("must_as_a_plan")
_DID_SO: Final = rule_openings("did")
_DID: Final = rule_words("did")


def names_whom_last(items: Sequence[Item], first: int) -> bool:
    """ "hat gefressen: Ink", "hab ich vergessen: Ink ate": whom it is of stands behind what is told.

    A question has her in front of it: "hat Ink gefressen".
    """
    opening = next((n for n, item in enumerate(items) if item.i <= first < item.j), None)
    if opening is None or items[opening].cat == "S" or _NO_DEEDS.isdisjoint(items[opening].senses):
        return False
    for at in range(opening, len(items)):
        item = items[at]
        if item.cat in "ST" or (at > opening and not _SUBJECTS_OF_DEEDS.isdisjoint(item.senses)):
            return False
        around = at == opening and item.j == item.i + 1  # "ist die Röhre noch dicht": said around others
        if item.cat == "M" or (item.senses.verbs and not around):
            return any(_is_of_somebody(behind) for behind in items[at + 1 :])
    return False


def _is_of_somebody(item: Item) -> bool:
    return item.cat == "S" or not {"prey", "pron"}.isdisjoint(item.senses)


_NO_DEEDS: Final = frozenset({"did", "self", "verb"})
_SUBJECTS_OF_DEEDS: Final = frozenset(
    {"pron", "self", "prey", "noun", "animal", "all", "everyone", "group", "one"}
)


def _turned_round(verb: Item, article: Item, whom: Item | None) -> bool:
    """ "is the T. blondi sealed": a verb that stands before its subject only where it asks."""
    return verb.text in _TURNED and "the" in article.senses and whom is not None and whom.cat in "ST"


def _too_much(item: Item) -> bool:
    """ "is a large cricket too big for Ink": what is asked of prey, and never told of a meal."""
    return item.text.startswith(_TOO) and item.text.split()[-1] in _FOR


_FOR: Final = rule_words("for")
_TOO: Final = rule_openings("too")
_TURNED: Final = rule_words("turned_round")


def says_what_was(message: Message, first: int) -> bool:
    """ "it was ten days ago that Mint molted": a verb that asks only where it comes first."""
    senses = message.senses(first)
    return first > 0 and message.keys[first - 1] in _WHAT_WAS and any(s.cat == "did" for s in senses)


def _acts_behind(items: Sequence[Item], subject: Item) -> bool:
    """Whether a verb follows whoever stands behind "did", before the next mark."""
    for item in items:
        if item.i < subject.j:
            continue
        if item.cat == "M":
            return item.text == "?"
        if item.senses.verbs:
            return True
    return False


def _told_with_did(items: Sequence[Item], behind: Item) -> bool:
    """ "did shelf B, one cricket apiece", "did refill her dish though"."""
    return (behind.cat == "S" and not _acts_behind(items, behind)) or _bare_verb(behind)


def _bare_verb(item: Item) -> bool:
    return "verb" in item.senses and item.senses["verb"].group.base and item.senses["verb"].group.keeper


_WHAT_WAS: Final = rule_words("what_was")
_OPENS_A_PLAN: Final = frozenset({"future", "did", "undone"})
#: Words that may stand for who does it, behind the verb that asks.
_SUBJECTS: Final = frozenset({"pron", "self", "all", "everyone", "the", "group", "animal", "some"})
