"""How the words of a message were taken, and which were not understood."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime
from typing import Final, NamedTuple

from bot.reading.items.item import Item, Ref
from bot.reading.message.asides import asides_in
from bot.reading.message.mending import mended
from bot.reading.message.parse import Message
from bot.reading.message.signs_of_prey import told_by_signs
from bot.reading.names.shelf_names import ShelfNames
from bot.reading.words.lexicon import Sense
from bot.terms import KeeperSettings

#: What stands for a word that is not understood.
NOT_UNDERSTOOD: Final = "?"
#: What stands for a clause that tells nothing of an animal.
LET_GO: Final = "beside the matter"
#: What words of some categories change in a message, plainly; those of the others only hold it together.
_PLAIN: Final[Mapping[str, str]] = {
    "neg": "not",
    "leftover": "not all eaten",
    "future": "still to come",
    "cond": "only if",
    "everyone": "every animal",
    "rest": "those not named",
    "except": "all but the following",
    "report": "said of others",
}


class Taken(NamedTuple):
    """Words of a message and what they were taken for; as text ``“crix” = cricket``, ``“splorged” = ?``."""

    words: str
    meaning: str

    def __str__(self) -> str:
        return f"“{self.words}” = {self.meaning}"


def explained(
    text: str, names: ShelfNames, *, now: datetime, settings: KeeperSettings, talked_of: str | None = None
) -> tuple[Taken, ...]:
    """What each part of a message was taken for, in their order."""
    message = told_by_signs(Message(text, names, now, settings, talked_of))
    if not message.says_anything():
        return ()
    slips: tuple[tuple[str, str], ...] = ()
    better = mended(message)
    if better is not None:
        message, slips = message.saying(better.text), better.words
    items = message.items([range(len(message.tokens))])
    passed = asides_in(message)
    aside = {n for part in passed for n in part}
    items = [item for item in items if item.i not in aside]
    asked = {n for at, (end, _) in message.cues.items() for n in range(at, end)}
    known = (item for item in items if item.cat != "U" or item.i not in asked)
    taken = (Taken(message.words(item.i, item.j), _meaning(item, names)) for item in known)
    read_as = (Taken(written, f"“{right}”") for written, right in slips)
    let_go = (Taken(message.words(part.start, part.stop), LET_GO) for part in passed)
    return (*read_as, *(one for one in taken if one.meaning), *let_go)


def _meaning(item: Item, names: ShelfNames) -> str:
    """What a part was taken for; empty for marks and small words."""
    match item.cat:
        case "S":
            return _animals([item.val], names)
        case "X":
            return f"not {_animals(item.val, names)}"
        case "D":
            return " ".join(str(part) for part in (item.val.day, item.val.time) if part is not None)
        case "P":
            return item.val.kind if item.val.days is None else f"{item.val.kind} {item.val.days} d"
        case "A":
            return f"{item.val.value.normalize():f} {item.val.currency or _UNITS[item.val.dimension]}"
        case "N":
            return NOT_UNDERSTOOD if item.val.value is None else str(item.val.value)
        case "T" | "U":
            return item.val or NOT_UNDERSTOOD
        case "W":
            return _word(item.senses)
    return ""


_UNITS: Final[Mapping[str, str]] = {
    "length": "cm",
    "weight": "g",
    "volume": "l",
    "temperature": "°C",
    "humidity": "% RH",
    "money": "",
}


def _animals(refs: list[Ref], names: ShelfNames) -> str:
    tags = [tag for ref in refs for tag in ref.tags]
    called = ", ".join(names.by_tag[tag].called for tag in tags) or NOT_UNDERSTOOD
    return called if all(ref.sure for ref in refs) else f"{called}?"


def _word(senses: Mapping[str, Sense]) -> str:
    for category, sense in senses.items():
        group = sense.group
        said = group.prey or group.size or group.how or group.event or group.kind
        if (
            said is not None
            and not group.weak
            and (category.startswith("verb") or category in {"prey", "size"})
        ):
            return str(said)
    return next((_PLAIN[category] for category in senses if category in _PLAIN), "")
