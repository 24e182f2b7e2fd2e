"""Clauses that only head what follows: "Refused:", "Monday:", "Crickets:", "May 3rd's feed:"."""

from __future__ import annotations

from collections.abc import Sequence
from copy import copy
from typing import Any, Final

from bot.reading.clauses.clause_model import SENTENCE, START
from bot.reading.clauses.frames import Frame
from bot.reading.clauses.may_be_a_day import unread_day
from bot.reading.clauses.neighbours import acts_of, feeds, names_prey, refuses
from bot.reading.items.item import Item
from bot.reading.model import FEEDING
from bot.reading.names.shelf_names import EXACT
from bot.reading.portions.meals import Meal
from bot.reading.words.rule_words import rule_words
from bot.terms import Kind

#: What a heading's words turn round or make doubtful holds for all below it: "not fed: Ink, Mole".
_HOLDS_BELOW: Final = frozenset({"neg", "undone", "hedge", "future", "cond", "report"})
#: "no longer sealed: Ink", "still sealed: Mole"; "not sealed: Anvil" may be either.
_AS_BEFORE: Final = frozenset({"nomore", "still"})


#: Flags of a heading that only denies: "didn't:", "not:".
_DENIES: Final = frozenset({"elided", "neg", "no", "undone"})


class Headings:
    """What the headings met so far say of the clauses below; each holds until the next of its sort."""

    def __init__(self) -> None:
        self.verbs: list[tuple[int, Item]] = []
        self.flags: set[str] = set()
        self.nouns: set[str] = set()
        self.days: list[Any] = []
        self.meal: Meal | None = None
        self.meal_of_verbs = False  # "ate dubia:", whose prey goes when the next such heading comes
        self.declines = self.not_yet = False  # "didn't:" below an "ate:", "not yet:" below a "fed:"
        self.from_words = ""  # "in from Dieter today:"
        self.dated_strangely = False  # by a day that was not understood

    def take(self, frame: Frame, following: Sequence[Frame]) -> bool:
        """Whether a clause is a heading, which is then kept."""
        if names_prey(frame) or _prey_and_day(frame, following) or _prey_of_a_place(frame, following):
            self.meal = frame.meals[0]
            self.days = frame.days or self.days
            return True
        if _anothers_prey(frame, following):
            following[0].meals = frame.meals
            self.dated_strangely = _day_or_name(frame)
            return True
        if _of_a_strange_day(frame, following):
            self.dated_strangely, self.days = True, []
            return True
        counted = self._counted(frame, following)
        if counted is not None:
            self.meal, self.meal_of_verbs, self.verbs = counted, True, []
            self.days, self.declines = frame.days or self.days, False
            return True
        meal = heading_meal(frame, following) if frame.clause.titled and frame.meals else None
        if not frame.clause.titled or "body" in frame.nouns or (_tells(frame) and meal is None):
            return False
        if frame.clause.sep not in {SENTENCE, START} and not (self.verbs or self.has_number()):
            return False
        if meal is not None or (frame.verbs and self.meal_of_verbs):
            self.meal, self.meal_of_verbs = meal, meal is not None
        if frame.days:
            self.days, self.dated_strangely = frame.days, False
        if frame.verbs:
            holds = _HOLDS_BELOW if "neg" in frame.flags else _HOLDS_BELOW | _AS_BEFORE
            self.verbs, self.flags, self.nouns = frame.verbs, frame.flags & holds, frame.nouns
            self.flags |= {"headed not"} if "neg" in frame.flags else set()
            self.from_words = frame.from_words
        denies = bool(frame.flags & _DENIES)
        self.declines = (denies and not frame.verbs and bool(self.verbs)) or _left_by(frame)
        self.not_yet = "undone" in frame.flags or (self._by_keeper() and "elided" not in frame.flags)
        heads = bool(frame.days or frame.verbs) or self.declines
        if not heads and _is_strange(frame):
            self.verbs = []  # "Refused: Ink. Sulking: Mole": not what stood above
        return heads

    def has_number(self) -> bool:
        """Whether the names below have so many of a prey each: "2 crickets: Ink, Mole"."""
        return self.meal is not None and self.meal.count is not None and not self.verbs

    def _counted(self, frame: Frame, following: Sequence[Frame]) -> Meal | None:
        """ "2 crickets:", "crickets x2:" above a list of names, and "x1:", "1 each:" above the next one."""
        own = frame.verbs or frame.refs or frame.amounts or frame.prons or frame.unknown or self.flags
        if own or not (frame.clause.titled and following and following[0].refs) or None in self._kinds():
            return None
        if frame.clause.sep not in {SENTENCE, START} and not self.has_number():
            return None
        if frame.meals:
            meal = frame.meals[0] if len(frame.meals) == 1 and not frame.loose else None
            named = meal is not None and meal.count is not None and not meal.doubt
            return _of_those_below(frame, following) if named else None
        again = _so_many(self.meal, frame) if self.meal is not None else None
        return again if following[0].bare else None

    def denied(self) -> str:
        """What those below a heading that only denies did: refused what others ate, or got nothing."""
        return "declined" if self._kinds() & FEEDING and not self.not_yet else "undone"

    def pours(self, frame: Frame) -> bool:
        """ "watered: Ink 50 ml, Mole 30 ml"."""
        return Kind.WATERED in self._kinds() and {a.dimension for _, a in frame.amounts} == {"volume"}

    def brings(self, frame: Frame) -> bool:
        """ "new: 4 G. pulchra slings 1 cm": of a species, and how big they are."""
        return self.of_newcomers() and all(r.how not in EXACT for r in frame.refs)

    def of_newcomers(self) -> bool:
        """ "new arrival from Dave:"."""
        return Kind.ACQUIRED in self._kinds()

    def _by_keeper(self) -> bool:
        """Whether the heading is of the keeper's doing: below "fed:", a "not:" names who got nothing."""
        return bool(self.verbs) and all(s.group.keeper for _, i in self.verbs for s in i.senses.values())

    def _kinds(self) -> set[Kind | None]:
        return {s.group.kind for _, i in self.verbs for s in i.senses.values()}


def _prey_and_day(frame: Frame, following: Sequence[Frame]) -> bool:
    """ "crickets, 2 May: Ink 3, Sunny 2": prey and day of all those below."""
    day = following[0] if following else None
    if day is None or not (day.idle and day.days and day.clause.titled) or not frame.meals:
        return False
    if frame.clause.sep not in {SENTENCE, START}:
        return False  # "Ink Monday: roach, Tuesday: refused"
    only = not (frame.refs or frame.verbs or frame.loose or frame.amounts) and len(frame.meals) == 1
    return only and frame.meals[0].count is None and not frame.meals[0].doubt


def _prey_of_a_place(frame: Frame, following: Sequence[Frame]) -> bool:
    """ "shelf B pinheads: GBBs 1 each, Dot refused": what was given there, above those who live there."""
    place = frame.refs[0] if len(frame.refs) == 1 and frame.refs[0].how == "place" else None
    own = frame.verbs or frame.loose or frame.amounts or frame.days or len(frame.meals) != 1
    below = following[0].refs if following and following[0].ref_at else []
    if place is None or own or not (frame.clause.titled and below) or frame.meals[0].count is not None:
        return False
    there = set(place.tags)
    return not frame.meals[0].doubt and all(set(ref.tags) < there for ref in below)


def _left_by(frame: Frame) -> bool:
    """ "wouldn't take any:", "none:": by those below."""
    offered = all(item.text not in _GETS for _, item in frame.verbs)  # "didn't get any:" is his doing
    denied = "elided" in frame.flags and feeds(frame) and offered and not (frame.meals or refuses(frame))
    return (
        denied and all(not verb.group.keeper for _, i in frame.verbs for verb in i.senses.verbs)
    ) or acts_of(frame) == {"none"}


_GETS: Final = rule_words("get")


def _so_many(meal: Meal, frame: Frame) -> Meal | None:
    """Another number of the prey that the heading before has."""
    number = frame.loose[0] if len(frame.loose) == 1 else None
    if number is None or number.value is None or number.doubt or number.value != int(number.value):
        return None
    again = copy(meal)
    again.count = int(number.value)
    return again


def heading_meal(frame: Frame, following: Sequence[Frame]) -> Meal | None:
    """ "Ate dubia:", "5 waxworms eaten:": what all those below had; ``None`` where a clause heads no list.

    A number that those below add up to is of them all; one that may be each one's or that of all is doubted.
    """
    only = len(frame.meals) == 1 and bool(frame.verbs) and feeds(frame) | refuses(frame)
    if not only or frame.refs or frame.loose or frame.amounts or frame.prons or frame.meals[0].doubt:
        return None
    return _of_those_below(frame, following)


def _of_those_below(frame: Frame, following: Sequence[Frame]) -> Meal | None:
    below = _below(following)
    if not below:
        return None
    meal, numbers = copy(frame.meals[0]), [f.loose[0].value for f in below if len(f.loose) == 1]
    if meal.count is None or "each" in frame.flags:
        return meal
    if numbers and None not in numbers:
        if sum(numbers) != meal.count:
            below[0].flags.add("hedge")
        meal.count = None
    elif frame.verbs and meal.count > 1 and sum(len(r.tags) for f in below for r in f.refs) > 1:
        meal.doubt = str(meal.count)
    return meal


def _below(following: Sequence[Frame]) -> list[Frame]:
    """The clauses of animals below a heading, as far as the next one that tells something of its own."""
    out: list[Frame] = []
    for frame in following:
        if frame.idle and frame.days and not out:
            continue  # "fed crickets: 2 May, Ink 3"
        if not frame.refs or frame.verbs or frame.meals:
            break
        out.append(frame)
    return out


def _tells(frame: Frame) -> bool:
    """Whether a clause says something of its own beside what it heads."""
    return bool(frame.refs or frame.meals or frame.amounts or frame.loose or frame.prons)


def _anothers_prey(frame: Frame, following: Sequence[Frame]) -> bool:
    """ "Mole's cricket: Ink ate it": whose it was to be, and no meal of hers."""
    items = frame.clause.items
    whose = items[0].cat == "S" and items[0].owns and len(frame.meals) == 1 and not frame.verbs
    if not (whose and following and following[0].ref_at and following[0].verbs):
        return False
    eaten = following[0]
    another = {t for r in eaten.refs for t in r.tags}.isdisjoint(items[0].val.tags)
    return (
        another
        and not (eaten.meals or eaten.loose)
        and any(i.text.split()[-1] in _IT for i in eaten.clause.items)
    )


_IT: Final = rule_words("eaten_it")


def _day_or_name(frame: Frame) -> bool:
    """ "Friday's cricket", where somebody is called Friday: of that day, or of that animal?"""
    alt = frame.clause.items[0].alt
    return alt is not None and alt.day is not None


def _of_a_strange_day(frame: Frame, following: Sequence[Frame]) -> bool:
    """ "5th feeding: Ink ate", "May's feed: Ink ate": which day's it is has to be asked."""
    if not (following and following[0].refs):
        return False  # "May's feed: 2 crickets"
    if frame.clause.titled and frame.idle and len(frame.clause.items) == 1 and unread_day(frame) is not None:
        return True  # "tewsday: Ink ate"
    items = frame.clause.items
    occasion = next((at for at, i in enumerate(items) if "occasion" in i.senses), 0)
    if not (frame.clause.titled and occasion) or frame.days or frame.meals or frame.amounts:
        return False
    return any((i.cat == "N" and i.val.ordinal) or i.owns for i in items[:occasion])


def _is_strange(frame: Frame) -> bool:
    """Whether a heading of a sentence of its own is of words that are not understood."""
    return (
        frame.clause.sep in {SENTENCE, START}
        and frame.idle
        and not (frame.refs or frame.meals or frame.loose)
    )
