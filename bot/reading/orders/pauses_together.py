"""Two pauses that one message asks for, as one: "pause Ink until Friday, Mole too". Pure."""

from __future__ import annotations

from typing import Final

from bot.reading.message.animals_meant import asked
from bot.reading.message.parse import Message
from bot.reading.model import About, Hold, Reading, ReadingKind
from bot.reading.words.rule_words import rule_words


def one_pause(message: Message, one: Hold, other: Hold) -> Reading:
    """The pause of all whom two of them name; where it is not sure that they end alike, that is asked.

    Of the same animals one alone may say for how long, and of others with "too" behind them.
    """
    tags = message.names.in_order({*one.specimens, *other.specimens})
    if one.state != other.state:
        return asked(About.KIND, "two_pauses")  # "resume Ink, pause Mole"
    ends = {hold.until for hold in (one, other)}
    same = set(one.specimens) <= set(other.specimens) or set(other.specimens) <= set(one.specimens)
    too = not _TOO.isdisjoint(message.keys)
    if len(ends) > 1 and not (None in ends and (same or too)):
        return asked(About.DAY, "two_orders")  # "pause Ink until Friday, Mole until Sunday"
    until = next((end for end in ends if end is not None), None)
    return Reading(reading=ReadingKind.HOLD, hold=Hold(specimens=tags, state=one.state, until=until))


_TOO: Final = rule_words("as_well")
