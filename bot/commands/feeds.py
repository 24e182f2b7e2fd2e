"""What is due on a shelf, and its reminders, as a calendar file."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime

from bot.exchange.calendar_feed import DueDay, DueMoment, feed
from bot.round.model import TaskKind
from bot.round.worklist import next_for
from storage import Work
from storage.records import Keeper

#: What is said of each task in a calendar.
_SAYS = {
    TaskKind.FEED: "Feed {who}",
    TaskKind.CHECK: "Look at {who}: food only once its fangs are black",
}


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
    today = keeper.settings.day_of(now)
    for facts in work.shelves.facts(keeper.shelf_id):
        comes, who = next_for(facts, today), facts.specimen.called
        if comes.feed_on is not None:
            says = _SAYS.get(comes.feed_task or TaskKind.FEED, _SAYS[TaskKind.FEED])
            yield DueDay(tag=comes.tag, what="feed", day=comes.feed_on, summary=says.format(who=who))
        note = f"{who} rests ({comes.rest.reason.value}): water yes, food no." if comes.rest else ""
        yield DueDay(
            tag=comes.tag, what="water", day=comes.water_on, summary=f"Water {who}", description=note
        )
