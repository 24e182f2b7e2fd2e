"""The meal that a clause says word by word: number, size, prey, and whether it was killed before."""

from __future__ import annotations

from typing import Any, Final

from bot.reading.clauses.frames import Frame
from bot.reading.items.item import Item
from bot.reading.model import FEEDING
from bot.reading.portions.homophones import unheard_number
from bot.reading.portions.meals import ONE, Meal, count, denied_at, vague
from bot.reading.words.lexicon import Sense
from bot.reading.words.rule_words import rule_words


class MealWords:
    """Meals of a frame in the making; ``number`` waits for the prey that it counts."""

    def __init__(self, frame: Frame) -> None:
        self.frame = frame
        self.meal = Meal()
        self.number: Any = None
        self.number_at = -1

    def _after_prey(self, place: int, item: Item) -> bool:
        """ "crickets x2": a number behind its prey, with no other prey to come."""
        meal = self.frame.meals[-1]
        later = self.frame.clause.items[place + 1 :]
        if (
            meal.count is None
            and not meal.doubt
            and not any("prey" in i.senses or "ones" in i.senses for i in later)
        ):
            count(meal, item.val)
            return True
        return False

    def _meal_word(self, place: int, item: Item) -> bool:
        senses = item.senses
        nxt = self._next(place)
        sized = "size" in senses and nxt is not None and "prey" in nxt.senses
        if "prey" in senses and not sized:  # "a pinhead", but "a pinhead roach"
            if unheard_number(self.frame.clause.items, place):
                self.meal.doubt = self.frame.clause.items[place - 1].text
            if place and self.number is None and senses["prey"].group.plural and _of_both(self.frame, place):
                self.meal.count = 2  # "took both mealies"
            self._prey(senses["prey"], item)
            self._unless_denied(place)
            return True
        if "ones" in senses and self._stands_for_prey(place, senses["ones"]):
            self.meal.ones = True
            self.meal.size = senses["ones"].group.size or self.meal.size
            self.meal.count = senses["ones"].group.count
            self._close_meal(item)
            return True
        near = self._prey_near(place)
        if "size" in senses and near:
            self._size(senses["size"], near)
            return True
        if "prekilled" in senses and near:
            (self.frame.meals[-1] if near == "before" else self.meal).prekilled = True
            return True
        if ("a" in senses or "some" in senses) and self._prey_follows(place):
            if "a" in senses and self.number is None:
                self.number = ONE
            elif "some" in senses and vague(item.text) and not self._number_follows(place):
                self.meal.doubt = item.text
            return True
        return False

    def _stands_for_prey(self, place: int, ones: Sense) -> bool:
        """ "3 ones", "2 mediums", "another": the prey just named, where no other follows."""
        if ones.group.count is not None:
            return not self._prey_follows(place) and self.number is None and bool(self.frame.ref_at or place)
        return self.number is not None or self.meal.size is not None

    def _size(self, sense: Sense, near: str) -> None:
        target = self.frame.meals[-1] if near == "before" else self.meal
        target.size = sense.group.size

    def _prey_near(self, place: int) -> str:
        if self._prey_follows(place):
            return "after"
        prev = self.frame.clause.items[place - 1] if place else None
        if (
            self.frame.meals
            and prev is not None
            and ("prey" in prev.senses or "size" in prev.senses or prev.cat == "N")
        ):
            return "before"
        return ""

    def _prey_follows(self, place: int) -> bool:
        for item in self.frame.clause.items[place + 1 : place + 5]:
            if "prey" in item.senses or "ones" in item.senses:
                return True
            uneaten = "uneaten" in item.senses.acts
            if item.cat != "N" and not uneaten and (_BEFORE_PREY.isdisjoint(item.senses) or _does(item)):
                return False
        return False

    def _number_follows(self, place: int) -> bool:
        """ "a tub of 50 locusts": as many as are in it."""
        nxt = self._next(place)
        return nxt is not None and nxt.cat == "N"

    def _prey(self, sense: Sense, item: Item) -> None:
        self.meal.prey = sense.group.prey
        self.meal.unknown = sense.group.prey is None
        if sense.group.size is not None:
            self.meal.size = sense.group.size
        self.meal.single = not sense.group.plural
        self._close_meal(item)

    def _close_meal(self, item: Item) -> None:
        if self.number is not None:
            count(self.meal, self.number)
        self.meal.words = item.text
        self.frame.meals.append(self.meal)
        self.meal, self.number = Meal(), None

    def _unless_denied(self, place: int) -> None:
        """ "no crickets for Ink" tells of no meal, "ate no crickets" of those that were not eaten."""
        at = denied_at(self.frame.clause.items, place)
        if at is None:
            return
        self.frame.flags.add("none served")
        before = self.frame.clause.items[at - 1] if at else None
        if before is None or not _eats(before):
            self.frame.meals.pop()

    def _next(self, place: int) -> Item | None:
        items = self.frame.clause.items
        return items[place + 1] if place + 1 < len(items) else None

    def _spill(self) -> None:
        if self.number is not None and self.number is not ONE:
            self.frame.loose.append(self.number)
        self.number = None


#: Senses of the words that may stand between a number and its prey: "2 of the small adult male".
_BEFORE_PREY: Final = frozenset({"size", "prekilled", "a", "of", "noun", "fill", "some", "group", "trait"})


def _of_both(frame: Frame, place: int) -> bool:
    return frame.clause.items[place - 1].text.rpartition(" ")[2] in _BOTH


_BOTH: Final = rule_words("both")


def _does(item: Item) -> bool:
    """Whether a word is a verb beside what else it may be: "both had a roach"."""
    return "verb" in item.senses and "prekilled" not in item.senses and "size" not in item.senses


def _eats(item: Item) -> bool:
    """Whether a word says that the animal ate, and not that it got or was given something."""
    verb = item.senses.get("verb")
    return (
        verb is not None
        and verb.group.kind in FEEDING
        and not (verb.group.keeper or verb.group.base)
        and verb.group.act not in _HANDED
    )


_HANDED: Final = frozenset({"get", "have", "nope"})
