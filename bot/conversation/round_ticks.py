"""What is ticked off in a round goes into the journal as it was listed; the rest of the round is shown."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import replace
from typing import Final

from bot.conversation import wording
from bot.conversation.log import Storing, store
from bot.conversation.model import Reply
from bot.conversation.round_board import does, shown
from bot.conversation.round_items import items_now
from bot.conversation.round_words import LATER, OPEN, Item
from bot.conversation.texts import say
from bot.conversation.turn import Choice, Turn, rows_of
from bot.reading import reading_to_store
from bot.reading.model import Reading, ReadingKind
from bot.round.model import TaskKind
from bot.terms import Entry, Kind, PreySize, WaterHow
from storage.records import Occurrence

_ITEM_FIELDS: Final = ("kind", "day", "prey", "count", "size", "how")

#: Where water went, by the reason of a line that asks for it in one place only.
_HOW: Final = {
    "water_dish": WaterHow.DISH,
    "water_substrate": WaterHow.SUBSTRATE,
    "water_sealed": WaterHow.SUBSTRATE,
}

_KIND_OF: Final = {TaskKind.WATER.value: Kind.WATERED, TaskKind.CHECK.value: Kind.CHECKED}


def tick(
    turn: Turn,
    occurrence: Occurrence,
    items: Sequence[Item],
    *,
    refused: Collection[str],
    beside: Sequence[Entry] = (),
    in_place: bool,
) -> list[Reply]:
    """Stores what was done, as it was listed, and what was told ``beside`` it.

    It was done today; where the round is an earlier day's, it is asked on which of the two days.
    """
    entries = (*_entries(turn, items, refused), *beside)
    if entries and occurrence.day != turn.today:
        return [_on_which_day(turn, occurrence, entries)]
    return store_and_show(turn, occurrence, entries, in_place=in_place)


def _on_which_day(turn: Turn, occurrence: Occurrence, entries: Sequence[Entry]) -> Reply:
    choices = []
    for day in (occurrence.day, turn.today):
        dated = tuple(replace(entry, day=day) if entry.day == turn.today else entry for entry in entries)
        reading = Reading(reading=ReadingKind.ENTRIES, text=turn.incoming.text, entries=dated)
        label = wording.capital(wording.day_in_full(day, turn.today))
        choices.append(Choice(label, does(occurrence, "dated", reading=reading_to_store(reading))))
    told = wording.day_in_full(occurrence.day, turn.today)
    return turn.reply(say("round.which_day", day=told), rows_of(choices, 1), pending={})


def store_and_show(
    turn: Turn, occurrence: Occurrence, entries: tuple[Entry, ...], *, in_place: bool
) -> list[Reply]:
    """Stores entries that answer the round, and shows what is left of it; closes it where nothing is."""
    replies: list[Reply] = []
    if entries:
        reading = Reading(reading=ReadingKind.ENTRIES, text=turn.incoming.text, entries=entries)
        replies = store(turn, reading, Storing(origin=turn.origin, brief=True))
    left = items_now(turn, occurrence)
    turn.work.rounds.save(occurrence.id, left)
    if any(item["state"] in (OPEN, LATER) for item in left):
        reply = shown(turn, occurrence, left, in_place=in_place, brief=not in_place)
        return [reply, *replies] if in_place else [*replies, reply]
    turn.work.rounds.close(occurrence.id, turn.incoming.sent_at)
    return [turn.reply(say("round.finished"), in_place=in_place), *replies]


def _entries(turn: Turn, items: Sequence[Item], refused: Collection[str]) -> tuple[Entry, ...]:
    """One entry for all animals that share it."""
    groups: dict[Entry, list[str]] = {}
    for item in items:
        groups.setdefault(_entry(turn, item, refused), []).append(item["tag"])
    order = list(turn.shelf.by_tag)
    return tuple(
        Entry(
            **{name: getattr(entry, name) for name in _ITEM_FIELDS},
            specimens=tuple(sorted(tags, key=order.index)),
        )
        for entry, tags in groups.items()
    )


def _entry(turn: Turn, item: Item, refused: Collection[str]) -> Entry:
    if item["task"] != TaskKind.FEED:
        return Entry(kind=_KIND_OF[item["task"]], day=turn.today, how=_HOW.get(item.get("key", "")))
    return Entry(
        kind=Kind.REFUSED if item["tag"] in refused else Kind.FED,
        day=turn.today,
        prey=item.get("prey"),
        count=item.get("count"),
        size=PreySize(item["size"]) if item.get("size") else None,
    )
