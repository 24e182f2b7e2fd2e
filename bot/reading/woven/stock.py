"""Feeders that the keeper got, told beside what an animal did: "sold Ink and got 500 crickets in"."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from bot.reading.clauses.clause_model import TITLE
from bot.reading.clauses.frames import Frame
from bot.reading.clauses.neighbours import acts_of, kinds
from bot.reading.portions.meals import Meal, count
from bot.reading.words.rule_words import rule_words
from bot.terms import Kind


def of_stock(frame: Frame, prev: Frame | None = None) -> bool:
    """ "sold Ink and got 500 crickets in", "she gave me 100 dubia": the keeper got them."""
    if "buy" not in acts_of(frame) or not frame.meals or frame.ref_at or frame.inherited:
        return False
    at, verb = frame.verbs[0]
    if verb.text.rpartition(" ")[2] in _TO_ME:
        return True
    behind = frame.clause.items[at + 1 :]
    opens = not any(i.cat != "M" and "fill" not in i.senses for i in frame.clause.items[:at])
    if not opens or any("pron" in i.senses for i in behind[:1]):
        return False  # "rehoused Ink and got her 2 crickets"
    by_keeper = (
        prev is not None
        and prev.verb_first
        and any(s.group.keeper for _, i in prev.verbs for s in i.senses.verbs)
    )
    paid = any(amount.dimension == "money" for _, amount in frame.amounts)
    many = (frame.meals[0].count or 0) >= MORE_THAN_A_MEAL
    gone = prev is not None and kinds(prev) == {Kind.LEFT}  # who was sold eats nothing here
    return prev is None or gone or (by_keeper and (many or paid or behind[-1].text in _IN))


def buys_another(prev: Frame, frame: Frame) -> bool:
    """ "bought 250 crickets for $12 and a C. versicolor sling for $45": one more thing that was got."""
    bought = bool(kinds(prev)) and kinds(prev) <= _GOT and prev.clause.sep != TITLE
    if not bought or frame.verbs or frame.meals or frame.flags & {"neg", "no", "undone"}:
        return False
    items = frame.clause.items
    first = next((at for at, item in enumerate(items) if item.cat == "S"), 0)
    counted = first > 0 and ("a" in items[first - 1].senses or items[first - 1].cat == "N")
    ref = items[first].val if counted else None
    return ref is not None and ref.called_by_species is not None


_GOT: Final = frozenset({Kind.STOCKED, Kind.ACQUIRED})
_IN: Final = rule_words("in")


def what_the_shop_had(frames: Sequence[Frame]) -> list[Frame]:
    """ "the feed store had crickets, and I bought 250 mediums": what was bought, and nobody's meal."""
    out: list[Frame] = []
    for place, frame in enumerate(frames):
        nxt = frames[place + 1] if place + 1 < len(frames) else None
        buys = nxt is not None and "buy" in acts_of(nxt) and not nxt.ref_at
        if nxt is None or not _in_a_shop(frame) or not (buys or "market" in frame.said):
            out.append(frame)
            continue
        if buys and not nxt.meals and len(nxt.loose) == 1:  # "…, so I bought 100"
            nxt.meals.append(Meal())
            count(nxt.meals[0], nxt.loose.pop())
        for meal in nxt.meals if buys else ():
            meal.prey, meal.ones = meal.prey or frame.meals[0].prey, False
        nxt.clause.sep = frame.clause.sep
    return out


def _in_a_shop(frame: Frame) -> bool:
    """ "they had dubias on sale": a shop, or "they", and one sort of feeder."""
    they = frame.clause.items[0].text in _THEY or "market" in frame.said
    had = bool(frame.verbs) and frame.verbs[-1][1].text in _HAD and "neg" not in frame.flags
    return they and had and len(frame.meals) == 1 and not (frame.refs or frame.amounts)


_HAD: Final = rule_words("had_or_has")
_THEY: Final = rule_words("they")


#: So many of a feeder are bought, and no meal of one animal.
MORE_THAN_A_MEAL: Final = 20
_TO_ME: Final = rule_words("to_me")
