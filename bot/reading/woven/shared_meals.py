"""Meals that neighbouring clauses share: the prey, the number and the verb of one are the other's too."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from bot.reading.clauses.clause_model import AND
from bot.reading.clauses.frames import Frame
from bot.reading.clauses.neighbours import feeds, refuses
from bot.reading.portions.meals import Meal
from bot.terms import PreySize


def of_that_prey(frame: Frame, of: Meal, size: PreySize | None = None, *, prekilled: bool = False) -> None:
    """A bare number counts the prey that is named elsewhere; ``size`` where its own is not said."""
    if len(frame.loose) != 1 or frame.meals or frame.amounts:
        return
    number = frame.loose[0]
    if number.value is not None and not number.doubt:
        meal = Meal()
        own = sizes_said(frame)
        if len(own) > 1:
            return  # which of several sizes, nothing says
        meal.prey, meal.size, meal.count = of.prey, own[0] if own else size or of.size, int(number.value)
        meal.prekilled = prekilled
        frame.meals, frame.loose = [meal], []


def sizes_said(frame: Frame) -> list[PreySize | None]:
    """The sizes of prey that a clause says."""
    return [item.senses["size"].group.size for item in frame.clause.items if "size" in item.senses]


def counts_on(frame: Frame, told: Sequence[Frame]) -> None:
    """ "Ink: 2 crickets. Mole: refused. Dot: 1": in a list of animals a bare number is of that prey."""
    if frame.verbs or frame.unknown or frame.nouns:
        return
    for other in reversed(told):
        if not other.refs or other.unknown or other.amounts or (other.verbs and not refuses(other)):
            return
        if other.meals and not other.verbs:
            of_that_prey(frame, other.meals[0])
            return


def as_said_again(meal: Meal, frame: Frame) -> Meal:
    """The meal before, for "same for Biscuit"; one of it for "one for Biscuit"."""
    count = next((i.senses["same"].group.count for i in frame.clause.items if "same" in i.senses), None)
    if count is None:
        return meal
    again = Meal()
    again.prey, again.size, again.prekilled, again.count = meal.prey, meal.size, meal.prekilled, count
    own = {i.senses["size"].group.size for i in frame.clause.items if "size" in i.senses}
    if len(own) == 1:
        again.size = own.pop()  # "a small cricket each for the GBBs and a med one for Dottie"
    return again


def share_verbs_back(frames: Sequence[Frame]) -> None:
    """ "250 crickets and 50 locusts delivered": both were."""
    for frame, nxt in pairwise(frames):
        if nxt.meals and nxt.verbs and not feeds(nxt) and not frame.verbs and "size" in frame.said:
            of_that_prey(frame, nxt.meals[0])  # "100 small and 50 large dubias arrived"
        alike = frame.meals and nxt.meals and not (frame.ref_at or nxt.ref_at)
        if alike and nxt.verbs and not frame.verbs and nxt.clause.sep == AND:
            frame.verbs, frame.inherited = nxt.verbs, True


def share_prey_back(frames: list[Frame]) -> None:
    """ "Ink 2, Bess 1 cricket": a bare number takes the prey named after it."""
    later: Frame | None = None
    for frame in list(reversed(frames)):
        if frame.meals:
            later = frame
        elif later is not None and _one_for(frame):
            frame.meals = [as_said_again(later.meals[0], frame)]  # "one for Ink, two for Mole, crickets"
        elif (
            later is not None
            and "eggs" not in frame.nouns
            and (feeds(frame) or not (frame.verbs or _of_strange_things(frame)))
        ):
            of_that_prey(frame, later.meals[0], later.meals[0].size)
            if frame.meals and later in frames and _only_names_prey(later):
                frames.remove(later)  # "3 for Ink, 2 for Sunny, crickets"


def _one_for(frame: Frame) -> bool:
    """ "one for each of the GBBs" with nothing told before that it could be more of."""
    said = frame.clause.items[0].senses.get("same") if frame.clause.items else None
    more = frame.verbs or frame.meals or frame.loose or frame.amounts or frame.unknown
    return said is not None and said.group.count is not None and bool(frame.ref_at) and not more


def _only_names_prey(frame: Frame) -> bool:
    plain = all(not _NAMES_PREY.isdisjoint(i.senses) for i in frame.clause.items)
    return plain and frame.meals[0].count is None


#: "…, crickets", "… - all small crickets".
_NAMES_PREY = frozenset({"prey", "size", "all"})


def _of_strange_things(frame: Frame) -> bool:
    """ "one hand free, Ink had a cricket": a number of what is no animal and no prey."""
    return bool(frame.unknown) and not frame.ref_at


def sizes_up(prev: Frame, frame: Frame) -> bool:
    """ "Ink ate 2 roaches, small ones": how big those were that were just told."""
    if len(frame.meals) != 1 or not prev.meals or frame.flags & {"neg", "no"}:
        return False
    meal = frame.meals[0]
    told = prev.meals[-1]
    only = meal.prey is None and meal.size is not None and not frame.loose
    return only and told.size is None and (meal.count is None or told.count is None)


def named_again(frame: Frame, of: Meal) -> None:
    """ "one dubia in with Ink, another in with Bess": prey that a word stands for is what was named."""
    for meal in frame.meals:
        if meal.ones and meal.prey is None:
            meal.prey, meal.size = of.prey, meal.size or of.size
