"""A hand-over that is agreed: begun, listed, invited to anew, ended."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import UTC, date, datetime, time, timedelta
from typing import Any, Final
from zoneinfo import ZoneInfo

from bot.conversation import handover_told, wording
from bot.conversation.answers.ahead import due_now
from bot.conversation.handover_round import waits_for_keeper
from bot.conversation.handover_sheet import print_sheet
from bot.conversation.model import Reply
from bot.conversation.pages import fit
from bot.conversation.people import name_of, yours, yours_first
from bot.conversation.texts import say
from bot.conversation.turn import Choice, Turn, rows_of
from bot.reading.wanted.away import Away, Wanted, read_another_helper
from bot.reading.wanted.wanted import Instruction
from bot.reading.words.phrasings import folded
from storage.codes import hash_of, new_code
from storage.records import Handover, Prompt, Role

_DAY: Final = timedelta(days=1)


# --- begun ------------------------------------------------------------------------------------


def agreed(turn: Turn, away: Away) -> list[Reply]:
    """All is said: the sheet is printed, or the hand-over begins."""
    first, last = away.days.first, away.days.last
    assert first is not None
    assert last is not None
    if away.wanted is Wanted.SHEET:
        return print_sheet(turn, first, last)
    other = next(
        (one for one in turn.work.handovers.open(turn.shelf_id) if one.first <= last and first <= one.last),
        None,
    )
    if other is not None:
        text = say(
            "handover.overlaps",
            who=yours_first(other.called),
            days=wording.span_of_days(other.first, other.last, turn.today),
        )
        return [turn.reply(text)]
    assert away.helper is not None
    return [_begin(turn, away.helper, first, last)]


def _begin(turn: Turn, helper: str, first: date, last: date) -> Reply:
    code = new_code()
    begun = turn.work.handovers.begin(
        turn.shelf_id,
        by=turn.keeper.id,
        called=helper,
        first=first,
        last=last,
        code_hash=hash_of(code),
        expires_at=_end_of(turn, last),
        at=turn.incoming.sent_at,
    )
    turn.remember(elsewhere="handover")
    until = wording.date_of(last, turn.today)
    lines = [
        say("handover.begun", who=yours_first(helper), days=wording.span_of_days(first, last, turn.today)),
        say("handover.limits", last=until),
        say("handover.waits"),
    ]
    if waiting := waits_for_keeper(turn.facts.all(), turn.today, first):
        names = wording.listed([turn.called(tag) for tag in waiting], most=8)
        lines.append(say("handover.look_before", names=names))
    lines.append(_link_line(turn, helper, code))
    return turn.reply("\n".join(lines), [_buttons(begun)])


def _link_line(turn: Turn, helper: str, code: str) -> str:
    """The link to send on; in a group, where whoever reads along could open it, how to get it alone."""
    if not turn.incoming.private:
        return say("handover.link_alone")
    return say("handover.link", who=yours(helper), link=turn.link_of(code))


def _buttons(handed: Handover) -> list[Choice]:
    return [
        Choice(say("handover.sheet"), {"do": "handover_sheet", "id": handed.id}),
        Choice(say("handover.cancel"), {"do": "handover_end", "id": handed.id}),
    ]


def _end_of(turn: Turn, last: date) -> datetime:
    """The instant at which the last day is over, by the keeper's clock."""
    zone = ZoneInfo(turn.settings.zone)
    return datetime.combine(last + _DAY, time(0), zone).astimezone(UTC)


def pressed_sheet(turn: Turn, _prompt: Prompt, action: Mapping[str, Any]) -> list[Reply]:
    """The sheet of a hand-over, by its button."""
    handed = _own(turn, action["id"])
    if handed is None:
        return [turn.reply(say("handover.none"))]
    return print_sheet(turn, handed.first, handed.last)


def _own(turn: Turn, number: int) -> Handover | None:
    """An open hand-over of this shelf, by its number."""
    return next((one for one in turn.work.handovers.open(turn.shelf_id) if one.id == number), None)


def swapped(turn: Turn) -> list[Reply] | None:
    """ "Anna can't, make it Ben": the hand-over to the one ends, and one to the other begins for its days."""
    named = read_another_helper(turn.incoming.text, turn.shelf.names, turn.settings.language)
    if named is None or turn.helps:
        return None
    before, now = named
    handed = [one for one in turn.work.handovers.open(turn.shelf_id) if folded(one.called) == folded(before)]
    if len(handed) != 1 or turn.membership.role is not Role.OWNER:
        return None
    ended = _end(turn, handed[0])
    return [ended, _begin(turn, now, max(handed[0].first, turn.today), handed[0].last)]


# --- listed, invited anew ---------------------------------------------------------------------


def list_open(turn: Turn, _wanted: Instruction | None = None) -> list[Reply]:
    """Who looks after the shelf and when, as far as it is agreed."""
    found = turn.work.handovers.open(turn.shelf_id)
    if not found:
        return [turn.reply(say("handover.none"))]
    rows = [_buttons(one) for one in found] if len(found) == 1 else []
    return [turn.reply("\n".join(_line(turn, one) for one in found), rows)]


def _line(turn: Turn, handed: Handover) -> str:
    if handed.helper is None:
        state = say("handover.waits_for_link")
    elif handed.first <= turn.today <= handed.last:
        state = say("handover.at_it", name=name_of(turn, handed.helper))
    else:
        state = say("handover.is_in", name=name_of(turn, handed.helper))
    days = wording.span_of_days(handed.first, handed.last, turn.today)
    return say("handover.line", who=yours_first(handed.called), days=days, state=state)


def new_link(turn: Turn, _wanted: Instruction) -> list[Reply]:
    """Another link in the place of one that nobody has opened."""
    return _for_one(turn, "handover_link", _new_link)


def pressed_link(turn: Turn, _prompt: Prompt, action: Mapping[str, Any]) -> list[Reply]:
    """The same by a button."""
    handed = _own(turn, action["id"])
    return [_new_link(turn, handed) if handed else turn.reply(say("handover.none"))]


def _new_link(turn: Turn, handed: Handover) -> Reply:
    who = yours_first(handed.called)
    if handed.helper is not None:
        return turn.reply(say("handover.no_link", who=who, name=name_of(turn, handed.helper)))
    if not turn.incoming.private:
        return turn.reply(say("handover.link_alone"))
    code = new_code()
    turn.work.handovers.invite_anew(
        handed, code_hash=hash_of(code), expires_at=_end_of(turn, handed.last), at=turn.incoming.sent_at
    )
    return turn.reply(_link_line(turn, handed.called, code))


# --- ended ------------------------------------------------------------------------------------


def end(turn: Turn, _wanted: Instruction) -> list[Reply]:
    """ "Cancel the hand-over"."""
    return _for_one(turn, "handover_end", _end)


def end_latest(turn: Turn) -> list[Reply]:
    """Ends the one that was agreed last, as a word right behind it means."""
    found = turn.work.handovers.open(turn.shelf_id)
    if turn.helps or not found:
        return [turn.reply(say("handover.none"))]
    turn.remember(elsewhere=None)
    return [_end(turn, max(found, key=lambda one: one.id))]


def back(turn: Turn, _wanted: Instruction) -> list[Reply]:
    """ "I am back": ends the hand-over that runs, and tells what has come to be due."""
    if turn.helps:
        return [turn.reply(say("handover.welcome_back"))]
    running = [one for one in turn.work.handovers.open(turn.shelf_id) if one.first <= turn.today]
    ended = [_end(turn, one) for one in running] or [turn.reply(say("handover.welcome_back"))]
    due = due_now(turn)
    return [*ended, fit(turn, say("handover.due_now", what=due))] if due else ended


def pressed_end(turn: Turn, _prompt: Prompt, action: Mapping[str, Any]) -> list[Reply]:
    """The same by a button."""
    handed = _own(turn, action["id"])
    return [_end(turn, handed) if handed else turn.reply(say("handover.none"))]


def _for_one(turn: Turn, do: str, what: Any) -> list[Reply]:
    """Does it for the only open hand-over; where there are several, asks for which."""
    found = turn.work.handovers.open(turn.shelf_id)
    if turn.helps or not found:
        return [turn.reply(say("handover.none"))]
    if len(found) == 1:
        return [what(turn, found[0])]
    choices = [
        Choice(
            say(
                "handover.button",
                who=yours_first(one.called),
                days=wording.span_of_days(one.first, one.last, turn.today),
            ),
            {"do": do, "id": one.id},
        )
        for one in found
    ]
    return [turn.reply(say("handover.which"), rows_of(choices, 1), pending={})]


def _end(turn: Turn, handed: Handover) -> Reply:
    """Ends it with yesterday, so that nothing more can be logged by the helper from now on."""
    begun = handed.first <= turn.today and handed.helper is not None
    turn.work.handovers.end(handed, last=max(turn.today, handed.first) - _DAY, at=turn.incoming.sent_at)
    turn.work.handovers.settle(handed.id)
    if not begun:
        return turn.reply(say("handover.cancelled", who=yours_first(handed.called)))
    told = handover_told.summary(turn, handed, until=turn.today)
    return turn.reply("\n".join([say("handover.ended_early", who=yours_first(handed.called)), told]))
