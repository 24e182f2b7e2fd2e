"""What was told of two and is of each other: "Ink 2 crickets, Mole 3, no, the other way round"."""

from __future__ import annotations

from collections.abc import Sequence

from bot.reading.frames import Frame


def swap_round(told: Sequence[Frame]) -> None:
    """Gives each of two animals what was told of the other; where it were more than two, it is asked."""
    of_one = [frame for frame in told if len(frame.refs) == 1 and len(frame.refs[0].tags) == 1]
    named = list({frame.refs[0].tags: frame.refs[0] for frame in of_one}.values())
    if len(named) != len(("one", "other")) or len(of_one) < len([frame for frame in told if frame.refs]):
        for frame in told:
            frame.flags.add("hedge")
        return
    first, second = named
    for frame in of_one:
        frame.refs = frame.subjects = [second if frame.refs[0].tags == first.tags else first]
