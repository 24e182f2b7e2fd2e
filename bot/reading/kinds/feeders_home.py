"""Work on the feeders' own home, which is no entry: "topped up the dubia tub", "moved the crickets"."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import Final

from bot.reading.clauses.frames import Frame
from bot.reading.items.item import Item
from bot.reading.model import FEEDING
from bot.reading.words.rule_words import rule_words, rule_words_in_order
from bot.terms import Kind


def of_the_feeders(frame: Frame) -> bool:
    """ "topped up the dubia tub", "moved the dubias to a bigger tub": work on the feeders' own home."""
    if "feeder_food" in frame.flags and _feeds_the_feeders(frame):
        return True
    if _a_colony_is_given(frame):
        return True
    if not frame.meals or frame.meals[0].prey is None or frame.ref_at or frame.inherited:
        return False
    senses = [item.senses for _, item in frame.verbs]
    kinds = frozenset().union(*(verb.kinds for verb in senses))
    elsewhere = any("bigger" in verb.acts for verb in senses) or "volume" in {
        a.dimension for _, a in frame.amounts
    }
    moved = elsewhere and Kind.REHOUSED in kinds and kinds.isdisjoint(FEEDING | {Kind.ACQUIRED, Kind.STOCKED})
    pairs = pairwise(frame.clause.items)
    their_home = any("prey" in a.senses and _part(b) == "box" for a, b in pairs)
    return moved or (their_home and not kinds.isdisjoint({Kind.WATERED, Kind.CLEANED}))


def _feeds_the_feeders(frame: Frame) -> bool:
    """ "dubias got some potato", "roaches have eaten all the carrot": what is fed is no animal of the shelf.

    "Got 200 crickets and some potato" tells of what was bought.
    """
    items = frame.clause.items
    whom = next((n for n, i in enumerate(items) if "prey" in i.senses), len(items))
    food = next((n for n, i in enumerate(items) if "feeder_food" in i.senses), 0)
    named = any(i.cat == "S" and not i.text.startswith(_ALL) for i in items)
    bought = any(item.senses.acts & _BUYS for item in items[:whom]) or any(i.cat == "N" for i in items)
    return whom < food and not (named or bought or frame.inherited)


_ALL: Final = rule_words_in_order("all")
_BUYS: Final = frozenset({"buy", "new"})


def _a_colony_is_given(frame: Frame) -> bool:
    """ "the dubia colony received fresh water", "fed the roach colony": whatever a colony of feeders gets.

    "The dubia colony received 200 new ones" is stock, "bought a dubia colony" as well.
    """
    items = frame.clause.items
    colony = next((n for n, (a, b) in enumerate(pairwise(items)) if _is_colony(a, b, items[n + 2 :])), None)
    if colony is None or frame.inherited or any(i.cat in "SN" for i in items):
        return False
    if len([i for i in items if "prey" in i.senses]) > 1:
        return False
    return any(
        not item.senses.acts.isdisjoint(_GIVES) or Kind.FED in item.senses.kinds
        for at, item in frame.verbs
        if at > colony or item.senses.acts.isdisjoint(_BUYS)
    )


def _is_colony(item: Item, nxt: Item, behind: Sequence[Item]) -> bool:
    """ "dubia colony", "culture of fruit flies"."""
    of_them = item.text in _COLONIES and "of" in nxt.senses and bool(behind) and _of_feeders(behind[0])
    return of_them or (_of_feeders(item) and nxt.text in _COLONIES)


def _of_feeders(item: Item) -> bool:
    """ "dubia", and the "feeder" of "feeder colony"."""
    return "prey" in item.senses or _part(item) == "food"


_COLONIES: Final = rule_words("colonies")
_GIVES: Final = frozenset({"get", "give", "have"})


def _part(item: Item) -> str | None:
    noun = item.senses.get("noun")
    return noun.group.part if noun is not None else None
