"""Labels for enclosures, sent as a file to print. Drawn in the worker's thread, like pictures."""

from __future__ import annotations

from decimal import Decimal
from typing import Final

from bot.conversation import passing, wording
from bot.conversation.answers.subject import empty_shelf
from bot.conversation.answers.traits import asked_about
from bot.conversation.model import Reply
from bot.conversation.texts import say
from bot.conversation.turn import Turn
from bot.reading.wanted.wanted import Instruction
from bot.terms import Units

#: The sheet that labels come on, and its paper, where one prints on A4 and where on letter paper.
_SHEET: Final = ("a4-21", "A4")
_SHEET_US: Final = ("letter-30", "Letter")


def labels(turn: Turn, wanted: Instruction) -> list[Reply]:
    """The labels of the animals named, or of everybody, with their edges drawn, to be cut out."""
    from bot.pictures.paper.label_sheets import label_sheets  # noqa: PLC0415  paper costs a second once
    from bot.pictures.paper.labels import label_of, label_pages  # noqa: PLC0415

    animals = asked_about(turn, wanted) or list(turn.shelf.specimens)
    if not animals:
        return [turn.reply(empty_shelf(turn) or "")]
    key, paper = _SHEET_US if turn.settings.units is Units.US else _SHEET
    sheet = label_sheets()[key]
    pages = label_pages(
        [label_of(animal) for animal in animals], sheet, turn.today, turn.settings, outlines=True
    )
    pdf = passing.keep(pages, stem="labels", suffix=".pdf")
    (across, down), (width, height) = sheet.grid, (wording.number(Decimal(str(mm))) for mm in sheet.label)
    text = say(
        "labels.here",
        labels=wording.counted(len(animals), "label"),
        across=across,
        down=down,
        page=paper,
        width=width,
        height=height,
    )
    return [Reply(text=text, pictures=(pdf,))]
