"""An animal that is to leave on a day to come: nothing is stored of it, and a reminder is offered."""

from __future__ import annotations

from bot.conversation import wording
from bot.conversation.model import Reply
from bot.conversation.texts import say
from bot.conversation.turn import Choice, Turn
from bot.reading.wanted.leaving import read_leaving


def said(turn: Turn) -> list[Reply] | None:
    """ "Selling Rust on Saturday"; ``None`` where a message says anything else, or a helper writes."""
    text = turn.incoming.text
    found = read_leaving(text, turn.shelf.names, now=turn.now, settings=turn.settings)
    if found is None or turn.helps:
        return None
    tags, day = found
    who = wording.called(turn.animals(tags))
    reminder = {"do": "remind_on", "what": say("leaving.what", who=who), "tags": list(tags)}
    yes = Choice(say("leaving.remind"), {**reminder, "day": day.isoformat(), "time": None, "word": "yes"})
    rows = [[yes, Choice(say("button.no"), {"do": "none", "word": "no"})]]
    first, on = turn.animals(tags[:1])[0], wording.day_in_full(day, turn.today)
    text = say("leaving.not_yet", who=who, day=on, example=first.name or first.tag)
    return [turn.reply(text, rows, pending={})]
