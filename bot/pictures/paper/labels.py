"""Enclosure labels: tag, name, species, caution marks, and a QR code with the text that the caller gives."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Final

from bot.pictures.paper.cautions import BADGE, Caution, cautions_of, draw_caution
from bot.pictures.paper.label_sheets import LabelSheet, laid_out
from bot.pictures.paper.page import MM_PER_POINT, PALE, Fitted, Paper
from bot.pictures.paper.qr import draw_qr
from bot.pictures.words import say
from bot.terms import KeeperSettings, Specimen
from bot.terms.language import speaking

_EDGE: Final = 0.5
_PAD: Final = 2.0
"""Millimetres kept free at a label's edges: sheets never lie quite straight in a printer."""

_LARGEST_QR: Final = 42.0
"""Sides of the largest code in mm: beyond it nothing is gained, and the words want the room."""

#: Type of tag, name and species in points where there is room: (largest, smallest, lines at most).
_TAG, _NAME, _SPECIES = (30.0, 6.0, 2), (19.0, 5.0, 2), (14.0, 5.0, 2)
_CAUTION: Final = (15.0, 4.5)
"""Largest and smallest type of the cautions, in points."""
_CAUTION_PART: Final = 0.17
"""Part of a label's height for each caution."""

_GAP: Final = 0.6
_LEAST_SCALE: Final = 0.1
_SHRINK: Final = 0.94
"""Each try to fit a label's words is smaller than the last by this factor."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Label:
    """What stands on a label; ``link`` is the text of the QR code, empty for none."""

    tag: str
    species: str
    name: str | None = None
    cautions: tuple[Caution, ...] = ()
    link: str = ""


def label_of(specimen: Specimen, link: str = "") -> Label:
    """The label of an animal."""
    return Label(
        tag=specimen.tag,
        species=specimen.species,
        name=specimen.name,
        cautions=cautions_of(specimen),
        link=link,
    )


def label_pages(
    labels: Sequence[Label],
    sheet: LabelSheet,
    on: date,
    settings: KeeperSettings,
    *,
    start: int = 0,
    outlines: bool = False,
) -> bytes:
    """A PDF of labels, past the ``start`` places that are used up already.

    ``outlines`` draws the edge of every label, for a trial on plain paper or for cutting out. Raises
    ``ValueError`` for no labels at all or a ``start`` that is not on the first sheet.
    """
    if not labels:
        raise ValueError("there is nobody to make a label for")
    if not 0 <= start < sheet.on_a_page:
        raise ValueError(f"the sheet has {sheet.on_a_page} places: start with 0 to {sheet.on_a_page - 1}")
    with speaking(settings.language):
        paper = Paper(say("label.title"), on, sheet.page)
        for label, box in laid_out(paper, sheet, labels, start):
            if outlines:
                paper.box(*box, line=0.2, grey=PALE)
            draw_label(paper, label, box)
        return paper.finish()


def draw_label(paper: Paper, label: Label, box: tuple[float, float, float, float]) -> None:
    """One label into a box (left, top, width, height): the code at its left, the words beside it."""
    left, top, width, height = box
    inner = height - 2 * _PAD
    text_left, room = left + _PAD, width - 2 * _PAD
    if label.link:
        # the code's own quiet zone is its margin
        side = min(height - 2 * _EDGE, _LARGEST_QR, width * 0.5)
        draw_qr(paper, label.link, left + _EDGE, top + (height - side) / 2, side)
        text_left, room = left + _EDGE + side, width - side - _EDGE - _PAD
    bottom = _cautions(
        paper,
        label.cautions,
        (text_left, top + height - _PAD, room, inner * _CAUTION_PART * len(label.cautions)),
    )
    y = top + _PAD
    for text in _stack(paper, label, room, bottom - y):
        y = paper.put(text_left, y, text)


def _stack(paper: Paper, label: Label, room: float, height: float) -> list[Fitted]:
    """Tag, name and species as large as they fit one above the other; the smallest type always does."""
    scale = 1.0
    while True:
        texts = [
            paper.fit(
                words,
                room,
                size=max(least, largest * scale),
                least=least,
                most=most,
                bold=bold,
                italic=italic,
            )
            for words, (largest, least, most), bold, italic in (
                (label.tag, _TAG, True, False),
                (label.name or "", _NAME, False, False),
                (label.species, _SPECIES, False, True),
            )
            if words
        ]
        if sum(text.height for text in texts) <= height or scale < _LEAST_SCALE:
            return texts
        scale *= _SHRINK


def _cautions(paper: Paper, cautions: Sequence[Caution], box: tuple[float, float, float, float]) -> float:
    """The badges one above the other, the last one on the bottom of the box. Gives the y above them."""
    left, bottom, room, height = box
    if not cautions:
        return bottom
    largest, least = _CAUTION
    step = max(least * MM_PER_POINT * BADGE, min(largest * MM_PER_POINT * BADGE, height / len(cautions)))
    top = bottom - len(cautions) * (step + _GAP) + _GAP
    for number, caution in enumerate(cautions):
        draw_caution(
            paper, caution, left, top + number * (step + _GAP), room=room, size=step / BADGE / MM_PER_POINT
        )
    return top - _GAP
