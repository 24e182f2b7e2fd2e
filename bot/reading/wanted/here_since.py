"""That an animal of the shelf is no newcomer: "I've had Ink since March 2021", "she is not new". Pure."""

from __future__ import annotations

import re
from functools import cache
from typing import Final, NamedTuple

from bot.reading.names.names_alone import whom
from bot.reading.names.shelf_names import ShelfNames
from bot.reading.words.phrasings import Phrasings, all_alike, bare, data, folded, word_set

_IS_SHORT: Final = re.compile(r"(?:'s|(?<=he)s)$", re.I)


class HereSince(NamedTuple):
    """Whom it is said of, ``None`` for a pronoun, and the words for since when it is kept, if any."""

    tag: str | None
    came: str | None


def here_since(text: str, names: ShelfNames) -> HereSince | None:
    """What a message says of since when one animal is kept; ``None`` where it says no such thing."""
    words = bare(text)
    for _, found in _phrasings().fitting(words):
        who = _IS_SHORT.sub("", found["who"])
        tags = whom(who, names)
        if len(tags) == 1 or (not tags and folded(who) in word_set("pronouns")):
            return HereSince(tags[0] if tags else None, found.groupdict().get("came"))
    return None


@cache
def _phrasings() -> Phrasings[None]:
    return all_alike(data()["here_since"])
