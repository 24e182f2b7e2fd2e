"""Clauses woven together: what one leaves out, it takes from its neighbours.

Subjects run on ("Ink molted and I measured her"), verbs and prey are shared ("Ink 2 crickets, Bess 1"),
lists are drawn together ("fed Ink, Biscuit and Sunny"), headings hold for what follows ("Refused: A3 A4").
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from bot.reading.clauses import AND, COMMA, RUN_ON, SENTENCE, START
from bot.reading.days import Strength
from bot.reading.frames import Frame, Meal
from bot.reading.items import Item, Ref
from bot.reading.kinds import FEEDING
from bot.reading.refs import TICKS
from bot.terms import Kind

_SOFT = frozenset({COMMA, AND, RUN_ON, "title"})
#: What a heading's words turn round or make doubtful holds for all below it: "not fed: Ink, Mole".
_OF_A_HEADING = frozenset({"neg", "undone", "hedge", "future", "cond", "report"})


class _Loom:
    def __init__(self, talked_of: Ref | None) -> None:
        self.out: list[Frame] = []
        self.running: list[Ref] | None = [talked_of] if talked_of is not None else None
        self.waiting: list[Ref] = []
        self.head_verbs: list[tuple[int, Item]] = []
        self.head_flags: set[str] = set()
        self.head_days: list[Any] = []
        self.lead_days: list[Any] = []
        self.subjectless: list[Frame] = []
        self.head_meal: Meal | None = None

    # -- one frame after the other --

    def lay(self, frame: Frame, following: Sequence[Frame]) -> None:
        if frame.clause.sep in {SENTENCE, START}:
            self.waiting = []
        if self._heading(frame):
            return
        if frame.idle:
            self._idle(frame)
            return
        self._days(frame)
        if frame.refs or frame.excepted:
            self._named(frame, following)
        else:
            self._unnamed(frame)

    def _heading(self, frame: Frame) -> bool:
        """ "Refused:", "Monday:", "Feeding –": holds until the next heading."""
        if _names_prey(frame):
            self.head_meal = frame.meals[0]
            return True
        if (
            not frame.clause.titled
            or frame.refs
            or frame.meals
            or frame.amounts
            or frame.loose
            or frame.prons
        ):
            return False
        if frame.clause.sep not in {SENTENCE, START}:
            return False
        if frame.days:
            self.head_days = frame.days
        if frame.verbs:
            self.head_verbs, self.head_flags = frame.verbs, frame.flags & _OF_A_HEADING
        return bool(frame.days or frame.verbs)

    def _idle(self, frame: Frame) -> None:
        if "stranger" in frame.flags:
            self.out.append(frame)
            return
        if not frame.days:
            if self.out:
                self.out[-1].flags |= frame.flags & {"each", "hedge", "cond", "report", "future"}
                self.out[-1].unknown += frame.unknown
                self.out[-1].periods += frame.periods
                self.out[-1].nouns |= frame.nouns & {"dish", "sub"}
            return
        if frame.flags & {"future", "cond", "undone", "report"}:
            return
        if not self.out and not self.waiting:
            self.lead_days = frame.days
        elif self.out and not self.out[-1].days:
            self.out[-1].days = frame.days
            if frame.clause.sep == AND and all(d.strength == Strength.WEAK for d in frame.days):
                self.out[-1].flags.add("loose day")  # "all ate but the third"

    def _days(self, frame: Frame) -> None:
        if frame.days:
            first_day = next((n for n, i in enumerate(frame.clause.items) if i.cat == "D"), 0)
            if not self.out and first_day == 0:
                if self.lead_days and not self.head_days:
                    frame.days = [*self.lead_days, *frame.days]
                self.lead_days = frame.days
            return
        if self.head_days:
            frame.days = self.head_days
        elif self.out and self.out[-1].days and frame.clause.sep in _SOFT:
            frame.days = self.out[-1].days
        elif self.lead_days:
            frame.days = self.lead_days

    # -- frames with animals --

    def _named(self, frame: Frame, following: Sequence[Frame]) -> None:
        if self.head_meal is not None and not frame.verbs:
            _of_that_prey(frame, self.head_meal)
        prev = self.out[-1] if self.out and frame.clause.sep in _SOFT and not self.waiting else None
        if frame.bare and not frame.excepted:
            if prev is not None and prev.verb_first and _another_day(prev, frame):
                frame.meals = prev.meals
                self._add(frame, verbs=prev.verbs)
                return
            if prev is not None and prev.verb_first and prev.ends_with_ref and not _leads(frame, following):
                self._extend(prev, frame.refs)
                prev.to_words = prev.to_words or frame.to_words
                prev.days = prev.days or frame.days
                return
            if (
                self.head_verbs
                and not _leads(frame, following)
                and not frame.clause.titled
                and not self._list_goes_on(frame, following)
            ):
                frame.refs = self.waiting + frame.refs
                self.waiting = []
                self._add(frame, verbs=self.head_verbs)
                return
            self.waiting += frame.refs
            return
        if self._joins_list(prev, frame):
            assert prev is not None
            self._extend(prev, frame.refs)
            prev.meals, prev.flags, prev.loose = frame.meals, prev.flags | frame.flags, frame.loose
            prev.periods += frame.periods
            prev.excepted += frame.excepted
            prev.ends_with_ref = frame.ends_with_ref
            return
        if self.waiting:
            if not _among(frame.refs, self.waiting):  # "Ink and Saffron: Ink took a cricket"
                frame.refs = self.waiting + frame.refs
                frame.before += len(self.waiting)
            self.waiting = []
        verbs = None
        if prev is not None and _denies_alone(frame) and (_took(prev)):
            frame.flags.add("declined")
        if not frame.verbs:
            verbs = self._borrowed(frame)
        self._add(frame, verbs=verbs)

    def _list_goes_on(self, frame: Frame, following: Sequence[Frame]) -> bool:
        nxt = following[0] if following else None
        return nxt is not None and nxt.clause.sep in {COMMA, AND} and bool(nxt.refs) and not nxt.verbs

    def _joins_list(self, prev: Frame | None, frame: Frame) -> bool:
        """ "fed Ink and Biscuit two crickets each": the prey is for both."""
        if (
            prev is None
            or not prev.verb_first
            or not prev.ends_with_ref
            or frame.verbs
            or prev.meals
            or _another_day(prev, frame)
        ):
            return False
        if frame.flags & {"yes", "no", "same"} or not (frame.meals or frame.loose or frame.excepted):
            return False
        if frame.excepted and not frame.refs:
            return True
        first_ref = frame.ref_at[0] if frame.ref_at else 99
        leads = all(i.cat == "S" or "the" in i.senses for i in frame.clause.items[:first_ref])
        return leads and (frame.clause.sep == AND or "each" in frame.flags or len(prev.refs) > 1)

    def _extend(self, prev: Frame, refs: list[Ref]) -> None:
        prev.refs += refs
        prev.ends_with_ref = True
        self.running = prev.refs

    def _borrowed(self, frame: Frame) -> list[tuple[int, Item]] | None:
        if "same" in frame.flags and self.out:
            if not frame.meals:
                frame.meals = self.out[-1].meals
            return self.out[-1].verbs
        if frame.amounts and not frame.meals:
            return None
        if self.head_verbs:
            return self.head_verbs
        if self.out and self.out[-1].verbs and frame.clause.sep != START and (frame.meals or frame.loose):
            own = self._own_meal(frame, self.out[-1]) or (frame.meals and not _feeds(self.out[-1]))
            return None if own else self.out[-1].verbs
        return None

    def _own_meal(self, frame: Frame, prev: Frame) -> bool:
        """ "Ink: refused / Sunny: 2 crickets": a refusal is not carried on to the next one's meal."""
        return _refuses(prev) and (not prev.meals or frame.clause.sep == SENTENCE)

    def _add(self, frame: Frame, *, verbs: list[tuple[int, Item]] | None = None) -> None:
        if verbs is not None:
            frame.verbs, frame.inherited = verbs, True
            if verbs is self.head_verbs:
                frame.flags |= self.head_flags
        frame.subjects = frame.refs
        if self.subjectless and frame.refs:
            for other in self.subjectless:
                other.refs = other.subjects = frame.refs
            self.subjectless = []
        if frame.refs:
            self.running = frame.refs
        self.out.append(frame)

    # -- frames without animals --

    def _unnamed(self, frame: Frame) -> None:
        prev = self.out[-1] if self.out else None
        if prev is not None and _says_no(frame) and prev.meals and not prev.verbs:
            prev.flags.add("declined")  # "Mole – locust, no"
            return
        if self.waiting:
            frame.refs, self.waiting = self.waiting, []
            self._add(frame, verbs=self._borrowed(frame) if not frame.verbs else None)
            return
        if (
            not frame.verbs
            and prev is not None
            and frame.clause.sep != START
            and not frame.flags & {"yes", "no", "room"}
        ):
            if frame.groups and not frame.meals and not frame.amounts:
                prev.groups += frame.groups
                return
            if frame.amounts and not frame.meals and not _of_the_air(frame):
                prev.amounts += [(at + 100, amount) for at, amount in frame.amounts]
                prev.nouns |= frame.nouns
                prev.flags |= frame.flags
                return
            if frame.meals and not prev.meals and not frame.flags & {"neg", "no"} and _feeds(prev):
                prev.meals, prev.flags = frame.meals, prev.flags | frame.flags
                return
            if frame.loose and not frame.meals:
                prev.loose += frame.loose
                prev.flags |= frame.flags
                prev.nouns |= frame.nouns
                return
        if not frame.verbs and (frame.meals or "yes" in frame.flags):
            verbs = self.head_verbs or (prev.verbs if prev is not None else [])
            if frame.meals and verbs and prev is not None and verbs is prev.verbs and not _feeds(prev):
                frame.flags.add("hedge")  # "Mole sealed, 1 cricket": hers, or what is left over?
            else:
                frame.verbs, frame.inherited = verbs, True
        plain = not frame.prons and self.running is None
        frame.refs = frame.subjects = list(self.running or [])
        if plain:
            self.subjectless.append(frame)
        self.out.append(frame)


def _of_the_air(frame: Frame) -> bool:
    return any(amount.dimension in {"temperature", "humidity"} for _, amount in frame.amounts)


def _another_day(prev: Frame, frame: Frame) -> bool:
    """ "fed Ink on Monday and Biscuit on Tuesday": each has a day of its own."""
    days = {(d.day, d.doubt) for d in frame.days}
    return bool(days) and bool(prev.days) and days != {(d.day, d.doubt) for d in prev.days}


def _leads(frame: Frame, following: Sequence[Frame]) -> bool:
    """Whether a bare name belongs to the next clause: "…, Biscuit and Sunny refused"."""
    nxt = following[0] if following else None
    if nxt is None or not nxt.refs or nxt.clause.sep != AND:
        return False
    subject_first = bool(nxt.verbs) and not nxt.verb_first
    return subject_first and frame.clause.sep == COMMA


def _kinds(frame: Frame) -> set[Kind]:
    """The kinds that the verbs of a clause may tell of."""
    return {
        s.group.kind
        for _, item in frame.verbs
        for c, s in item.senses.items()
        if c.startswith("verb") and s.group.kind is not None
    }


def _among(refs: Sequence[Ref], others: Sequence[Ref]) -> bool:
    """Whether the animals are some, but not all, of others."""
    tags = {t for r in refs for t in r.tags if r.sure}
    listed = {t for r in others for t in r.tags if r.sure and r.how != "place"}
    return bool(tags) and tags < listed


def _denies_alone(frame: Frame) -> bool:
    """ "Sunny didn't", with nothing more."""
    said = frame.verbs or frame.meals or frame.loose or frame.amounts or frame.unknown
    return "elided" in frame.flags and not said


def _says_no(frame: Frame) -> bool:
    return bool(frame.clause.items) and all("no" in i.senses for i in frame.clause.items)


def _took(frame: Frame) -> bool:
    return not _refuses(frame) and (_feeds(frame) or bool(frame.meals and not frame.verbs))


def _feeds(frame: Frame) -> bool:
    return bool(_kinds(frame) & FEEDING)


def _refuses(frame: Frame) -> bool:
    return Kind.REFUSED in _kinds(frame) and Kind.FED not in _kinds(frame)


def woven(frames: Sequence[Frame], talked_of: Ref | None) -> list[Frame]:
    """The frames with subjects, verbs, prey and days shared as a keeper means it."""
    loom = _Loom(talked_of)
    for place, frame in enumerate(frames):
        loom.lay(frame, frames[place + 1 :])
    if loom.waiting:
        leftover = Frame(frames[-1].clause)
        leftover.refs = leftover.subjects = loom.waiting
        loom.out.append(leftover)
    _share_prey_back(loom.out)
    _ticked_off(loom.out)
    return loom.out


def _ticked_off(frames: list[Frame]) -> None:
    """ "Ink ✓, Sunny ✗": took it and did not, where it is feeding that the message is about."""
    signs = [{i.text for i in f.clause.items} & TICKS for f in frames]
    other = any(f.verbs and not _feeds(f) for f in frames)
    feeding = any("✗" in sign for sign in signs) or any(
        f.meals or _feeds(f) or "food" in f.nouns for f in frames
    )
    if other or not feeding:
        return
    for frame, sign in zip(frames, signs, strict=True):
        if frame.ref_at and not frame.verbs and len(sign) == 1:
            frame.flags.add("took" if "✓" in sign else "declined")


def _names_prey(frame: Frame) -> bool:
    """ "Crickets:" above a list of animals with their numbers."""
    only = len(frame.meals) == 1 and not (
        frame.refs or frame.verbs or frame.loose or frame.amounts or frame.days
    )
    return frame.clause.titled and only and frame.meals[0].count is None and not frame.meals[0].doubt


def _of_that_prey(frame: Frame, of: Meal) -> None:
    """A bare number counts the prey that is named elsewhere."""
    if len(frame.loose) != 1 or frame.meals or frame.amounts:
        return
    number = frame.loose[0]
    if number.value is not None and not number.doubt:
        meal = Meal()
        meal.prey, meal.size, meal.count = of.prey, of.size, int(number.value)
        frame.meals, frame.loose = [meal], []


def _share_prey_back(frames: list[Frame]) -> None:
    """ "Ink 2, Bess 1 cricket": a bare number takes the prey named after it."""
    later: Meal | None = None
    for frame in reversed(frames):
        if frame.meals:
            later = frame.meals[0]
        elif later is not None and (not frame.verbs or _feeds(frame)):
            _of_that_prey(frame, later)
