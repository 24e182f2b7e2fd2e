"""What is left of a round is put off until the evening or skipped, all or some of it; and that taken back."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime, time, timedelta
from typing import Any, Final

from bot.conversation import wording
from bot.conversation.model import Reply
from bot.conversation.round_board import latest_of, of_round, of_whom, over, shown, still_open
from bot.conversation.round_items import items_now
from bot.conversation.round_words import LATER, OPEN, SKIPPED, is_open
from bot.conversation.texts import say
from bot.conversation.turn import Choice, Turn
from bot.terms.walltime import instant_of
from storage.records import Occurrence, Prompt

_EVENING: Final = time(18, 0)

_LATER_AFTER: Final = timedelta(hours=2)


def skip(turn: Turn, occurrence: Occurrence, action: Mapping[str, Any]) -> list[Reply]:
    """What is left of this round is not done, or what is left of it for some animals. Can be undone."""
    before = items_now(turn, occurrence)
    put_by = list(filter(is_open, of_whom(before, action)))
    if not put_by:
        return [turn.reply(say("round.nothing_of_that"))]
    items = [item | {"state": SKIPPED} if item in put_by else item for item in before]
    turn.work.rounds.save(occurrence.id, items)
    skipped = list(dict.fromkeys(item["tag"] for item in put_by))
    again = {"do": "round_again", **of_round(occurrence), "tags": skipped}
    turn.remember(elsewhere=again)
    undo = [[Choice(say("button.undo"), again)]]
    if any(map(is_open, items)):
        names = wording.listed([turn.called(tag) for tag in skipped])
        return [turn.reply(say("round.skipped_some", names=names), undo)]
    turn.work.rounds.close(occurrence.id, turn.incoming.sent_at)
    return [turn.reply(say("round.skipped"), undo, in_place=turn.incoming.pressed is not None)]


def pressed_again(turn: Turn, _prompt: Prompt | None, action: Mapping[str, Any]) -> list[Reply]:
    """What was skipped is open again, unless another round has come since."""
    occurrence = latest_of(turn, action)
    turn.remember(elsewhere=None)
    if occurrence is None:
        return [over(turn, action)]
    items = [
        item | {"state": OPEN} if item["state"] == SKIPPED and item["tag"] in action["tags"] else item
        for item in items_now(turn, occurrence)
    ]
    turn.work.rounds.reopen(occurrence.id, items)
    return [turn.reply(say("round.open_again")), shown(turn, occurrence, items, brief=True)]


def later(turn: Turn, occurrence: Occurrence, action: Mapping[str, Any]) -> list[Reply]:
    """Once more ``at`` that moment or in the evening, before the quiet hours; else it just stays open.

    The latest word on it holds: a second look that is yet to come gives way to one at another moment, and
    what is put off without one joins it.
    """
    items, at = items_now(turn, occurrence), action.get("at")
    looks = turn.work.reminders.second_looks(turn.shelf_id, turn.keeper.id)
    joins = at is None and looks and any(item["state"] == LATER for item in items)
    put_by = list(filter(is_open, of_whom(items, action)))
    if not put_by:
        return [turn.reply(say("round.nothing_of_that"))]
    items = [item | {"state": LATER} if item in put_by else item for item in items]
    turn.work.rounds.save(occurrence.id, items)
    if joins:
        return [turn.reply(_comes_back(turn, looks[0].next_at))]
    moment = at or _this_evening(turn)
    if moment is None:
        return [turn.reply(say("round.stays"))]
    for one in looks:
        turn.work.reminders.end(one.id)
    change_id = turn.open_change()
    local = moment.astimezone(turn.now.tzinfo)
    turn.work.reminders.add(
        change_id,
        what=say("round.rest_of_it"),
        tags=(),
        next_at=moment,
        day=local.date(),
        time=local.time(),
        repeats=None,
        of_round=True,
        zone=turn.settings.zone,
    )
    earlier = [one.id for one in looks]
    back = {"do": "round_not_later", **of_round(occurrence), "change": change_id, "earlier": earlier}
    text = _comes_back(turn, moment)
    turn.note_done(change_id, text)
    turn.remember(elsewhere=back)
    return [turn.reply(text, [[Choice(say("button.undo"), back)]])]


def pressed_not_later(turn: Turn, _prompt: Prompt | None, action: Mapping[str, Any]) -> list[Reply]:
    """The second look agreed last is not wanted: the one before it holds again, where there was one."""
    turn.remember(elsewhere=None)
    if not turn.work.journal.undo(action["change"], at=turn.incoming.sent_at):
        return [over(turn, action)]
    for number in action["earlier"]:
        turn.work.reminders.reopen(number)
    looks = turn.work.reminders.second_looks(turn.shelf_id, turn.keeper.id)
    if looks:
        return [turn.reply(_comes_back(turn, looks[0].next_at))]
    occurrence = still_open(turn, action)
    if occurrence is None:
        return [over(turn, action)]
    items = items_now(turn, occurrence)
    open_again = [item | {"state": OPEN} if item["state"] == LATER else item for item in items]
    turn.work.rounds.save(occurrence.id, open_again)
    return [turn.reply(say("round.stays"))]


def _comes_back(turn: Turn, moment: datetime) -> str:
    return say("round.comes_back", time=wording.clock(moment.astimezone(turn.now.tzinfo)))


def _this_evening(turn: Turn) -> datetime | None:
    evening = instant_of(turn.today, _EVENING, turn.settings.zone)
    moment = max(evening, turn.incoming.sent_at + _LATER_AFTER)
    local = moment.astimezone(turn.now.tzinfo)
    quiet = turn.settings.quiet_from
    past = quiet > _EVENING and local.time() >= quiet
    return None if local.date() != turn.today or past else moment
