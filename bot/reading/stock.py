"""Feeders that the keeper got, told beside what an animal did: "sold Ink and got 500 crickets in"."""

from __future__ import annotations

from typing import Final

from bot.reading.frames import Frame
from bot.reading.neighbours import acts_of, kinds
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
    return prev is None or gone or (by_keeper and (many or paid or behind[-1].text == "in"))


#: So many of a feeder are bought, and no meal of one animal.
MORE_THAN_A_MEAL: Final = 20
_TO_ME: Final = frozenset({"me", "us"})
