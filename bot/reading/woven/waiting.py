"""Names of a list that wait for what is told of them: "Ink, Mole and Sunny ate"."""

from __future__ import annotations

from collections.abc import Sequence
from copy import copy
from typing import Any, Final, NamedTuple

from bot.reading.clauses.clause_model import AND, COMMA, RUN_ON, TITLE, Clause
from bot.reading.clauses.days_beside import dated
from bot.reading.clauses.frames import Frame
from bot.reading.clauses.neighbours import among, kinds, told_strangely
from bot.reading.items.item import Ref
from bot.reading.model import FEEDING
from bot.reading.words.rule_words import rule_words
from bot.terms import Kind

#: What parts the clauses of one list.
SOFT: Final = frozenset({COMMA, AND, RUN_ON, TITLE})


#: Senses of the words that may stand around a name that a message calls out: "oh Anvil!", "T07 is a …".
_CALLING: Final = frozenset({"fill", "a", "did"})
#: Kinds that the sentence behind such a name may tell of her, and words with which it tells of all.
_HERS: Final = FEEDING | {Kind.MOLTED, Kind.MATURED, Kind.SEALED, Kind.OPENED, Kind.PREMOLT}
_OF_ALL: Final = frozenset({"everyone", "all", "both", "rest", "cond", "report", "future", "habit"})


class NamesOfADay(NamedTuple):
    """Names with the day that stands beside the last of them: "Ink and Mole on Monday"."""

    refs: list[Ref]
    days: list[Any]

    def told_as(self, frame: Frame) -> Frame:
        """A clause that tells of these, on their day, what another one tells of somebody else."""
        own = copy(frame)
        own.refs = own.subjects = self.refs
        own.days, own.flags = self.days, set(frame.flags)
        own.meals, own.loose, own.amounts = list(frame.meals), list(frame.loose), list(frame.amounts)
        return own


class Waiting:
    """The names met so far of which nothing is told yet; false where there are none.

    ``goes_on``: the list goes on with the clause before it.
    """

    def __init__(self) -> None:
        self.refs: list[Ref] = []
        self.goes_on = False
        self._clause: Clause | None = None
        self.nouns: set[str] = set()  # the things named with them: "Ink's dish was dry"
        self._days: list[Any] = []
        self._set_apart: list[Any] = []
        self._of_two_days = False
        self._apart = self._says_more = False
        self._ahead: list[Any] = []  # "Ink in 3 days: 2 crickets"
        self._dated: list[NamesOfADay] = []
        self._strange = False  # "Mole frobbed and Cricket sealed"

    def __bool__(self) -> bool:
        return bool(self.refs)

    @property
    def dated(self) -> bool:
        """Whether a day stands beside the last of the names: "Mole Tuesday and Dot refused"."""
        return bool(self.refs) and self._clause is not None and self._clause.items[-1].cat == "D"

    def goes_on_with(self, frame: Frame) -> bool:
        """ "Ink threat posed, then ate a roach": what the one who waits did next."""
        if not frame.verbs or frame.ref_at or len(self.refs) != 1:
            return False
        if frame.clause.line and self._clause is not None and len(self._clause.items) == 1:
            return len(frame.clause.items) > 1  # a line with her name, and below it "weighed 15 g"
        return not _THEN.isdisjoint(frame.clause.by.split()[-1:]) and not frame.verb_first_by_keeper

    def add(self, frame: Frame) -> None:
        """One more clause of nothing but names, and perhaps their day."""
        if not self.refs:
            self.goes_on = frame.clause.sep in SOFT
        self._clause, self.nouns = frame.clause, frame.nouns
        self._apart, self._says_more = _tells_of_itself(frame), _says_more(frame)
        self._days = frame.days or self._days
        self._ahead = [period for period in frame.periods if period.kind == "in"]
        self._strange = (self._strange and bool(self.refs)) or told_strangely(frame)
        self.refs = self.refs + frame.refs
        if dated(frame):
            before = sum(len(those.refs) for those in self._dated)
            self._dated.append(NamesOfADay(self.refs[before:], frame.days))

    @property
    def anew(self) -> bool:
        """Whether there are names, and they begin a sentence: the day of the one before is not theirs."""
        return bool(self.refs) and not self.goes_on

    def apart_by_day(self, frame: Frame) -> list[NamesOfADay]:
        """ "Ink yesterday and Mole today refused": those with another day than the clause."""
        hers = dated(frame) and bool(frame.refs)
        those = self._dated if hers else self._dated[:-1]
        of_the_clause = frame.days if hers or not those else self._dated[-1].days
        if all(_same(names.days, of_the_clause) for names in those):
            return []
        apart, self._dated = those, self._dated[len(those) :]
        self.refs = self.refs[sum(len(names.refs) for names in apart) :]
        if hers:
            self._days = []
        elif frame.refs:
            frame.flags.add("loose day")  # "Ink on Monday, Dot on Tuesday and Mole ate"
        return apart

    def names_alone(self, frame: Frame) -> Frame:
        """Those who wait, taken, as a clause of nothing but their names."""
        clause, days = self._clause, self._days
        own = NamesOfADay(self.taken(), days).told_as(frame)
        own.clause = clause if clause is not None else frame.clause
        own.flags, own.meals, own.loose, own.amounts = set(), [], [], []
        return own

    def set_day(self, frame: Frame, lead: Sequence[Any]) -> None:
        """ "Old Bess, on Monday, refused": a day between the names and what is told of them.

        Below another day it may be that of those to come: "Monday: Ink, Tuesday: Mole fed".
        """
        self._set_apart = frame.days
        self._of_two_days = bool(lead) and not _same(lead, frame.days)

    def calls(self, frame: Frame) -> bool:
        """ "Anvil! A whole hornworm": whether a sentence goes on with the one who was called out before it.

        Where it tells of what an animal does itself, or of a meal or a sac, and names nobody.
        """
        if (
            len(self.refs) != 1
            or not self.refs[0].sure
            or len(self.refs[0].tags) != 1
            or self._clause is None
        ):
            return False
        alone = all(i.cat == "S" or not _CALLING.isdisjoint(i.senses) for i in self._clause.items)
        if frame.idle:
            return alone and all("fill" in i.senses for i in frame.clause.items)
        tells = bool(frame.meals) or bool(kinds(frame) & _HERS) or Kind.SAC in kinds(frame)
        nobody = not (frame.ref_at or frame.excepted or frame.groups) and frame.flags.isdisjoint(_OF_ALL)
        return alone and tells and nobody and not any(a.dimension == "money" for _, a in frame.amounts)

    def taken(self) -> list[Ref]:
        """The names, which wait no longer."""
        refs, self.refs, self._dated = self.refs, [], []
        return refs

    def clear(self) -> None:
        """Forgets the names and their day."""
        self.refs, self._days, self._set_apart, self._ahead = [], [], [], []
        self._dated = []

    def join(self, frame: Frame) -> list[Frame]:
        """Puts the names before those of a clause that tells something, on their day.

        Of "Ink is on a diet, Mole ate" and "Ink hid but Mole ate" nothing is shared: they stand alone.
        Of "Ink and Saffron: Ink took a cricket" only who is named again, of "GBBs: 1, 2 and 4 ate" those
        of the group that are listed.
        """
        if self._apart or (frame.clause.opposed and self._says_more):
            return [self.leftover()]
        listed = self.refs
        if among(frame.refs, listed):
            listed = [ref for ref in listed if _of_a_group(ref, listed)]
        self.date(frame)
        frame.flags |= {"hedge"} if "waste" in self.nouns else set()  # "Ink's bolus out, 2 crickets for Twig"
        frame.flags |= {"hedge"} if self._strange and listed else set()
        frame.refs = listed + frame.refs
        frame.before += len(listed)
        self.refs, self._dated = [], []
        return []

    def date(self, frame: Frame) -> None:
        """ "Ink yesterday flipped and molted", "…; today Ink, a roach": the day beside the name is hers.

        It is that of all below, where it heads them: "Ink and Mole on Monday: Ink ate, Mole refused".
        """
        her_meal = frame.clause.sep == COMMA and not (frame.verbs or dated(frame)) and self._days
        of_all = frame.clause.sep == TITLE or (frame.clause.sep == COMMA and not frame.ref_at)
        if self._days and of_all and not (dated(frame) or _later(frame)):
            frame.days = self._days  # "Sunny was a picky madam on Saturday, refused a roach"
            frame.flags |= {"loose day"} if self._looked_so() else set()
        elif her_meal or (frame.clause.sep in {AND, RUN_ON} and not frame.days):
            frame.days = self._days
        if self._set_apart and not dated(frame):
            frame.days = self._set_apart
            frame.flags |= {"loose day"} if self._of_two_days else set()
        if frame.clause.sep == TITLE:
            frame.periods = [*frame.periods, *self._ahead]
        self._days, self._set_apart, self._ahead = [], [], []

    def _looked_so(self) -> bool:
        """ "Ink looked fat on Monday, ate a roach", "Ink was due on Monday, …": on that day, or since?"""
        return self._clause is not None and any(i.text in _LOOKED for i in self._clause.items)

    def leftover(self) -> Frame:
        """The names as a clause of their own: nothing followed them."""
        assert self._clause is not None
        frame = Frame(self._clause)
        frame.refs = frame.subjects = self.taken()
        frame.ref_at = list(range(len(frame.refs)))
        return frame


def _tells_of_itself(frame: Frame) -> bool:
    """ "Ink is on a diet", "Ink's grumpy": names, and behind them what they are."""
    items = frame.clause.items
    last = max((n for n, item in enumerate(items) if item.cat == "S"), default=len(items))
    behind = [i for i in items[last + 1 :] if i.cat not in "MD"]
    if not behind:
        return False
    of_hers = items[last].owns and "noun" not in behind[0].senses  # "Ink's grumpy", not "Ink's dish"
    return of_hers or ("did" in behind[0].senses and len(behind) > 1)


def _says_more(frame: Frame) -> bool:
    """ "Ink hid" (but Mole ate): any word behind the names."""
    last = max((n for n, item in enumerate(frame.clause.items) if item.cat == "S"), default=0)
    return any(item.cat not in "MD" for item in frame.clause.items[last + 1 :])


def _same(days: Sequence[Any], others: Sequence[Any]) -> bool:
    return {(d.day, d.doubt) for d in days} == {(d.day, d.doubt) for d in others}


def _later(frame: Frame) -> bool:
    """ "Captain upside down last night, shed by morning"."""
    return any(i.text in _BY_THEN for i in frame.clause.items)


_THEN: Final = rule_words("then")
_BY_THEN: Final = rule_words("by_then")
_LOOKED: Final = rule_words("looked_then")


def _of_a_group(ref: Ref, listed: Sequence[Ref]) -> bool:
    """One of a group that heads a list, and is not meant itself."""
    return bool(ref.tags) and any(set(ref.tags) < set(group.tags) for group in listed)
