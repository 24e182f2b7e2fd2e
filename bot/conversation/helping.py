"""Help, why the last message was read as it was, first aid, and what to say to what cannot be read."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime, timedelta
from itertools import groupby
from typing import Final

from bot.conversation import wording
from bot.conversation.model import Reply
from bot.conversation.texts import has, say, say_of, words
from bot.conversation.turn import Turn
from bot.reading import explained
from bot.reading.explain import NOT_UNDERSTOOD, Taken
from bot.reading.model import Reading
from bot.reading.short_answers import is_word
from bot.reading.wanted.harm import goes_on_of_harm, matter_of_harm
from bot.reading.wanted.wanted import Instruction
from bot.terms import Specimen

_LONGEST_KEPT: Final = 200
_STEPS_KEPT: Final = 12
_WORDS_SHOWN: Final = 30
#: The lines of first aid, the gravest first.
_FIRST_AID: Final = ("emergency", "bite", "skin", "eye", "pet", "note")
_HARM_GOES_ON: Final = timedelta(hours=1)


def help_(turn: Turn, _wanted: Instruction) -> list[Reply]:
    """What can be said, in a few lines, with the keeper's own animals in the examples."""
    shelf = turn.shelf.specimens
    called = [animal.name or animal.tag for animal in shelf]
    first, second, third = called[:3] if len(called) > 2 else words("help.invented")
    place, but = _a_place_but_one(shelf) or (say("help.everyone"), second)
    tag = shelf[0].tag if shelf else say("help.invented_tag")
    text = say("help.text", first=first, second=second, third=third, tag=tag, place=place, but=but)
    return [turn.reply(text)]


def _a_place_but_one(shelf: Sequence[Specimen]) -> tuple[str, str] | None:
    """The first place where more than one animal stands, and the last of those."""
    for place, standing in groupby(shelf, key=lambda animal: animal.place):
        *others, last = standing
        if place and others:
            return place, last.name or last.tag
    return None


def first_aid(turn: Turn, _wanted: Instruction | None = None) -> list[Reply]:
    """What to do until a professional takes over, first what the message is about; the bot decides nothing.

    For an hour, a short word of pain goes on from it.
    """
    before = turn.dialog.get("harm") or {}
    matter = matter_of_harm(turn.incoming.text, turn.settings.language) or before.get("matter")
    turn.remember(harm={"matter": matter, "at": turn.incoming.sent_at.isoformat()})
    order = sorted(_FIRST_AID, key=lambda part: part != matter)
    return [turn.reply("\n".join(say_of("first_aid", part) for part in order))]


def still_hurts(turn: Turn) -> list[Reply] | None:
    """ "Ouch, it burns" within an hour of first aid: first aid for the same again; else ``None``."""
    before, text = turn.dialog.get("harm"), turn.incoming.text
    if not before or not (
        goes_on_of_harm(text, turn.shelf.names, turn.settings.language) or is_word("what_to_do", text)
    ):
        return None
    since = turn.incoming.sent_at - datetime.fromisoformat(before["at"])
    return first_aid(turn) if since <= _HARM_GOES_ON else None


def keep_trace(turn: Turn, reading: Reading) -> None:
    """Keeps how a message was taken, for "why?"."""
    steps = [say_of("why_read.taken_as", reading.reading.value), *_taken(turn, reading)]
    turn.remember(said=turn.incoming.text[:_LONGEST_KEPT], trace=steps[:_STEPS_KEPT], by_word=True)


def keep_words(turn: Turn) -> None:
    """Keeps what a message was taken for, for "why?", where it was answered before it was read further."""
    steps = [say("why_read.instruction")]
    turn.remember(said=turn.incoming.text[:_LONGEST_KEPT], trace=steps, by_word=None)


def _taken(turn: Turn, reading: Reading) -> list[str]:
    """Who, what and when a reading is about."""
    lines = [
        say(
            "why_read.entry",
            who=wording.called(turn.animals(entry.specimens), most=4) or say("answer.shelf"),
            what=turn.told(entry),
            day=wording.day_in_full(entry.day, turn.today),
        )
        for entry in reading.entries
    ]
    if reading.question is not None:
        who = wording.called(turn.animals(reading.question.specimens), most=4)
        lines.append(
            say("why_read.about", who=who or reading.question.species or say("why_read.shelf_as_a_whole"))
        )
    return lines


def why(turn: Turn, _wanted: Instruction) -> list[Reply]:
    """How the last message was taken, word by word."""
    trace = turn.dialog.get("trace")
    if not trace:
        return [turn.reply(say("why_read.nothing"))]
    said = turn.dialog.get("said", "")
    names = turn.shelf.all_names
    by_word = turn.dialog.get("by_word")
    words = explained(said, names, now=turn.now, settings=turn.settings) if by_word else ()
    told = (say("why_read.word", words=one.words, meaning=_meaning(one)) for one in words[:_WORDS_SHOWN])
    steps = [say("why_read.step", step=step) for step in (*trace, *told)]
    if any(NOT_UNDERSTOOD in one.meaning for one in words):
        steps.append(say("why_read.not_understood"))
    return [turn.reply("\n".join([say("why_read.head", text=said), *steps]))]


def _meaning(taken: Taken) -> str:
    """What words were taken for: a kind, feeder, size or small word in the language spoken."""
    meaning = taken.meaning
    if has("told", meaning):
        return say_of("told", meaning)
    if has("prey", meaning):
        return say_of("prey", meaning)
    if has("sizes", meaning):
        return say_of("sizes", meaning)
    return say_of("why_read.meanings", meaning) if has("why_read.meanings", meaning) else meaning


def unclear(turn: Turn, reading: Reading) -> list[Reply]:
    """The message is nothing to do with the shelf, tells of what was not done, or was not understood."""
    if reading.denies is not None:
        return [turn.reply(say("on_record.not_done"))]
    if not turn.shelf.specimens:
        return [turn.reply(say("bad.unclear_empty_shelf"))]
    return [turn.reply(say("bad.unclear", who=turn.example))]
