"""Days of the week said together: "weekends", "Mon, Wed and Fri", "Monday to Thursday". Pure."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from functools import cache
from typing import Final

from bot.reading.words.phrasings import SHARED, data, either, folded, meaning, word_set

EVERY_DAY: Final = frozenset(range(7))


def weekdays_said(words: str, language: str = SHARED) -> frozenset[int] | None:
    """The days of the week, Monday 0, that words name and say nothing beside; ``None`` otherwise."""
    said = folded(words).strip(" .,!")
    sets, single = meaning("sets_of_days", language), meaning("weekdays", language)
    if said in sets:
        return frozenset(map(int, sets[said]))
    span = _from_to(language).fullmatch(said)
    if span is not None and span[1] in single and span[2] in single:
        first, last = int(single[span[1]]), int(single[span[2]])
        return frozenset((first + step) % 7 for step in range((last - first) % 7 + 1))
    small = word_set("before_weekdays", language)
    parts = [part for part in _parts(said, sets, language) if part not in small]
    if not parts or not all(part in single or part in sets for part in parts):
        return None
    return frozenset(
        day for part in parts for day in (map(int, sets[part]) if part in sets else (int(single[part]),))
    )


def _parts(said: str, sets: Mapping[str, str], language: str) -> Iterator[str]:
    """The words one by one, sets of days as a whole: "the weekend"."""
    whole = either(sorted(sets, key=len, reverse=True))
    joints = either(data(language)["answer_joints"])
    for found in re.finditer(rf"{whole}|,|&|\+|/|{joints}|[^\s,&+/]+", said):
        if found[0] not in {",", "&", "+", "/"} and not re.fullmatch(joints, found[0]):
            yield found[0]


@cache
def _from_to(language: str) -> re.Pattern[str]:
    to = either(data(language)["to_a_weekday"])
    return re.compile(rf"(?:(?:{either(data(language)['from_a_weekday'])}) )?(\w+) ?(?:{to}|-|–) ?(\w+)")
