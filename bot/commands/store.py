"""The store that a command works on, and whose shelf it is about."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from typing import Final

import click
from sqlalchemy import select

from bot.commands.errors import Failure, Refusal
from bot.settings import SettingsError, StoreSettings, load_store_settings
from storage import Store, Work, tables
from storage.engine import parsed, sqlite_file
from storage.errors import CopyFailedError, StoreError, StoreUnavailableError
from storage.records import Keeper

#: Where the keeper at this keyboard is reached: the terminal front end has one address.
KEYBOARD: Final = ("terminal", "keyboard")


def place_of(db: str | None) -> StoreSettings:
    """Where the store of ``--db`` is with its photos, or else the one that ``serve`` would answer from.

    A photo folder that is set beside another store's URL is that store's, and not this one's.
    """
    told = load_store_settings()
    if db is None or db == told.database_url:
        return told
    folder = told.photo_folder
    if folder and "database_url" in told.model_fields_set:
        note("The photo folder that is set is another store's; it is left alone.")
        folder = None
    return StoreSettings.model_construct(database_url=db, photo_folder=folder)


@contextmanager
def told_plainly() -> Iterator[None]:
    """Turns what the store refuses into the command's one line and exit status."""
    try:
        yield
    except (StoreUnavailableError, CopyFailedError) as problem:
        raise Failure(str(problem)) from problem
    except (StoreError, SettingsError) as problem:
        raise Refusal(str(problem)) from problem


@contextmanager
def opened(db: str | None, *, makes: bool = False) -> Iterator[Store]:
    """The store of ``--db``, brought up to date, and closed at the end of the block.

    Where there is none yet it is refused, unless the command ``makes`` one.
    """
    with told_plainly():
        place = place_of(db)
        file = sqlite_file(parsed(place.database_url))
        if file is not None and not makes and not file.exists():
            raise Refusal(f"there is no store yet at {file}; talk to it first: burrowbell chat")
        store = Store.open(place.database_url, photos=place.photo_folder)
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
