"""The words of a text with their places, cut once for everybody who looks for something in it.

Days, periods, amounts and numbers each begin with a word of theirs or with a figure; whoever has the
words needs to try patterns only where one of them stands.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from collections.abc import Set as AbstractSet
from typing import Final

#: A run of letters and figures; "'tis" and "0.5" are two.
_WORD: Final = re.compile(r"\w+")
_LETTERS: Final = re.compile(r"[^\W\d_]+")


class Words:
    """A text's words in order.

    ``at`` has each word, lower case, with its place; ``figures`` are the places of the words that begin
    with a figure; ``letters`` the runs of letters, those glued to a figure ("5cm") included.
    """

    __slots__ = ("at", "figures", "letters", "text")

    def __init__(self, text: str) -> None:
        self.text = text
        lowered = text.lower()
        if len(lowered) != len(text):  # a few letters are longer in lower case; places must stay
            lowered = "".join(c if len(c.lower()) != 1 else c.lower() for c in text)
        self.at: list[tuple[int, str]] = [(m.start(), m.group()) for m in _WORD.finditer(lowered)]
        self.figures: list[int] = []
        letters: list[str] = []
        for start, word in self.at:
            if not word[0].isalpha():
                if word[0].isnumeric():
                    self.figures.append(start)
                letters += _LETTERS.findall(word)
            elif word.isalpha():
                letters.append(word)
            else:
                letters += _LETTERS.findall(word)
        self.letters = frozenset(letters)

    def may_begin(self, words: AbstractSet[str]) -> bool:
        """Whether what begins with a figure or with one of some words, lower case, may stand in the text."""
        return bool(self.figures) or not words.isdisjoint(self.letters)


def first_words(phrases: Iterable[str]) -> Iterator[str]:
    """The words that phrases begin with, lower case; one that begins with a sign gives none."""
    for phrase in phrases:
        match = _WORD.match(phrase.lower())
        if match:
            yield match.group()
