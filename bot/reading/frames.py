"""What each clause says: verbs, animals, prey and counts, amounts, days, and what is only hinted at."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Final

from bot.reading.clauses import Clause
from bot.reading.event_numbers import counts_events, numbers_a_molt
from bot.reading.exchanges import CameFor
from bot.reading.items import Item, Ref
from bot.reading.meals import ONE, Meal, count, vague
from bot.reading.words import Sense

#: Categories that are kept as plain marks of a clause.
FLAGS: Final = (
    "neg",
    "elided",
    "undone",
    "hedge",
    "which",
    "leftover",
    "future",
    "habit",
    "cond",
    "report",
    "did",
    "self",
    "each",
    "same",
    "yes",
    "no",
    "or",
    "still",
    "nomore",
    "room",
    "span",
    "carapace",
    "weight",
    "temp",
    "humid",
    "weather",
    "feeder_food",
    "rest",
    "both",
    "animal",
    "with",
    "to",
    "from",
    "on",
    "danger",
    "stranger",
    "fix",
    "a",
    "everyone",
    "all",
)


class Frame:
    """One clause taken apart: ``refs`` are its animals as said, ``before`` how many came before the verb."""

    __slots__ = (
        "after_to",
        "amounts",
        "before",
        "came",
        "clause",
        "days",
        "ends_with_ref",
        "excepted",
        "flags",
        "from_words",
        "groups",
        "heading",
        "inherited",
        "kind",
        "loose",
        "meals",
        "nouns",
        "periods",
        "prons",
        "ref_at",
        "refs",
        "signs",
        "subjects",
        "taxa",
        "to_words",
        "unknown",
        "verb_first",
        "verbs",
    )

    def __init__(self, clause: Clause) -> None:
        self.clause = clause
        self.refs: list[Ref] = []
        self.taxa: list[str | None] = []
        self.came: CameFor | None = None
        self.ref_at: list[int] = []
        self.excepted: list[Ref] = []
        self.verbs: list[tuple[int, Item]] = []
        self.meals: list[Meal] = []
        self.loose: list[Any] = []
        self.amounts: list[tuple[int, Any]] = []
        self.days: list[Any] = []
        self.periods: list[Any] = []
        self.flags: set[str] = set()
        self.nouns: set[str] = set()
        self.groups: list[Sense] = []
        self.prons: list[Sense] = []
        self.unknown: list[tuple[int, Item]] = []
        self.before = 0
        self.verb_first = self.ends_with_ref = False
        self.subjects: list[Ref] | None = None
        self.inherited = False
        self.signs = False
        self.heading: Any = None
        self.kind: Any = None
        self.to_words = self.from_words = self.after_to = ""

    @property
    def bare(self) -> bool:
        """Nothing but animals (and small words)."""
        return bool(self.refs) and not (
            self.verbs or self.meals or self.loose or self.amounts or self.flags & _SAYS or self.groups
        )

    @property
    def idle(self) -> bool:
        """Says nothing that could be stored."""
        return not (
            self.refs
            or self.excepted
            or self.groups
            or self.verbs
            or self.meals
            or self.loose
            or self.amounts
            or self.flags & {"yes", "no", "same"}
        )


_SAYS: Final = frozenset(
    {"yes", "no", "same", "undone", "neg", "future", "danger", "stranger", "cond", "report", "habit"}
)


def frame_of(clause: Clause) -> Frame:
    """The clause taken apart."""
    frame = Frame(clause)
    builder = _Builder(frame)
    for place, item in enumerate(clause.items):
        builder.take(place, item)
    builder.finish()
    significant = [
        i
        for i in clause.items
        if i.cat in "SAN" or "verb" in i.senses or "prey" in i.senses or "ones" in i.senses
    ]
    frame.ends_with_ref = bool(significant) and significant[-1].cat == "S"
    frame.verb_first = bool(frame.verbs) and (not frame.ref_at or frame.verbs[0][0] < frame.ref_at[0])
    first_verb = frame.verbs[0][0] if frame.verbs else len(clause.items)
    frame.before = sum(1 for at in frame.ref_at if at < first_verb)
    return frame


class _Builder:
    def __init__(self, frame: Frame) -> None:
        self.frame = frame
        self.meal = Meal()
        self.number: Any = None
        self.number_at = -1

    def take(self, place: int, item: Item) -> None:
        handler = getattr(self, f"_take_{item.cat.lower()}", None)
        if handler is not None:
            handler(place, item)

    def _take_s(self, place: int, item: Item) -> None:
        before = self.frame.clause.items[place - 1] if place else None
        if before is not None and "from" in before.senses and self.frame.refs:
            return  # "OBT 3 took the cricket from OBT 2": that one did nothing
        self.frame.refs.append(item.val)
        self.frame.ref_at.append(place)
        if "noun" in item.senses:
            self.frame.nouns.add(item.senses["noun"].group.part or "")
        self._spill()

    def _take_t(self, place: int, item: Item) -> None:
        self.frame.taxa.append(item.val)
        self._spill()

    def _take_e(self, place: int, item: Item) -> None:
        self.frame.came = item.val
        self._spill()

    def _take_x(self, place: int, item: Item) -> None:
        self.frame.excepted.extend(item.val)

    def _take_d(self, place: int, item: Item) -> None:
        self.frame.days.append(item.val)

    def _take_p(self, place: int, item: Item) -> None:
        self.frame.periods.append(item.val)

    def _take_a(self, place: int, item: Item) -> None:
        self.frame.amounts.append((place, item.val))

    def _take_n(self, place: int, item: Item) -> None:
        nxt = self._next(place)
        if item.val.ordinal or (nxt is not None and "dur" in nxt.senses):
            return  # "her third today" counts no prey
        if "both" in item.senses and not self._prey_follows(place):
            return
        if counts_events(self.frame.clause.items, place, prey=self._prey_follows(place)):
            return
        if "ones" in item.senses and self._described_one(place, item):
            return
        if "ones" in item.senses and self.meal.size is not None and self._meal_word(place, item):
            return  # "a small one"
        if "verb" in item.senses and self.frame.refs and not self.frame.verbs:
            self._take_w(place, item)
            return
        if self.frame.meals and self.number is None and self._after_prey(place, item):
            return
        self._spill()
        self.number, self.number_at = item.val, place

    def _described_one(self, place: int, item: Item) -> bool:
        """ "the old one ate": an animal, but not said which."""
        before = self.frame.clause.items[place - 1] if place else None
        nxt = self._next(place)
        if before is None or nxt is None or "trait" not in before.senses:
            return False
        if not ("neg" in nxt.senses or ("verb" in nxt.senses and not nxt.senses["verb"].group.keeper)):
            return False
        self.frame.refs.append(Ref((), sure=False, words=f"{before.text} {item.text}", doubt="two_fit"))
        self.frame.ref_at.append(place)
        self.meal, self.number = Meal(), None
        return True

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

    def _take_u(self, place: int, item: Item) -> None:
        self.frame.unknown.append((place, item))

    def _take_m(self, place: int, item: Item) -> None:
        return

    def _take_w(self, place: int, item: Item) -> None:
        senses, frame = item.senses, self.frame
        if numbers_a_molt(self.frame.clause.items, place):
            return
        for cat in senses:
            if cat in _FLAG_SET and not (cat == "report" and self._given_to(place)):
                frame.flags.add(cat)
        if self._meal_word(place, item):
            return
        if "verb" in senses and not self._no_verb(place, senses):
            frame.verbs.append((place, item))
        if "noun" in senses:
            frame.nouns.add(senses["noun"].group.part or "")
        if "group" in senses:
            frame.groups.append(senses["group"])
        if "pron" in senses:
            frame.prons.append(senses["pron"])

    def _no_verb(self, place: int, senses: Mapping[str, Sense]) -> bool:
        """ "2 dead crickets"; "from Barry at the show", where "at" is no slip for "ate"."""
        if self._prey_follows(place):
            return "prekilled" in senses
        if "on" not in senses or not senses["verb"].group.weak:
            return False
        nxt = self._next(place)
        where = nxt is not None and nxt.text.isalpha() and (nxt.cat == "U" or "the" in nxt.senses)
        return not self.frame.refs or where or (nxt is not None and nxt.cat == "A")

    def _given_to(self, place: int) -> bool:
        """ "gave Ink to my neighbour": whom it goes to tells nothing."""
        items = self.frame.clause.items
        at = place - 1
        while at >= 0 and any(c in items[at].senses for c in ("self", "a", "the", "pron")):
            at -= 1
        return at >= 0 and any(c in items[at].senses for c in ("to", "from"))

    def _meal_word(self, place: int, item: Item) -> bool:
        senses = item.senses
        if "prey" in senses:
            self._prey(senses["prey"], item)
            return True
        if "ones" in senses and (self.number is not None or self.meal.size is not None):
            self.meal.ones = True
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
            if not (
                item.cat == "N"
                or any(c in item.senses for c in ("size", "prekilled", "a", "of", "noun", "fill", "some"))
            ):
                return False
        return False

    def _number_follows(self, place: int) -> bool:
        """ "a tub of 50 locusts": as many as are in it."""
        nxt = self._next(place)
        return nxt is not None and nxt.cat == "N"

    def _prey(self, sense: Sense, item: Item) -> None:
        self.meal.prey = sense.group.prey
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

    def _next(self, place: int) -> Item | None:
        items = self.frame.clause.items
        return items[place + 1] if place + 1 < len(items) else None

    def _spill(self) -> None:
        if self.number is not None and self.number is not ONE:
            self.frame.loose.append(self.number)
        self.number = None

    def finish(self) -> None:
        self._spill()
        for meal in self.frame.meals if "each" in self.frame.flags else ():
            if meal.count is None and meal.single and not meal.doubt:
                meal.count = 1  # "Ink and Bess, cricket each"
        if self.meal.size is not None and not self.frame.meals:
            self.frame.meals.append(self.meal)


_FLAG_SET: Final = frozenset(FLAGS)
