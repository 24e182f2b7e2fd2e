"""The round as it is shown: its text, its buttons, and how far it is by the journal."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any, Final

from bot.conversation.helper_words import for_helper
from bot.conversation.model import Reply
from bot.conversation.pages import fit
from bot.conversation.round_items import items_now
from bot.conversation.round_state import FANGS, OFFERS
from bot.conversation.round_words import Item, is_open, places_of, round_text
from bot.conversation.texts import say
from bot.conversation.turn import Choice, Turn, rows_of
from bot.round.model import TaskKind
from bot.terms import Kind
from storage.records import Occurrence

_PLACE_BUTTONS: Final = 8


_OFFERS_SHOWN: Final = 4


#: Looks that "done" answers by itself, with a `checked`; the others have an outcome to be told.
_LOOKS: Final = frozenset({"check_sealed", "check_premolt", "check_offer_sealed"})


def newest_open(turn: Turn) -> Occurrence | None:
    """The newest round, unless it is closed or older than yesterday's."""
    latest = turn.work.rounds.latest(turn.keeper.id)
    if latest is None or (turn.today - latest.day).days > 1:
        return None
    return open_or_again(turn, latest)


def open_or_again(turn: Turn, occurrence: Occurrence) -> Occurrence | None:
    """A round that is open; one that was done is open again where what ended it was taken back."""
    if occurrence.closed_at is None:
        return occurrence
    items = items_now(turn, occurrence)
    if not any(map(is_open, items)):
        return None
    turn.work.rounds.reopen(occurrence.id, items)
    return turn.work.rounds.of_day(turn.keeper.id, occurrence.day)


def shown(
    turn: Turn,
    occurrence: Occurrence,
    items: Sequence[Item],
    *,
    late: bool = False,
    in_place: bool = False,
    brief: bool = False,
) -> Reply:
    """The round with its buttons; ``brief``: what is left of it."""
    text = round_text(items, turn.shelf.by_tag, occurrence.day, turn.today, late=late, brief=brief)
    if turn.helps:
        text = for_helper(turn, text, items)
    return fit(turn, text, _buttons(turn, occurrence, items), in_place=in_place)


def _buttons(turn: Turn, occurrence: Occurrence, items: Sequence[Item]) -> list[list[Choice]]:
    offers = [row for item in items if is_open(item) and (row := _outcomes(turn, occurrence, item))]
    if not any(by_button(item) for item in items):
        return offers[:_OFFERS_SHOWN]
    places = places_of([item for item in items if by_button(item)], turn.shelf.by_tag)
    rows: list[list[Choice]] = []
    if len(places) > 1:
        rows += rows_of(
            [
                Choice(say("round.place_done", place=place), does(occurrence, "done", place=place))
                for place in places[:_PLACE_BUTTONS]
            ]
        )
    all_done = Choice(say("round.all_done_button"), does(occurrence, "done"))
    some = Choice(say("round.some_refused"), does(occurrence, "some"))
    rows.append([all_done, some] if feeds(items) else [all_done])
    rows += offers[:_OFFERS_SHOWN]
    rows.append(
        [
            Choice(say("round.later"), does(occurrence, "later")),
            Choice(say("round.skip"), does(occurrence, "skip")),
        ]
    )
    return rows


def _outcomes(turn: Turn, occurrence: Occurrence, item: Item) -> list[Choice]:
    """What became of an offer, or how fangs were found: two buttons for one animal; none for other items."""
    who, tag, key = turn.called(item["tag"]), item["tag"], item.get("key")
    if key in FANGS:
        return [
            Choice(say("round.fangs_black", who=who), does(occurrence, "fangs", tag=tag, black=True)),
            Choice(say("round.fangs_soft", who=who), does(occurrence, "fangs", tag=tag, black=False)),
        ]
    if key not in OFFERS:
        return []
    return [
        Choice(say("round.ate_it", who=who), does(occurrence, "outcome", tag=tag, kind=Kind.FED.value)),
        Choice(say("round.left_it", who=who), does(occurrence, "outcome", tag=tag, kind=Kind.REFUSED.value)),
    ]


def does(occurrence: Occurrence, act: str, **more: Any) -> dict[str, Any]:
    """What a button of a round does."""
    return {"do": "round", "act": act, "day": occurrence.day.isoformat(), **more}


def feeds(items: Iterable[Item]) -> list[Item]:
    """The feedings that are still open."""
    return [item for item in items if item["task"] == TaskKind.FEED and is_open(item)]


def waters(items: Iterable[Item]) -> list[Item]:
    """The waterings that are still open."""
    return [item for item in items if item["task"] == TaskKind.WATER and is_open(item)]


def by_button(item: Item) -> bool:
    """Whether "done" can answer an item: it is open, and what it stores is sure."""
    if not is_open(item):
        return False
    return item["task"] in (TaskKind.FEED, TaskKind.WATER) or item.get("key") in _LOOKS


def place_of(turn: Turn, item: Item) -> str | None:
    """Where the animal of an item stands."""
    animal = turn.shelf.by_tag.get(item["tag"])
    return animal.place if animal else None
