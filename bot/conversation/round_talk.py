"""The round as a conversation: the morning's message, its buttons, and answers in words.

What the journal shows as done that day is ticked by itself, whoever told it and how: an item is open or
done by the facts, and only "later" and "skip" are kept as marks. "All done" stores what was listed;
what has an outcome that only the keeper knows (an offer still open) or that is told in its own words (a
rehousing) stays open. An animal excepted gets no entry.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Mapping, Sequence
from dataclasses import replace
from datetime import date, datetime, time, timedelta
from typing import Any, Final

from bot.conversation import wording
from bot.conversation.log import Storing, store
from bot.conversation.model import Reply
from bot.conversation.pages import fit
from bot.conversation.reminders import instant
from bot.conversation.round_state import OFFERS, settled
from bot.conversation.round_words import (
    LATER,
    OPEN,
    SKIPPED,
    Item,
    is_open,
    items_of,
    places_of,
    round_text,
)
from bot.conversation.tags import same_place
from bot.conversation.texts import say
from bot.conversation.turn import Choice, Turn, rows_of
from bot.reading.instructions import whom
from bot.reading.model import Reading, ReadingKind
from bot.reading.round_answers import RoundAnswer, Said, read_round_answer
from bot.round.model import TaskKind
from bot.round.worklist import worklist
from bot.terms import Entry, Kind, PreySize
from storage.records import Occurrence, Prompt

_PLACE_BUTTONS: Final = 8
_TOGGLES: Final = 60
_OFFERS_SHOWN: Final = 4
_EVENING: Final = time(18, 0)
_LATER_AFTER: Final = timedelta(hours=2)

#: Looks that "done" answers by itself, with a `checked`; the others have an outcome to be told.
_LOOKS: Final = frozenset(
    {"check_fangs", "check_opened", "check_sealed", "check_premolt", "check_offer_sealed"}
)


# --- the message ----------------------------------------------------------------------------


def open_round(turn: Turn, day: date, *, late: bool) -> list[Reply]:
    """Opens the round of a day and words it; nothing where nothing is due or it was opened before."""
    items = items_of(worklist(turn.facts.all(), day), turn.settings)
    if not any(is_open(item) for item in items):
        return []
    at = turn.incoming.sent_at
    occurrence = turn.work.rounds.open_(turn.keeper.id, turn.shelf_id, day, due_at=at, tasks=items, at=at)
    return [] if occurrence is None else [_shown(turn, occurrence, items, late=late)]


def _shown(
    turn: Turn,
    occurrence: Occurrence,
    items: Sequence[Item],
    *,
    late: bool = False,
    in_place: bool = False,
    brief: bool = False,
) -> Reply:
    text = round_text(items, turn.shelf.by_tag, occurrence.day, turn.today, late=late, brief=brief)
    return fit(turn, text, _buttons(turn, occurrence, items), in_place=in_place)


def _buttons(turn: Turn, occurrence: Occurrence, items: Sequence[Item]) -> list[list[Choice]]:
    offers = [
        _outcomes(turn, occurrence, item) for item in items if is_open(item) and item.get("key") in OFFERS
    ]
    if not any(_by_button(item) for item in items):
        return offers[:_OFFERS_SHOWN]
    places = places_of([item for item in items if _by_button(item)], turn.shelf.by_tag)
    rows: list[list[Choice]] = []
    if len(places) > 1:
        rows += rows_of(
            [
                Choice(say("round.place_done", place=place), _do(occurrence, "done", place=place))
                for place in places[:_PLACE_BUTTONS]
            ]
        )
    all_done = Choice(say("round.all_done_button"), _do(occurrence, "done"))
    some = Choice(say("round.some_refused"), _do(occurrence, "some"))
    rows.append([all_done, some] if _feeds(items) else [all_done])
    rows += offers[:_OFFERS_SHOWN]
    rows.append(
        [
            Choice(say("round.later"), _do(occurrence, "later")),
            Choice(say("round.skip"), _do(occurrence, "skip")),
        ]
    )
    return rows


def _outcomes(turn: Turn, occurrence: Occurrence, item: Item) -> list[Choice]:
    """What became of an offer: two buttons for one animal."""
    who, tag = turn.called(item["tag"]), item["tag"]
    return [
        Choice(say("round.ate_it", who=who), _do(occurrence, "outcome", tag=tag, kind=Kind.FED.value)),
        Choice(say("round.left_it", who=who), _do(occurrence, "outcome", tag=tag, kind=Kind.REFUSED.value)),
    ]


def _do(occurrence: Occurrence, act: str, **more: Any) -> dict[str, Any]:
    return {"do": "round", "act": act, "day": occurrence.day.isoformat(), **more}


def _items(turn: Turn, occurrence: Occurrence) -> list[Item]:
    items = [dict(item) for item in occurrence.tasks]
    turn.facts.fetch(item["tag"] for item in items)
    return settled(items, turn.facts, occurrence.day, turn.settings)


def _feeds(items: Iterable[Item]) -> list[Item]:
    return [item for item in items if item["task"] == TaskKind.FEED and is_open(item)]


def _by_button(item: Item) -> bool:
    """Whether "done" can answer an item: it is open, and what it stores is sure."""
    if not is_open(item):
        return False
    return item["task"] in (TaskKind.FEED, TaskKind.WATER) or item.get("key") in _LOOKS


# --- buttons --------------------------------------------------------------------------------


def pressed(turn: Turn, _prompt: Prompt, action: Mapping[str, Any]) -> list[Reply]:
    """A button of a round: acts on that round, or says that it is over."""
    occurrence = _still_open(turn, date.fromisoformat(action["day"]))
    if occurrence is None:
        day = wording.day_in_full(date.fromisoformat(action["day"]), turn.today)
        return [turn.reply(say("round.over", day=day))]
    return _ACTS[action["act"]](turn, occurrence, action)


def _still_open(turn: Turn, day: date) -> Occurrence | None:
    """The round of that day, unless it was closed or a later one has come."""
    latest = turn.work.rounds.latest(turn.keeper.id)
    return latest if latest is not None and latest.day == day and latest.closed_at is None else None


def _done(turn: Turn, occurrence: Occurrence, action: Mapping[str, Any]) -> list[Reply]:
    place = action.get("place")
    items = [
        item
        for item in _items(turn, occurrence)
        if _by_button(item) and (place is None or same_place(_place(turn, item), place))
    ]
    return _tick(turn, occurrence, items, refused=(), in_place=True)


def _some(turn: Turn, occurrence: Occurrence, action: Mapping[str, Any]) -> list[Reply]:
    """Who refused is ticked animal by animal; "save" stores the rest as taken."""
    refused = list(action.get("refused", []))
    feeds = _feeds(_items(turn, occurrence))[:_TOGGLES]
    toggles = []
    for item in feeds:
        tag = item["tag"]
        now = [t for t in refused if t != tag] if tag in refused else [*refused, tag]
        label = say("round.refused_mark", who=turn.called(tag)) if tag in refused else turn.called(tag)
        toggles.append(Choice(label, _do(occurrence, "some", refused=now)))
    save = Choice(say("round.save", n=len(refused)), _do(occurrence, "save", refused=refused))
    back = Choice(say("round.back"), _do(occurrence, "back"))
    return [turn.reply(say("round.who_refused"), [*rows_of(toggles), [save, back]], in_place=True)]


def _save(turn: Turn, occurrence: Occurrence, action: Mapping[str, Any]) -> list[Reply]:
    return _tick(turn, occurrence, _feeds(_items(turn, occurrence)), refused=action["refused"], in_place=True)


def _back(turn: Turn, occurrence: Occurrence, _action: Mapping[str, Any]) -> list[Reply]:
    return [_shown(turn, occurrence, _items(turn, occurrence), in_place=True)]


def _outcome(turn: Turn, occurrence: Occurrence, action: Mapping[str, Any]) -> list[Reply]:
    """The offer's outcome, on the day it was offered, with what was offered."""
    offered = turn.work.journal.last(turn.shelf_id, action["tag"], (Kind.OFFERED,))
    if offered is None:
        return [_shown(turn, occurrence, _items(turn, occurrence), in_place=True)]
    entry = replace(offered.entry, kind=Kind(action["kind"]))
    return _store_and_show(turn, occurrence, (entry,), in_place=True)


def _skip(turn: Turn, occurrence: Occurrence, _action: Mapping[str, Any]) -> list[Reply]:
    items = [item | {"state": SKIPPED} if is_open(item) else item for item in _items(turn, occurrence)]
    turn.work.rounds.save(occurrence.id, items)
    turn.work.rounds.close(occurrence.id, turn.incoming.sent_at)
    return [turn.reply(say("round.skipped"), in_place=True)]


def _later(turn: Turn, occurrence: Occurrence, _action: Mapping[str, Any]) -> list[Reply]:
    """Once more in the evening, if there still is one before the quiet hours; else it just stays open."""
    items = _items(turn, occurrence)
    if any(item["state"] == LATER for item in items):
        return [turn.reply(say("round.stays"))]
    items = [item | {"state": LATER} if is_open(item) else item for item in items]
    turn.work.rounds.save(occurrence.id, items)
    moment = _this_evening(turn)
    if moment is None:
        return [turn.reply(say("round.stays"))]
    change_id = turn.work.journal.change(turn.shelf_id, turn.keeper.id, at=turn.incoming.sent_at, origin=None)
    local = moment.astimezone(turn.now.tzinfo)
    turn.work.reminders.add(
        change_id,
        what=say("round.rest_of_it"),
        tags=(),
        next_at=moment,
        day=local.date(),
        time=local.time(),
        every_days=None,
        zone=turn.settings.zone,
    )
    return [turn.reply(say("round.comes_back", time=wording.clock(local)))]


def _this_evening(turn: Turn) -> datetime | None:
    evening = instant(turn.now.date(), _EVENING, turn.settings.zone)
    moment = max(evening, turn.incoming.sent_at + _LATER_AFTER)
    local = moment.astimezone(turn.now.tzinfo)
    quiet = turn.settings.quiet_from
    past = quiet > _EVENING and local.time() >= quiet
    return None if local.date() != turn.now.date() or past else moment


_ACTS: Final[dict[str, Callable[[Turn, Occurrence, Mapping[str, Any]], list[Reply]]]] = {
    "done": _done,
    "some": _some,
    "save": _save,
    "outcome": _outcome,
    "back": _back,
    "skip": _skip,
    "later": _later,
}


# --- in words -------------------------------------------------------------------------------


def typed(turn: Turn) -> list[Reply] | None:
    """A message read as an answer to the newest open round; ``None`` where it is none."""
    answer = read_round_answer(turn.incoming.text)
    if answer is None:
        return None
    latest = _newest_open(turn)
    if latest is None:
        plain = not answer.out and not answer.only and answer.said not in (Said.TOOK, Said.REFUSED)
        return [turn.reply(say("round.none_open"))] if plain else None
    if answer.said is Said.LATER:
        return _later(turn, latest, {})
    if answer.said is Said.SKIP:
        return _skip(turn, latest, {})
    return _answered(turn, latest, answer)


def _newest_open(turn: Turn) -> Occurrence | None:
    """The newest round, unless it is closed or older than yesterday's."""
    latest = turn.work.rounds.latest(turn.keeper.id)
    if latest is None or latest.closed_at is not None or (turn.today - latest.day).days > 1:
        return None
    return latest


def come_back(turn: Turn) -> list[Reply]:
    """The evening's second look: what is left of the round, or nothing where nothing is."""
    latest = _newest_open(turn)
    if latest is None:
        return []
    items = _items(turn, latest)
    return [_shown(turn, latest, items, brief=True)] if any(map(is_open, items)) else []


def _answered(turn: Turn, occurrence: Occurrence, answer: RoundAnswer) -> list[Reply] | None:
    items = [
        item for item in _items(turn, occurrence) if _by_button(item) and item["task"] in _MEANT[answer.said]
    ]
    out, unknown = _meant_by(turn, answer.out, items)
    only, strange = _meant_by(turn, answer.only, items)
    if strange:
        return None
    if unknown:
        return [turn.reply(say("round.who_is", words=unknown[0]))]
    chosen = [item for item in items if item["tag"] not in out and (not answer.only or item["tag"] in only)]
    if not chosen:
        return [_nothing_left(turn, occurrence)]
    refused = [item["tag"] for item in chosen] if answer.said is Said.REFUSED else []
    return _tick(turn, occurrence, chosen, refused=refused, in_place=False)


def _nothing_left(turn: Turn, occurrence: Occurrence) -> Reply:
    if any(is_open(item) for item in _items(turn, occurrence)):
        return turn.reply(say("round.nothing_of_that"))
    turn.work.rounds.close(occurrence.id, turn.incoming.sent_at)
    return turn.reply(say("round.finished"))


_EVERYTHING: Final = frozenset({TaskKind.FEED.value, TaskKind.WATER.value, TaskKind.CHECK.value})
_MEANT: Final[dict[Said, frozenset[str]]] = {
    Said.DONE: _EVERYTHING,
    Said.TOOK: frozenset({TaskKind.FEED.value}),
    Said.REFUSED: frozenset({TaskKind.FEED.value}),
    Said.WATERED: frozenset({TaskKind.WATER.value}),
}


def _meant_by(turn: Turn, words: Sequence[str], items: Sequence[Item]) -> tuple[set[str], list[str]]:
    """The animals of the round that words name, by name, tag, place, or the number a tag ends with."""
    meant: set[str] = set()
    unknown: list[str] = []
    for part in words:
        tags = _one_meant(turn, part, items)
        if tags:
            meant |= set(tags)
        else:
            unknown.append(part)
    return meant, unknown


def _one_meant(turn: Turn, part: str, items: Sequence[Item]) -> Collection[str]:
    there = [
        item["tag"]
        for item in items
        if same_place(_place(turn, item), part) or _short_place(turn, item, part)
    ]
    if there:
        return there
    tags = whom(part, turn.shelf.names)
    if len(tags) > 1:
        tags = tuple(tag for tag in tags if any(item["tag"] == tag for item in items))
    if not tags and part.isdecimal():
        tags = tuple({item["tag"] for item in items if _ends_with(item["tag"], int(part))})
    return tags if len(tags) == 1 else ()


def _ends_with(tag: str, number: int) -> bool:
    digits = tag[len(tag.rstrip("0123456789")) :]
    return bool(digits) and int(digits) == number


def _short_place(turn: Turn, item: Item, part: str) -> bool:
    """ "B" for "shelf B"."""
    words = (_place(turn, item) or "").split()
    return (
        not part.isdecimal()
        and len(words) > 1
        and len(words[-1]) <= 2
        and words[-1].casefold() == part.casefold()
    )


def _place(turn: Turn, item: Item) -> str | None:
    animal = turn.shelf.by_tag.get(item["tag"])
    return animal.place if animal else None


# --- what is stored -------------------------------------------------------------------------


def _tick(
    turn: Turn, occurrence: Occurrence, items: Sequence[Item], *, refused: Collection[str], in_place: bool
) -> list[Reply]:
    """Stores what was done, as it was listed."""
    return _store_and_show(turn, occurrence, _entries(turn, items, refused), in_place=in_place)


def _store_and_show(
    turn: Turn, occurrence: Occurrence, entries: tuple[Entry, ...], *, in_place: bool
) -> list[Reply]:
    replies: list[Reply] = []
    if entries:
        reading = Reading(reading=ReadingKind.ENTRIES, text=turn.incoming.text, entries=entries)
        replies = store(turn, reading, Storing(origin=turn.origin, brief=True))
    left = _items(turn, occurrence)
    turn.work.rounds.save(occurrence.id, left)
    if any(item["state"] in (OPEN, LATER) for item in left):
        shown = _shown(turn, occurrence, left, in_place=in_place, brief=not in_place)
        return [shown, *replies] if in_place else [*replies, shown]
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


_ITEM_FIELDS: Final = ("kind", "day", "prey", "count", "size")
_KIND_OF: Final = {TaskKind.WATER.value: Kind.WATERED, TaskKind.CHECK.value: Kind.CHECKED}


def _entry(turn: Turn, item: Item, refused: Collection[str]) -> Entry:
    if item["task"] != TaskKind.FEED:
        return Entry(kind=_KIND_OF[item["task"]], day=turn.today)
    return Entry(
        kind=Kind.REFUSED if item["tag"] in refused else Kind.FED,
        day=turn.today,
        prey=item.get("prey"),
        count=item.get("count"),
        size=PreySize(item["size"]) if item.get("size") else None,
    )
