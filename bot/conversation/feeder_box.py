"""The feeder box: what it holds by the journal, what the coming days take, and the day it is filled."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from typing import Final

from bot.conversation import wording
from bot.conversation.model import Reply
from bot.conversation.texts import say, words
from bot.conversation.turn import Turn
from bot.husbandry.animal import Animal
from bot.husbandry.feeders import Batch, Eater, Sort, Use, appetite, stock_left, to_buy, uses
from bot.husbandry.feeding import meal_for
from bot.reading.box_counts import counted_in, lost_in
from bot.reading.model import Reading, ReadingKind
from bot.reading.wanted.wanted import Instruction
from bot.round.intervals import feeding_interval
from bot.round.model import SpecimenFacts
from bot.round.rests import Case
from bot.round.worklist import next_for
from bot.terms import Entry, Kind, PreySize

#: How far back offers are looked at for an animal's appetite.
_APPETITE: Final = timedelta(days=365)
_KINDS: Final = (Kind.STOCKED, Kind.COUNTED, Kind.FED, Kind.REFUSED)
#: So many days before feeders come there is time to order, or to put them on the list.
_TOLD_BEFORE: Final = 2
_WEEK: Final = 7


@dataclass(frozen=True)
class FeederBox:
    """Who eats what, what some days take of each sort, what is left, and what is to be bought for them."""

    eaters: Sequence[Eater]
    wanted: Mapping[Sort, Use]
    stock: Sequence[Batch]
    buy: Mapping[Sort, int]

    def left(self, sort: Sort) -> int:
        """How many of a sort are left; those bought with no size said count for each of their kind."""
        prey, size = sort
        return sum(batch.left for batch in self.stock if batch.prey == prey and batch.size in {size, ""})


def box_for(turn: Turn, everyone: Sequence[SpecimenFacts], days: int) -> FeederBox:
    """The box against what these animals take in so many days, today the first of them."""
    journal = _journal(turn)
    own: dict[str, list[Entry]] = defaultdict(list)
    for entry in journal:
        for tag in entry.specimens:
            own[tag].append(entry)
    eaters = [_eater(facts, own[facts.specimen.tag], turn.today) for facts in everyone]
    wanted, stock = uses(eaters, days), stock_left(journal, turn.today)
    return FeederBox(eaters, wanted, stock, to_buy(wanted, stock))


def _journal(turn: Turn) -> list[Entry]:
    """What a year's journal says of feeders, in its order."""
    rows = turn.work.journal.entries(
        turn.shelf_id, kinds=_KINDS, since=turn.today - _APPETITE, newest_first=False
    )
    return [row.entry for row in rows]


def _eater(facts: SpecimenFacts, own: Sequence[Entry], today: date) -> Eater:
    meal, plan = meal_for(Animal(facts.specimen, facts.state), today), next_for(facts, today)
    return Eater(
        prey=meal.prey,
        size=meal.size,
        count=meal.count * max(1, facts.state.lot_size),
        first_in=(plan.feed_on - today).days if plan.feed_on is not None else None,
        every=feeding_interval(Case(facts, today)).days,
        taken=appetite(own, today),
    )


def counted(turn: Turn) -> list[Reply] | None:
    """The keeper tells what the box holds; ``None`` where the message says no such thing."""
    counts = counted_in(turn.incoming.text, turn.shelf.names, now=turn.now, settings=turn.settings)
    if not counts:
        return _lost(turn)
    return _kept_count(turn, counts)


def _lost(turn: Turn) -> list[Reply] | None:
    """What the box still holds once feeders died or went; ``None`` where the message says no such thing."""
    lost = lost_in(turn.incoming.text, turn.shelf.names, now=turn.now, settings=turn.settings)
    counts = []
    held = held_now(turn) if lost else {}
    for one in lost:
        sorts = [sort for sort in held if sort[0] == one.prey and (one.size is None or one.size == sort[1])]
        left = held[sorts[0]] - (one.count or 0) if len(sorts) == 1 else -1
        if left < 0:
            return [turn.reply(say("stock.lost_which"))]
        size = PreySize(sorts[0][1]) if sorts[0][1] else None
        counts.append(replace(one, size=size, count=left))
    return _kept_count(turn, counts) if counts else None


def held_now(turn: Turn) -> dict[Sort, int]:
    """How many of each kind and size the box holds by the journal, whenever they were bought."""
    held: dict[Sort, int] = defaultdict(int)
    for batch in stock_left(_journal(turn), turn.today):
        held[batch.prey, batch.size] += batch.left
    return dict(held)


def _kept_count(turn: Turn, counts: Sequence[Entry]) -> list[Reply]:
    entries = tuple(replace(count, day=turn.today) for count in counts)
    reading = Reading(reading=ReadingKind.ENTRIES, entries=entries, text=turn.incoming.text)
    return turn.readings[ReadingKind.ENTRIES](turn, reading)


# --- the day on which feeders come ----------------------------------------------------------


def delivery_day(turn: Turn, wanted: Instruction) -> list[Reply]:
    """The keeper says on which day of the week feeders come, or that there is none."""
    turn.save_settings(delivery_weekday=wanted.weekday)
    return [turn.reply(delivery_text(turn))]


def delivery_text(turn: Turn) -> str:
    """On which day feeders come, as it is set."""
    weekday = turn.settings.delivery_weekday
    if weekday is None:
        return say("delivery.none")
    return say("delivery.set", weekday=_in_full(weekday), told=_in_full((weekday - _TOLD_BEFORE) % _WEEK))


def _in_full(weekday: int) -> str:
    return words("calendar.weekdays_in_full")[weekday]


def before_delivery(turn: Turn, day: date) -> str:
    """What to order for the delivery that is near; empty on other days, and where the box will last.

    It has to last from today until the delivery after this one.
    """
    weekday = turn.settings.delivery_weekday
    if weekday is None or (day + timedelta(days=_TOLD_BEFORE)).weekday() != weekday:
        return ""
    box = box_for(turn, turn.facts.all(), _TOLD_BEFORE + _WEEK)
    short = [_short(box, sort) for sort in sorted(box.buy) if box.buy[sort]]
    if not short:
        return ""
    comes = day + timedelta(days=_TOLD_BEFORE)
    return say(
        "delivery.order",
        day=wording.date_of(comes, turn.today),
        next=wording.date_of(comes + timedelta(days=_WEEK), turn.today),
        feeders=wording.listed(short),
    )


def _short(box: FeederBox, sort: Sort) -> str:
    what, left = wording.meal(sort[0], box.buy[sort], sort[1]), box.left(sort)
    return say("delivery.short", what=what, left=left) if left else what
