"""The store that a command works on, and whose shelf it is about."""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Final

import click
from platformdirs import user_data_path
from sqlalchemy import select

from bot.commands.errors import Failure, Refusal
from storage import Store, Work, tables
from storage.errors import CopyFailedError, StoreError, StoreUnavailableError
from storage.records import Keeper

#: Where the keeper at this keyboard is reached: the terminal front end has one address.
KEYBOARD: Final = ("terminal", "keyboard")


def default_url() -> str:
    """The SQLite file in the user's data folder."""
    return f"sqlite:///{user_data_path('burrowbell') / 'burrowbell.db'}"


def photo_folder() -> Path | None:
    """The folder of the photo files, where one is named; beside a SQLite file they need none."""
    named = os.environ.get("BURROWBELL_PHOTO_FOLDER")
    return Path(named) if named else None


@contextmanager
def told_plainly() -> Iterator[None]:
    """Turns what the store refuses into the command's one line and exit status."""
    try:
        yield
    except (StoreUnavailableError, CopyFailedError) as problem:
        raise Failure(str(problem)) from problem
    except StoreError as problem:
        raise Refusal(str(problem)) from problem


@contextmanager
def opened(url: str | None, *, photos: Path | None = None) -> Iterator[Store]:
    """The store of ``--db``, brought up to date, and closed at the end of the block."""
    with told_plainly():
        store = Store.open(url or default_url(), photos=photos or photo_folder())
        try:
            yield store
        finally:
            store.close()


def all_keepers(work: Work) -> list[Keeper]:
    """Every keeper of the store, in the order in which they came; none of whom only a number is left."""
    numbers = work.connection.execute(select(tables.keeper.c.id).order_by(tables.keeper.c.id)).scalars()
    keepers = [work.keepers.get(number) for number in numbers.all()]
    return [keeper for keeper in keepers if not keeper.is_erased]


def keeper_here(work: Work, name: str | None) -> Keeper | None:
    """The keeper whom a command is about: of that name, or of this keyboard, or the only one there is.

    ``None`` for a store without keepers. Raises :class:`Refusal` where it is not sure who is meant.
    """
    if name is None and (here := work.keepers.by_contact(*KEYBOARD)) is not None:
        return here
    keepers = all_keepers(work)
    if not keepers and name is None:
        return None
    called = [keeper for keeper in keepers if name is None or keeper.name.casefold() == name.casefold()]
    if len(called) != 1:
        known = ", ".join(sorted({keeper.name for keeper in keepers})) or "nobody yet"
        raise Refusal(f"--keeper: say whose shelf is meant; this store has {known}")
    return called[0]


def some_keeper(work: Work, name: str | None) -> Keeper:
    """Like :func:`keeper_here`, and refuses a store without keepers."""
    keeper = keeper_here(work, name)
    if keeper is None:
        raise Refusal("this store has no keeper yet; talk to it first: burrowbell chat")
    return keeper


def note(line: str) -> None:
    """What is told beside the results, on standard error."""
    click.echo(line, err=True)
