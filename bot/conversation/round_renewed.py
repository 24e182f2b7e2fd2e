"""A round's messages show how far it is: what is logged elsewhere, or by another keeper, is ticked off there.

A message is edited and never sent anew. One in which somebody is just ticking who refused is left alone.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import timedelta
from typing import Final

from bot.conversation.model import Reply, ShownMessage
from bot.conversation.round_board import mark_of, shown
from bot.conversation.round_items import items_now
from bot.conversation.round_words import Item, is_open
from bot.conversation.texts import say
from bot.conversation.turn import Turn
from storage.records import Occurrence, Prompt, ShownRound

#: Rounds of today and yesterday are still answered.
_ANSWERED_FOR: Final = timedelta(days=1)


@dataclass(frozen=True, slots=True)
class RoundMessage:
    """A message that shows a round, with the prompt of its buttons: its keeper's, in its chat."""

    occurrence: Occurrence
    shown: ShownRound
    prompt: Prompt


def round_messages(turn: Turn) -> list[RoundMessage]:
    """The messages that show a round of the shelf, where this message stored something or took it back.

    One of which a button was pressed since shows something else by now, or is renewed by that press.
    """
    changes = dict.fromkeys([*turn.work.journal.made, *turn.turned])
    if not changes:
        return []
    rounds = turn.work.rounds.shown_on(turn.shelf_id, turn.today - _ANSWERED_FOR)
    touched = _touched(turn, changes) if rounds else frozenset()
    found = []
    for occurrence in rounds:
        if touched.isdisjoint(item["tag"] for item in occurrence.tasks):
            continue
        for message in occurrence.shown_in:
            prompt = turn.work.prompts.get(message.prompt)
            if prompt is not None and prompt.message_ref is not None and prompt.answered_at is None:
                found.append(RoundMessage(occurrence, message, prompt))
    return found


def _touched(turn: Turn, changes: Iterable[int]) -> frozenset[str]:
    """The animals of which changes stored something, took it back or replaced it."""
    journal = turn.work.journal
    rows = [row for number in changes for row in (*journal.entries_of(number), *journal.replaced_by(number))]
    return frozenset(tag for row in rows for tag in row.entry.specimens)


def renewed(turn: Turn, message: RoundMessage) -> Reply | None:
    """The message as it has to be now, by a turn of its keeper in its chat; ``None`` where it is so."""
    occurrence, prompt = message.occurrence, message.prompt
    if turn.shelf_id != occurrence.shelf_id or turn.keeper.paused or prompt.message_ref is None:
        return None
    items = items_now(turn, occurrence)
    if mark_of(items) == message.shown.mark:
        return None
    reply = _as_it_is_now(turn, occurrence, items)
    if reply.number is not None:
        turn.work.prompts.shown_as(reply.number, prompt.message_ref)
    else:  # it has no buttons now, and is known by those that it had
        turn.work.rounds.shown_by(occurrence.id, replace(message.shown, mark=mark_of(items)))
    where = ShownMessage(chat=prompt.chat, reference=prompt.message_ref, keeper_id=turn.keeper.id)
    return replace(reply, renews=where)


def _as_it_is_now(turn: Turn, occurrence: Occurrence, items: Sequence[Item]) -> Reply:
    if not any(map(is_open, items)):
        turn.work.rounds.close(occurrence.id, turn.incoming.sent_at)
        return turn.reply(say("round.finished"))
    turn.work.rounds.reopen(occurrence.id, items)
    return shown(turn, occurrence, items)
