"""A document as pages of PDF/A, on the paper of the keeper's units."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, Final

from bot.pictures.notes.document import Document, Heading, Image, Points, Table, Text, Tone
from bot.pictures.paper.flow import Column, Flow
from bot.pictures.paper.page import A4, GREY, LETTER, Paper
from bot.terms import Units
from bot.terms.language import speaking

_SMALL: Final = 8.5


def to_pdf(document: Document, units: Units) -> bytes:
    """The PDF, on Letter paper for US units and on A4 otherwise."""
    with speaking(document.language):
        paper = Paper(document.title, document.on, LETTER if units is Units.US else A4)
    flow = Flow(paper, document.foot)
    flow.title(document.title, document.under)
    for part in document.parts:
        _WRITE[type(part)](flow, part)
    return paper.finish()


def _heading(flow: Flow, part: Heading) -> None:
    flow.heading(part.words, keep=24)


def _text(flow: Flow, part: Text) -> None:
    if part.tone is Tone.ASIDE:
        flow.text(part.words, grey=GREY, size=_SMALL)
    else:
        flow.text(part.words, bold=part.tone is Tone.CAUTION)


def _points(flow: Flow, part: Points) -> None:
    flow.points(part.lines)


def _table(flow: Flow, part: Table) -> None:
    flow.table([Column(*column) for column in zip(part.columns, part.shares, strict=True)], part.rows)


def _image(flow: Flow, part: Image) -> None:
    flow.picture(part.png, (part.width, part.height), part.caption)


_WRITE: Final[dict[type, Callable[[Flow, Any], None]]] = {
    Heading: _heading,
    Text: _text,
    Points: _points,
    Table: _table,
    Image: _image,
}
