"""What is of each of several told of as one: "Ink and Mole molted, Ink today and Mole yesterday". Pure."""

from __future__ import annotations

from collections.abc import Sequence

from bot.reading.clauses.days_beside import dated
from bot.reading.clauses.frames import Frame
from bot.reading.clauses.neighbours import acts_of, kinds
from bot.terms import Kind


def the_day_of_each(told: Sequence[Frame], frame: Frame) -> Frame | None:
    """The clause that told what a name with its day now dates; from then on it is of the others alone.

    It is one that was not dated itself, and the last of those that tell of her.
    """
    source = _source(told, frame) if dated(frame) else None
    if source is None or dated(source):
        return None
    return _parted(told, source, frame)


def the_home_of_each(told: Sequence[Frame], frame: Frame) -> Frame | None:
    """ "rehoused Ink and Mole, Ink 12 l and Mole 3 l": the clause that told it, then of the others alone."""
    volumes = [amount.dimension == "volume" for _, amount in frame.amounts]
    more = frame.verbs or frame.meals or frame.loose or frame.days or frame.nouns - {"box"}
    source = _source(told, frame) if volumes == [True] and not more else None
    if source is None or source.amounts or not _rehouses(source):
        return None
    return _parted(told, source, frame)


def _rehouses(frame: Frame) -> bool:
    return kinds(frame) == {Kind.REHOUSED} or ("move" in acts_of(frame) and "box" in frame.nouns)


def _source(told: Sequence[Frame], frame: Frame) -> Frame | None:
    """The last clause that tells of the one animal of another, by a verb of its own."""
    own = {tag for ref in frame.refs for tag in ref.tags}
    if len(frame.refs) != 1 or not frame.refs[0].sure:
        return None
    source = next((f for f in reversed(told) if own <= {t for r in f.refs for t in r.tags}), None)
    return source if source is not None and source.verbs and not source.inherited else None


def _parted(told: Sequence[Frame], source: Frame, frame: Frame) -> Frame | None:
    """The clause without the animal of another; ``None`` where it is not one of several."""
    own = {tag for ref in frame.refs for tag in ref.tags}
    if any(own == set(ref.tags) for ref in source.refs):
        others = [ref for ref in source.refs if own != set(ref.tags)]
        if not others and not _one_of_several(told, source):
            return None
        source.refs = source.subjects = others
    else:
        source.excepted = [*source.excepted, *frame.refs]
    return source


def _one_of_several(told: Sequence[Frame], source: Frame) -> bool:
    """Whether others of the clause were given a day of their own before."""
    return any(frame.inherited and frame.verbs is source.verbs for frame in told)
