"""A name with a question mark that the writer answers at once: "Ink ate. Mole? Refused." Pure."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import Final

from bot.reading.items.item import Item
from bot.reading.message.parse import Message


def names_answered(message: Message) -> Message | None:
    """The message with a colon behind each name that is answered; ``None`` where none is."""
    if "?" not in message.source.plain:
        return None
    sentences = message.sentences(range(len(message.tokens)))
    marks = [
        asked.stop - 1
        for asked, answer in pairwise(sentences)
        if _names_alone(message.items([asked])) and _answers(message.items([answer]))
    ]
    if not marks:
        return None
    plain = message.source.plain
    for at in reversed(marks):
        token = message.tokens[at]
        plain = f"{plain[: token.start]}:{plain[token.end :]}"
    return message.saying(plain)


def _names_alone(items: Sequence[Item]) -> bool:
    """ "Mole?", "and Mole?": nothing but one name, asked about with one mark."""
    said = [i for i in items if "and" not in i.senses]
    return [i.cat for i in said] == ["S", "M"] and said[-1].text == "?"


def _answers(items: Sequence[Item]) -> bool:
    """ "Refused.", "still sealed", "2 crickets": what she did or had, told with no name and not asked."""
    said = [i for i in items if i.cat != "M" and _SMALL.isdisjoint(i.senses)]
    if not said or items[-1].text == "?" or any(i.cat == "S" for i in items):
        return False
    if "prey" in said[-1].senses and said[0].cat in "NW" and not said[0].senses.verbs:
        return True
    done = [verb.group for verb in said[0].senses.verbs if not verb.group.base]
    if len(said) == 1 and done:
        return True  # "Mole? Fed."
    return any(not (group.keeper or group.noun) for group in done)


#: Senses of words that may stand before what she did.
_SMALL: Final = frozenset({"fill", "still", "did", "pron"})
