"""What the commands for pictures and paper look at, and how they write their files."""

from __future__ import annotations

import os
from dataclasses import dataclass
from datetime import date, datetime
from pathlib import Path

import click

from bot.commands.errors import Failure, Refusal
from bot.commands.options import day_asked
from bot.commands.store import opened, some_keeper
from bot.round.model import SpecimenFacts
from bot.terms import Entry, KeeperSettings, Specimen
from storage import Work
from storage.keys import key_of
from storage.living_shelf import LivingShelf, read_living


@dataclass(frozen=True, slots=True, kw_only=True)
class ShelfView:
    """A keeper's shelf on a day: the living animals, and their entries up to that day."""

    keeper: str
    settings: KeeperSettings
    on: date
    facts: tuple[SpecimenFacts, ...]
    living: LivingShelf

    @property
    def entries(self) -> tuple[Entry, ...]:
        """The entries of the living animals and of no animal, oldest first."""
        return self.living.entries

    @property
    def specimens(self) -> tuple[Specimen, ...]:
        """The living animals, in the order of the shelf."""
        return tuple(one.specimen for one in self.facts)

    @property
    def first(self) -> date:
        """The day of the first entry, or the day itself where there is none."""
        return self.entries[0].day if self.entries else self.on

    def called(self, tags: tuple[str, ...]) -> tuple[SpecimenFacts, ...]:
        """The animals of these tags or names, all where none is said; refuses a word not sure of one."""
        return tuple(self._one(word) for word in tags) if tags else self.facts

    def _one(self, word: str) -> SpecimenFacts:
        key = key_of(word)
        by_tag = [one for one in self.facts if key_of(one.specimen.tag) == key]
        found = by_tag or [one for one in self.facts if key_of(one.specimen.name or "") == key]
        if len(found) == 1:
            return found[0]
        if not found:
            raise Refusal(f"{word}: nobody on the shelf has this tag or name")
        raise Refusal(f"{word}: say the tag, it may be {' or '.join(one.specimen.tag for one in found)}")


def shelf_view(
    db: str | None, keeper_name: str | None, on: date | None, now: datetime | None = None
) -> ShelfView:
    """The shelf of the keeper whom the command is about."""
    with opened(db) as store, store.look() as work:
        return _view(work, keeper_name, on, now)


def _view(work: Work, keeper_name: str | None, on: date | None, now: datetime | None) -> ShelfView:
    keeper = some_keeper(work, keeper_name)
    day = day_asked(on, now, keeper.settings)
    return ShelfView(
        keeper=keeper.name,
        settings=keeper.settings,
        on=day,
        facts=work.shelves.facts(keeper.shelf_id),
        living=read_living(work, keeper.shelf_id, until=day),
    )


def write_file(path: Path, content: bytes) -> None:
    """Write a file and tell where it is; a folder that is not there or closed is one line of error."""
    try:
        path.write_bytes(content)
    except OSError as problem:
        raise Failure(f"{path}: {problem.strerror}") from problem
    click.echo(str(path))


class OutputFile(click.Path):
    """A file to be written, of one of the forms that its name may end in: no PDF goes into ``x.png``."""

    def __init__(self, *suffixes: str) -> None:
        super().__init__(dir_okay=False, path_type=Path)
        self._suffixes = suffixes

    def convert(
        self, value: str | os.PathLike[str], param: click.Parameter | None, ctx: click.Context | None
    ) -> Path:
        """The path; refuses a name that ends otherwise."""
        path = Path(os.fsdecode(super().convert(value, param, ctx)))
        if path.suffix.lower() not in self._suffixes:
            *others, last = self._suffixes
            ends = " or ".join(filter(None, [", ".join(others), last]))
            raise Refusal(f"{path}: write a name that ends in {ends}")
        return path
