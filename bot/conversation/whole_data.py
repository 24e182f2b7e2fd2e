"""All that is kept of a keeper, gathered for one file: the shelf, and what no table of animals can say."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC
from typing import Any

from sqlalchemy import select

from bot.exchange.how_often import HowOften
from bot.exchange.whole import WholeShelf
from bot.terms.schedule import Care
from storage import Work, tables
from storage.records import Keeper
from storage.shelf_on_paper import ShelfOnPaper


def whole_data(work: Work, keeper: Keeper, shelf: ShelfOnPaper) -> WholeShelf:
    """The keeper's own shelf with everything beside it; nothing of shelves that they share in."""
    return WholeShelf(
        specimens=shelf.specimens,
        entries=shelf.entries,
        settings=_settings(keeper),
        how_often=_how_often(work, keeper),
        reminders=tuple(_reminders(work, keeper)),
        holds=tuple(_holds(work, keeper)),
        keeper=_keeper(work, keeper),
        taken_back=shelf.taken_back,
        photos=tuple(_photos(work, keeper)),
        shared_with=tuple(_shared_with(work, keeper)),
    )


def _keeper(work: Work, keeper: Keeper) -> dict[str, Any]:
    reached = work.keepers.contacts(keeper.id)
    return {
        "name": keeper.name,
        "reached_at": [{"front_end": one.front_end, "address": one.address} for one in reached],
    }


def _settings(keeper: Keeper) -> dict[str, Any]:
    settings = keeper.settings
    return {
        "zone": settings.zone,
        "units": settings.units.value,
        "date_order": settings.date_order.value,
        "language": settings.language,
        "round_time": settings.round_time.strftime("%H:%M"),
        "round_days": settings.round_days,
        "quiet_from": settings.quiet_from.strftime("%H:%M"),
        "quiet_to": settings.quiet_to.strftime("%H:%M"),
        "day_starts": settings.day_starts.strftime("%H:%M"),
    }


def _reminders(work: Work, keeper: Keeper) -> Iterator[dict[str, Any]]:
    for reminder in work.reminders.open(keeper.shelf_id):
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
        for of, days in ((Care.FEED, facts.feed_every), (Care.WATER, facts.water_every))
        if days is not None
    )
    return HowOften(work.schedules.current(keeper.shelf_id), tuple(own))


def _holds(work: Work, keeper: Keeper) -> Iterator[dict[str, Any]]:
    for tag, hold in sorted(work.holds.current(keeper.shelf_id).items()):
        until = hold.until.isoformat() if hold.until else None
        yield {"specimen": tag, "since": hold.since.isoformat(), "until": until}


def _photos(work: Work, keeper: Keeper) -> Iterator[dict[str, Any]]:
    for photo in work.photos.of(keeper.shelf_id, None):
        at = photo.at.astimezone(UTC).isoformat()
        yield {"specimen": photo.tag, "reference": photo.reference, "at": at}


def _shared_with(work: Work, keeper: Keeper) -> Iterator[dict[str, Any]]:
    """In which roles others see the shelf; who they are is theirs to tell."""
    shares = tables.membership.c
    query = (
        select(shares.role, shares.from_day, shares.until_day)
        .where(shares.shelf_id == keeper.shelf_id, shares.keeper_id != keeper.id)
        .order_by(shares.id)
    )
    for row in work.connection.execute(query):
        yield {
            "role": row.role,
            "from": row.from_day.isoformat() if row.from_day else None,
            "until": row.until_day.isoformat() if row.until_day else None,
        }
