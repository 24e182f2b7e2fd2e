"""What the clauses of a message share while they are woven: the subject, the heading, days and verbs."""

from __future__ import annotations

from typing import Any, Final

from bot.reading.clauses.clause_model import AND, SENTENCE, START
from bot.reading.clauses.days_beside import dated, of_another_event_and_animal
from bot.reading.clauses.frames import Frame
from bot.reading.clauses.neighbours import feeds, of_newcomers, of_the_air, refuses, said_of, sold_on
from bot.reading.items.item import Item, Ref
from bot.reading.kinds.without_verb import says_sex
from bot.reading.portions.meals import Meal
from bot.reading.words.rule_words import rule_openings, rule_words
from bot.reading.woven.elliptic import no_as_well
from bot.reading.woven.headings import Headings
from bot.reading.woven.her_things import poured_alike
from bot.reading.woven.said_beside import (
    before_that_day,
)
from bot.reading.woven.shared_meals import as_said_again
from bot.reading.woven.stock import of_stock
from bot.reading.woven.waiting import SOFT, Waiting


def _lasts(frame: Frame) -> bool:
    """ "molted Monday, still refusing": how it is now, and nothing of that day."""
    return any("still" in i.senses or i.text.startswith(_STILL) for i in frame.clause.items)


_STILL: Final = rule_openings("still")
#: Words that say of a figure that it is of this moment.
_NOW: Final = rule_words("now") | rule_words("here")
_JUST_NOW: Final = rule_words("just_now")


class Loom:
    """The clauses laid so far, and what the next may take from them."""

    def __init__(self, talked_of: Ref | None) -> None:
        self.out: list[Frame] = []
        self.running: list[Ref] | None = [talked_of] if talked_of is not None else None
        self.waiting = Waiting()
        self.head = Headings()
        self.lead_days: list[Any] = []
        self.subjectless: list[Frame] = []

    def _heads_those(self, refs: list[Ref]) -> None:
        """What was told of nobody yet is of those named behind it."""
        self.running = refs
        for other in self.subjectless:
            other.refs = other.subjects = refs
        self.subjectless = []

    def _days(self, frame: Frame) -> None:
        if not frame.days and any("same_day" in i.senses for i in frame.clause.items):
            frame.days = self.out[-1].days if self.out else []  # "Twig died on Monday; Mole ate the same day"
            frame.flags |= set() if frame.days else {"loose day"}
        if frame.days:
            frame.days = before_that_day(frame.days, self.out[-1].days if self.out else [])
            first_day = next((n for n, i in enumerate(frame.clause.items) if i.cat == "D"), 0)
            only_when = bool(self.lead_days) and all(day.implied for day in frame.days)
            if not self.out and (first_day == 0 or only_when):
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
            and not (frame.verbs and _lasts(frame))
        ):
            self._day_of_the_last(frame)
        elif self.lead_days:
            frame.days = self.lead_days

    def _day_of_the_last(self, frame: Frame) -> None:
        """Gives a clause the day of the one before it; where it may be another one, that is asked."""
        prev = self.out[-1]
        frame.days = prev.days
        said_now = _JUST_NOW | _NOW if of_the_air(frame) and not of_the_air(prev) else _JUST_NOW
        if any(item.text in said_now for item in frame.clause.items):
            frame.days = []  # "molted yesterday, ate two crickets just now", "…, 24 degrees in here now"
        elif of_the_air(frame) and not of_the_air(prev):
            frame.flags.add("day of another")
        elif "undone" in prev.flags and dated(prev):
            frame.flags.add("loose day")  # "Ink was due on Monday, fed her a roach"
        elif of_another_event_and_animal(prev, frame):
            frame.flags.add("day of another")  # "Ink molted on Monday, Mole ate"

    def _extend(self, prev: Frame, frame: Frame) -> None:
        """Whom a clause names goes on the list of the one before; the day that it says is the day of all."""
        prev.refs += frame.refs
        prev.flags |= frame.flags & {"hedge", "or", "which"}  # "fed Ink, or was it Mole"
        prev.flags |= {"and a place"} if frame.clause.sep == AND else set()
        prev.days = prev.days or frame.days
        prev.came = prev.came or frame.came  # "traded B1 and B2 for a Davus pentaloris"
        prev.ends_with_ref = True
        self.running = prev.refs

    def _borrowed(self, frame: Frame) -> list[tuple[int, Item]] | None:
        source = said_of(frame, self.out) if "same" in frame.flags else None
        if source is not None:  # "K6 same as K1"
            frame.meals = list(source.meals)
            frame.refs, frame.ref_at = frame.refs[:-1], frame.ref_at[:-1]
            return source.verbs
        if "same" in frame.flags and self.out and not no_as_well(frame):
            if not frame.meals:
                frame.meals = [as_said_again(meal, frame) for meal in self._meal_of_the_last()]
            frame.flags |= self.out[-1].flags & {"still"}  # "Anvil still sealed, Mole too"
            frame.nouns = frame.nouns or self.out[-1].nouns  # "cleared Ink's boluses, Mole's too"
            return self.out[-1].verbs
        if sold_on(frame, self.out[-1] if self.out else None):
            return self.out[-1].verbs
        if says_sex(frame) or "her sex" in frame.flags:
            return None  # "checked the molts: Ink's a female"
        if self.out and poured_alike(self.out[-1], frame):
            frame.nouns = frame.nouns | self.out[-1].nouns
            return self.out[-1].verbs
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
        if last.meals and not last.ref_at:
            return self._all_meals_of_hers()
        those = (f for f in reversed(self.out) if f.meals and f.refs == last.refs)
        return last.meals or (next((f.meals for f in those), []) if feeds(last) else [])

    def _all_meals_of_hers(self) -> list[Meal]:
        """ "Ink had 2 crickets and a roach, Mole the same": what the clauses since her name told of."""
        meals: list[Meal] = []
        for told in reversed(self.out):
            if told.refs != self.out[-1].refs or not told.meals:
                break
            meals = [*told.meals, *meals]
            if told.ref_at:
                break
        return meals

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
                    other.excepted = other.excepted or list(frame.excepted)  # "fed and watered C but Mole"
            self.subjectless = []
        if frame.refs:
            self.running = frame.refs
        self.out.append(frame)
