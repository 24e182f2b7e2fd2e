"""A message or a press comes in, replies go out: which handler answers is looked up in tables.

A typed message is tried, in this order, as: an edit of an earlier one; a reminder put off; an answer to
the round; an instruction; an answer to the open question; and what the ordinary reading makes of it.
While a guided step waits for words, a message that reads as nothing else is the answer to it.

Where somebody may be hurt, first aid comes before all else, and what the message says beside it is
taken in as ever.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import Final

from bot.conversation import (
    absent,
    albums,
    amend,
    asks,
    done_by,
    fangs_said,
    feeder_box,
    guided,
    guided_typed,
    handover,
    handover_open,
    helping,
    here_before,
    leaving,
    log,
    on_record,
    own_data,
    people,
    provenance,
    reminders_changed,
    reminders_done,
    reminders_told,
    rights,
    round_said,
    second_thoughts,
    settings_talk,
    sharing,
)
from bot.conversation.answers import (
    asked_on,
    concern,
)
from bot.conversation.handlers import INSTRUCTIONS
from bot.conversation.model import Reply
from bot.conversation.pronouns import of_the_one_talked_of
from bot.conversation.texts import say
from bot.conversation.turn import Turn
from bot.reading.model import About, ReadingKind
from bot.reading.wanted.harm import tells_of_harm
from bot.reading.wanted.instructions import read_instruction
from bot.reading.wanted.wanted import Action, Instruction
from storage.errors import NotOnShelfError, NotStorableError, TagTakenError

_LONGEST: Final = 4096
"""Characters of a message that is looked at: what a chat message can have."""

#: What is remembered of the last thing done, and forgotten once another is.
_OF_THE_LAST_THING: Final = ("elsewhere", "taken")


def replies_to(turn: Turn) -> list[Reply]:
    """The replies to what came in. Every path gives at least a line, but for an edit that changes nothing."""
    rights.limit(turn)
    others = people.others_of(turn)
    if others:
        turn.work.journal.alone_on(turn.shelf_id)
    made_before = len(turn.work.journal.made)
    before = {key: turn.dialog.get(key) for key in _OF_THE_LAST_THING}
    try:
        replies = _closed(turn) or (_pressed(turn) if turn.incoming.pressed is not None else _written(turn))
    except NotStorableError:
        replies = [Reply(text=say("bad.amount"))]
    except NotOnShelfError:
        replies = [Reply(text=say("bad.tag_changed"))]
    except TagTakenError as taken:
        replies = [Reply(text=say("undo.tag_taken", tag=taken.tag))]
    if others:
        sharing.pass_on(turn, others, turn.work.journal.made[made_before:])
    if len(turn.work.journal.made) > made_before:  # an entry was made, and is the last thing now
        turn.remember(**{key: None for key, was in before.items() if turn.dialog.get(key) == was})
    turn.save_dialog()
    return replies


def _closed(turn: Turn) -> list[Reply]:
    """One line for somebody whose time to help has not come or is over; first aid and own data remain."""
    line = rights.closed_to(turn)
    if not line:
        return []
    if tells_of_harm(turn.incoming.text, turn.shelf.names, turn.settings.language):
        return helping.first_aid(turn)
    wanted = read_instruction(turn.incoming.text, turn.shelf.names, turn.settings.language)
    if wanted is not None and wanted.action in rights.ALWAYS:
        return INSTRUCTIONS[wanted.action](turn, wanted)
    return own_data.confirmed(turn) or [turn.reply(line)]


# --- presses --------------------------------------------------------------------------------


def _pressed(turn: Turn) -> list[Reply]:
    """Acts on a button, exactly once."""
    number, _, index = (turn.incoming.pressed or "").partition(":")
    prompt = turn.work.prompts.get(int(number)) if number.isdecimal() and len(number) < 18 else None
    if prompt is None or not sharing.may_press(turn, prompt) or not index.isdecimal():
        return [turn.reply(say("press.unknown"))]
    if int(index) >= len(prompt.actions):
        return [turn.reply(say("press.unknown"))]
    if not turn.work.prompts.answered(prompt.number, at=turn.incoming.sent_at):
        return [turn.reply(say("press.used"))]
    if turn.dialog.get("open") == prompt.number:
        turn.remember(open=None)
    action = prompt.actions[int(index)]
    return turn.presses[action["do"]](turn, prompt, action)


# --- messages -------------------------------------------------------------------------------


def _written(turn: Turn) -> list[Reply]:
    fault = _fault(turn)
    if fault is not None:
        return [turn.reply(fault)]
    if tells_of_harm(turn.incoming.text, turn.shelf.all_names, turn.settings.language):
        return [*helping.first_aid(turn), *_beside_harm(turn)]
    shown = albums.named_alone(turn)
    if shown is not None:
        return shown
    waiting = turn.dialog.get("step")
    replies = _by_words(turn)
    return [*replies, *albums.not_kept(turn, replies), *guided.still_waiting(turn, waiting)]


def _by_words(turn: Turn) -> list[Reply]:
    erased = own_data.confirmed(turn)
    if erased is not None:  # nothing is remembered of a talk with somebody who is gone
        return erased
    asked = turn.dialog.get("open")
    replies = _edited(turn)
    if replies is None:
        replies = next((found for attempt in _ATTEMPTS if (found := attempt(turn)) is not None), None)
    if replies is None:
        return _read(turn)
    if asked is not None and turn.dialog.get("open") == asked:
        turn.remember(passed=asked)
    return replies


def _beside_harm(turn: Turn) -> list[Reply]:
    """What a message about an injury says of the shelf too; who is hurt is not asked what the rest means."""
    for attempt in (_edited, round_said.typed):
        replies = attempt(turn)
        if replies is not None:
            return replies
    reading = turn.reading
    unread = reading.reading is ReadingKind.UNCLEAR or (reading.ask and reading.ask.about is About.KIND)
    if unread or (reading.ask and not (reading.ask.draft or reading.ask.options)):
        return []
    helping.keep_trace(turn, reading)
    return turn.readings[reading.reading](turn, reading)


def _fault(turn: Turn) -> str | None:
    """One line for what cannot be read at all."""
    incoming = turn.incoming
    if incoming.unsupported:
        return say("bad.unsupported", what=incoming.unsupported)
    if len(incoming.text) > _LONGEST:
        return say("bad.too_long", n=_LONGEST)
    if not any(char.isalnum() for char in incoming.text) and incoming.text.strip() != "?":
        who = turn.example
        return say("bad.photo_alone", who=who) if incoming.photos else say("bad.empty", who=who)
    return None


def _edited(turn: Turn) -> list[Reply] | None:
    """An edit replaces what its message did; where that was nothing, the message is read as new."""
    if not turn.incoming.edits:
        return None
    if turn.reading.reading is not ReadingKind.UNCLEAR or read_instruction(
        turn.incoming.text, turn.shelf.names, turn.settings.language
    ):
        stands = amend.edited_away(turn)
        if stands is not None:
            return [turn.reply(stands), *_by_words(turn)]
    reading = turn.reading
    replies = amend.edited(turn, reading)
    if replies is not None:
        return replies
    replaces = asks.close_asks_of(turn)
    if replaces and reading.reading is ReadingKind.ENTRIES:
        return log.store(turn, reading, replace(replaces, passed=()))
    return None


def _instruction(turn: Turn) -> list[Reply] | None:
    wanted = (
        read_instruction(turn.incoming.text, turn.shelf.names, turn.settings.language)
        or _photos_of_one_gone(turn)
        or of_the_one_talked_of(turn)
    )
    if wanted is None or (wanted.action is Action.UNITS and asks.offers(turn, turn.incoming.text)):
        return None  # "cm" says in which unit the figure was that was asked about
    if not rights.may_instruct(turn, wanted.action):
        return rights.refused_instruction(turn)
    if wanted.action is not Action.WHY:
        helping.keep_words(turn)
    return INSTRUCTIONS[wanted.action](turn, wanted)


def _photos_of_one_gone(turn: Turn) -> Instruction | None:
    """Photos are asked for of those who died or left as well."""
    if not turn.shelf.gone:
        return None
    wanted = read_instruction(turn.incoming.text, turn.shelf.all_names, turn.settings.language)
    return wanted if wanted is not None and wanted.action is Action.PHOTOS else None


def _read(turn: Turn) -> list[Reply]:
    reading = turn.reading
    if reading.reading in (ReadingKind.ASK, ReadingKind.UNCLEAR):
        for attempt in (
            guided_typed.typed,
            guided.listed,
            absent.found_again,
            leaving.said,
            on_record.denied,
            second_thoughts.still_here,
            asked_on,
            feeder_box.counted,
        ):
            replies = attempt(turn)
            if replies is not None:
                return replies
    helping.keep_trace(turn, reading)
    ticked = reminders_done.ticked_off(turn)
    if ticked is None:
        return [*turn.readings[reading.reading](turn, reading), *_of_another_day(turn)]
    told = turn.readings[reading.reading](turn, reading) if reading.reading is ReadingKind.ENTRIES else []
    return [*told, turn.reply(ticked)]


def _of_another_day(turn: Turn) -> list[Reply]:
    """ "… on Wednesday, not on Friday": asks whether an entry of the day goes on which it was not."""
    if turn.reading.reading is not ReadingKind.ENTRIES:
        return []
    return on_record.denied(turn) or []


#: What a typed message is tried as, in this order, before the ordinary reading.
_ATTEMPTS: Final[Sequence[Callable[[Turn], list[Reply] | None]]] = (
    reminders_told.typed_snooze,
    reminders_told.typed_done,
    reminders_changed.said,
    round_said.typed,
    fangs_said.said,
    handover.said,
    handover_open.swapped,
    done_by.called,
    done_by.asked,
    here_before.said,
    provenance.said,
    helping.still_hurts,
    concern.what_to_do,
    _instruction,
    reminders_changed.none_called,
    handover.typed,
    asks.typed_answer,
    settings_talk.typed_zone,
)
