"""Text that a font can show: what it has no shape for becomes one box, what is no text is dropped."""

from __future__ import annotations

import unicodedata
from collections.abc import Callable
from typing import Final

BOX: Final = "\N{WHITE SQUARE}"

#: Joiners and variation selectors: they change the sign before them and have no shape of their own.
_SILENT: Final = frozenset({"Cc", "Cf", "Cs"})
_SELECTORS: Final = range(0xFE00, 0xFE10)
_SKIN_TONES: Final = range(0x1F3FB, 0x1F400)


def shown(text: str, has_glyph: Callable[[int], object]) -> str:
    """The text on one line, composed, with one box for each run of signs that the font lacks.

    ``has_glyph`` tells of a code point whether the font has it. Control and formatting characters,
    among them those that turn the direction of the line, are left out; white space becomes a space.
    """
    out: list[str] = []
    spaced = "".join(" " if sign.isspace() else sign for sign in text)
    heard = "".join(sign for sign in spaced if not _silent(sign))
    for sign in unicodedata.normalize("NFC", " ".join(heard.split())):
        if has_glyph(ord(sign)):
            out.append(sign)
        elif not out or out[-1] != BOX:
            out.append(BOX)
    return "".join(out)


def _silent(sign: str) -> bool:
    code = ord(sign)
    return code in _SELECTORS or code in _SKIN_TONES or unicodedata.category(sign) in _SILENT
