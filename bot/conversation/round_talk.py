"""The round as a conversation: the morning's message, its buttons, and answers in words.

What the journal shows as done that day is ticked by itself, whoever told it and how: an item is open or
done by the facts, and only "later" and "skip" are kept as marks. "All done" stores what was listed;
what has an outcome that only the keeper knows (an offer still open) or that is told in its own words (a
rehousing) stays open. An animal excepted gets no entry.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from typing import Any, Final

from bot.conversation.model import Reply
from bot.conversation.round_board import (
    at_place,
    by_button,
    does,
    feeds,
    newest_open,
    of_whom,
    over,
    place_shown,
    shown,
    still_open,
    waters,
)
from bot.conversation.round_items import items_now
from bot.conversation.round_put_off import later, skip
from bot.conversation.round_ticks import store_and_show, tick
from bot.conversation.round_words import Item, is_open
from bot.conversation.texts import say
from bot.conversation.turn import Choice, Turn, rows_of
from bot.reading import reading_from_store
from bot.terms import Entry, Kind
from storage.records import Occurrence, Prompt

_TOGGLES: Final = 60
#: What tells for which animals of a round an action is: a place is looked up anew with each press.
_OF_WHOM: Final = ("place", "tags")


def come_back(turn: Turn) -> list[Reply]:
    """The evening's second look: what is left of the round, or nothing where nothing is."""
    latest = newest_open(turn, of_the_shelf=True)
    if latest is None:
        return []
    items = items_now(turn, latest)
    return [shown(turn, latest, items, brief=True)] if any(map(is_open, items)) else []


def pressed(turn: Turn, _prompt: Prompt, action: Mapping[str, Any]) -> list[Reply]:
    """A button of a round: acts on that round, or says that it is over."""
    occurrence = still_open(turn, action)
    if occurrence is None:
        return [over(turn, action)]
    return _ACTS[action["act"]](turn, occurrence, _for_whom(turn, occurrence, action))


def _for_whom(turn: Turn, occurrence: Occurrence, action: Mapping[str, Any]) -> Mapping[str, Any]:
    """The action with the animals that it is for, where it is for those of one place."""
    if action.get("place") is None:
        return action
    there = at_place(turn, items_now(turn, occurrence), action["place"])
    return {**action, "tags": list(dict.fromkeys(item["tag"] for item in there))}


def _done(turn: Turn, occurrence: Occurrence, action: Mapping[str, Any]) -> list[Reply]:
    items = list(filter(by_button, of_whom(items_now(turn, occurrence), action)))
    return tick(turn, occurrence, items, refused=(), in_place=True)


def _place(turn: Turn, occurrence: Occurrence, action: Mapping[str, Any]) -> list[Reply]:
    """One place alone, with the buttons that the whole round has."""
    return [place_shown(turn, occurrence, items_now(turn, occurrence), action["place"])]


def _some(turn: Turn, occurrence: Occurrence, action: Mapping[str, Any]) -> list[Reply]:
    return some_refused(turn, occurrence, action, in_place=True)


def some_refused(
    turn: Turn, occurrence: Occurrence, action: Mapping[str, Any], *, in_place: bool = False
) -> list[Reply]:
    """Who refused is ticked animal by animal; "save" stores the rest as taken."""
    refused = list(action.get("refused", []))
    of = next(({key: action[key]} for key in _OF_WHOM if key in action), {})
    asked = _fed_or_refused(turn, occurrence, action)
    if not asked:
        return [shown(turn, occurrence, items_now(turn, occurrence), in_place=in_place)]
    toggles = []
    for item in asked:
        tag = item["tag"]
        now = [t for t in refused if t != tag] if tag in refused else [*refused, tag]
        label = say("round.refused_mark", who=turn.called(tag)) if tag in refused else turn.called(tag)
        toggles.append(Choice(label, does(occurrence, "some", refused=now, **of)))
    save = Choice(say("round.save", n=len(refused)), does(occurrence, "save", refused=refused, **of))
    back = Choice(say("round.back"), does(occurrence, "place" if "place" in of else "back", **of))
    return [turn.reply(say("round.who_refused"), [*rows_of(toggles), [save, back]], in_place=in_place)]


def _fed_or_refused(turn: Turn, occurrence: Occurrence, action: Mapping[str, Any]) -> list[Item]:
    return feeds(of_whom(items_now(turn, occurrence), action))[:_TOGGLES]


def _save(turn: Turn, occurrence: Occurrence, action: Mapping[str, Any]) -> list[Reply]:
    asked = _fed_or_refused(turn, occurrence, action)
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


def _later(turn: Turn, occurrence: Occurrence, action: Mapping[str, Any]) -> list[Reply]:
    """The button: the round stays as it is shown, with buttons that still act."""
    return _beside_the_round(turn, occurrence, later(turn, occurrence, action))


def _skip(turn: Turn, occurrence: Occurrence, action: Mapping[str, Any]) -> list[Reply]:
    """The button: what it leaves of the round stays shown."""
    replies = skip(turn, occurrence, action)
    return replies if replies[0].edits_pressed else _beside_the_round(turn, occurrence, replies)


def _beside_the_round(turn: Turn, occurrence: Occurrence, replies: Sequence[Reply]) -> list[Reply]:
    """The whole round in its own message, as it is now, before what is said of a press."""
    marked = turn.work.rounds.get(occurrence.id) or occurrence
    return [shown(turn, marked, items_now(turn, marked), in_place=True), *replies]


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
    "place": _place,
    "skip": _skip,
    "later": _later,
}
