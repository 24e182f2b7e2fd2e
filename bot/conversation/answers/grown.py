"""How much an animal has grown, from its first measure to its last in a time."""

from __future__ import annotations

from bot.conversation import wording
from bot.conversation.answers.most import Gain, days_asked, gain_of, told_gain
from bot.conversation.answers.traits import asked_about
from bot.conversation.model import Reply
from bot.conversation.pages import fit
from bot.conversation.texts import say
from bot.conversation.turn import Turn
from bot.reading.questions.stretches import Stretch
from bot.reading.wanted.wanted import Instruction
from bot.terms import Specimen


def grown(turn: Turn, wanted: Instruction) -> list[Reply]:
    """What lies between the first and the last measure of each animal, in all or in the time said."""
    days = days_asked(turn, wanted.rest) if wanted.rest is not None else None
    if wanted.rest is not None and days is None:
        return [turn.reply(say("most.which_days", days=wanted.rest))]
    lines = [
        _line(turn, animal, gain_of(turn, animal.tag, days), days) for animal in asked_about(turn, wanted)
    ]
    return [fit(turn, "\n".join(lines))]


def _line(turn: Turn, animal: Specimen, found: Gain | None, days: Stretch | None) -> str:
    if found is not None:
        return say("answer.card", who=animal.called, what=told_gain(turn, found))
    span = wording.span_of_days(days.first, days.last, turn.today) if days else say("tally.ever")
    return say("most.not_measured", who=animal.called, span=span, example=animal.name or animal.tag)
