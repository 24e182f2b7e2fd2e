"""What an animal takes and refuses, by feeder; of the whole shelf, which feeders are taken and refused."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from datetime import timedelta
from typing import Final

from bot.conversation import wording
from bot.conversation.answers.subject import empty_shelf
from bot.conversation.answers.tally import of_prey
from bot.conversation.answers.traits import asked_about
from bot.conversation.model import Reply
from bot.conversation.pages import fit
from bot.conversation.texts import say
from bot.conversation.turn import Turn
from bot.reading.wanted.wanted import Instruction
from bot.terms import Entry, Kind, Specimen

#: So many days are looked at.
_YEAR: Final = 365
_MOST_PREY: Final = 6


def taste(turn: Turn, wanted: Instruction) -> list[Reply]:
    """How often each feeder was taken of the times it was offered in a year, of the animals or of all."""
    animals = asked_about(turn, wanted)
    lines = [_of(turn, [one], one.called) for one in animals] or [_of(turn, turn.shelf.specimens, "")]
    return [fit(turn, empty_shelf(turn) or "\n".join(lines))]


def takers(turn: Turn, wanted: Instruction) -> list[Reply]:
    """Who took a feeder in a year, and of how many offers; or to whom it was never given to be taken."""
    if wanted.prey is None:
        return [turn.reply(say("answer.name_one"))]
    nobody = empty_shelf(turn)
    if nobody:
        return [turn.reply(nobody)]
    span = wording.span_of_days(turn.today - timedelta(days=_YEAR), turn.today, turn.today)
    noun = wording.capital(wording.meal(wanted.prey, None, None))
    taken = _times(turn, Kind.FED, wanted.prey)
    if wanted.value == "never":
        none = [one for one in turn.shelf.specimens if not taken[one.tag]]
        names = wording.called(none) or say("taste.nobody")
        return [fit(turn, say("taste.never", prey=noun, span=span, names=names))]
    left = _times(turn, Kind.REFUSED, wanted.prey)
    lines = [
        say("taste.taker", who=one.called, n=taken[one.tag], of=taken[one.tag] + left[one.tag])
        for one in turn.shelf.specimens
        if taken[one.tag]
    ]
    head = say("taste.takers", prey=noun, span=span, n=len(lines) or say("taste.nobody"))
    return [fit(turn, "\n".join([head, *lines]))]


def _times(turn: Turn, kind: Kind, prey: str) -> Counter[str]:
    """How often a feeder was in an entry of a kind, by the tag of the animal."""
    return Counter(tag for entry in _year_of(turn, kind) if of_prey(entry, prey) for tag in entry.specimens)


def _of(turn: Turn, animals: Sequence[Specimen], who: str) -> str:
    first = turn.today - timedelta(days=_YEAR)
    taken, left = (_prey(turn, animals, kind) for kind in (Kind.FED, Kind.REFUSED))
    span = wording.span_of_days(first, turn.today, turn.today)
    head = say("taste.of", who=who, span=span) if who else say("taste.of_all", span=span)
    offered = taken + left
    if not offered:
        return say("taste.none", head=head)
    parts = [
        say("taste.prey", prey=wording.meal(prey, None, None), n=taken[prey], of=n)
        for prey, n in offered.most_common(_MOST_PREY)
    ]
    return say("answer.card", who=head, what="; ".join(parts)) if who else "\n".join([head + ":", *parts])


def _prey(turn: Turn, animals: Sequence[Specimen], kind: Kind) -> Counter[str]:
    """How often each feeder was in an entry of a kind, counted for each animal."""
    tags = {animal.tag for animal in animals}
    found: Counter[str] = Counter()
    for entry in _year_of(turn, kind):
        if entry.prey is not None:
            found[entry.prey] += len(tags.intersection(entry.specimens))
    return +found


def _year_of(turn: Turn, kind: Kind) -> list[Entry]:
    rows = turn.work.journal.entries(
        turn.shelf_id, kinds=(kind,), since=turn.today - timedelta(days=_YEAR), until=turn.today
    )
    return [row.entry for row in rows]
