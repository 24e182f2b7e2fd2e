"""What came of a meal told a while ago: "Ink 2 roaches. Mole sealed. both taken" feeds Ink alone. Pure."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from bot.reading.clauses.frames import Frame
from bot.reading.clauses.neighbours import feeds
from bot.reading.items.item import Ref
from bot.reading.words.rule_words import rule_words


def of_an_open_meal(told: Sequence[Frame], frame: Frame) -> list[Ref]:
    """Whose meal a clause without a name ends, where something else was told of another since.

    What is said of the prey ("both taken", "gone by morning") is of the meal that was left open; what she did
    ("she took it") may be of either, which is asked. Empty where no such meal was told.
    """
    last = told[-1] if told else None
    if last is None or not _only_what_came_of_it(frame) or not last.refs or _of_a_meal(last):
        return []
    meals = [other for other in told if other.refs and _of_a_meal(other)]
    tags = {tag for other in meals for ref in other.refs for tag in ref.tags}
    others = {tag for ref in last.refs for tag in ref.tags}
    if not meals or not all(map(_left_open, meals)) or not tags.isdisjoint(others):
        return []
    refs = [ref for other in meals for ref in other.refs]
    if len(meals) == 1 and _of_the_prey(frame) and _counts_those(meals[0], frame):
        return refs
    frame.flags |= {"or", "which"}
    return [*refs, *last.refs]


def _only_what_came_of_it(frame: Frame) -> bool:
    more = frame.ref_at or frame.meals or frame.loose or frame.amounts or frame.nouns or frame.excepted
    return bool(frame.verbs) and not more and feeds(frame)


def _of_a_meal(frame: Frame) -> bool:
    return bool(frame.meals) or feeds(frame) or not frame.flags.isdisjoint({"took", "declined"})


def _left_open(frame: Frame) -> bool:
    """Whether a meal was only given: "2 roaches", "offered a roach"; "ate a roach" says what came of it."""
    groups = [verb.group for _, item in frame.verbs for verb in item.senses.verbs]
    return bool(frame.meals) and all(group.keeper for group in groups)


def _of_the_prey(frame: Frame) -> bool:
    """ "taken", "all eaten", "gone by morning": of the feeders, and not of her who ate."""
    words = {word for _, item in frame.verbs for word in item.text.split()}
    return not frame.prons and not words.isdisjoint(_TAKEN)


_TAKEN: Final = rule_words("taken_or_left")


def _counts_those(meal: Frame, frame: Frame) -> bool:
    """Whether a "both" may be of the feeders of a meal."""
    both = any(item.text.split()[0] in _BOTH for item in frame.clause.items)
    return not both or sum(each.count or 0 for each in meal.meals) == len(("one", "other"))


_BOTH: Final = rule_words("both")
