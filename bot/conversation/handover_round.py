"""The morning while somebody else looks after the animals: the helper's round, and the keeper's line.

A helper's round has meals and water only, without reasons but with cautions. What calls
for the keeper's eye (fangs after a molt, an opened burrow, left prey, a new home) waits, and whoever waits
for that gets no food from a helper.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from bot.conversation import wording
from bot.conversation.feeder_box import before_delivery
from bot.conversation.handover_told import daily, summary
from bot.conversation.model import Reply
from bot.conversation.people import keeper_of_shelf, name_of, yours_first
from bot.conversation.round_opening import open_round
from bot.conversation.texts import say
from bot.conversation.turn import Choice, Turn
from bot.pictures.paper.helper_plan import helper_days
from bot.round.model import SpecimenFacts
from storage.records import Handover


def morning(turn: Turn, day: date, *, late: bool) -> list[Reply]:
    """The round of a day: a helper's, a keeper's, or in its place what a keeper is told of the helper's."""
    if turn.helps:
        return _helpers_round(turn, day, late=late)
    lines: list[str] = []
    rows: list[list[Choice]] = []
    away = False
    for handed in turn.work.handovers.open(turn.shelf_id):
        if handed.by != turn.keeper.id or day < handed.first:
            continue
        if day > handed.last:
            lines += _at_the_end(turn, handed)
        elif handed.helper is None:
            lines.append(say("handover.not_joined", who=yours_first(handed.called)))
            rows.append([Choice(say("handover.new_link"), {"do": "handover_link", "id": handed.id})])
        else:
            lines.append(_line_of(turn, handed, day))
            away = True
    order = "" if away or not turn.settings.round_days else before_delivery(turn, day)
    lines += [order] if order else []
    told = [turn.reply("\n".join(lines), rows)] if lines else []
    comes = not away and turn.settings.has_round(day)
    return [*told, *open_round(turn, day, late=late)] if comes else told


def _line_of(turn: Turn, handed: Handover, day: date) -> str:
    if day == handed.first:
        assert handed.helper is not None
        return say(
            "handover.begins",
            who=yours_first(handed.called),
            name=name_of(turn, handed.helper),
            last=wording.date_of(handed.last, turn.today),
        )
    return daily(turn, handed, day)


def _at_the_end(turn: Turn, handed: Handover) -> list[str]:
    turn.work.handovers.settle(handed.id)
    return [] if handed.helper is None else [summary(turn, handed, until=handed.last)]


# --- the helper's round -----------------------------------------------------------------------


def _helpers_round(turn: Turn, day: date, *, late: bool) -> list[Reply]:
    replies = open_round(turn, day, late=late)
    if replies or turn.work.rounds.of_day(turn.keeper.id, day) is not None:
        return replies
    return [turn.reply(say("handover.nobody_due", keeper=keeper_of_shelf(turn)))]


def waits_for_keeper(facts: Sequence[SpecimenFacts], today: date, first: date) -> list[str]:
    """The tags of those that wait for the keeper's eye on the first day away, in shelf order."""
    (plan,) = helper_days(facts, today, first, first)
    return [one.tag for one in plan.left if one.reason is None]
