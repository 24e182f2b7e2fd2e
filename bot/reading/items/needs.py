"""What is done only where something is said that it needs: most messages need little of all there is."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Final, Generic, TypeVar

from bot.reading.items.item import Item

T = TypeVar("T")

#: The need of what is always done.
ALWAYS: Final = frozenset({""})


class Needing(Generic[T]):
    """Things to do, in their order, each with the sorts ("S"), senses ("for") and words ("not") it needs.

    It needs one of them to change anything, so that it may be passed over where none is said.
    """

    def __init__(self, rows: Iterable[tuple[T, frozenset[str]]]) -> None:
        self.rows = tuple(rows)
        self._places: dict[str, list[int]] = {}
        for place, (_, needs) in enumerate(self.rows):
            for need in needs:
                self._places.setdefault(need, []).append(place)

    def due(self, said: Iterable[str]) -> list[T]:
        """What may do something where these sorts, senses and words are said."""
        known = self._places
        places = {place for word in said if word in known for place in known[word]}
        places.update(known.get("", ()))
        return [self.rows[place][0] for place in sorted(places)]


def said_in(items: Sequence[Item]) -> set[str]:
    """The sorts of some items, the senses of their words, and the words."""
    said: set[str] = set()
    for item in items:
        said.add(item.cat)
        said.add(item.text)
        if item.senses:
            said.update(item.senses)
    return said
