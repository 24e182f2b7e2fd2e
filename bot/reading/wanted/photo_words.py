"""Words about photos: whom a caption names, whose photos are asked for and of what time. Pure."""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from functools import cache
from typing import Final, Literal

from bot.reading.names.names_alone import whom
from bot.reading.names.shelf_names import ShelfNames
from bot.reading.questions.stretches import Stretch, stretch_meant
from bot.reading.words.phrasings import Phrasings, all_alike, bare, data, either, folded, word_set
from bot.terms import KeeperSettings

#: An animal as the bot itself calls it: "Anvil (C1)".
_CALLED: Final = re.compile(r".+\((?P<tag>[^()]+)\)")

Side = Literal["before", "after"]


@dataclass(frozen=True, slots=True)
class When:
    """A time: on which side of the last molt, or local days, inclusive; open where ``None``."""

    molt: Side | None = None
    first: date | None = None
    last: date | None = None


def shown_alone(caption: str, names: ShelfNames) -> tuple[str, ...]:
    """The animals that all of a caption names: one, or several of which one is meant; else nobody."""
    words = bare(caption)
    if not words:
        return ()
    said = next((found["who"] for _, found in _captions().fitting(words)), words)
    tagged = _CALLED.fullmatch(said)
    return whom(tagged["tag"] if tagged else said, names)


def whose(rest: str, names: ShelfNames) -> tuple[tuple[str, ...], str | None]:
    """Whose photos are meant, and the words that say of what time: "Ink before the last molt".

    Nobody where the words before the time name nobody, and no time either but where they are the whole shelf.
    """
    if tags := whom(rest, names):
        return tags, None
    for found in _leads().finditer(rest):
        said, when = rest[: found.start()].strip(), rest[found.start() :].strip()
        if tags := whom(said, names):
            return tags, when
        if folded(said) in word_set("photos_of_all"):
            return (), when
    return (), None


def when_said(words: str, names: ShelfNames, *, now: datetime, settings: KeeperSettings) -> When | None:
    """The time that words say; ``None`` where they say none."""
    found = _leads().match(words)
    lead, rest = (folded(found.group()), words[found.end() :].strip()) if found else ("", words)
    side = next((side for side, leads in data()["photo_times"].items() if lead in leads), "in")
    if folded(rest) in word_set("last_molt"):
        sides: dict[str, Side] = {"before": "before", "until": "before", "after": "after", "since": "after"}
        return When(molt=sides[side]) if side in sides else None
    stretch = stretch_meant(words if side == "in" else rest, names, now=now, settings=settings)
    return None if stretch is None else _when(side, stretch)


def _when(side: str, stretch: Stretch) -> When:
    return {
        "before": When(last=stretch.first - timedelta(days=1)),
        "until": When(last=stretch.last),
        "after": When(first=stretch.last + timedelta(days=1)),
        "since": When(first=stretch.first),
    }.get(side, When(first=stretch.first, last=stretch.last))


@cache
def _captions() -> Phrasings[None]:
    return all_alike(data()["captions"])


@cache
def _leads() -> re.Pattern[str]:
    words: Final = [str(word) for leads in data()["photo_times"].values() for word in leads]
    return re.compile(either(sorted(words, key=len, reverse=True)), re.I)
