"""Days of the week said together: "weekends", "Mon, Wed and Fri", "Monday to Thursday". Pure."""

from __future__ import annotations

import re
from typing import Final

from bot.reading.phrasings import folded, meaning

EVERY_DAY: Final = frozenset(range(7))
_BETWEEN: Final = re.compile(r"\s*(?:,|&|\+|/|(?<!\w)and(?: on)?(?!\w)|\s)\s*")
_FROM_TO: Final = re.compile(r"(?:from )?(\w+) ?(?:to|till|until|through|thru|-|–) ?(\w+)")


def weekdays_said(words: str) -> frozenset[int] | None:
    """The days of the week, Monday 0, that words name and say nothing beside; ``None`` otherwise."""
    said = folded(words).strip(" .,!")
    sets, single = meaning("sets_of_days"), meaning("weekdays")
    if said in sets:
        return frozenset(map(int, sets[said]))
    span = _FROM_TO.fullmatch(said)
    if span is not None and span[1] in single and span[2] in single:
        first, last = int(single[span[1]]), int(single[span[2]])
        return frozenset((first + step) % 7 for step in range((last - first) % 7 + 1))
    parts = [part for part in _BETWEEN.split(said) if part and part not in ("on", "every", "each", "only")]
    if not parts or not all(part in single or part in sets for part in parts):
        return None
    return frozenset(
        day for part in parts for day in (map(int, sets[part]) if part in sets else (int(single[part]),))
    )
