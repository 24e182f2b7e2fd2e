"""The people of a shelf, and what they are called: who helps, who logged an entry, whose animals they are."""

from __future__ import annotations

from bot.conversation.texts import say, words
from bot.conversation.turn import Turn
from storage.records import Handover


def yours(called: str) -> str:
    """A helper as the bot speaks of them to the keeper: "my sister" is "your sister"."""
    first, _, rest = called.partition(" ")
    theirs = dict(zip(words("handover.mine"), words("handover.yours"), strict=True)).get(first.casefold())
    return f"{theirs} {rest}" if rest and theirs else called


def yours_first(called: str) -> str:
    """The same at the beginning of a sentence."""
    said = yours(called)
    return said[:1].upper() + said[1:]


def name_of(turn: Turn, keeper_id: int) -> str:
    """A person's own name, as the front end gave it."""
    return turn.work.keepers.name_of(keeper_id) or say("handover.somebody")


def others_of(turn: Turn) -> tuple[int, ...]:
    """The other keepers of the shelf that is talked of."""
    return turn.work.news.others(turn.shelf_id, turn.keeper.id, on=turn.today)


def keeper_of_shelf(turn: Turn) -> str:
    """The name of the keeper whose shelf is talked of."""
    return turn.work.keepers.owner_of(turn.shelf_id).name or say("handover.somebody")


def who_logged(turn: Turn, keeper_id: int) -> str:
    """Who recorded something, as the one who asks would call them."""
    if keeper_id == turn.keeper.id:
        return say("handover.you")
    if not turn.helps:
        called = _called_by_keeper(turn).get(keeper_id)
        if called is not None:
            return yours(called)
    return name_of(turn, keeper_id)


def _called_by_keeper(turn: Turn) -> dict[int, str]:
    handed: tuple[Handover, ...] = turn.work.handovers.of_shelf(turn.shelf_id)
    return {one.helper: one.called for one in handed if one.helper is not None}
