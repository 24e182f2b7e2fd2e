"""The round as a conversation: the morning's message, its buttons, and answers in words.

What the journal shows as done that day is ticked by itself, whoever told it and how: an item is open or
done by the facts, and only "later" and "skip" are kept as marks. "All done" stores what was listed;
what has an outcome that only the keeper knows (an offer still open) or that is told in its own words (a
rehousing) stays open. An animal excepted gets no entry.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from datetime import date, datetime, time, timedelta
from typing import Any, Final

from bot.conversation import wording
from bot.conversation.model import Reply
from bot.conversation.round_board import (
    by_button,
    does,
    feeds,
    newest_open,
    open_or_again,
    place_of,
    shown,
    waters,
)
from bot.conversation.round_items import items_now
from bot.conversation.round_ticks import store_and_show, tick
from bot.conversation.round_words import LATER, OPEN, SKIPPED, is_open
from bot.conversation.tags import same_place
from bot.conversation.texts import say
from bot.conversation.turn import Choice, Turn, rows_of
from bot.reading import reading_from_store
from bot.terms import Entry, Kind
from bot.terms.walltime import instant_of
from storage.records import Occurrence, Prompt

_TOGGLES: Final = 60


_EVENING: Final = time(18, 0)


_LATER_AFTER: Final = timedelta(hours=2)


def come_back(turn: Turn) -> list[Reply]:
    """The evening's second look: what is left of the round, or nothing where nothing is."""
    latest = newest_open(turn)
    if latest is None:
        return []
    items = items_now(turn, latest)
    return [shown(turn, latest, items, brief=True)] if any(map(is_open, items)) else []


def pressed(turn: Turn, _prompt: Prompt, action: Mapping[str, Any]) -> list[Reply]:
    """A button of a round: acts on that round, or says that it is over."""
    occurrence = still_open(turn, date.fromisoformat(action["day"]))
    if occurrence is None:
        return [over(turn, action)]
    return _ACTS[action["act"]](turn, occurrence, action)


def over(turn: Turn, action: Mapping[str, Any]) -> Reply:
    """The round of a button is over, and what to do."""
    day = wording.day_in_full(date.fromisoformat(action["day"]), turn.today)
    return turn.reply(say("round.over", day=day))


def still_open(turn: Turn, day: date) -> Occurrence | None:
    """The round of that day, unless it was closed or a later one has come."""
    latest = turn.work.rounds.latest(turn.keeper.id)
    return open_or_again(turn, latest) if latest is not None and latest.day == day else None


def _done(turn: Turn, occurrence: Occurrence, action: Mapping[str, Any]) -> list[Reply]:
    place = action.get("place")
    items = [
        item
        for item in items_now(turn, occurrence)
        if by_button(item) and (place is None or same_place(place_of(turn, item), place))
    ]
    return tick(turn, occurrence, items, refused=(), in_place=True)


def _some(turn: Turn, occurrence: Occurrence, action: Mapping[str, Any]) -> list[Reply]:
    return some_refused(turn, occurrence, action, in_place=True)


def some_refused(
    turn: Turn, occurrence: Occurrence, action: Mapping[str, Any], *, in_place: bool = False
) -> list[Reply]:
    """Who refused is ticked animal by animal; "save" stores the rest as taken."""
    refused = list(action.get("refused", []))
    open_feeds = feeds(items_now(turn, occurrence))[:_TOGGLES]
    toggles = []
    for item in open_feeds:
        tag = item["tag"]
        now = [t for t in refused if t != tag] if tag in refused else [*refused, tag]
        label = say("round.refused_mark", who=turn.called(tag)) if tag in refused else turn.called(tag)
        toggles.append(Choice(label, does(occurrence, "some", refused=now)))
    save = Choice(say("round.save", n=len(refused)), does(occurrence, "save", refused=refused))
    back = Choice(say("round.back"), does(occurrence, "back"))
    return [turn.reply(say("round.who_refused"), [*rows_of(toggles), [save, back]], in_place=in_place)]


def _save(turn: Turn, occurrence: Occurrence, action: Mapping[str, Any]) -> list[Reply]:
    asked = feeds(items_now(turn, occurrence))[:_TOGGLES]
    return tick(turn, occurrence, asked, refused=action["refused"], in_place=True)


def _watered(turn: Turn, occurrence: Occurrence, _action: Mapping[str, Any]) -> list[Reply]:
    return tick(turn, occurrence, waters(items_now(turn, occurrence)), refused=(), in_place=False)


def _took(turn: Turn, occurrence: Occurrence, _action: Mapping[str, Any]) -> list[Reply]:
    return tick(turn, occurrence, feeds(items_now(turn, occurrence)), refused=(), in_place=False)


def _dated(turn: Turn, occurrence: Occurrence, action: Mapping[str, Any]) -> list[Reply]:
    """On which day it was done has been answered."""
    entries = reading_from_store(action["reading"]).entries
    return store_and_show(turn, occurrence, entries, in_place=False)


def _back(turn: Turn, occurrence: Occurrence, _action: Mapping[str, Any]) -> list[Reply]:
    return [shown(turn, occurrence, items_now(turn, occurrence), in_place=True)]


def _outcome(turn: Turn, occurrence: Occurrence, action: Mapping[str, Any]) -> list[Reply]:
    """The offer's outcome, on the day it was offered, with what was offered."""
    offered = turn.work.journal.last(turn.shelf_id, action["tag"], (Kind.OFFERED,))
    if offered is None:
        return [shown(turn, occurrence, items_now(turn, occurrence), in_place=True)]
    entry = replace(offered.entry, kind=Kind(action["kind"]))
    return store_and_show(turn, occurrence, (entry,), in_place=True)


def _fangs(turn: Turn, occurrence: Occurrence, action: Mapping[str, Any]) -> list[Reply]:
    """How the fangs were found, as a note of the day."""
    note = say("round.note_black") if action["black"] else say("round.note_soft")
    entry = Entry(kind=Kind.NOTE, day=turn.today, specimens=(action["tag"],), note=note)
    return store_and_show(turn, occurrence, (entry,), in_place=True)


def skip(turn: Turn, occurrence: Occurrence, action: Mapping[str, Any]) -> list[Reply]:
    """What is left of this round is not done, or what is left of it for some animals. Can be undone."""
    tags, before = action.get("tags"), items_now(turn, occurrence)
    put_by = [item for item in before if is_open(item) and (tags is None or item["tag"] in tags)]
    if not put_by:
        return [turn.reply(say("round.nothing_of_that"))]
    items = [item | {"state": SKIPPED} if item in put_by else item for item in before]
    turn.work.rounds.save(occurrence.id, items)
    skipped = list(dict.fromkeys(item["tag"] for item in put_by))
    again = {"do": "round_again", "day": occurrence.day.isoformat(), "tags": skipped}
    turn.remember(elsewhere=again)
    undo = [[Choice(say("button.undo"), again)]]
    if any(map(is_open, items)):
        names = wording.listed([turn.called(tag) for tag in skipped])
        return [turn.reply(say("round.skipped_some", names=names), undo)]
    turn.work.rounds.close(occurrence.id, turn.incoming.sent_at)
    return [turn.reply(say("round.skipped"), undo, in_place=turn.incoming.pressed is not None)]


def pressed_again(turn: Turn, _prompt: Prompt | None, action: Mapping[str, Any]) -> list[Reply]:
    """What was skipped is open again, unless another round has come since."""
    occurrence = turn.work.rounds.latest(turn.keeper.id)
    turn.remember(elsewhere=None)
    if occurrence is None or occurrence.day.isoformat() != action["day"]:
        return [over(turn, action)]
    items = [
        item | {"state": OPEN} if item["state"] == SKIPPED and item["tag"] in action["tags"] else item
        for item in items_now(turn, occurrence)
    ]
    turn.work.rounds.reopen(occurrence.id, items)
    return [turn.reply(say("round.open_again")), shown(turn, occurrence, items, brief=True)]


def later(turn: Turn, occurrence: Occurrence, action: Mapping[str, Any]) -> list[Reply]:
    """Once more ``at`` that moment or in the evening, before the quiet hours; else it just stays open.

    The latest word on it holds: a second look that is yet to come gives way.
    """
    items, at, tags = items_now(turn, occurrence), action.get("at"), action.get("tags")
    looks = turn.work.reminders.second_looks(turn.shelf_id, turn.keeper.id)
    if at is None and looks and any(item["state"] == LATER for item in items):
        return [turn.reply(say("round.stays"))]
    put_by = [item for item in items if is_open(item) and (tags is None or item["tag"] in tags)]
    if not put_by:
        return [turn.reply(say("round.nothing_of_that"))]
    items = [item | {"state": LATER} if item in put_by else item for item in items]
    turn.work.rounds.save(occurrence.id, items)
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
    back = {
        "do": "round_not_later",
        "day": occurrence.day.isoformat(),
        "change": change_id,
        "earlier": [one.id for one in looks],
    }
    text = say("round.comes_back", time=wording.clock(local))
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
        time = wording.clock(looks[0].next_at.astimezone(turn.now.tzinfo))
        return [turn.reply(say("round.comes_back", time=time))]
    occurrence = still_open(turn, date.fromisoformat(action["day"]))
    if occurrence is None:
        return [over(turn, action)]
    items = items_now(turn, occurrence)
    open_again = [item | {"state": OPEN} if item["state"] == LATER else item for item in items]
    turn.work.rounds.save(occurrence.id, open_again)
    return [turn.reply(say("round.stays"))]


def _later(turn: Turn, occurrence: Occurrence, action: Mapping[str, Any]) -> list[Reply]:
    """The button: the round stays as it is shown, with buttons that still act."""
    replies = later(turn, occurrence, action)
    return [shown(turn, occurrence, items_now(turn, occurrence), in_place=True), *replies]


def _this_evening(turn: Turn) -> datetime | None:
    evening = instant_of(turn.today, _EVENING, turn.settings.zone)
    moment = max(evening, turn.incoming.sent_at + _LATER_AFTER)
    local = moment.astimezone(turn.now.tzinfo)
    quiet = turn.settings.quiet_from
    past = quiet > _EVENING and local.time() >= quiet
    return None if local.date() != turn.today or past else moment


_ACTS: Final[dict[str, Callable[[Turn, Occurrence, Mapping[str, Any]], list[Reply]]]] = {
    "done": _done,
    "some": _some,
    "save": _save,
    "took": _took,
    "watered": _watered,
    "dated": _dated,
    "outcome": _outcome,
    "fangs": _fangs,
    "back": _back,
    "skip": skip,
    "later": _later,
}
