"""What a clause was found to tell."""

from __future__ import annotations

from bot.reading.words.word_groups import Group
from bot.terms import Kind


class Verdict:
    """The kinds that a clause tells of, with the group of words behind each; or why it tells nothing.

    ``state`` is "told", "nothing" (said not to have happened, or not to be stored), "doubt" (kind not
    sure: ``kinds`` are the likely ones) or "unknown" (no word for a kind).
    """

    __slots__ = ("groups", "kinds", "state", "why")

    def __init__(
        self, state: str, kinds: list[Kind] | None = None, groups: list[Group] | None = None, why: str = ""
    ) -> None:
        self.state, self.kinds, self.groups, self.why = state, kinds or [], groups or [], why
