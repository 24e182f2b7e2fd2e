"""The printed sheet for a helper, sent as a file. Drawn in the worker's thread, like pictures."""

from __future__ import annotations

from datetime import date
from typing import Final

from bot.conversation import passing, wording
from bot.conversation.model import Reply
from bot.conversation.people import keeper_of_shelf
from bot.conversation.texts import say
from bot.conversation.turn import Turn

#: More days than that are too many pages, and too far ahead to be true.
_MOST_DAYS: Final = 62


def print_sheet(turn: Turn, first: date, last: date) -> list[Reply]:
    """The sheet of a period: who gets what on which day, cautions, first aid."""
    from bot.pictures.paper.helper_sheet import HelperSheet, helper_pages  # noqa: PLC0415  paper costs a second once

    if (last - first).days >= _MOST_DAYS:
        return [turn.reply(say("handover.sheet_too_long", n=_MOST_DAYS))]
    sheet = HelperSheet(
        keeper=keeper_of_shelf(turn),
        facts=tuple(turn.facts.all()),
        today=turn.today,
        first=max(first, turn.today),
        last=last,
    )
    days = wording.span_of_days(sheet.first, last, turn.today)
    pdf = passing.keep(helper_pages(sheet, turn.settings), stem="helper", suffix=".pdf")
    return [Reply(text=say("handover.sheet_here", days=days), pictures=(pdf,))]
