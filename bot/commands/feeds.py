"""What a shelf has beside specimens and journal, made ready for writing: settings, what is due, reminders."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, datetime
from typing import Any

from bot.commands.shelf_on_paper import ShelfOnPaper
from bot.exchange.calendar_feed import DueDay, DueMoment, feed
from bot.exchange.whole import WholeShelf
from bot.round.model import TaskKind
from bot.round.worklist import next_for
from storage import Work
from storage.records import Keeper


def whole_shelf(work: Work, keeper: Keeper, shelf: ShelfOnPaper) -> WholeShelf:
    """All that is known of a shelf."""
    return WholeShelf(
        specimens=tuple((arrival.specimen, arrival.on) for arrival in shelf.specimens),
        entries=shelf.entries,
        settings=_settings(keeper),
        reminders=tuple(_reminders(work, keeper)),
        holds=tuple(_holds(work, keeper)),
    )


def _settings(keeper: Keeper) -> dict[str, Any]:
    settings = keeper.settings
    return {
        "zone": settings.zone,
        "units": settings.units.value,
        "date_order": settings.date_order.value,
        "language": settings.language,
        "round_time": settings.round_time.strftime("%H:%M"),
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


def _holds(work: Work, keeper: Keeper) -> Iterator[dict[str, Any]]:
    for tag, hold in sorted(work.holds.current(keeper.shelf_id).items()):
        until = hold.until.isoformat() if hold.until else None
        yield {"specimen": tag, "since": hold.since.isoformat(), "until": until}


#: What is said of each task in a calendar.
_SAYS = {TaskKind.FEED: "Feed {who}", TaskKind.CHECK: "Look at {who}, then feed"}


def due_feed(work: Work, keeper: Keeper, now: datetime) -> bytes:
    """The iCalendar file of what is due next for each animal, and of the open reminders."""
    return feed(
        list(_due_days(work, keeper, now)),
        [
            DueMoment(
                number=reminder.id,
                at=reminder.next_at,
                zone=reminder.zone,
                summary=reminder.what,
                repeats=reminder.repeats,
            )
            for reminder in work.reminders.open(keeper.shelf_id)
        ],
        now=now,
        name="Shelf",
    )


def _due_days(work: Work, keeper: Keeper, now: datetime) -> Iterator[DueDay]:
    today = now.date()
    for facts in work.shelves.facts(keeper.shelf_id):
        comes, who = next_for(facts, today), facts.specimen.called
        if comes.feed_on is not None:
            says = _SAYS.get(comes.feed_task or TaskKind.FEED, _SAYS[TaskKind.FEED])
            yield DueDay(tag=comes.tag, what="feed", day=comes.feed_on, summary=says.format(who=who))
        note = f"{who} rests ({comes.rest.reason.value}): water yes, food no." if comes.rest else ""
        yield DueDay(
            tag=comes.tag, what="water", day=comes.water_on, summary=f"Water {who}", description=note
        )
