"""A round is opened: at its time in the morning, or when somebody asks who is due.

One that was asked for is open for answers like the one that comes by itself. Where it was asked for before
its time it still comes then, with what is left of it.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from bot.conversation.model import Reply
from bot.conversation.pages import fit
from bot.conversation.round_board import does, shown, waters
from bot.conversation.round_items import items_now, items_of_day
from bot.conversation.round_words import LATER, REST, Item, is_open, round_text
from bot.conversation.texts import say
from bot.conversation.turn import Choice, Turn
from bot.round.model import TaskKind
from storage.records import Occurrence


def open_round(turn: Turn, day: date, *, late: bool) -> list[Reply]:
    """Opens the round of a day and words it; nothing where nothing is due or it has come before."""
    items = items_of_day(turn, day)
    if not any(map(is_open, items)):
        return []
    at = turn.incoming.sent_at
    occurrence = turn.work.rounds.open_(turn.keeper.id, turn.shelf_id, day, due_at=at, tasks=items, at=at)
    if occurrence is None:
        return _asked_for_before(turn, day, late=late)
    return [shown(turn, occurrence, items, late=late)]


def _asked_for_before(turn: Turn, day: date, *, late: bool) -> list[Reply]:
    """What is left of a round that was asked for before its time; nothing where it was put off."""
    occurrence = turn.work.rounds.of_day(turn.keeper.id, day)
    if occurrence is None or not occurrence.is_to_come:
        return []
    turn.work.rounds.has_come(occurrence.id)
    items = _with_new(items_now(turn, occurrence), items_of_day(turn, day))
    put_off = any(item["state"] == LATER for item in items)
    if occurrence.closed_at is not None or put_off or not any(map(is_open, items)):
        return []
    turn.work.rounds.save(occurrence.id, items)
    return [shown(turn, occurrence, items, late=late)]


def asked_for(turn: Turn, *, only: TaskKind | None = None) -> Reply:
    """Today's round for somebody who asks for it, open for answers if anything of it is left to do.

    ``only``: who needs water is told of water alone.
    """
    occurrence = opened_today(turn)
    if only is TaskKind.WATER:
        return _water_part(turn, occurrence)
    if occurrence is not None:
        return shown(turn, occurrence, items_now(turn, occurrence))
    items = items_of_day(turn, turn.today)
    return fit(turn, round_text(items, turn.shelf.by_tag, turn.today, turn.today))


def _water_part(turn: Turn, occurrence: Occurrence | None) -> Reply:
    items = waters(items_now(turn, occurrence)) if occurrence is not None else []
    if occurrence is None or not items:
        return turn.reply(say("round.no_water"))
    text = round_text(items, turn.shelf.by_tag, turn.today, turn.today)
    return fit(turn, text, [[Choice(say("round.all_watered"), does(occurrence, "watered"))]])


def opened_today(turn: Turn) -> Occurrence | None:
    """Today's round, opened if it was not or was closed; ``None`` where nothing is left to do."""
    needed = items_of_day(turn, turn.today)
    rounds, at = turn.work.rounds, turn.incoming.sent_at
    before = rounds.of_day(turn.keeper.id, turn.today)
    if before is not None and before.closed_at is None:
        needed = _with_new(items_now(turn, before), needed)
    if not any(map(is_open, needed)):
        return None
    if before is None:
        comes = turn.keeper.next_round_at
        of_today = comes is not None and comes > at and turn.day_of(comes) == turn.today
        due_at = comes if comes is not None and of_today else at
        return rounds.open_(turn.keeper.id, turn.shelf_id, turn.today, due_at=due_at, tasks=needed, at=at)
    rounds.reopen(before.id, needed)
    return rounds.of_day(turn.keeper.id, turn.today)


def _with_new(items: Sequence[Item], needed: Sequence[Item]) -> list[Item]:
    """The items of a round, what has come to be due since it was made, and who rests by now."""
    tasks = [item for item in items if item["task"] != REST]
    known = {(item["tag"], item["task"]) for item in tasks}
    return tasks + [item for item in needed if (item["tag"], item["task"]) not in known]
