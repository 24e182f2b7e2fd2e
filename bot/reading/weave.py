"""Clauses woven together: what one leaves out, it takes from its neighbours.

Subjects run on ("Ink molted and I measured her"), verbs and prey are shared ("Ink 2 crickets, Bess 1"),
lists are drawn together ("fed Ink, Biscuit and Sunny"), headings hold for what follows ("Refused: A3 A4").
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import Any, Final

from bot.reading.additions import (
    adds_to,
    each_of_those_told,
    for_the_last,
    goes_on,
    joins_list,
    joins_move,
    meal_of_both,
    names_another,
    names_them_behind,
    of_her_age,
    of_the_one_weighed,
    on_top,
    one_meal_each,
    only_excepts,
    sizes_alone,
    the_one_excepted,
)
from bot.reading.announced import announced
from bot.reading.another_amount import another_amount
from bot.reading.clauses import AND, COMMA, SENTENCE, START, TITLE
from bot.reading.elliptic import (
    affirms_alone,
    denies_alone,
    does_likewise,
    given_on,
    had_none,
    on_her_own_day,
    only_denies_a_meal,
    only_no,
    says_no,
    skipped_it,
    took,
)
from bot.reading.figures import count_figures, each_its_own, goes_on_measuring, headed_by_measure
from bot.reading.frames import Frame
from bot.reading.headings import Headings
from bot.reading.items import Item, Ref
from bot.reading.meals import Meal
from bot.reading.moves_listed import goes_on_moving, had_her_old_home, soil_in_each
from bot.reading.neighbours import (
    acts_of,
    another_day,
    answer,
    as_said_again,
    begins_a_list,
    counts_on,
    dated,
    denies_what_was_told,
    feeds,
    fills_her_dish,
    hands_out,
    has_a_thing,
    hers_and_anothers,
    leads,
    named_again,
    of_newcomers,
    of_that_prey,
    of_that_thing,
    of_the_air,
    refuses,
    said_of,
    said_strangely,
    share_prey_back,
    share_verbs_back,
    sold_on,
    takes_waste,
    ticked,
    ticked_off,
    waters,
)
from bot.reading.own_days import the_day_of_each
from bot.reading.places_fed import how_one_of_them_did, of_the_place_fed
from bot.reading.removals import taken_back_out, taken_from_her, takes_it_back
from bot.reading.said_beside import (
    before_that_day,
    day_beside,
    people_beside,
    says_only_when,
    tells_of_no_day,
    words_beside,
)
from bot.reading.same_unit import goes_on_in_that_unit, warmth_of_the_room
from bot.reading.stock import of_stock
from bot.reading.unit_behind import unit_behind_all
from bot.reading.waiting import SOFT, Waiting
from bot.reading.without_verb import another_ones_sex, says_sex


class _Loom:
    def __init__(self, talked_of: Ref | None) -> None:
        self.out: list[Frame] = []
        self.running: list[Ref] | None = [talked_of] if talked_of is not None else None
        self.waiting = Waiting()
        self.head = Headings()
        self.lead_days: list[Any] = []
        self.subjectless: list[Frame] = []

    # -- one frame after the other --

    def lay(self, frame: Frame, following: Sequence[Frame]) -> None:
        if self.out and on_top(self.out[-1], frame):
            self.out[-1].flags.add("on top")
        if self.waiting and fills_her_dish(frame, self.waiting.nouns):
            frame.refs = self.waiting.taken()
            self._days(frame)
            self._add(frame)
            return
        if frame.clause.sep in {SENTENCE, START}:
            if frame.refs or self.head.meal is not None:
                self.end_list()
            if not (self.waiting.goes_on_with(frame) or self.waiting.calls(frame)):
                self.waiting.clear()
        if self.head.take(frame, following):
            return
        if frame.idle and not (
            (self.waiting and frame.clause.sep == TITLE and denies_alone(frame))
            or (frame.taxa and self.head.of_newcomers())
        ):
            self._idle(frame)
            return
        self._days(frame)
        if frame.refs or frame.excepted:
            self._named(frame, following)
        else:
            self._unnamed(frame)

    def end_list(self) -> None:
        """Names that nothing followed: they stand under what heads them, or of them nothing is told."""
        if not self.waiting:
            return
        last = self.out[-1] if self.out else None
        if last is not None and last in self.subjectless and (last.meals or waters(last)):
            self._heads_those(self.waiting.taken())  # "1 cricket each: Ink, Mole"
            return
        self.out.append(self.waiting.leftover())

    def _heads_those(self, refs: list[Ref]) -> None:
        """What was told of nobody yet is of those named behind it."""
        self.running = refs
        for other in self.subjectless:
            other.refs = other.subjects = refs
        self.subjectless = []

    def _idle(self, frame: Frame) -> None:
        if "stranger" in frame.flags or denies_what_was_told(frame) or takes_it_back(frame):
            self.out.append(frame)
            return
        prev = self.out[-1] if self.out else None
        if prev is not None and of_her_age(prev, frame):
            return
        if self.waiting and says_only_when(frame):
            self.waiting.set_day(frame)
        elif prev is not None:
            sizes_alone(prev, frame)
            people_beside(prev, frame)
            (day_beside if frame.days else words_beside)(prev, frame)
        elif frame.days and not self.waiting and not tells_of_no_day(frame):
            self.lead_days = frame.days

    def _days(self, frame: Frame) -> None:
        if frame.days:
            frame.days = before_that_day(frame.days, self.out[-1].days if self.out else [])
            first_day = next((n for n, i in enumerate(frame.clause.items) if i.cat == "D"), 0)
            if not self.out and first_day == 0:
                if self.lead_days and not self.head.days:
                    frame.days = [*self.lead_days, *frame.days]
                self.lead_days = frame.days
            return
        if self.head.days:
            frame.days = self.head.days
        elif self.head.dated_strangely:
            frame.flags.add("loose day")
        elif (
            self.out
            and self.out[-1].days
            and frame.clause.sep in SOFT
            and not (self.waiting.dated or self.waiting.anew)
        ):
            frame.days = self.out[-1].days
            if "undone" in self.out[-1].flags and dated(self.out[-1]):
                frame.flags.add("loose day")  # "Ink was due on Monday, fed her a roach"
        elif self.lead_days:
            frame.days = self.lead_days

    # -- frames with animals --

    def _named(self, frame: Frame, following: Sequence[Frame]) -> None:
        if self.out and frame.clause.sep == SENTENCE and only_excepts(frame):
            self.out[-1].excepted += frame.excepted  # "fed Ink and Mole. Not Dot"
            return
        if self.head.meal is not None and (not frame.verbs or feeds(frame)):
            of_that_prey(frame, self.head.meal, self.head.meal.size, prekilled=self.head.meal.prekilled)
            if (ticked(frame) or answer(frame)) and not (frame.meals or frame.loose):
                frame.meals = [self.head.meal]  # "superworms: Ink ✓, Mole ✗"
            if self.head.has_number() and frame.bare and not leads(frame, following):
                self._below_a_number(frame, self.head.meal)
                return
        prev = self.out[-1] if self.out and frame.clause.sep in SOFT and not self.waiting else None
        if prev is not None and frame.meals and frame.clause.items[0].text == "not":
            frame.flags.add("hedge")  # "fed Ink, not a roach for Mole"
        self._goes_on(frame, prev)
        if prev is not None and prev.refs and names_another(frame):
            self._extend(prev, frame)
            prev.flags |= {"or", "which"}
            return
        if frame.bare and frame.clause.sep == TITLE and self.out and says_sex(self.out[-1]):
            self.out[-1].refs = self.out[-1].subjects = self.running = frame.refs  # "it's a boy: B4"
            return
        if frame.bare and not frame.excepted and not affirms_alone(frame):
            self._bare(frame, prev, following)
            return
        if frame.excepted and not frame.refs and frame.verbs and self.running:
            frame.refs = list(self.running)  # "fed A, all but Ink ate"
        if prev is not None and joins_move(prev, frame):
            self._extend(prev, frame)
            prev.amounts += [(at + 100, amount) for at, amount in frame.amounts]
            prev.nouns |= frame.nouns
            prev.flags |= frame.flags
            prev.ends_with_ref = frame.ends_with_ref
            return
        if joins_list(prev, frame):
            assert prev is not None
            self._extend(prev, frame)
            prev.meals, prev.flags, prev.loose = frame.meals, prev.flags | frame.flags, frame.loose
            prev.periods += frame.periods
            prev.excepted += frame.excepted
            prev.ends_with_ref = frame.ends_with_ref
            if len(self.out) > 1 and goes_on(self.out[-2]) and self.out[-2].meals and feeds(prev):
                of_that_prey(prev, self.out[-2].meals[0])  # "bought crickets, gave Ink and Mole 2 each"
            return
        self._told(frame, prev, following)

    def _goes_on(self, frame: Frame, prev: Frame | None) -> None:
        """Gives a clause what it goes on with: a measure, a move, an amount or a unit."""
        if prev is not None:
            goes_on_measuring(frame, prev)
            if frame.groups:
                another_ones_sex(prev, frame)
            if frame.amounts:
                goes_on_moving(prev, frame)
            another_amount(self.out, frame)
        if frame.loose:
            goes_on_in_that_unit(self.out, frame)

    def _below_a_number(self, frame: Frame, meal: Meal) -> None:
        """ "2 crickets: Ink, Mole": the list of those who had so many each."""
        prev = self.out[-1] if self.out and frame.clause.sep in SOFT else None
        if prev is not None and prev.meals == [meal] and not (prev.excepted or frame.excepted):
            self._extend(prev, frame)
            return
        frame.meals = [meal]
        self._add(frame, verbs=self.head.verbs or None)

    def _bare(self, frame: Frame, prev: Frame | None, following: Sequence[Frame]) -> None:
        """Names and nothing more: they go on a list, stand under a heading, or wait for more."""
        if prev is not None and hers_and_anothers(prev, frame):
            prev.flags.add("on top")
            return
        of_them = the_day_of_each(self.out, frame) if not self.waiting else None
        if of_them is not None:
            frame.meals, frame.loose = list(of_them.meals), list(of_them.loose)
            self._add(frame, verbs=of_them.verbs)
            self.out = [told for told in self.out if told.refs or told is not of_them]
            return
        if prev is not None and names_them_behind(prev, frame, following):
            prev.refs = prev.subjects = self.running = frame.refs
            prev.flags.discard("hedge")
            return
        ends = not following or following[0].clause.sep == SENTENCE
        apart = frame.clause.sep != AND or "from" in frame.flags  # "boluses and bits of web out of Ink's tub"
        if prev is not None and prev in self.subjectless and ends and apart:
            self._heads_those(frame.refs)  # "40 ml in the sub, K14"
            return
        day_of_hers = prev is not None and on_her_own_day(prev, frame, following)
        if prev is not None and (day_of_hers or (prev.verb_first and another_day(prev, frame))):
            frame.meals = prev.meals
            self._add(frame, verbs=prev.verbs)
            return
        begun = prev is not None and (prev.verb_first or hands_out(prev) or takes_waste(prev))
        ahead = leads(frame, following) or (
            prev is not None and has_a_thing(prev) and begins_a_list(following) and not has_a_thing(frame)
        )
        if prev is not None and begun and prev.ends_with_ref and not ahead:
            if said_strangely(frame):
                frame.flags.add("strange")
                self._add(frame)
                return
            if how_one_of_them_did(prev, frame):
                return
            prev.flags |= {"place and one"} if of_the_place_fed(prev, frame) else set()
            self._extend(prev, frame)
            prev.to_words = prev.to_words or frame.to_words
            return
        if (
            self.head.verbs
            and not leads(frame, following)
            and not frame.clause.titled
            and (dated(frame) or not self._list_goes_on(frame, following))
        ):
            frame.refs = self.waiting.taken() + frame.refs
            frame.meals = [self.head.meal] if self.head.meal is not None else []
            if self.head.declines:  # "ate: Ink, Mole / didn't: Sunny"
                frame.flags.add(self.head.denied())
                self._add(frame)
            else:
                self._add(frame, verbs=self.head.verbs)
            return
        self.waiting.add(frame)
        if frame.clause.titled and following:
            following[0].flags |= frame.flags & {"span", "carapace", "weight"}  # "Ink's carapace: 22 mm"

    def _told(self, frame: Frame, prev: Frame | None, following: Sequence[Frame]) -> None:
        """A clause with animals of its own that says something of them."""
        if self.waiting:
            if self.out and self.waiting.goes_on and frame.clause.sep in SOFT:
                # "Ink ate, Mole and Sunny didn't", "Ink 2 crickets, Mole and Sunny 1 each"
                prev = self.out[-1]
            self.waiting.join(frame)
        verbs = None
        if prev is not None and prev.meals and (not frame.verbs or feeds(frame)):
            of_that_prey(frame, prev.meals[0])  # "Ink 2 crickets, Bess 1"
            named_again(frame, prev.meals[0])
        elif prev is not None and feeds(prev) and acts_of(frame) & _GOT and not of_newcomers(frame):
            of_that_prey(frame, Meal())  # "Ink ate, so I gave Sunny one too"
        before = self.out[-1] if prev is None and self.out and frame.clause.sep == SENTENCE else prev
        counted = frame.loose and feeds(frame) and not frame.meals  # "Ink ate a locust. Mole ate two"
        if before is not None and before.meals and ("same" in frame.flags or counted):
            of_that_prey(frame, before.meals[0])  # "Ink had a roach and then Sunny had one too"
            named_again(frame, before.meals[0])
        if before is not None and (denies_alone(frame) or only_no(frame)) and took(before):
            frame.flags.add("declined")  # "Dottie took a cricket. Dot didn't"
        if before is not None and given_on(frame, before):
            frame.meals, frame.verbs = frame.meals or list(before.meals), []
            frame.flags.add("took")
            self._add(frame)
            return
        if before is not None and frame.loose and had_her_old_home(before, frame):
            self._add(frame)
            return
        if affirms_alone(frame):
            does_likewise(frame, self.out, following)
        counts_on(frame, self.out)
        if not frame.verbs:
            verbs = self._borrowed(frame)
        self._add(frame, verbs=verbs)

    def _list_goes_on(self, frame: Frame, following: Sequence[Frame]) -> bool:
        nxt = following[0] if following else None
        return nxt is not None and nxt.clause.sep in {COMMA, AND} and bool(nxt.refs) and not nxt.verbs

    def _extend(self, prev: Frame, frame: Frame) -> None:
        """Whom a clause names goes on the list of the one before; the day that it says is the day of all."""
        prev.refs += frame.refs
        prev.flags |= frame.flags & {"hedge", "or", "which"}  # "fed Ink, or was it Mole"
        prev.flags |= {"and a place"} if frame.clause.sep == AND else set()
        prev.days = prev.days or frame.days
        prev.ends_with_ref = True
        self.running = prev.refs

    def _borrowed(self, frame: Frame) -> list[tuple[int, Item]] | None:
        source = said_of(frame, self.out) if "same" in frame.flags else None
        if source is not None:  # "K6 same as K1"
            frame.meals = list(source.meals)
            frame.refs, frame.ref_at = frame.refs[:-1], frame.ref_at[:-1]
            return source.verbs
        if "same" in frame.flags and self.out:
            if not frame.meals:
                frame.meals = [as_said_again(meal, frame) for meal in self._meal_of_the_last()]
            return self.out[-1].verbs
        if sold_on(frame, self.out[-1] if self.out else None):
            return self.out[-1].verbs
        if says_sex(frame) or "her sex" in frame.flags:
            return None  # "checked the molts: Ink's a female"
        if frame.amounts and not frame.meals and not (self.head.pours(frame) or self.head.brings(frame)):
            return None
        if self.head.verbs:
            return self.head.verbs
        if self.out and self.out[-1].verbs and frame.clause.sep != START and (frame.meals or frame.loose):
            own = self._own_meal(frame, self.out[-1]) or (frame.meals and not feeds(self.out[-1]))
            return None if own else self.out[-1].verbs
        return None

    def _meal_of_the_last(self) -> list[Meal]:
        """ "A1: 1 roach, eaten / A2: same": the meal, though what came of it was told behind it."""
        last = self.out[-1]
        those = (f for f in reversed(self.out) if f.meals and f.refs == last.refs)
        return last.meals or (next((f.meals for f in those), []) if feeds(last) else [])

    def _own_meal(self, frame: Frame, prev: Frame) -> bool:
        """ "Ink: refused / Sunny: 2 crickets": a refusal is not carried on to the next one's meal."""
        return refuses(prev) and (not prev.meals or frame.clause.sep == SENTENCE)

    def _add(self, frame: Frame, *, verbs: list[tuple[int, Item]] | None = None) -> None:
        if verbs is not None:
            frame.verbs, frame.inherited = verbs, True
            if verbs is self.head.verbs:
                frame.flags |= self.head.flags | {"headed"}
                frame.nouns = frame.nouns | (self.head.nouns & {"dish"})  # "dishes topped: Ink"
                frame.from_words = frame.from_words or self.head.from_words
        frame.subjects = frame.refs
        if self.subjectless and frame.refs and not of_newcomers(frame):
            for other in self.subjectless:
                in_the_room = of_the_air(other) and ("room" in other.flags or not of_the_air(frame))
                if not in_the_room and not (of_newcomers(other) or of_stock(other)):
                    other.refs = other.subjects = frame.refs
            self.subjectless = []
        if frame.refs:
            self.running = frame.refs
        self.out.append(frame)

    # -- frames without animals --

    def _verbs_left_out(self, frame: Frame, prev: Frame | None) -> None:
        """Gives a clause without a verb that of the heading, or of the clause before."""
        if not frame.verbs and (frame.meals or "yes" in frame.flags):
            verbs = self.head.verbs or (prev.verbs if prev is not None else [])
            if frame.meals and verbs and prev is not None and verbs is prev.verbs and not goes_on(prev):
                frame.flags.add("hedge")  # "Mole sealed, 1 cricket": hers, or what is left over?
            else:
                frame.verbs, frame.inherited = verbs, True
        if not frame.verbs and frame.taxa and self.head.verbs:
            frame.verbs, frame.inherited = self.head.verbs, True
            frame.from_words = frame.from_words or self.head.from_words

    def _unnamed(self, frame: Frame) -> None:
        prev = self.out[-1] if self.out else None
        if prev is not None and says_no(frame) and prev.meals and not prev.verbs:
            prev.flags.add("declined")  # "Mole – locust, no"
            return
        if prev is not None and only_denies_a_meal(frame) and feeds(prev):
            return
        if of_the_air(frame):
            warmth_of_the_room(self.out, frame)
        if of_the_air(frame) and (self.waiting or (prev is not None and _goes_on_with_her_air(prev, frame))):
            frame.flags.add("own air")
        if self.waiting:
            self.waiting.date(frame)
            frame.refs = self.waiting.taken()
            frame.flags |= {"titled name"} if frame.clause.sep == TITLE else set()
            counts_on(frame, self.out)
            if prev is not None and _left_it(frame) and took(prev):
                frame.flags.add("declined")
                frame.verbs = []
            alone = not frame.verbs and "declined" not in frame.flags
            self._add(frame, verbs=self._borrowed(frame) if alone else None)
            return
        of_several = meal_of_both(self.out, frame) or for_the_last(self.out, frame)
        of_several = of_several or of_the_one_weighed(self.out, frame) or soil_in_each(self.out, frame)
        if of_several or (prev is not None and (of_her_age(prev, frame) or adds_to(prev, frame))):
            return
        if prev is not None and one_meal_each(prev, frame):
            frame.flags.add("hedge")
        self._verbs_left_out(frame, prev)
        if prev is not None:
            of_that_thing(prev, frame)
        if prev is not None and prev.meals and frame.prons and feeds(frame):
            of_that_prey(frame, prev.meals[0])  # "Ink took a roach, last night she refused one"
            named_again(frame, prev.meals[0])
        plain = not frame.prons and self.running is None
        runs_on = [] if of_newcomers(frame) or of_stock(frame, prev) else list(self.running or [])
        of_each = each_of_those_told(self.out, frame) if "each" in frame.flags else []
        frame.refs = frame.subjects = the_one_excepted(prev, frame) or of_each or runs_on
        if prev is not None and prev.excepted and frame.refs == prev.refs and not frame.excepted:
            frame.excepted = list(prev.excepted)  # "did all of A except Sunny, all took one"
        if plain:
            self.subjectless.append(frame)
        self.out.append(frame)


def _left_it(frame: Frame) -> bool:
    """Whether a clause says only that a meal was left: "Mole: didn't", "Mole: no", "Mole: none"."""
    return denies_alone(frame) or only_no(frame) or had_none(frame)


_GOT: Final = frozenset({"give", "get", "have"})


def _goes_on_with_her_air(prev: Frame, frame: Frame) -> bool:
    """ "Ink's tub 25 C, 60 % humidity": the second figure is of the same home as the first."""
    hers = bool(prev.ref_at) or "own air" in prev.flags
    of_air = of_the_air(prev) or bool(prev.flags & {"humid", "temp"}) or _looked_well_in_her_home(prev)
    return of_air and hers and frame.clause.sep in SOFT


def _looked_well_in_her_home(prev: Frame) -> bool:
    """ "Ink's tub looks good, 81 %": how it is in the home just looked at."""
    return "well" in acts_of(prev) and "box" in prev.nouns


def woven(frames: Sequence[Frame], talked_of: Ref | None) -> list[Frame]:
    """The frames with subjects, verbs, prey and days shared as a keeper means it."""
    frames = announced(frames)
    loom = _Loom(talked_of)
    for frame in frames:
        count_figures(frame)
    for last, frame in pairwise(frames):
        headed_by_measure(last, frame)
        apart = frame.clause.sep in {COMMA, TITLE}
        if apart and last.idle and "fix" in last.flags and not last.days:
            frame.flags.add("instead")  # "Ink ate, no wait, Mole refused"
    for place, frame in enumerate(frames):
        loom.lay(frame, frames[place + 1 :])
    loom.end_list()
    unit_behind_all(loom.out)
    share_verbs_back(loom.out)
    share_prey_back(loom.out)
    each_its_own(loom.out)
    ticked_off(loom.out)
    skipped_it(loom.out)
    taken_back_out(loom.out)
    taken_from_her(loom.out)
    return loom.out
