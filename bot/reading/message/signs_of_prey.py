"""Feeders told by their pictures: "Saffron 🦗🦗" is two crickets, "a roach 🪳" one roach."""

from __future__ import annotations

import re
from typing import Final

from bot.reading.message.parse import Message
from bot.reading.words.normalise import SIGNS_OF_PREY

_RUN: Final = re.compile("|".join(f"{sign}(?: *{sign})*" for sign in sorted(SIGNS_OF_PREY)))


def told_by_signs(message: Message) -> Message:
    """The message with a run of one picture as a number of it; without them where words tell the prey.

    One picture alone tells the kind and no number, as "cricket" does.
    """
    plain = message.source.plain
    if plain.isascii() or SIGNS_OF_PREY.isdisjoint(plain):
        return message
    in_words = _tells_prey_in_words(message)
    return message.saying(_RUN.sub(lambda run: "" if in_words else _counted(run.group()), plain))


def _tells_prey_in_words(message: Message) -> bool:
    return any(
        sense.cat == "prey"
        for at, (_, senses) in message.phrases.items()
        for sense in senses
        if message.tokens[at].text not in SIGNS_OF_PREY
    )


def _counted(run: str) -> str:
    number = run.count(run[0])
    return f" {number} {run[0]} " if number > 1 else f" {run} "
