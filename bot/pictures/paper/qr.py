"""A QR code (ISO/IEC 18004) drawn as rectangles."""

from __future__ import annotations

from itertools import groupby
from typing import Final

import segno

from bot.pictures.paper.page import Paper

QUIET: Final = 4
"""Modules left free on each side: ISO/IEC 18004 asks for four."""

#: Rows overlap by this part of a module, so that no hairline shows between them.
_OVERLAP: Final = 0.02


def _code(text: str) -> segno.QRCode:
    """UTF-8 for all that is not plain letters: readers guess wrongly at one-byte encodings."""
    encoding = None if text.isascii() else "utf-8"
    return segno.make_qr(text, error="l", boost_error=True, encoding=encoding)


def draw_qr(paper: Paper, text: str, left: float, top: float, side: float) -> None:
    """Draw the code of a text into a square of ``side`` mm, its quiet zone included.

    Error correction is the highest that the smallest possible code still has room for. Raises
    ``ValueError`` for an empty text or one too long for any code.
    """
    if not text:
        raise ValueError("a QR code needs a text")
    try:
        rows = [list(row) for row in _code(text).matrix]
    except segno.DataOverflowError as problem:
        raise ValueError(f"the text is too long for a QR code: {len(text)} characters") from problem
    module = side / (len(rows) + 2 * QUIET)
    for number, row in enumerate(rows):
        at = QUIET
        for dark, run in groupby(row):
            length = len(list(run))
            if dark:
                paper.box(
                    left + at * module,
                    top + (QUIET + number) * module,
                    length * module,
                    module * (1 + _OVERLAP),
                    fill=0,
                )
            at += length
