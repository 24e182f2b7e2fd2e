"""A clause taken apart into its frame, item by item."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from itertools import pairwise
from typing import Final

from bot.reading.clauses.clause_marks import ARROWS
from bot.reading.clauses.clause_model import AND, COMMA, START, TITLE, Clause
from bot.reading.clauses.days_of_another import of_another_event
from bot.reading.clauses.frames import FLAGS, Frame
from bot.reading.clauses.had_by_another import day_of_the_prey, goes_to_another, lived_there, passed_on
from bot.reading.clauses.meal_words import MealWords
from bot.reading.items.item import Item, Ref
from bot.reading.model import FEEDING
from bot.reading.portions.each_or_all import of_each, paid_for_all
from bot.reading.portions.event_numbers import counts_days, counts_events, numbers_a_molt
from bot.reading.portions.homophones import counts_prey
from bot.reading.portions.meals import TWO, Meal
from bot.reading.words.lexicon import Sense
from bot.reading.words.rule_words import rule_words


def frame_of(clause: Clause) -> Frame:
    """The clause taken apart."""
    frame = Frame(clause)
    builder = _Builder(frame)
    for place, item in enumerate(clause.items):
        builder.take(place, item)
    builder.finish()
    said = (i for i in reversed(clause.items) if i.cat in "SAN" or not _SIGNIFICANT.isdisjoint(i.senses))
    last = next(said, None)
    frame.verb_first = bool(frame.verbs) and (not frame.ref_at or frame.verbs[0][0] < frame.ref_at[0])
    done_to_her = frame.verb_first and "pron" in clause.items[-1].senses  # "watered her and shelf D"
    frame.ends_with_ref = done_to_her or (last is not None and last.cat == "S")
    first_verb = frame.verbs[0][0] if frame.verbs else len(clause.items)
    frame.before = sum(1 for at in frame.ref_at if at < first_verb)
    return frame


def _counts_no_prey(number: Item, behind: Item) -> bool:
    """ "4 month fast over", "for 3 weeks", "the only one who refused"."""
    of_time = "dur" in behind.senses or behind.text in _OF_TIME
    return of_time or ("ones" in number.senses and "rel" in behind.senses)


_OF_TIME: Final = rule_words("one_of_time")


class _Builder(MealWords):
    """A frame in the making: each item of the clause is taken by what sort it is."""

    def take(self, place: int, item: Item) -> None:
        _TAKERS[item.cat](self, place, item)

    def _take_s(self, place: int, item: Item) -> None:
        before = self.frame.clause.items[place - 1] if place else None
        taken_from = before is not None and "from" in before.senses
        if taken_from and (self.frame.refs or passed_on(self.frame, place)):
            return  # "OBT 3 took the cricket from OBT 2": that one did nothing
        prey_of_hers = item.owns and self._prey_follows(place)
        if prey_of_hers and goes_to_another(self.frame, place):
            return  # "gave Mole's cricket to Ink": nothing of Mole
        if item.owns and lived_there(self.frame, place):
            return  # "moved Ink into Mole's old tub"
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
        before = self.frame.clause.items[place - 1] if place else None
        if item.text in _SECOND_OF_TWO and before is not None and _of_a_meal(before):
            self.frame.flags.add("second")  # "ate one roach and refused the second": of the two, no day
            return
        nxt = self._next(place)
        if nxt is not None and nxt.cat == "P" and item.text in _SECOND_OF_TWO:
            return  # "the first in six weeks"
        if nxt is not None and nxt.text in _TRIES and item.text.split()[-1] in _WHICH:
            return  # "took it on the second offer"
        whose = of_another_event(self.frame.clause.items, place)
        if whose is not None:
            self.frame.other_days.append((whose, item.val))
            return
        self.frame.days.append(item.val)
        given_then = item.text.endswith("'s") and nxt is not None and "prey" in nxt.senses
        if given_then or day_of_the_prey(self.frame, place):
            self.frame.flags.add("loose day")  # "gave Ink yesterday's roach": of that day, or eaten on it?

    def _take_p(self, place: int, item: Item) -> None:
        first = any(map(_is_ordinal, self.frame.clause.items[max(0, place - 3) : place]))
        if not (str(item.val.kind) in {"in", "since"} and first):
            self.frame.periods.append(item.val)  # not "her first meal in three years", which was to come

    def _take_a(self, place: int, item: Item) -> None:
        before = self.frame.clause.items[place - 1] if place else None
        if before is not None and before.text in _NOT and item.val.dimension == "humidity":
            self.frame.flags.add("hedge")  # "not 100% on Sunny"
            return
        self.frame.amounts.append((place, item.val))
        if paid_for_all(self.frame.clause.items, place):
            self.frame.flags.add("money in all")

    def _take_n(self, place: int, item: Item) -> None:
        nxt = self._next(place)
        if item.val.ordinal:
            self._which_of_some(place)
        times = item.val.ordinal or counts_days(self.frame.clause.items, place)
        times = times or (place > 0 and self.frame.clause.items[place - 1].text in _OF_TIME)  # "week 3"
        if times or (nxt is not None and _counts_no_prey(item, nxt)):
            return  # "her third today"
        if "both" in item.senses and not (self._prey_follows(place) or self._both_of_hers(place)):
            return
        if counts_events(self.frame.clause.items, place, prey=self._prey_follows(place)):
            return
        if "ones" in item.senses and self._described_one(place, item):
            return
        if "ones" in item.senses and self.meal.size is not None and self._meal_word(place, item):
            return  # "a small one"
        if "verb" in item.senses and (self.frame.refs or self.frame.prons) and not self.frame.verbs:
            if not counts_prey(self.frame.clause.items, place):
                self._take_w(place, item)
                return
            if self.frame.clause.sep == START:
                self.meal.doubt = item.text  # "Ink eight crickets": or ate them, however many
        if self.frame.meals and self.number is None and self._after_prey(place, item):
            return
        self._spill()
        self.number, self.number_at = item.val, place

    def _which_of_some(self, place: int) -> None:
        """An "nth", which may be a day of the month, or one of some things."""
        if self._next_offered(place):
            self.frame.flags.add("second")  # "ate two and refused a third"
        if _may_date(self.frame.clause.items, place):
            self.frame.flags.add("loose day")  # "Ink refused 27th"

    def _next_offered(self, place: int) -> bool:
        """ "refused a third", "took the fourth": which of some that she was given, where none is named."""
        before = self.frame.clause.items[max(0, place - 2) : place]
        pair = len(before) > 1 and _of_a_meal(before[0]) and not {"a", "the"}.isdisjoint(before[1].senses)
        return pair and not self._prey_follows(place)

    def _counts_hers(self, place: int, senses: Mapping[str, Sense]) -> None:
        if "both" in senses and self.number is None and self._both_of_hers(place):
            self.number = TWO

    def _both_of_hers(self, place: int) -> bool:
        """ "took both of her crickets", "both her locusts"."""
        items = self.frame.clause.items
        at = place + 1
        while at < len(items) and not _OF_HERS.isdisjoint(items[at].senses):
            at += 1
        return at < len(items) and self._prey_follows(at - 1)

    def _described_one(self, place: int, item: Item) -> bool:
        """ "the old one ate": an animal, but not said which."""
        before = self.frame.clause.items[place - 1] if place else None
        nxt = self._next(place)
        if before is None or nxt is None or not self._describes(before, place):
            return False
        did = "neg" in nxt.senses or ("verb" in nxt.senses and not nxt.senses["verb"].group.keeper)
        had = self._of_those_before() and (nxt.cat == "N" or not {"a", "prey"}.isdisjoint(nxt.senses))
        if not (did or had):
            return False
        self.frame.refs.append(Ref((), sure=False, words=f"{before.text} {item.text}", doubt="two_fit"))
        self.frame.ref_at.append(place)
        self.meal, self.number = Meal(), None
        return True

    def _describes(self, word: Item, place: int) -> bool:
        """ "the old one", "the little one" of several; "a small one" is prey."""
        items = self.frame.clause.items
        the = place > 1 and "the" in items[place - 2].senses and self._of_those_before()
        return "trait" in word.senses or ("size" in word.senses and the)

    def _of_those_before(self) -> bool:
        """Whether a clause names nobody: "both Besses ate, the old one two roaches"."""
        return not self.frame.refs and self.frame.clause.sep in {COMMA, AND, TITLE}

    def _take_u(self, place: int, item: Item) -> None:
        if counts_days(self.frame.clause.items, place):
            return
        self.frame.unknown.append((place, item))

    def _take_m(self, place: int, item: Item) -> None:
        if item.text in ARROWS:
            self.frame.flags.add("arrow")

    def _take_w(self, place: int, item: Item) -> None:
        senses, frame = item.senses, self.frame
        if numbers_a_molt(self.frame.clause.items, place):
            return
        if item.text in _ALSO:
            frame.flags.add("same")
        for cat in senses:
            if cat in _FLAG_SET and not (cat == "report" and self._of_nobody_else(place)):
                frame.flags |= set() if cat == "future" and self._had_done(place, item) else {cat}
        if "each" in senses:
            frame.flags |= of_each(frame.clause.items, place)
        self._counts_hers(place, senses)
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

    def _had_done(self, place: int, item: Item) -> bool:
        """ "she'd molted": before a word for what was done it stands for "had"; "an hour later" was so."""
        if item.text in _LATER and place and "dur" in self.frame.clause.items[place - 1].senses:
            return True
        nxt = self._next(place) if item.text.endswith("'d") else None
        return nxt is not None and any(not verb.group.base for verb in nxt.senses.verbs)

    def _no_verb(self, place: int, senses: Mapping[str, Sense]) -> bool:
        """ "2 dead crickets"; "from Barry at the show", where "at" is no "ate"; "nope no cricket"."""
        nxt = self._next(place)
        if senses["verb"].group.act == "nope" and nxt is not None and not _NO.isdisjoint(nxt.senses):
            return True
        if self._prey_follows(place):
            return "prekilled" in senses
        if "on" not in senses or not senses["verb"].group.weak:
            return False
        where = nxt is not None and nxt.text.isalpha() and (nxt.cat == "U" or "the" in nxt.senses)
        where = where or any("market" in i.senses for i in self.frame.clause.items[place + 1 : place + 4])
        weighs = nxt is not None and nxt.text[0].isdigit() and "weight" in self.frame.flags
        return not self.frame.refs or where or weighs or (nxt is not None and nxt.cat == "A")

    def _of_nobody_else(self, place: int) -> bool:
        """Whether a word for people makes it no tale of theirs: "gave Ink to a friend", "her neighbour"."""
        nxt, before = self._next(place), self.frame.clause.items[place - 1] if place else None
        next_door = nxt is not None and nxt.cat == "S" and before is not None and "pron" in before.senses
        gave_me = nxt is not None and nxt.text.split()[-1] in _TO_ME and "verb" in nxt.senses
        return gave_me or next_door or self._given_to(place)

    def _given_to(self, place: int) -> bool:
        """ "gave Ink to my neighbour": whom it goes to tells nothing."""
        items = self.frame.clause.items
        at = place - 1
        while at >= 0 and any(c in items[at].senses for c in ("self", "a", "the", "pron")):
            at -= 1
        return at >= 0 and any(c in items[at].senses for c in ("to", "from"))

    def finish(self) -> None:
        self._spill()
        pairs = pairwise(self.frame.clause.items) if "everyone" in self.frame.flags else ()
        if any(a.text in _EVERYTHING and "from" in b.senses for a, b in pairs):
            self.frame.nouns.add("waste")  # "cleared everything out of Ink's tub"
        for meal in self.frame.meals if "each" in self.frame.flags else ():
            if meal.count is None and meal.single and not meal.doubt:
                meal.count = 1  # "Ink and Bess, cricket each"
        if self.meal.size is not None and not self.frame.meals:
            self.frame.meals.append(self.meal)
        items = self.frame.clause.items
        if _went_before(self.frame):
            self.frame.flags.add("went before")
            self.frame.unknown = self.frame.unknown[1:]
        if [i.cat for i in items] == ["S", "W", "S"] and items[1].text in _AS:
            self.frame.flags.add("same")  # "Dottie - as Lantern"
        if self.frame.refs and "except" in self.frame.clause.items[-1].senses:
            self.frame.flags.add("undone")  # "fed Ink, Sunny I forgot"
        skips = next((at for at, item in self.frame.verbs if item.text in _NOT_FED), None)
        hers = self.frame.clause.sep == TITLE or any(item.cat == "S" for item in items[:skips])
        if skips is not None and not hers:
            self.frame.flags.add("undone")  # "skipped feeding Mole"


_NOT_FED: Final = rule_words("not_fed_by_the_keeper")
_EVERYTHING: Final = rule_words("everything")
_AS: Final = rule_words("as")
_TO_ME: Final = rule_words("to_me")
_LATER: Final = rule_words("later")
_NOT: Final = rule_words("not")
_ALSO: Final = rule_words("also")


#: Senses of the words between "both" and whose prey it was.
_OF_HERS: Final = frozenset({"of", "the", "pron", "self"})
#: "the second offer", "the third go": which of some tries it was.
_TRIES: Final = rule_words("tries")
_WHICH: Final = rule_words("which_try")


def _is_ordinal(item: Item) -> bool:
    """ "her first meal since June", "1st since Feb", "only her second meal"."""
    if item.cat == "N":
        return bool(item.val.ordinal)
    return not _FIRST.isdisjoint({item.text, item.text.split()[0]})


#: Words for what happened once more after so long.
_FIRST: Final = rule_words("first_time") | rule_words("ordinals")
#: Words that name the next of some things, though a day of the month may be called so as well.
_SECOND_OF_TWO: Final = rule_words("second_of_some")


def _went_before(frame: Frame) -> bool:
    """ "ate a locust, having refused the last two": meals until then, of no day, that are told beside it."""
    acts = [kind for _, item in frame.verbs for kind in item.senses.kinds]
    meals = bool(acts) and FEEDING.issuperset(acts)
    return frame.clause.items[0].text in _HAVING and meals and not (frame.refs or frame.days)


_HAVING: Final = rule_words("having")


def _may_date(items: Sequence[Item], place: int) -> bool:
    """Whether an "nth" in figures counts nothing that is named, so that it may be a day of the month."""
    if not items[place].text[0].isdigit() or items[place].val.value > _LAST_OF_A_MONTH:
        return False
    nxt, before = (items[n] if 0 <= n < len(items) else None for n in (place + 1, place - 1))
    if nxt is None:
        return before is None or not {"the", "pron", "a", "of"} & before.senses.keys()
    told = any(not verb.group.noun for verb in nxt.senses.verbs)
    return nxt.cat == "S" or (before is not None and before.cat == "S" and not before.owns and told)


_LAST_OF_A_MONTH: Final = 31


def _of_a_meal(item: Item) -> bool:
    return "verb" in item.senses and item.senses["verb"].group.kind in FEEDING


#: Senses of the words before which a "nope" says no more than they do.
_NO: Final = frozenset({"neg", "none_of", "undone"})

_FLAG_SET: Final = frozenset(FLAGS)
#: Senses of the words that say something of their own; small words may stand behind the last of them.
_SIGNIFICANT: Final = frozenset({"verb", "prey", "ones"})
#: What is done with each sort of item.
_TAKERS: Final[Mapping[str, Callable[[_Builder, int, Item], None]]] = {
    "S": _Builder._take_s,
    "T": _Builder._take_t,
    "E": _Builder._take_e,
    "X": _Builder._take_x,
    "D": _Builder._take_d,
    "P": _Builder._take_p,
    "A": _Builder._take_a,
    "N": _Builder._take_n,
    "U": _Builder._take_u,
    "M": _Builder._take_m,
    "W": _Builder._take_w,
}
