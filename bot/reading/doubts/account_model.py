"""What an account holds while it is made."""

from __future__ import annotations

from bot.reading.clauses.frames import Frame
from bot.reading.kinds.drafts import Doubt, Draft


class Account:
    """The drafts of a message, and what was met that stores nothing."""

    def __init__(self) -> None:
        self.drafts: list[Draft] = []
        self.nothing: list[str] = []
        self.doubts: list[Doubt] = []
        self.unknown: list[Frame] = []
