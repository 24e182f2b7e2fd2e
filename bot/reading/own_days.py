"""The day of each of several told of as one: "Ink and Mole molted, Ink today and Mole yesterday". Pure."""

from __future__ import annotations

from collections.abc import Sequence

from bot.reading.days_beside import dated
from bot.reading.frames import Frame


def the_day_of_each(told: Sequence[Frame], frame: Frame) -> Frame | None:
    """The clause that told what a name with its day now dates; from then on it is of the others alone.

    It is one that was not dated itself, and the last of those that tell of her.
    """
    own = {tag for ref in frame.refs for tag in ref.tags}
    if not dated(frame) or len(frame.refs) != 1 or not frame.refs[0].sure:
        return None
    source = next((f for f in reversed(told) if own <= {t for r in f.refs for t in r.tags}), None)
    if source is None or not source.verbs or source.inherited or dated(source):
        return None
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
