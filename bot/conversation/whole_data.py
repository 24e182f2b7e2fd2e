"""All that is kept of a keeper, gathered for one file: the shelf, and what no table of animals can say."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import fields
from datetime import UTC
from typing import Any

from bot.conversation.kept_beside import kept_beside, photos, plain
from bot.exchange.how_often import HowOften
from bot.exchange.whole import WholeShelf
from bot.terms.schedule import Care
from storage import Work
from storage.records import Keeper
from storage.shelf_on_paper import ShelfOnPaper


def whole_data(work: Work, keeper: Keeper, shelf: ShelfOnPaper) -> WholeShelf:
    """The keeper's own shelf with everything beside it; nothing of shelves that they share in."""
    return WholeShelf(
        specimens=shelf.as_they_came(),
        entries=shelf.entries,
        settings=_settings(keeper),
        how_often=_how_often(work, keeper),
        reminders=tuple(_reminders(work, keeper)),
        holds=tuple(_holds(work, keeper)),
        keeper=_keeper(work, keeper),
        taken_back=shelf.taken_back,
        photos=photos(work, keeper),
        more=kept_beside(work, keeper),
    )


def _keeper(work: Work, keeper: Keeper) -> dict[str, Any]:
    reached = work.keepers.contacts(keeper.id)
    return {
        "name": keeper.name,
        "reached_at": [{"front_end": one.front_end, "address": one.address} for one in reached],
    }


def _settings(keeper: Keeper) -> dict[str, Any]:
    settings = keeper.settings
    return {one.name: plain(getattr(settings, one.name)) for one in fields(settings)}


def _reminders(work: Work, keeper: Keeper) -> Iterator[dict[str, Any]]:
    asked_for = work.reminders.open(keeper.shelf_id)
    for reminder in (*asked_for, *work.reminders.second_looks(keeper.shelf_id, keeper.id)):
        yield {
            "what": reminder.what,
            "specimens": list(reminder.tags),
            "next_at": reminder.next_at.astimezone(UTC).isoformat(),
            "repeats": reminder.repeats,
            "from_done": reminder.from_done,
            "zone": reminder.zone,
        }


def _how_often(work: Work, keeper: Keeper) -> HowOften:
    """What was said for groups, and for single animals of those living."""
    own = (
        (facts.specimen.tag, of, days)
        for facts in work.shelves.facts(keeper.shelf_id)
        for of in Care
        if (days := facts.own_interval(of)) is not None
    )
    return HowOften(work.schedules.current(keeper.shelf_id), tuple(own))


def _holds(work: Work, keeper: Keeper) -> Iterator[dict[str, Any]]:
    for tag, hold in sorted(work.holds.current(keeper.shelf_id).items()):
        until = hold.until.isoformat() if hold.until else None
        yield {"specimen": tag, "since": hold.since.isoformat(), "until": until}
