"""Figures of a list whose heading says the unit: "Weights (g): A1 27.2, A2 38.9", "spans in cm: Ink 15"."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from typing import Final

#: One row of such a list: a name of a few words, and its figure.
_ROW: Final = re.compile(
    r"[ ]*(?:and |& )?(?:[^\s,;:]+ ){1,3}?(?P<figure>\d{1,4}(?:[.,]\d{1,3})?)"
    r"[ ]*(?P<ends>[,;\n]| and |\.?$|\.(?= ))",
    re.IGNORECASE,
)


def unit_heading(units: Iterable[str], within: Iterable[str]) -> re.Pattern[str]:
    """A line that ends with a unit and a colon; ``within`` are words before a unit that is in no brackets."""
    unit = "|".join(sorted(map(re.escape, units), key=len, reverse=True))
    leads = "|".join(map(re.escape, within))
    return re.compile(
        rf"(?:^|\n)[^:\n]{{1,40}}?(?:\((?P<unit>{unit})\)|(?:[ ](?:{leads})[ ]|,[ ]?)(?P<unit2>{unit}))[ ]?:",
        re.IGNORECASE,
    )


def figures_in_unit(text: str, heads: re.Pattern[str]) -> Iterator[tuple[int, int, str]]:
    """Where the bare figures of such a list stand, with its unit; none where a row has no figure."""
    head = heads.search(text)
    if head is None:
        return
    found: list[tuple[int, int]] = []
    at = head.end()
    while at < len(text):
        row = _ROW.match(text, at)
        if row is None:
            return
        found.append(row.span("figure"))
        at = row.end() if row["ends"] not in {"", "."} else len(text)
    unit = (head["unit"] or head["unit2"]).lower()
    yield from ((start, end, unit) for start, end in found)
