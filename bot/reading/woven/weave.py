"""Clauses woven together: what one leaves out, it takes from its neighbours.

Subjects run on ("Ink molted and I measured her"), verbs and prey are shared ("Ink 2 crickets, Bess 1"),
lists are drawn together ("fed Ink, Biscuit and Sunny"), headings hold for what follows ("Refused: A3 A4").
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from bot.reading.clauses.clause_model import AND, COMMA, SENTENCE, START, TITLE
from bot.reading.clauses.days_beside import another_day, dated, dates_them_all
from bot.reading.clauses.figures import count_figures, each_its_own, headed_by_measure
from bot.reading.clauses.frames import Frame
from bot.reading.clauses.neighbours import (
    acts_of,
    denies_what_was_told,
    feeds,
    in_the_room,
    of_newcomers,
    of_the_air,
    waters,
)
from bot.reading.clauses.same_unit import air_of_one, goes_on_in_that_unit, warmth_of_the_room
from bot.reading.items.item import Ref
from bot.reading.kinds.removals import is_untrue, taken_back_out, taken_from_her, takes_it_back
from bot.reading.kinds.without_verb import only_likes
from bot.reading.woven.additions import (
    adds_to,
    each_of_those_told,
    for_the_last,
    goes_on,
    meal_of_both,
    of_her_age,
    of_the_one_weighed,
    on_top,
    one_meal_each,
    sizes_alone,
    the_one_excepted,
)
from bot.reading.woven.announced import announced
from bot.reading.woven.day_behind_all import day_behind_all, day_of_the_names_before
from bot.reading.woven.deaths import doubt_whose_death
from bot.reading.woven.elliptic import (
    denies_alone,
    had_none,
    only_denies_a_meal,
    only_no,
    or_another_day,
    says_no,
    she_didnt,
    skipped_it,
    took,
)
from bot.reading.woven.her_things import fills_her_dish, of_that_thing
from bot.reading.woven.moves_listed import soil_in_each
from bot.reading.woven.named_clauses import NamedClauses
from bot.reading.woven.said_beside import (
    day_beside,
    people_beside,
    says_only_when,
    tells_of_no_day,
    words_beside,
)
from bot.reading.woven.shared_meals import (
    counts_on,
    named_again,
    of_that_prey,
    share_prey_back,
    share_verbs_back,
)
from bot.reading.woven.stock import of_stock, what_the_shop_had
from bot.reading.woven.ticks import ticked_off
from bot.reading.woven.unit_behind import unit_behind_all
from bot.reading.woven.unread_outcomes import mark_unread_outcome
from bot.reading.woven.waiting import SOFT
from bot.reading.woven.whom import in_her_home
from bot.reading.woven.whose_meal import of_an_open_meal


class _Weaver(NamedClauses):
    """Lays one clause after the other."""

    def lay(self, frame: Frame, following: Sequence[Frame]) -> None:
        if self.out:
            mark_unread_outcome(self.out[-1], frame)
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
            if not self._heads_what_follows(frame, following):
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

    def _idle(self, frame: Frame) -> None:
        if self.out and she_didnt(frame):
            self._one_of_them_didnt(frame)
            return
        untrue = denies_what_was_told(frame) or takes_it_back(frame) or is_untrue(frame)
        if frame.flags & {"stranger", "turned"} or untrue:
            self.out.append(frame)
            return
        prev = self.out[-1] if self.out else None
        if prev is not None and (of_her_age(prev, frame) or dates_them_all(self.out, frame)):
            return
        if or_another_day(frame) and (prev is not None or self.lead_days):
            if prev is not None:
                prev.flags.add("loose day")
            self.lead_days = [*self.lead_days, *frame.days] if self.lead_days else self.lead_days
            return
        if self.waiting and says_only_when(frame):
            self.waiting.set_day(frame, self.lead_days or self.head.days)
        elif prev is not None:
            sizes_alone(prev, frame)
            people_beside(prev, frame)
            (day_beside if frame.days else words_beside)(prev, frame)
        elif frame.days and not self.waiting and not tells_of_no_day(frame):
            self.lead_days = frame.days

    def _heads_its_lines(self, frame: Frame, following: Sequence[Frame]) -> bool:
        """A day on a line of its own, below lines that another such day heads: it heads those that follow."""
        below = bool(self.lead_days) and bool(self.out) and self.out[-1].days == self.lead_days
        if not (below and frame.clause.line and following and following[0].clause.line):
            return False
        if not says_only_when(frame) or dated(self.out[-1]):
            return False
        self.end_list()
        self.lead_days = frame.days
        return True

    def _heads_what_follows(self, frame: Frame, following: Sequence[Frame]) -> bool:
        """ "Ink: 1 roach, Tue: refused": a day with a colon behind what was told is of what comes next."""
        if self._heads_its_lines(frame, following):
            return True
        apart = bool(self.out) and frame.clause.sep == COMMA and frame.clause.titled and not self.waiting
        acts = bool(following) and bool(following[0].verbs)
        if not (apart and acts and frame.days and all(i.cat == "D" for i in frame.clause.items)):
            return False
        following[0].days = frame.days
        return True

    def _one_of_them_didnt(self, frame: Frame) -> None:
        """ "gave Twig and Ink a roach each. She took hers, he didn't"; of anything but a meal it is asked."""
        whom = list(self.running or [])
        several = len({tag for ref in whom for tag in ref.tags}) > 1
        if several and any(map(took, self.out)):
            frame.flags.add("declined")
            frame.refs = frame.subjects = whom
            self.out.append(frame)
        else:
            self.out[-1].flags.add("which" if several else "hedge")

    def _unnamed(self, frame: Frame) -> None:
        prev = self.out[-1] if self.out else None
        if prev is not None and _only_denies(frame, prev):
            return
        goes_on_in_that_unit(self.out, frame)
        if of_the_air(frame):
            warmth_of_the_room(self.out, frame)
        at_home = prev is not None and (_goes_on_with_her_air(prev, frame) or _in_with_her(frame))
        if of_the_air(frame) and (self.waiting or at_home):
            frame.flags.add("own air")
        if self.waiting:
            self._of_those_waiting(frame, prev)
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
            doubt_whose_death(prev, frame)
        again = frame.prons and not (prev is not None and prev.verb_first_by_keeper and not dated(frame))
        if prev is not None and prev.meals and feeds(frame) and (again or _on_another_day(prev, frame)):
            of_that_prey(frame, prev.meals[0])  # "Ink took a roach, last night she refused one"
            named_again(frame, prev.meals[0])
        plain = not frame.prons and self.running is None
        of_nobody = of_newcomers(frame) or of_stock(frame, prev) or in_the_room(frame)
        runs_on = [] if of_nobody else list(self.running or [])
        of_each = each_of_those_told(self.out, frame) if "each" in frame.flags else []
        whose = the_one_excepted(prev, frame) or of_an_open_meal(self.out, frame)
        frame.refs = frame.subjects = whose or of_each or runs_on
        if prev is not None and prev.excepted and frame.refs == prev.refs and not frame.excepted:
            frame.excepted = list(prev.excepted)  # "did all of A except Sunny, all took one"
        if plain:
            self.subjectless.append(frame)
        self.out.append(frame)

    def _of_those_waiting(self, frame: Frame, prev: Frame | None) -> None:
        """What is told of the names that stood before it."""
        apart = self.waiting.apart_by_day(frame)
        self.waiting.date(frame)
        frame.refs = self.waiting.taken()
        frame.flags |= {"titled name"} if frame.clause.sep == TITLE else set()
        counts_on(frame, self.out)
        if prev is not None and _left_it(frame) and took(prev):
            frame.flags.add("declined")
            frame.verbs = []
        alone = not frame.verbs and "declined" not in frame.flags
        self._add(frame, verbs=self._borrowed(frame) if alone else None)
        self._told_on(apart, frame)

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


def _on_another_day(prev: Frame, frame: Frame) -> bool:
    """ "refused one fly on Monday but took two on Tuesday": so many of the same on a day of their own."""
    return bool(frame.loose) and frame.clause.sep == AND and dated(frame) and another_day(prev, frame)


def _only_denies(frame: Frame, prev: Frame) -> bool:
    """ "Mole – locust, no", "Ink ate a cricket on Monday, not a roach": what was not, and no more."""
    if says_no(frame) and prev.meals and not prev.verbs:
        prev.flags.add("declined")
        return True
    return only_denies_a_meal(frame) and feeds(prev)


def _left_it(frame: Frame) -> bool:
    """Whether a clause says only that a meal was left: "Mole: didn't", "Mole: no", "Mole: none"."""
    return denies_alone(frame) or only_no(frame) or had_none(frame)


def _goes_on_with_her_air(prev: Frame, frame: Frame) -> bool:
    """ "Ink's tub 25 C, 60 % humidity": the second figure is of the same home as the first."""
    hers = bool(prev.ref_at) or "own air" in prev.flags or (of_the_air(prev) and in_her_home(prev))
    of_air = of_the_air(prev) or bool(prev.flags & {"humid", "temp"}) or _looked_well_in_her_home(prev)
    return of_air and hers and frame.clause.sep in SOFT


def _in_with_her(frame: Frame) -> bool:
    """ "…, it's 25 C in there with him": the air of the home of the one just told of."""
    return bool(frame.prons) and any(sense.group.sex for sense in frame.prons)


def _looked_well_in_her_home(prev: Frame) -> bool:
    """ "Ink's tub looks good, 81 %": how it is in the home just looked at."""
    return "well" in acts_of(prev) and "box" in prev.nouns


def woven(frames: Sequence[Frame], talked_of: Ref | None) -> list[Frame]:
    """The frames with subjects, verbs, prey and days shared as a keeper means it."""
    frames = what_the_shop_had(announced(frames))
    loom = _Weaver(talked_of)
    day_of_the_names_before(frames)
    for frame in frames:
        count_figures(frame)
        if only_likes(frame) and not frame.ref_at:
            frame.meals = []  # "Ink ate, she loves roaches"
    for last, frame in pairwise(frames):
        headed_by_measure(last, frame)
        air_of_one(last, frame)
        if last.refs and last.to_words and frame.to_words and last.to_words != frame.to_words:
            frame.flags.add("another taker")  # "vendí a Ink a Marta y a Biscuit a Luis"
        apart = frame.clause.sep in {COMMA, TITLE}
        if apart and last.idle and "fix" in last.flags and not last.days:
            frame.flags.add("instead")  # "Ink ate, no wait, Mole refused"
    for place, frame in enumerate(frames):
        loom.lay(frame, frames[place + 1 :])
    loom.end_list()
    unit_behind_all(loom.out)
    day_behind_all(loom.out)
    share_verbs_back(loom.out)
    share_prey_back(loom.out)
    each_its_own(loom.out)
    ticked_off(loom.out)
    skipped_it(loom.out)
    taken_back_out(loom.out)
    taken_from_her(loom.out)
    return loom.out
