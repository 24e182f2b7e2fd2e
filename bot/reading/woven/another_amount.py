"""One of those watered who got another amount: "watered C, 50 ml each, but Mole 100 ml", "… Mole nothing"."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal
from typing import Final

from bot.reading.clauses.frames import Frame
from bot.reading.clauses.neighbours import acts_of, kinds, waters
from bot.reading.clauses.same_unit import of_that_unit
from bot.terms import Kind

_GOT: Final = frozenset({"get", "have", "give", "put_into", "remove", "buy", "pour", "part", "take", "none"})
#: Units that a figure may go on in: "50 ml each, but Mole 100".
_LITRES: Final = {"ml": Decimal("0.001"), "l": Decimal(1)}
_UNSURE: Final = frozenset({"no", "hedge", "undone", "same", "future", "cond"})


def another_amount(told: Sequence[Frame], frame: Frame) -> None:
    """Gives a clause on one of a group just watered that amount; what was told of the group is not of it."""
    group = told[-1]
    poured = [amount for _, amount in group.amounts if amount.dimension == "volume"]
    if len(poured) != 1:
        return
    source = next((f for f in reversed(told) if kinds(f) == {Kind.WATERED}), None)
    if source is None and waters(group) and acts_of(group) <= _GOT:
        source = group  # "C got 50 ml in the substrate"
    if source is None or not (group is source or waters(group)):
        return
    excepted = {t for r in source.excepted for t in r.tags if r.sure}
    some = {t for r in frame.refs for t in r.tags}
    among = some == excepted if excepted else some < {t for r in group.refs for t in r.tags}
    sure = bool(some) and among and all(r.sure for r in frame.refs)
    if not sure or frame.meals or frame.unknown or not acts_of(frame) <= _GOT or frame.flags & _UNSURE:
        return
    own = [amount for _, amount in frame.amounts]
    figures = [Decimal(n.value) for n in frame.loose if n.value is not None and not n.doubt]
    none = "none" in acts_of(frame) and not (own or figures)
    if not none and (len(own) + len(figures) != 1 or any(a.dimension != "volume" for a in own)):
        return
    amount = own[0] if own else of_that_unit(poured[0], figures[0]) if figures else None
    if amount is None and not none:
        return
    for other in told:
        if not excepted and (other is source or other is group):
            other.excepted = [*other.excepted, *frame.refs]
    if amount is not None:
        frame.amounts, frame.loose, frame.nouns = [(0, amount)], [], frame.nouns | group.nouns
        frame.verbs, frame.inherited = source.verbs, True
