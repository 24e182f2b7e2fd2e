"""Her span or weight told with a meal: "Ink 2 crickets, 15 cm", "Ink ate 2 crickets, 31 g". Pure.

Behind a comma it is a measure of its own; elsewhere, and where it may be the feeder's, it is asked about.
"""

from __future__ import annotations

from decimal import Decimal
from typing import Any, Final

from bot.reading.clauses.frames import ADDED, Frame
from bot.reading.kinds.drafts import Doubt, Draft
from bot.reading.model import FEEDING, About
from bot.reading.woven.fields import fill
from bot.terms import Kind

#: Feeders of which none is as long (cm) or as heavy (g) as the first; of the others none as the second
#: (common practice, no source). What is less may be the feeder's.
_SMALL_FEEDERS: Final = frozenset(
    {"cricket", "roach", "dubia roach", "red runner roach", "mealworm", "waxworm", "fruit fly", "bluebottle"}
)
_OVER_SMALL_ONES: Final = {"length": Decimal(4), "weight": Decimal(5)}
_OVER_ALL: Final = {"length": Decimal(8), "weight": Decimal(60)}
#: Senses of words between a figure and the feeder that it is of: "a 2 cm adult roach".
_OF_A_FEEDER: Final = frozenset({"prey", "size", "prekilled"})


def measured_beside(draft: Draft, frame: Frame) -> Draft | None:
    """The measure told beside a meal; where it is not sure to be one, the meal has the doubt."""
    if draft.kind not in FEEDING:
        return None
    amounts = [
        (at, amount)
        for at, amount in frame.amounts
        if amount.dimension in _OVER_ALL and not _of_the_feeder(frame, at, amount)
    ]
    if not amounts:
        return None
    behind = all(at >= ADDED for at, _ in amounts)
    small = any(_may_be_a_feeders(frame, amount) for _, amount in amounts)
    if not behind or small or len(draft.tags) != 1 or frame.nouns or "thing" in frame.flags:
        said = str(amounts[0][1].value.normalize())
        draft.doubts.append(Doubt(About.AMOUNT, "number_unexplained", said))
        return None
    filled = fill(Kind.MEASURED, frame, [])
    return Draft(Kind.MEASURED, draft.tags, draft.day, draft.time, fields=filled.fields, doubts=filled.doubts)


def _of_the_feeder(frame: Frame, at: int, amount: Any) -> bool:
    """ "a 2 cm roach", "a roach of 2 g"; "a roach, 2 cm" may be hers."""
    items = frame.clause.items
    if at + 1 < len(items) and not _OF_A_FEEDER.isdisjoint(items[at + 1].senses):
        return True
    if 0 < at < len(items) and "of" in items[at - 1].senses:
        return True
    return at < ADDED and _may_be_a_feeders(frame, amount)


def _may_be_a_feeders(frame: Frame, amount: Any) -> bool:
    """Whether a feeder that the clause names may be as long or as heavy."""
    prey = {meal.prey for meal in frame.meals}
    over = _OVER_SMALL_ONES if prey <= _SMALL_FEEDERS else _OVER_ALL
    return bool(prey) and bool(amount.value < over[amount.dimension])


def of_nothing_else(frame: Frame) -> bool:
    """Whether a clause is a measure and no more: "15 cm now", "is 31 g"; no "15 cm away from me"."""
    return all(
        item.cat in "AMDP" or not (item.senses.verbs or _SMALL_WORDS.isdisjoint(item.senses))
        for item in frame.clause.items
    )


_SMALL_WORDS: Final = frozenset({"fill", "did", "pron", "and", "now", "span", "weight", "carapace"})
