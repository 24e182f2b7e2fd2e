"""A message as plain letters: what a phone, a dictation or a paste adds is taken off before reading.

Every later step works on the plain text and its folded twin, which has the same length, so that a
place in the one is the same place in the other.
"""

from __future__ import annotations

import unicodedata
from typing import Final

from bot.terms.value_object import value_object

#: No keeper writes more in one message; what lies beyond is not read (and the message is then asked about).
LONGEST: Final = 6000

_QUOTES: Final = dict.fromkeys("‘’‚‛′´`ʼ＇", "'") | dict.fromkeys("“”„‟″«»＂", '"')
_DASHES: Final = dict.fromkeys("‐‑‒–—―−﹣－", "–") | {"‐": "-", "‑": "-", "−": "-"}
_SPACES: Final = dict.fromkeys("\t\v\f\u00a0\u2002\u2003\u2007\u2009\u200a\u202f\u3000", " ")
_LINES: Final = dict.fromkeys("\r\x85\u2028\u2029", "\n")
_OTHERS: Final = {"…": ".", "·": " ", "•": "\n", "×": "x", "⁄": "/", "º": "°"}
#: Ticks and crosses say "it did" and "it did not"; they are kept, as one sign each.
_TICKS: Final = dict.fromkeys("✅✔☑👍", "✓") | dict.fromkeys("❌✘✖❎👎🚫", "✗")
_ONE_FOR_ONE: Final = str.maketrans({**_QUOTES, **_DASHES, **_SPACES, **_LINES, **_OTHERS, **_TICKS})

#: Categories of characters that are no part of what was said: controls, bidi marks, parts of emoji.
_DROPPED: Final = frozenset({"Cc", "Cf", "Cs", "Co", "Cn"})
_BLANKED: Final = frozenset({"So", "Sk"})
#: Pictures that keepers write for a feeder, by their names in Unicode: cricket, cockroach.
SIGNS_OF_PREY: Final = frozenset("🦗🪳")
_KEPT_SYMBOLS: Final = frozenset("°✓✗♀♂") | SIGNS_OF_PREY


@value_object()
class PlainText:
    """The message without ornaments, and the same with case folded, letter for letter."""

    plain: str
    folded: str
    cut: bool = False


def plain_text(message: str) -> PlainText:
    """The plain text of a message, at most :data:`LONGEST` letters of it."""
    cut = len(message) > LONGEST
    text = message[:LONGEST]
    if not text.isascii():
        text = unicodedata.normalize("NFC", text).translate(_ONE_FOR_ONE)
        text = "".join(map(_kept, text))
    else:
        text = text.translate(_ONE_FOR_ONE) if not text.isprintable() else text
        text = text if text.isprintable() else "".join(c for c in text if c.isprintable() or c == "\n")
    lowered = text.lower()
    folded = lowered if len(lowered) == len(text) else "".join(map(_folded, text))
    return PlainText(text, folded, cut)


def _kept(char: str) -> str:
    if char.isascii():
        return char if char >= " " or char == "\n" else ""
    category = unicodedata.category(char)
    if category in _DROPPED or char == "\ufe0f":
        return ""
    if category in _BLANKED and char not in _KEPT_SYMBOLS:
        return " "
    wide = unicodedata.normalize("NFKC", char) if "\uff00" <= char <= "\uffef" else char
    return wide if len(wide) == 1 else char


def _folded(char: str) -> str:
    low = char.lower()
    return low if len(low) == 1 else char


def fold(word: str) -> str:
    """One word as names and lexicons are keyed: case and plain ornaments folded."""
    return plain_text(word).folded


def without_accents(word: str) -> str:
    """The word in plain letters: "Żaba" and "Zaba" are the same to a hurried thumb."""
    if word.isascii():
        return word
    bare = "".join(c for c in unicodedata.normalize("NFKD", word) if not unicodedata.combining(c))
    return bare.replace("ł", "l").replace("ø", "o").replace("đ", "d").replace("ß", "ss")
