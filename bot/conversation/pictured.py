"""A chart in the chat: "chart of Ink", "picture of the shelf", "weight chart of C1".

Drawn in the worker's thread, so that the loop which talks to Telegram never waits. Should the file be gone
when it is to be sent, the words beside it have said what it shows.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Final

from bot.conversation import passing
from bot.conversation.model import Reply
from bot.conversation.texts import say
from bot.conversation.turn import Choice, Turn
from bot.reading.wanted.wanted import Instruction
from storage.living_shelf import read_living
from storage.records import Prompt

if TYPE_CHECKING:
    from bot.pictures.drawing import ShelfRecords


#: What can be drawn of a single animal only.
_OF_ONE: Final = frozenset({"life", "weight", "moisture"})


def picture(turn: Turn, wanted: Instruction) -> list[Reply]:
    """The picture that a message asks for; what it shows in words where none can be drawn."""
    kind = wanted.value or ("life" if wanted.tags or wanted.species else "shelf")
    several = len(wanted.tags) > 1 or (wanted.species is not None and not wanted.tags)
    if several and (wanted.species is None or kind in _OF_ONE):
        return [turn.reply(say("picture.which"))]
    return _drawn(turn, kind, wanted.tags[:1], wanted.species)


def button(tag: str) -> Choice:
    """The button that draws an animal's life."""
    return Choice(say("picture.button"), {"do": "picture", "kind": "life", "tag": tag})


def pressed(turn: Turn, _prompt: Prompt, action: dict[str, Any] | Any) -> list[Reply]:
    """A picture was asked for by a button."""
    return _drawn(turn, action["kind"], (action["tag"],), None)


def _drawn(turn: Turn, kind: str, tags: tuple[str, ...], species: str | None) -> list[Reply]:
    from bot.pictures.data import PictureKind  # noqa: PLC0415  drawing costs a second once; few messages need it
    from bot.pictures.drawing import NothingToShowError, draw  # noqa: PLC0415
    from bot.pictures.theme import Look  # noqa: PLC0415

    about: dict[str, Any] = {}
    if species is not None and kind not in _OF_ONE:
        about = {"species": species}
    elif tags and kind == PictureKind.MOLTS.value:
        about = {"species": turn.animals(tags)[0].species}
    elif tags:
        about = {"animal": turn.animals(tags)[0]}
    try:
        drawn = draw(PictureKind(kind), _records(turn), Look.of(turn.settings, dark=False), **about)
    except NothingToShowError as nothing:
        return [turn.reply(say("picture.none", why=str(nothing)))]
    return [
        Reply(text=one.caption, pictures=(passing.keep(one.png, stem="chart", suffix=".png"),))
        for one in drawn
    ]


def _records(turn: Turn) -> ShelfRecords:
    from bot.husbandry.forecast import forecasts  # noqa: PLC0415
    from bot.pictures.data import NextMolt  # noqa: PLC0415
    from bot.pictures.drawing import ShelfRecords  # noqa: PLC0415

    facts = turn.facts.all()
    living = read_living(turn.work, turn.shelf_id, until=turn.today)
    ahead = forecasts(living.records(), turn.today)
    molts = {one.tag: NextMolt.at(one.next_molt, one.basis) for one in ahead if one.next_molt is not None}
    return ShelfRecords(on=turn.today, facts=facts, entries=living.entries, next_molts=molts)
