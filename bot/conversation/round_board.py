"""The round as it is shown: its text, its buttons, and how far it is by the journal."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Mapping, Sequence
from datetime import date, time
from typing import Any, Final

from bot.conversation import wording
from bot.conversation.helper_words import for_helper
from bot.conversation.model import Reply
from bot.conversation.pages import fit
from bot.conversation.people import others_of
from bot.conversation.round_items import items_now
from bot.conversation.round_state import FANGS, OFFERS
from bot.conversation.round_words import LATER, Item, is_open, places_of, round_text
from bot.conversation.tags import same_place
from bot.conversation.texts import say
from bot.conversation.turn import Choice, Turn, rows_of
from bot.round.model import TaskKind
from bot.terms import Kind
from storage.records import Occurrence, ShownRound

#: So many places have a button; as they are answered, others take their room.
_PLACES_SHOWN: Final = 12

#: So many places stand in a row where the longest name has no more letters than the second figure.
_PLACES_ABREAST: Final = ((3, 12), (2, 999))


_OFFERS_SHOWN: Final = 4

_SEVERAL: Final = 2


#: Looks that "done" answers by itself, with a `checked`; the others have an outcome to be told.
_LOOKS: Final = frozenset({"check_sealed", "check_premolt", "check_offer_sealed"})


def newest_open(turn: Turn, *, of_the_shelf: bool = False) -> Occurrence | None:
    """The newest round, unless it is closed or older than yesterday's.

    In a group, where all see what the others were shown, and ``of_the_shelf``, it may be that of another of
    the shelf's keepers where one's own is none.
    """
    own = _newest_open_of(turn, turn.keeper.id)
    if own is not None or (turn.incoming.private and not of_the_shelf) or turn.helps:
        return own
    others = [found for number in others_of(turn) if (found := _newest_open_of(turn, number))]
    return max(others, key=lambda found: found.opened_at, default=None)


def _newest_open_of(turn: Turn, keeper_id: int) -> Occurrence | None:
    latest = turn.work.rounds.latest(keeper_id)
    if latest is None or latest.shelf_id != turn.shelf_id or (turn.today - latest.day).days > 1:
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
    return turn.work.rounds.get(occurrence.id)


def over(turn: Turn, action: Mapping[str, Any]) -> Reply:
    """The round of a button is over, and what to do."""
    day = wording.day_in_full(date.fromisoformat(action["day"]), turn.today)
    return turn.reply(say("round.over", day=day))


def still_open(turn: Turn, action: Mapping[str, Any]) -> Occurrence | None:
    """The round that an action is of, unless it was closed or a later one has come."""
    latest = latest_of(turn, action)
    return open_or_again(turn, latest) if latest is not None else None


def latest_of(turn: Turn, action: Mapping[str, Any]) -> Occurrence | None:
    """The round that an action is of, be it another keeper's of the shelf; ``None`` once a later one came."""
    rounds, number = turn.work.rounds, action.get("round")
    found = rounds.get(number) if number else rounds.of_day(turn.keeper.id, date.fromisoformat(action["day"]))
    if found is None or found.shelf_id != turn.shelf_id:
        return None
    latest = rounds.latest(found.keeper_id)
    return found if latest is not None and latest.id == found.id else None


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
    text = _text(turn, occurrence, items, late=late, brief=brief)
    reply = fit(turn, text, _buttons(turn, occurrence, items), in_place=in_place)
    if reply.number is not None:
        turn.work.rounds.shown_by(occurrence.id, ShownRound(turn.chat, reply.number, mark_of(items)))
    return reply


def mark_of(items: Iterable[Item]) -> str:
    """A short mark of how far a round is done."""
    states = "\n".join(f"{item['tag']} {item['task']} {item['state']}" for item in items)
    return hashlib.blake2s(states.encode(), digest_size=8).hexdigest()


def place_shown(turn: Turn, occurrence: Occurrence, items: Sequence[Item], place: str) -> Reply:
    """One place of the round in the message of the whole, with the same buttons; all where it is done."""
    there = at_place(turn, items, place)
    if not any(map(is_open, there)):
        return shown(turn, occurrence, items, in_place=True)
    rows = [*_answers(occurrence, there, place=place), [Choice(say("round.back"), does(occurrence, "back"))]]
    rows[1:1] = _outcome_rows(turn, occurrence, there)
    return fit(turn, _text(turn, occurrence, there), rows, in_place=True)


def _text(
    turn: Turn, occurrence: Occurrence, items: Sequence[Item], *, late: bool = False, brief: bool = False
) -> str:
    text = round_text(
        items,
        turn.shelf.by_tag,
        occurrence.day,
        turn.today,
        late=late,
        brief=brief,
        again_at=_comes_again(turn, items),
    )
    return for_helper(turn, text, items) if turn.helps else text


def _comes_again(turn: Turn, items: Iterable[Item]) -> time | None:
    """At what time what was put off comes back, where it has not yet."""
    if not any(item["state"] == LATER for item in items):
        return None
    looks = turn.work.reminders.second_looks(turn.shelf_id, turn.keeper.id)
    return looks[0].next_at.astimezone(turn.now.tzinfo).time() if looks else None


def _buttons(turn: Turn, occurrence: Occurrence, items: Sequence[Item]) -> list[list[Choice]]:
    offers = _outcome_rows(turn, occurrence, items)
    if not any(map(by_button, items)):
        return offers
    to_do, put_off = _answers(occurrence, items)
    return [*_place_rows(turn, occurrence, items), to_do, *offers, put_off]


def _place_rows(turn: Turn, occurrence: Occurrence, items: Sequence[Item]) -> list[list[Choice]]:
    """A button for each place with something left to do, where there are several."""
    places = [place or "" for place in places_of(items, turn.shelf.by_tag)][:_PLACES_SHOWN]
    if len(places) < _SEVERAL:
        return []
    choices = [
        Choice(
            say("round.place", place=place or say("round.no_place")), does(occurrence, "place", place=place)
        )
        for place in places
    ]
    longest = max(map(len, places))
    return rows_of(choices, next(abreast for abreast, letters in _PLACES_ABREAST if longest <= letters))


def _answers(occurrence: Occurrence, items: Sequence[Item], **of: str) -> list[list[Choice]]:
    """What is answered by one tap, for the whole round or for a place of it."""
    done = Choice(say("round.done") if of else say("round.all_done_button"), does(occurrence, "done", **of))
    some = Choice(say("round.some_refused"), does(occurrence, "some", **of))
    return [
        [*([done] if any(map(by_button, items)) else []), *([some] if feeds(items) else [])],
        [
            Choice(say("round.later"), does(occurrence, "later", **of)),
            Choice(say("round.skip"), does(occurrence, "skip", **of)),
        ],
    ]


def _outcome_rows(turn: Turn, occurrence: Occurrence, items: Iterable[Item]) -> list[list[Choice]]:
    rows = [row for item in items if is_open(item) and (row := _outcomes(turn, occurrence, item))]
    return rows[:_OFFERS_SHOWN]


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
    return {"do": "round", "act": act, **of_round(occurrence), **more}


def of_round(occurrence: Occurrence) -> dict[str, Any]:
    """What makes an action one of this round, whoever of its keepers presses or says it."""
    return {"round": occurrence.id, "day": occurrence.day.isoformat()}


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


def of_whom(items: Iterable[Item], action: Mapping[str, Any]) -> list[Item]:
    """The items that an action is for: all of them, or those of some animals."""
    tags = action.get("tags")
    return [item for item in items if tags is None or item["tag"] in tags]


def at_place(turn: Turn, items: Iterable[Item], place: str) -> list[Item]:
    """The items of animals that stand in a place; those without one have the place ""."""
    return [item for item in items if same_place(_place_of(turn, item), place)]


def _place_of(turn: Turn, item: Item) -> str | None:
    animal = turn.shelf.by_tag.get(item["tag"])
    return animal.place if animal else None
