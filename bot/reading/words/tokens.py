"""Words, numbers and marks of a message, each with its place."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Final

from bot.reading.words.normalise import SIGNS_OF_PREY, PlainText, without_accents
from bot.reading.words.rule_words import rule_meanings

_TOKEN: Final = re.compile(r"[^\W\d_]+(?:'[^\W\d_]+)*|\d+(?:[.,]\d+)*|\n|[^\w\s]|_")


#: What the tail of a short form says: "we'll" is no "well".
_SHORT: Final = rule_meanings("tails_of_short_forms")


#: Signs that stand for a word.
_SIGNS: Final = frozenset("♀♂") | SIGNS_OF_PREY


class Token:
    """One word, number or mark.

    ``text`` is folded; ``key`` is the word that names and lexicon are asked for: without the
    apostrophe of a short form ("didn't" is "didnt") and without a possessive ("ink's" is "ink",
    ``owns`` set). ``start`` and ``end`` are places in the plain text; ``gap`` is what stood before it.
    """

    __slots__ = ("end", "gap", "key", "kind", "owns", "start", "text", "upper")

    def __init__(self, text: str, start: int, end: int, gap: str, upper: bool) -> None:
        self.text, self.start, self.end, self.gap, self.upper = text, start, end, gap, upper
        self.owns = False
        self.key = text
        first = text[0]
        if not (first.isalpha() or first in _SIGNS):
            self.kind = "number" if first.isdigit() else "mark"
        else:
            self.kind = "word"
            if "'" in text:
                base, _, tail = text.rpartition("'")
                self.owns = tail == "s"
                self.key = base if self.owns else _SHORT.get(tail) or text.replace("'", "")
        if not self.key.isascii():
            self.key = without_accents(self.key)

    def __repr__(self) -> str:
        return f"<{self.text}>"


def tokens_of(text: PlainText) -> list[Token]:
    """All tokens of a text in order."""
    out: list[Token] = []
    plain, folded, last = text.plain, text.folded, 0
    for match in _TOKEN.finditer(folded):
        start, end = match.span()
        out.append(Token(match.group(), start, end, folded[last:start], plain[start].isupper()))
        last = end
        if match.group() == "s":
            _owned_by_a_tag(out)
    return out


def _owned_by_a_tag(tokens: list[Token]) -> None:
    """ "B1s roach", "T07's tub": the letter that makes a tag own what follows is no word of its own."""
    marked = len(tokens) > 1 and tokens[-2].text == "'" and not tokens[-1].gap
    at = len(tokens) - (3 if marked else 2)
    if at < 1 or any(token.gap for token in tokens[at:]):
        return
    letters, number = tokens[at - 1], tokens[at]
    if number.kind == "number" and letters.kind == "word" and len(letters.text) <= _LETTERS_OF_A_TAG:
        number.owns = True
        del tokens[at + 1 :]


#: A tag has no more letters before its number.
_LETTERS_OF_A_TAG: Final = 3


def joins_words(tokens: Sequence[Token], place: int) -> bool:
    """Whether a mark stands within one expression ("B-3", "P. irminia", "pre-molt") and ends no sentence."""
    mark = tokens[place]
    following = tokens[place + 1] if place + 1 < len(tokens) else None
    if following is None or following.kind == "mark" or mark.gap:
        return False
    if mark.text == ".":
        in_a_tag = (
            following.kind == "number" and not following.gap and tokens[place - 1].kind == "word"
        )  # "BM.01"
        return in_a_tag or (len(tokens[place - 1].key) <= 2 and following.kind == "word")
    return mark.text in _INNER and following.gap == ""


_INNER: Final = frozenset("-#/_")
