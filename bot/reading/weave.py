"""Clauses woven together: what one leaves out, it takes from its neighbours.

Subjects run on ("Ink molted and I measured her"), verbs and prey are shared ("Ink 2 crickets, Bess 1"),
lists are drawn together ("fed Ink, Biscuit and Sunny"), headings hold for what follows ("Refused: A3 A4").
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import Any

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
    on_top,
    one_meal_each,
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
    only_no,
    says_no,
    skipped_it,
    took,
)
from bot.reading.figures import count_figures, goes_on_measuring, headed_by_measure
from bot.reading.frames import Frame
from bot.reading.headings import Headings
from bot.reading.items import Item, Ref
from bot.reading.meals import Meal
from bot.reading.moves_listed import goes_on_moving, had_her_old_home, soil_in_each
from bot.reading.neighbours import (
    acts_of,
    another_day,
    as_said_again,
    begins_a_list,
    dated,
    denies_what_was_told,
    feeds,
    hands_out,
    has_a_thing,
    hers_and_anothers,
    leads,
    named_again,
    of_newcomers,
    of_that_prey,
    of_the_air,
    refuses,
    said_of,
    said_strangely,
    share_prey_back,
    share_verbs_back,
    sold_on,
    ticked,
    ticked_off,
)
from bot.reading.removals import taken_back_out, taken_from_her, takes_it_back
from bot.reading.said_beside import day_beside, people_beside, tells_of_no_day, words_beside
from bot.reading.same_unit import goes_on_in_that_unit, warmth_of_the_room
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
        if frame.clause.sep in {SENTENCE, START}:
            if frame.refs or self.head.meal is not None:
                self.end_list()
            self.waiting.clear()
        if self.head.take(frame, following):
            return
        if frame.idle:
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
        if self.out and self.out[-1] in self.subjectless and self.out[-1].meals:
            self.running = self.waiting.taken()
            for other in self.subjectless:
                other.refs = other.subjects = self.running  # "1 cricket each: Ink, Mole"
            self.subjectless = []
            return
        self.out.append(self.waiting.leftover())

    def _idle(self, frame: Frame) -> None:
        if "stranger" in frame.flags or denies_what_was_told(frame) or takes_it_back(frame):
            self.out.append(frame)
            return
        prev = self.out[-1] if self.out else None
        if prev is not None:
            people_beside(prev, frame)
            (day_beside if frame.days else words_beside)(prev, frame)
        elif frame.days and not self.waiting and not tells_of_no_day(frame):
            self.lead_days = frame.days

    def _days(self, frame: Frame) -> None:
        if frame.days:
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
        elif self.out and self.out[-1].days and frame.clause.sep in SOFT:
            frame.days = self.out[-1].days
        elif self.lead_days:
            frame.days = self.lead_days

    # -- frames with animals --

    def _named(self, frame: Frame, following: Sequence[Frame]) -> None:
        if self.head.meal is not None and (not frame.verbs or feeds(frame)):
            of_that_prey(frame, self.head.meal, self.head.meal.size, prekilled=self.head.meal.prekilled)
            if ticked(frame) and not (frame.meals or frame.loose):
                frame.meals = [self.head.meal]  # "superworms: Ink ✓, Mole ✗"
            if self.head.has_number() and frame.bare and not leads(frame, following):
                self._below_a_number(frame, self.head.meal)
                return
        prev = self.out[-1] if self.out and frame.clause.sep in SOFT and not self.waiting else None
        self._goes_on(frame, prev)
        if prev is not None and prev.refs and names_another(frame):
            self._extend(prev, frame)
            prev.flags |= {"or", "which"}
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
        if prev is not None and names_them_behind(prev, frame, following):
            prev.refs = prev.subjects = self.running = frame.refs
            prev.flags.discard("hedge")
            return
        ends = not following or following[0].clause.sep == SENTENCE
        if prev is not None and prev in self.subjectless and ends and frame.clause.sep != AND:
            self.running = frame.refs
            for other in self.subjectless:
                other.refs = other.subjects = frame.refs  # "40 ml in the sub, K14"
            self.subjectless = []
            return
        if prev is not None and prev.verb_first and another_day(prev, frame):
            frame.meals = prev.meals
            self._add(frame, verbs=prev.verbs)
            return
        begun = prev is not None and (prev.verb_first or hands_out(prev))
        ahead = leads(frame, following) or (
            prev is not None and has_a_thing(prev) and begins_a_list(following) and not has_a_thing(frame)
        )
        if prev is not None and begun and prev.ends_with_ref and not ahead:
            if said_strangely(frame):
                frame.flags.add("strange")
                self._add(frame)
                return
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
        elif prev is not None and feeds(prev) and acts_of(frame) & {"give", "get", "have"}:
            of_that_prey(frame, Meal())  # "Ink ate, so I gave Sunny one too"
        before = self.out[-1] if prev is None and self.out and frame.clause.sep == SENTENCE else prev
        counted = frame.loose and feeds(frame) and not frame.meals  # "Ink ate a locust. Mole ate two"
        if before is not None and before.meals and ("same" in frame.flags or counted):
            of_that_prey(frame, before.meals[0])  # "Ink had a roach and then Sunny had one too"
            named_again(frame, before.meals[0])
        if before is not None and (denies_alone(frame) or only_no(frame)) and took(before):
            frame.flags.add("declined")  # "Dottie took a cricket. Dot didn't"
        if before is not None and given_on(frame, before):
            frame.meals, frame.verbs = list(before.meals), []
            frame.flags.add("took")
            self._add(frame)
            return
        if before is not None and frame.loose and had_her_old_home(before, frame):
            self._add(frame)
            return
        if affirms_alone(frame):
            does_likewise(frame, self.out, following)
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
                frame.meals = [as_said_again(meal, frame) for meal in self.out[-1].meals]
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

    def _own_meal(self, frame: Frame, prev: Frame) -> bool:
        """ "Ink: refused / Sunny: 2 crickets": a refusal is not carried on to the next one's meal."""
        return refuses(prev) and (not prev.meals or frame.clause.sep == SENTENCE)

    def _add(self, frame: Frame, *, verbs: list[tuple[int, Item]] | None = None) -> None:
        if verbs is not None:
            frame.verbs, frame.inherited = verbs, True
            if verbs is self.head.verbs:
                frame.flags |= self.head.flags | {"headed"}
        frame.subjects = frame.refs
        if self.subjectless and frame.refs:
            for other in self.subjectless:
                of_the_room = of_the_air(other) and "room" in other.flags  # "room 24 C, shelf B 26 C"
                hers = of_the_air(frame) or not of_the_air(other)
                if hers and not (of_the_room or of_newcomers(other)):
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

    def _unnamed(self, frame: Frame) -> None:
        prev = self.out[-1] if self.out else None
        if prev is not None and says_no(frame) and prev.meals and not prev.verbs:
            prev.flags.add("declined")  # "Mole – locust, no"
            return
        if of_the_air(frame):
            warmth_of_the_room(self.out, frame)
        if of_the_air(frame) and (self.waiting or (prev is not None and _goes_on_with_her_air(prev, frame))):
            frame.flags.add("own air")
        if self.waiting:
            self.waiting.date(frame)
            frame.refs = self.waiting.taken()
            if prev is not None and (denies_alone(frame) or only_no(frame)) and took(prev):
                frame.flags.add("declined")
            self._add(frame, verbs=self._borrowed(frame) if not frame.verbs else None)
            return
        of_several = meal_of_both(self.out, frame) or for_the_last(self.out, frame)
        of_several = of_several or soil_in_each(self.out, frame)
        if of_several or (prev is not None and adds_to(prev, frame)):
            return
        if prev is not None and one_meal_each(prev, frame):
            frame.flags.add("hedge")
        self._verbs_left_out(frame, prev)
        if prev is not None and prev.meals and frame.prons and feeds(frame):
            of_that_prey(frame, prev.meals[0])  # "Ink took a roach, last night she refused one"
            named_again(frame, prev.meals[0])
        plain = not frame.prons and self.running is None
        runs_on = [] if of_newcomers(frame) else list(self.running or [])
        of_each = each_of_those_told(self.out, frame) if "each" in frame.flags else []
        frame.refs = frame.subjects = the_one_excepted(prev, frame) or of_each or runs_on
        if prev is not None and prev.excepted and frame.refs == prev.refs and not frame.excepted:
            frame.excepted = list(prev.excepted)  # "did all of A except Sunny, all took one"
        if plain:
            self.subjectless.append(frame)
        self.out.append(frame)


def _goes_on_with_her_air(prev: Frame, frame: Frame) -> bool:
    """ "Ink's tub 25 C, 60 % humidity": the second figure is of the same home as the first."""
    hers = bool(prev.ref_at) or "own air" in prev.flags
    return of_the_air(prev) and hers and frame.clause.sep in SOFT


def woven(frames: Sequence[Frame], talked_of: Ref | None) -> list[Frame]:
    """The frames with subjects, verbs, prey and days shared as a keeper means it."""
    frames = announced(frames)
    loom = _Loom(talked_of)
    for frame in frames:
        count_figures(frame)
    for last, frame in pairwise(frames):
        headed_by_measure(last, frame)
        apart = frame.clause.sep in {COMMA, TITLE}
        if apart and all("fix" in item.senses for item in last.clause.items):
            frame.flags.add("instead")  # "Ink ate, no wait, Mole refused"
    for place, frame in enumerate(frames):
        loom.lay(frame, frames[place + 1 :])
    loom.end_list()
    unit_behind_all(loom.out)
    share_verbs_back(loom.out)
    share_prey_back(loom.out)
    ticked_off(loom.out)
    skipped_it(loom.out)
    taken_back_out(loom.out)
    taken_from_her(loom.out)
    return loom.out
