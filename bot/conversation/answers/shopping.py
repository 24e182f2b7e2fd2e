"""What the coming days use of feeders, against what was bought; what to buy; what will outgrow its eaters."""

from __future__ import annotations

from datetime import timedelta
from typing import Final

from bot.conversation import wording
from bot.conversation.answers.subject import empty_shelf, facts_of
from bot.conversation.feeder_box import FeederBox, box_for, held_now
from bot.conversation.model import Reply
from bot.conversation.pages import fit
from bot.conversation.texts import say
from bot.conversation.turn import Turn
from bot.husbandry.feeders import Batch, Sort, outgrowing
from bot.reading.model import Question

_DAYS: Final = 7
_MOST_DAYS: Final = 60


def shopping(turn: Turn, question: Question) -> list[Reply]:
    """The feeders that the coming days take, by kind and size, with refusals allowed for."""
    days = _days_asked(turn, question)
    box = box_for(turn, facts_of(turn, question), days)
    if not box.wanted:
        return [turn.reply(empty_shelf(turn) or say("shopping.nothing", days=wording.days(days)))]
    last = turn.today + timedelta(days=days - 1)
    lines = [
        say("shopping.head", day=wording.date_of(last, turn.today)),
        *(_line(box, sort) for sort in sorted(box.wanted)),
        *(_spare(batch) for batch in outgrowing(box.eaters, box.stock)),
        say("shopping.note") if box.stock else say("shopping.no_stock"),
    ]
    return [fit(turn, "\n".join(lines))]


def stock(turn: Turn, _question: Question) -> list[Reply]:
    """What the feeder box holds by the journal, by kind and size."""
    held = held_now(turn).items()
    lines = [wording.capital(wording.meal(prey, left, size or None)) for (prey, size), left in held if left]
    if not lines:
        return [turn.reply(say("stock.none"))]
    return [fit(turn, "\n".join([say("stock.head"), *lines, say("stock.basis")]))]


def _days_asked(turn: Turn, question: Question) -> int:
    if question.until is None or question.until < turn.today:
        return _DAYS
    return min((question.until - turn.today).days + 1, _MOST_DAYS)


def _line(box: FeederBox, sort: Sort) -> str:
    (prey, size), use, left, buy = sort, box.wanted[sort], box.left(sort), box.buy[sort]
    what = wording.meal(prey, round(use.likely), size)
    if not left:
        then = say("shopping.buy", n=buy)
    elif buy:
        then = say("shopping.buy_more", left=left, n=buy)
    else:
        then = say("shopping.enough", left=left)
    if use.low == use.high:
        return say("shopping.line_even", what=what, then=then)
    return say("shopping.line", what=what, low=use.low, high=use.high, then=then)


def _spare(batch: Batch) -> str:
    what = wording.meal(batch.prey, batch.left, batch.size)
    return say("shopping.spare", what=what, days=wording.days(batch.grows_in or 0))
