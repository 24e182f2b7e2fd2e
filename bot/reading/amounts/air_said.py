"""Warmth and humidity told in as few words as can be: "24.1/61%", "temps: room 22, floor rack 19.5"."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from typing import Final

#: A figure of warmth and one of humidity with nothing but a stroke between.
IN_ONE: Final = re.compile(
    r"(?<![\w#/.,-])(?P<low>\d{2,3}(?:[.,]\d{1,2})?)[ ]?(?:°?(?P<scale>[cf])|°)?"
    r"/(?P<humid>\d{2,3}(?:[.,]\d)?)[ ]?%(?!\w)",
    re.IGNORECASE,
)
#: One place of a list with its figure: "floor rack 19.5".
_PLACED: Final = re.compile(
    r"[ ]*(?:and |& )?(?!\d)[^\W\d_]+(?: (?!\d)\w+){0,2}?(?: at| is|:)? (?P<figure>\d{2,3}(?:[.,]\d{1,2})?)"
    r"[ ]*(?P<ends>[,;&+\n]| and |\.?$|\.(?= )|/)",
    re.IGNORECASE,
)


def heading(words: Iterable[str]) -> re.Pattern[str]:
    """A word that heads a list of figures, with its colon."""
    either = "|".join(map(re.escape, words))
    return re.compile(rf"(?<!\w)(?:{either})[ ]?(?::|[ ][-–][ ])", re.IGNORECASE)


def figures_below(text: str, heads: re.Pattern[str]) -> Iterator[tuple[int, int]]:
    """Where the bare figures of a list below a heading stand; of none where one of them is not so told."""
    head = heads.search(text)
    at = head.end() if head is not None else None
    found: list[tuple[int, int]] = []
    while at is not None and at < len(text):
        match = _PLACED.match(text, at)
        if match is None:
            return
        found.append(match.span("figure"))
        at = match.end() if match["ends"] not in {"", "."} else None
    yield from found
