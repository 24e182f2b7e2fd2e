"""Who eats, refuses, molts or grows the most, who is the largest, and who did a thing so many times."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal
from typing import Final

from bot.conversation import wording
from bot.conversation.answers import kept
from bot.conversation.answers.past import last
from bot.conversation.answers.subject import alike, empty_shelf
from bot.conversation.answers.traits import asked_about
from bot.conversation.model import Reply
from bot.conversation.pages import fit
from bot.conversation.texts import say, say_of
from bot.conversation.turn import Turn
from bot.reading.model import Question, Topic
from bot.reading.questions.stretches import Stretch, stretch_meant
from bot.reading.wanted.wanted import Instruction
from bot.round.model import SpecimenFacts
from bot.terms import Entry, Kind

#: Where no time is named, so many days are looked at.
_YEAR: Final = 365
#: So many of the first are told.
_TOLD: Final = 5
#: From so many offers on it is told how many of them were taken.
_OFFERS: Final = 5

Rank = tuple[float, str]
"""What an animal is ranked by, and what is told of it."""


@dataclass(frozen=True, slots=True)
class _Asked:
    """Whose entries of which days are looked at: of each animal by its tag, oldest first."""

    turn: Turn
    facts: Sequence[SpecimenFacts]
    days: Stretch

    def entries(self, *kinds: Kind) -> Mapping[str, list[Entry]]:
        rows = self.turn.work.journal.entries(
            self.turn.shelf_id, kinds=kinds, since=self.days.first, until=self.days.last, newest_first=False
        )
        of: defaultdict[str, list[Entry]] = defaultdict(list)
        for row in rows:
            for tag in row.entry.specimens:
                of[tag].append(row.entry)
        return of


def most(turn: Turn, wanted: Instruction) -> list[Reply]:
    """The first few by what is asked, with the figure for each and the days that it is of."""
    asked = _asked(turn, wanted)
    if asked is None:
        return [turn.reply(say("most.which_days", days=wanted.rest or ""))]
    which = wanted.value or "meals"
    rank_of = _BY[which](asked)
    ranked = [(rank, one) for one in asked.facts if (rank := rank_of(one)) is not None]
    ranked.sort(key=lambda found: -found[0][0])
    if not ranked:
        return [turn.reply(empty_shelf(turn) or say("most.none"))]
    lines = [say_of("most.head", which, span=_span_of(asked))]
    lines += [say("answer.card", who=one.specimen.called, what=told) for (_, told), one in ranked[:_TOLD]]
    return [fit(turn, "\n".join(lines))]


def _asked(turn: Turn, wanted: Instruction) -> _Asked | None:
    days = days_asked(turn, wanted.rest)
    tags = {animal.tag for animal in asked_about(turn, wanted)}
    facts = [one for one in turn.facts.all() if one.specimen.tag in tags or not (wanted.tags or wanted.among)]
    return None if days is None else _Asked(turn, facts, days)


def days_asked(turn: Turn, said: str | None) -> Stretch | None:
    """The days that were said, up to today; a year where none were, ``None`` where they are unclear."""
    if said is None:
        return Stretch(turn.today - timedelta(days=_YEAR), turn.today)
    found = stretch_meant(said, turn.shelf.names, now=turn.now, settings=turn.settings)
    return None if found is None else Stretch(found.first, min(found.last, turn.today))


# --- what is ranked by ------------------------------------------------------------------------

Of = Callable[[SpecimenFacts], Rank | None]


def _meals(asked: _Asked, *, sign: int = 1) -> Of:
    fed = asked.entries(Kind.FED)

    def rank(one: SpecimenFacts) -> Rank | None:
        meals = fed.get(one.specimen.tag, [])
        if not meals and sign > 0:
            return None
        return sign * len(meals), say("most.meals", n=wording.counted(len(meals), "meal"))

    return rank


def _acceptance(asked: _Asked, *, refusals: bool) -> Of:
    """By the share of offers that were taken, or refused; of few offers nothing is claimed."""
    fed, refused = asked.entries(Kind.FED), asked.entries(Kind.REFUSED)

    def rank(one: SpecimenFacts) -> Rank | None:
        took, left = (len(of.get(one.specimen.tag, [])) for of in (fed, refused))
        offers = took + left
        if offers < _OFFERS or (refusals and not left):
            return None
        n = left if refusals else took
        told = say("most.refused", n=n, of=offers) if refusals else say("most.taken", n=n, of=offers)
        return n / offers + took * 1e-6, told  # of those that took all, who took most

    return rank


def _molts(asked: _Asked) -> Of:
    molted = asked.entries(*alike(Kind.MOLTED))

    def rank(one: SpecimenFacts) -> Rank | None:
        n = len(molted.get(one.specimen.tag, []))
        return (n, wording.times(n)) if n else None

    return rank


def _grown(asked: _Asked) -> Of:
    measured = asked.entries(Kind.MEASURED)

    def rank(one: SpecimenFacts) -> Rank | None:
        found = gain(measured.get(one.specimen.tag, []))
        if found is None or found.gained <= 0:
            return None
        return float(found.gained), told_gain(asked.turn, found)

    return rank


@dataclass(frozen=True, slots=True)
class Gain:
    """The first and the last span of an animal within some days, in cm, with their days."""

    first_cm: Decimal
    first_on: date
    last_cm: Decimal
    last_on: date

    @property
    def gained(self) -> Decimal:
        """How much it grew, in cm."""
        return self.last_cm - self.first_cm


def gain(entries: Iterable[Entry]) -> Gain | None:
    """What lies between the first and the last measure of a span; ``None`` where there are not two."""
    spans = [(entry.span_cm, entry.day) for entry in entries if entry.span_cm is not None]
    if len(spans) < 2:
        return None
    return Gain(*spans[0], *spans[-1])


def gain_of(turn: Turn, tag: str, days: Stretch | None = None) -> Gain | None:
    """What an animal grew in all its time here, or in the days that are given."""
    since, until = days or (None, None)
    rows = turn.work.journal.entries(
        turn.shelf_id,
        tags=(tag,),
        kinds=(Kind.MEASURED,),
        since=since,
        until=until,
        newest_first=False,
    )
    return gain(row.entry for row in rows)


def told_gain(turn: Turn, found: Gain) -> str:
    """From what to what it grew, and when it was measured."""
    units = turn.settings.units
    return say(
        "most.grown",
        gained=wording.length(found.gained, units),
        first=wording.length(found.first_cm, units),
        last=wording.length(found.last_cm, units),
        span=wording.span_of_days(found.first_on, found.last_on, turn.today),
    )


def _span(asked: _Asked, *, sign: int) -> Of:
    def rank(one: SpecimenFacts) -> Rank | None:
        span = kept.span_cm(one)
        return (sign * float(span), kept.size_told(asked.turn, one)) if span else None

    return rank


def _weight(asked: _Asked, *, sign: int) -> Of:
    def rank(one: SpecimenFacts) -> Rank | None:
        weight = one.state.weight_g
        return (sign * float(weight), kept.size_told(asked.turn, one)) if weight is not None else None

    return rank


_BY: Final[Mapping[str, Callable[[_Asked], Of]]] = {
    "meals": _meals,
    "fewest meals": lambda asked: _meals(asked, sign=-1),
    "taken": lambda asked: _acceptance(asked, refusals=False),
    "refused": lambda asked: _acceptance(asked, refusals=True),
    "molts": _molts,
    "grown": _grown,
    "largest": lambda asked: _span(asked, sign=1),
    "smallest": lambda asked: _span(asked, sign=-1),
    "heaviest": lambda asked: _weight(asked, sign=1),
    "lightest": lambda asked: _weight(asked, sign=-1),
}


# --- so many times ----------------------------------------------------------------------------


def so_often(turn: Turn, wanted: Instruction) -> list[Reply]:
    """Who did a thing as often as was asked, those who did it most first; or all, the longest ago first."""
    if wanted.times is None:
        kind = Kind(wanted.value or Kind.FED)
        return last(turn, Question(topic=Topic.LAST, kind=kind, everyone=True))
    asked = _asked(turn, wanted)
    if asked is None:
        return [turn.reply(say("most.which_days", days=wanted.rest or ""))]
    kind, (least, top) = Kind(wanted.value or Kind.REFUSED), wanted.times
    of = asked.entries(*alike(kind))
    n = {one.specimen.tag: len(of.get(one.specimen.tag, [])) for one in asked.facts}
    found = [tag for tag in n if n[tag] >= least and (top is None or n[tag] <= top)]
    found.sort(key=lambda tag: -n[tag])
    told, span = f"{wording.capital(say_of('told', kind.value))} {_times(least, top)}", _span_of(asked)
    if not found:
        return [turn.reply(empty_shelf(turn) or say("tally.nobody", told=told, span=span))]
    head = say("tally.everybody", told=told, span=span, n=len(found))
    lines = [_dated(turn, tag, [entry.day for entry in of[tag]]) for tag in found if of.get(tag)]
    silent = turn.animals([tag for tag in found if not of.get(tag)])
    lines += [wording.called(silent)] if silent else []
    return [fit(turn, "\n".join([head, *lines]))]


def _span_of(asked: _Asked) -> str:
    return wording.span_of_days(asked.days.first, asked.days.last, asked.turn.today)


def _times(least: int, top: int | None) -> str:
    if top == 0:
        return say("most.never")
    return wording.times(least) if top is not None else say("most.or_more", times=wording.times(least))


def _dated(turn: Turn, tag: str, days: Collection[date]) -> str:
    last = wording.day_of(max(days), turn.today)
    if len(days) == 1:
        return say("tally.line_alone", who=turn.called(tag), day=last)
    return say("tally.line_of_several", who=turn.called(tag), times=wording.times(len(days)), day=last)
