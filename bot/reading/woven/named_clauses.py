"""Clauses that name animals: lists, what stands under a heading, and what is told of somebody."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import takewhile
from typing import Final

from bot.reading.clauses.clause_model import AND, COMMA, SENTENCE, TITLE
from bot.reading.clauses.days_beside import another_day, dated
from bot.reading.clauses.figures import goes_on_measuring
from bot.reading.clauses.frames import ADDED, Frame
from bot.reading.clauses.neighbours import (
    acts_of,
    begins_a_list,
    feeds,
    hands_out,
    has_a_thing,
    leads,
    of_newcomers,
    said_strangely,
    takes_waste,
)
from bot.reading.clauses.same_unit import goes_on_in_that_unit
from bot.reading.kinds.without_verb import another_ones_sex, says_sex
from bot.reading.portions.meals import Meal
from bot.reading.words.rule_words import rule_words
from bot.reading.woven.additions import (
    goes_on,
    joins_list,
    joins_move,
    joins_sale,
    names_another,
    names_them_behind,
    names_who_was_meant,
    only_excepts,
)
from bot.reading.woven.another_amount import another_amount
from bot.reading.woven.elliptic import (
    affirms_alone,
    denies_alone,
    does_likewise,
    given_on,
    not_given,
    on_her_own_day,
    only_no,
    took,
)
from bot.reading.woven.her_things import hers_and_anothers
from bot.reading.woven.loom import Loom
from bot.reading.woven.moves_listed import goes_on_moving, had_her_old_home
from bot.reading.woven.own_days import the_day_of_each, the_home_of_each
from bot.reading.woven.places_fed import got_less, how_one_of_them_did, of_the_place_fed, one_of_them_too
from bot.reading.woven.shared_meals import counts_on, named_again, of_that_prey
from bot.reading.woven.stock import buys_another
from bot.reading.woven.ticks import answer, ticked
from bot.reading.woven.waiting import SOFT, NamesOfADay
from bot.reading.woven.watered_each import watered_likewise

_GOT: Final = frozenset({"give", "get", "have"})


class NamedClauses(Loom):
    """Lays clauses with animals of their own."""

    def _named(self, frame: Frame, following: Sequence[Frame]) -> None:
        if self._adds_whom(frame):
            return
        if self._had_what_heads_them(frame, following):
            return
        prev = self.out[-1] if self.out and frame.clause.sep in SOFT and not self.waiting else None
        if prev is not None and frame.meals and frame.clause.items[0].text in _NOT:
            frame.flags.add("hedge")  # "fed Ink, not a roach for Mole"
        self._goes_on(frame, prev)
        if prev is not None and prev.refs and names_another(frame):
            self._extend(prev, frame)
            prev.flags |= {"or", "which"}
            return
        if prev is not None and self._one_of_a_place(frame, prev):
            return
        if prev is not None and buys_another(prev, frame):
            self._add(frame, verbs=prev.verbs)
            return
        apart = frame.strange_deed is not None and bool(following) and bool(following[0].ref_at)
        if frame.bare and not (frame.excepted or apart or affirms_alone(frame)):
            self._bare(frame, prev, following)
            return
        if frame.excepted and not frame.refs and frame.verbs and self.running:
            frame.refs = list(self.running)  # "fed A, all but Ink ate"
        if not self._joins(frame, prev):
            self._told(frame, prev, following)

    def _one_of_a_place(self, frame: Frame, prev: Frame) -> bool:
        """Whether a clause only says how it was with one of those before, or how others were watered."""
        if one_of_them_too(prev, frame):
            return True
        watered = watered_likewise(self.out, frame)
        if watered is not None:
            self._add(frame, verbs=watered)
            return True
        apart = frame.bare and got_less(prev, frame)
        if apart:
            prev.excepted += frame.refs
            self._add(frame, verbs=prev.verbs)
        return apart

    def _had_what_heads_them(self, frame: Frame, following: Sequence[Frame]) -> bool:
        """Gives a clause the prey of its heading; whether that was all there was to tell of it."""
        meal = self.head.meal
        if meal is None or (frame.verbs and not feeds(frame)):
            return False
        of_that_prey(frame, meal, meal.size, prekilled=meal.prekilled)
        if (ticked(frame) or answer(frame)) and not (frame.meals or frame.loose):
            frame.meals = [meal]  # "superworms: Ink ✓, Mole ✗"
        if self.head.has_number() and frame.bare and not leads(frame, following):
            self._below_a_number(frame, meal)
            return True
        return False

    def _adds_whom(self, frame: Frame) -> bool:
        """Whether a clause only says whom the one before left out, or was of."""
        last = self.out[-1] if self.out else None
        if last is None:
            return False
        if frame.bare and names_who_was_meant(frame) and not (last.ref_at or last.excepted):
            last.refs = last.subjects = self.running = frame.refs  # "she's shed! Ink I mean"
            return True
        if frame.clause.sep == SENTENCE and only_excepts(frame):
            last.excepted += frame.excepted  # "fed Ink and Mole. Not Dot"
            return True
        behind = frame.clause.sep == TITLE or (frame.clause.sep in {COMMA, SENTENCE} and not last.named)
        if frame.bare and behind and says_sex(last):
            last.refs = last.subjects = self.running = frame.refs  # "it's a boy: B4", "it's a girl! Ink"
            return True
        return False

    def _goes_on(self, frame: Frame, prev: Frame | None) -> None:
        """Gives a clause what it goes on with: a measure, a move, an amount or a unit."""
        if prev is not None:
            goes_on_measuring(frame, prev)
            if frame.groups:
                another_ones_sex(prev, frame)
            if frame.amounts:
                goes_on_moving(prev, frame)
            another_amount(self.out, frame)
        goes_on_in_that_unit(self.out, frame)

    def _joins(self, frame: Frame, prev: Frame | None) -> bool:
        """Whether a clause was the rest of the one before, of a move or of a list of animals."""
        if prev is not None and (joins_move(prev, frame) or joins_sale(prev, frame)):
            self._extend(prev, frame)
            prev.amounts += [(at + ADDED, amount) for at, amount in frame.amounts]
            prev.nouns |= frame.nouns
            prev.flags |= frame.flags
            prev.to_words = prev.to_words or frame.to_words
            prev.ends_with_ref = frame.ends_with_ref
            return True
        if not joins_list(prev, frame):
            return False
        assert prev is not None
        self._extend(prev, frame)
        prev.meals, prev.flags, prev.loose = frame.meals, prev.flags | frame.flags, frame.loose
        prev.periods += frame.periods
        prev.excepted += frame.excepted
        prev.ends_with_ref = frame.ends_with_ref
        if len(self.out) > 1 and goes_on(self.out[-2]) and self.out[-2].meals and feeds(prev):
            of_that_prey(prev, self.out[-2].meals[0])  # "bought crickets, gave Ink and Mole 2 each"
        return True

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
        if self._of_what_was_told(frame, prev, following):
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
        if following and (frame.clause.titled or all(i.cat == "A" for i in following[0].clause.items)):
            # "Ink's carapace: 22 mm", "Ink carapace, 22 mm"
            following[0].flags |= frame.flags & {"span", "carapace", "weight"}

    def _of_what_was_told(self, frame: Frame, prev: Frame | None, following: Sequence[Frame]) -> bool:
        """Whether bare names are those of what was told before them, of nobody or of somebody else too."""
        if prev is not None and hers_and_anothers(prev, frame):
            prev.flags.add("on top")
            return True
        of_them = the_day_of_each(self.out, frame) if not self.waiting else None
        if of_them is not None:
            frame.meals, frame.loose = list(of_them.meals), list(of_them.loose)
            self._add(frame, verbs=of_them.verbs)
            self.out = [told for told in self.out if told.refs or told is not of_them]
            return True
        if prev is not None and names_them_behind(prev, frame, following):
            prev.refs = prev.subjects = self.running = frame.refs
            prev.flags.discard("hedge")
            return True
        apart = frame.clause.sep != AND or "from" in frame.flags  # "boluses and bits of web out of Ink's tub"
        ends = not following or following[0].clause.sep == SENTENCE
        ends = ends or (prev is not None and prev.verb_first and _only_names(following))
        if prev is not None and prev in self.subjectless and ends and apart:
            self._heads_those(frame.refs)  # "40 ml in the sub, K14", "bowls filled, D and the floor rack"
            prev.ends_with_ref = True
            return True
        return False

    def _told(self, frame: Frame, prev: Frame | None, following: Sequence[Frame]) -> None:
        """A clause with animals of its own that says something of them, and of those that wait for it."""
        apart = self.waiting.apart_by_day(frame)
        self._told_of_them(frame, prev, following)
        self._told_on(apart, frame)

    def _told_by_the_heading(self, frame: Frame) -> None:
        """ "molted: Ink, Mole not": those before the one of whom it is denied."""
        if self.waiting and self.head.verbs and frame.clause.sep == COMMA and denies_alone(frame):
            self._add(self.waiting.names_alone(frame), verbs=self.head.verbs)

    def _told_of_them(self, frame: Frame, prev: Frame | None, following: Sequence[Frame]) -> None:
        self._told_by_the_heading(frame)
        if self.waiting:
            if self.out and self.waiting.goes_on and frame.clause.sep in SOFT:
                # "Ink ate, Mole and Sunny didn't", "Ink 2 crickets, Mole and Sunny 1 each"
                prev = self.out[-1]
            self.out += self.waiting.join(frame)
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
            # "Dottie took a cricket. Dot didn't"
            frame.flags.add("undone" if not_given(frame, before) else "declined")
        if before is not None and given_on(frame, before):
            frame.meals, frame.verbs = frame.meals or list(before.meals), []
            frame.flags.add("took")
            self._add(frame)
            return
        if self._told_of_a_home(before, frame):
            return
        if affirms_alone(frame):
            does_likewise(frame, self.out, following)
        counts_on(frame, self.out)
        if not frame.verbs:
            verbs = self._borrowed(frame)
        self._add(frame, verbs=verbs)

    def _told_of_a_home(self, before: Frame | None, frame: Frame) -> bool:
        """Whether a clause tells of the home that an animal had, or of the one that she was given."""
        if before is not None and frame.loose and had_her_old_home(before, frame):
            self._add(frame)
            return True
        moved = the_home_of_each(self.out, frame)
        if moved is None:
            return False
        self._add(frame, verbs=moved.verbs)
        self.out = [told for told in self.out if told.refs or told is not moved]
        return True

    def _told_on(self, apart: Sequence[NamesOfADay], frame: Frame) -> None:
        """ "Ink yesterday and Mole today refused": the same of others, on their own days."""
        running = self.running
        for names in apart:
            self._add(names.told_as(frame))
        self.running = running

    def _list_goes_on(self, frame: Frame, following: Sequence[Frame]) -> bool:
        nxt = following[0] if following else None
        return nxt is not None and nxt.clause.sep in {COMMA, AND} and bool(nxt.refs) and not nxt.verbs


def _only_names(following: Sequence[Frame]) -> bool:
    """Whether nothing follows in a sentence but more names."""
    rest = takewhile(lambda frame: frame.clause.sep != SENTENCE, following)
    return all(frame.bare and not frame.excepted for frame in rest)


_NOT: Final = rule_words("not")
