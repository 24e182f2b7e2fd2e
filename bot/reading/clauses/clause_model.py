"""A clause: one thing said of some animals, with the mark that parts it from the one before."""

from __future__ import annotations

from bot.reading.items.item import Item

#: How a clause is parted from the one before it.
START, SENTENCE, COMMA, AND, TITLE, RUN_ON = "start", "sentence", "comma", "and", "title", "run-on"


class Clause:
    """The parts of one clause, what parts it from the one before (``sep``), and by which word or mark."""

    __slots__ = ("by", "goes_on", "items", "line", "opposed", "sep", "titled", "turns")

    def __init__(self, sep: str, *, turns: bool = False, goes_on: bool = False) -> None:
        self.sep = sep
        self.turns = turns  # begun with a "but", "while" or ", and"
        self.opposed = turns  # begun with a "but" or "while"
        self.goes_on = goes_on  # begun with a "then" or "so"
        self.items: list[Item] = []
        self.titled = False
        self.line = False
        self.by = ""

    def __repr__(self) -> str:
        return f"<{self.sep} {self.items}{':' if self.titled else ''}>"
