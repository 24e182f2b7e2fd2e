"""A shelf as the conversation sees it: who stands there, what they are called, what is known of them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Final

from bot.reading import ShelfNames
from bot.round.model import SpecimenFacts
from bot.terms import Specimen
from storage import Work
from storage.records import StoredSpecimen, Surroundings


@dataclass(frozen=True)
class Shelf:
    """A shelf's animals at one revision. ``gone`` are those whose tag nobody bears now."""

    shelf_id: int
    revision: int
    specimens: tuple[Specimen, ...]
    gone: tuple[StoredSpecimen, ...]

    @classmethod
    def look_up(
        cls, work: Work, shelf_id: int, revision: int, living: tuple[Specimen, ...] | None = None
    ) -> Shelf:
        """Reads a shelf from the store; only the gone, where the living have been read."""
        if living is None:
            living = tuple(stored.specimen for stored in work.shelves.specimens(shelf_id))
        tags = {specimen.tag for specimen in living}
        gone = tuple(
            stored
            for stored in work.shelves.specimens(shelf_id, gone=True)
            if stored.gone_on is not None and stored.specimen.tag not in tags
        )
        return cls(shelf_id=shelf_id, revision=revision, specimens=living, gone=gone)

    @cached_property
    def everyone(self) -> tuple[Specimen, ...]:
        """The living and the gone. One that is gone counts nobody any more, but is spoken of as it was."""
        return self.specimens + tuple(
            replace(stored.specimen, lot_size=max(1, stored.specimen.lot_size)) for stored in self.gone
        )

    @cached_property
    def by_tag(self) -> Mapping[str, Specimen]:
        """Everyone by tag."""
        return {specimen.tag: specimen for specimen in self.everyone}

    def in_order(self, tags: Iterable[str]) -> list[str]:
        """Tags in shelf order, each once: the living, then the gone, then tags that nobody bears any more."""
        wanted = set(tags)
        return [tag for tag in self.by_tag if tag in wanted] + sorted(wanted - self.by_tag.keys())

    @cached_property
    def names(self) -> ShelfNames:
        """The index of the living animals' names."""
        return ShelfNames.of(self.specimens)

    @cached_property
    def all_names(self) -> ShelfNames:
        """The index that also knows the animals that are gone."""
        return ShelfNames.of(self.everyone) if self.gone else self.names


class ShelfCache:
    """The shelves last talked about, by revision; bounded, and safe to lose."""

    _MOST: Final = 64

    def __init__(self) -> None:
        self._shelves: dict[int, Shelf] = {}

    def get(
        self, work: Work, shelf_id: int, revision: int, living: tuple[Specimen, ...] | None = None
    ) -> Shelf:
        """The shelf at its latest revision; of the ``living`` read already, where it is not known.

        Those may be older than the revision, so that such a shelf is not kept for others.
        """
        shelf = self._shelves.pop(shelf_id, None)
        if shelf is None or shelf.revision != revision:
            if living is not None:
                return Shelf.look_up(work, shelf_id, revision, living)
            shelf = Shelf.look_up(work, shelf_id, revision)
        self._shelves[shelf_id] = shelf
        while len(self._shelves) > self._MOST:
            self._shelves.pop(next(iter(self._shelves)))
        return shelf

    def is_empty(self, work: Work, shelf_id: int, revision: int) -> bool:
        """Whether nobody living stands there; asks for no more than that where the shelf is not known."""
        shelf = self._shelves.get(shelf_id)
        if shelf is None or shelf.revision != revision:
            return work.shelves.is_empty(shelf_id)
        return not shelf.specimens

    def drop(self, shelf_id: int) -> None:
        """Forgets a shelf."""
        self._shelves.pop(shelf_id, None)


class KnownFacts:
    """What the journal adds up to for the living animals of a shelf, read as far as it is asked for.

    ``surroundings`` are the shelf's, where they are known.
    """

    def __init__(self, work: Work, shelf_id: int, surroundings: Surroundings | None = None) -> None:
        self._work, self._shelf_id, self._surroundings = work, shelf_id, surroundings
        self._known: dict[str, SpecimenFacts | None] = {}
        self._all: list[SpecimenFacts] | None = None

    def get(self, tag: str) -> SpecimenFacts | None:
        """The facts of one animal; ``None`` where no living animal has that tag."""
        if tag not in self._known:
            self.fetch((tag,))
        return self._known[tag]

    def __getitem__(self, tag: str) -> SpecimenFacts:
        facts = self.get(tag)
        if facts is None:
            raise KeyError(tag)
        return facts

    def fetch(self, tags: Iterable[str]) -> None:
        """Reads the facts of several animals at once."""
        wanted = [tag for tag in tags if tag not in self._known]
        if not wanted or self._all is not None:
            self._known.update(dict.fromkeys(wanted))
            return
        found = {facts.specimen.tag: facts for facts in self._read(wanted)}
        self._known.update({tag: found.get(tag) for tag in wanted})

    def renewed(self) -> KnownFacts:
        """Facts of which none is known yet, in the same surroundings."""
        return KnownFacts(self._work, self._shelf_id, self._surroundings)

    def _read(self, tags: Sequence[str] | None) -> tuple[SpecimenFacts, ...]:
        if self._surroundings is None:
            self._surroundings = self._work.shelves.surroundings(self._shelf_id)
        return self._work.shelves.facts(self._shelf_id, tags=tags, surroundings=self._surroundings)

    @property
    def living(self) -> tuple[Specimen, ...] | None:
        """Everybody living, where the facts of all have been read."""
        return None if self._all is None else tuple(facts.specimen for facts in self._all)

    def all(self) -> list[SpecimenFacts]:
        """The facts of all living animals, in shelf order."""
        if self._all is None:
            self._all = list(self._read(None))
            self._known = {facts.specimen.tag: facts for facts in self._all}
        return self._all
