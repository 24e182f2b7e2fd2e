"""Invented messages of a keeper; ``{name}`` and the like stand for animals of the shelf at hand."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from itertools import cycle
from zoneinfo import ZoneInfo

from bot.terms import Specimen

NOW = datetime(2026, 5, 14, 19, 30, tzinfo=ZoneInfo("Europe/London"))

_MESSAGES = (
    "fed {a} two crickets",
    "{a} refused again last night",
    "{a} and {b} each took a medium dubia yesterday",
    "gave {c} water, topped up the dish",
    "{a} molted on Sunday, measured the skin at 11 cm",
    "sealed: {b}, {c}",
    "when did {a} last molt?",
    "rehoused {b} into a 20 litre box with 15 cm of substrate on 3 May",
    "{c} still sealed this morning",
    "offered {a} a small roach at 21:15, not sure if taken",
    "what is due today?",
    "remind me to check {a} in 10 days",
    "{tag} ate 3 mealworms the day before yesterday",
    "bought 200 small crickets for 9.50 euros on Monday",
    "all of {place} watered",
    "{a} opened up after three weeks and looks huge, will feed her next week",
    "no, {b}",
    "undo",
    "room at 24.5 °C and 60 % this evening",
    "saw {c} dragging substrate around at 2 am, the web across the hide is gone",
)


def messages_for(specimens: Sequence[Specimen], rounds: int = 10) -> list[str]:
    """The messages, each so many times about other animals from all over the shelf: no two alike."""
    steps = cycle(specimens[:: max(1, len(specimens) // 499)])
    texts = []
    for _ in range(rounds):
        for message in _MESSAGES:
            a, b, c, d = next(steps), next(steps), next(steps), next(steps)
            texts.append(message.format(a=a.name, b=b.name, c=c.name, tag=d.tag, place=d.place))
    return list(dict.fromkeys(texts))
