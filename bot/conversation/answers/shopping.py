"""What the coming days use of feeders, against what was bought; what to buy; what will outgrow its eaters."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from datetime import date, timedelta
from typing import Final

from bot.conversation import wording
from bot.conversation.answers.subject import empty_shelf, facts_of
from bot.conversation.model import Reply
from bot.conversation.pages import fit
from bot.conversation.texts import say
from bot.conversation.turn import Turn
from bot.husbandry.animal import Animal
from bot.husbandry.feeders import Batch, Eater, Use, appetite, outgrowing, stock_left, to_buy, uses
from bot.husbandry.feeding import meal_for
from bot.reading.model import Question
from bot.round.meals import feeding_interval
from bot.round.model import SpecimenFacts
from bot.round.rests import Case
from bot.round.worklist import next_for
from bot.terms import Entry, Kind

_DAYS: Final = 7
_MOST_DAYS: Final = 60
#: How far back offers are looked at for an animal's appetite.
_APPETITE: Final = timedelta(days=365)
_KINDS: Final = (Kind.STOCKED, Kind.FED, Kind.REFUSED)


def shopping(turn: Turn, question: Question) -> list[Reply]:
    """The feeders that the coming days take, by kind and size, with refusals allowed for."""
    days = _days_asked(turn, question)
    rows = turn.work.journal.entries(
        turn.shelf_id, kinds=_KINDS, since=turn.today - _APPETITE, newest_first=False
    )
    journal = [row.entry for row in rows]
    eaters = _eaters(turn, facts_of(turn, question), journal)
    wanted, stock = uses(eaters, days), stock_left(journal, turn.today)
    if not wanted:
        return [turn.reply(empty_shelf(turn) or say("shopping.nothing", days=wording.days(days)))]
    buy = to_buy(wanted, stock)
    last = turn.today + timedelta(days=days - 1)
    lines = [
        say("shopping.head", day=wording.date_of(last, turn.today)),
        *(_line(sort, use, buy, stock) for sort, use in sorted(wanted.items())),
        *(_spare(batch) for batch in outgrowing(eaters, stock)),
        say("shopping.note") if stock else say("shopping.no_stock"),
    ]
    return [fit(turn, "\n".join(lines))]


def _days_asked(turn: Turn, question: Question) -> int:
    if question.until is None or question.until < turn.today:
        return _DAYS
    return min((question.until - turn.today).days + 1, _MOST_DAYS)


def _eaters(turn: Turn, everyone: Sequence[SpecimenFacts], journal: Sequence[Entry]) -> list[Eater]:
    own: dict[str, list[Entry]] = defaultdict(list)
    for entry in journal:
        for tag in entry.specimens:
            own[tag].append(entry)
    return [_eater(facts, own[facts.specimen.tag], turn.today) for facts in everyone]


def _eater(facts: SpecimenFacts, own: Sequence[Entry], today: date) -> Eater:
    meal, plan = meal_for(Animal(facts.specimen, facts.state)), next_for(facts, today)
    return Eater(
        prey=meal.prey,
        size=meal.size,
        count=meal.count * max(1, facts.state.lot_size),
        first_in=(plan.feed_on - today).days if plan.feed_on is not None else None,
        every=feeding_interval(Case(facts, today)).days,
        taken=appetite(own, today),
    )


def _line(sort: tuple[str, str], use: Use, buy: Mapping[tuple[str, str], int], stock: Sequence[Batch]) -> str:
    prey, size = sort
    left = sum(batch.left for batch in stock if batch.prey == prey and batch.size in {size, ""})
    what = wording.meal(prey, round(use.likely), size)
    if not left:
        then = say("shopping.buy", n=buy[sort])
    elif buy[sort]:
        then = say("shopping.buy_more", left=left, n=buy[sort])
    else:
        then = say("shopping.enough", left=left)
    if use.low == use.high:
        return say("shopping.line_even", what=what, then=then)
    return say("shopping.line", what=what, low=use.low, high=use.high, then=then)


def _spare(batch: Batch) -> str:
    what = wording.meal(batch.prey, batch.left, batch.size)
    return say("shopping.spare", what=what, days=wording.days(batch.grows_in or 0))
