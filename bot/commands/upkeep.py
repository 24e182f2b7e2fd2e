"""``migrate``, ``backup`` and ``restore``: keeping a store in order."""

from __future__ import annotations

import sqlite3
import tempfile
from contextlib import closing
from pathlib import Path

import click
from sqlalchemy import func, select

from bot.commands.errors import Refusal
from bot.commands.options import debug_option, input_file
from bot.commands.store import db_option, default_url, opened, told_plainly
from storage import Store, tables
from storage.backup import copy_file
from storage.engine import parsed, sqlite_file


@click.command("migrate")
@db_option
@debug_option
def migrate_command(db: str | None) -> None:
    """Bring a store to the tables of this version; a copy of an older one is laid beside it first.

    \b
    Example:
      burrowbell migrate
    """
    with opened(db):
        click.echo("The store has the tables of this version.")


@click.command("backup")
@click.argument("file", type=click.Path(dir_okay=False, path_type=Path))
@db_option
@debug_option
def backup_command(file: Path, db: str | None) -> None:
    """Copy the store to one file that is whole, while the bot runs.

    \b
    Example:
      burrowbell backup shelf-2026-05.db
    """
    own = _file_of(db)
    if not own.exists():
        raise Refusal(f"--db: there is no store at {own}")
    if file.exists() and file.samefile(own):
        raise Refusal(f"{file} is the store itself; name another file")
    with opened(db) as store:
        copy_file(store.engine, file)
    click.echo(f"The store is in {file}.")


@click.command("restore")
@click.argument("file", type=input_file)
@click.option("--replace", is_flag=True, help="Replace a store that is not empty; a copy of it is kept.")
@db_option
@debug_option
def restore_command(file: Path, replace: bool, db: str | None) -> None:
    """Make the store what a backup holds. A store with something in it stays unless --replace is given.

    \b
    Example:
      burrowbell restore shelf-2026-05.db
    """
    own = _file_of(db)
    if own.exists() and file.samefile(own):
        raise Refusal(f"{file} is the store itself; name a backup")
    with tempfile.TemporaryDirectory() as folder:
        proved = _proved_copy(file, Path(folder) / "backup.db")
        with opened(db) as store:
            if not _is_empty(store):
                if not replace:
                    raise Refusal("the store is not empty; --replace puts the backup in its place")
                copy_file(store.engine, own.with_name(f"{own.name}.before-restore"))
        with closing(sqlite3.connect(proved)) as source, closing(sqlite3.connect(own)) as target:
            source.backup(target)
    with opened(db) as store, store.look() as work:
        entries = work.connection.execute(select(func.count()).select_from(tables.entry)).scalar()
    click.echo(f"The store is what {file} holds: {entries} entries.")


_MARK = "SELECT 1 FROM sqlite_master WHERE name = 'alembic_version'"


def _proved_copy(file: Path, copy: Path) -> Path:
    """A copy of the backup that was found whole, opened as a store and brought up to date."""
    try:
        with (
            closing(sqlite3.connect(f"{file.absolute().as_uri()}?mode=ro", uri=True)) as source,
            closing(sqlite3.connect(copy)) as target,
        ):
            whole = source.execute("PRAGMA integrity_check").fetchone() == ("ok",)
            if not whole or source.execute(_MARK).fetchone() is None:
                raise Refusal(f"{file} is not a whole backup of a store")
            source.backup(target)
    except sqlite3.DatabaseError as problem:
        raise Refusal(f"{file} is not a backup of a store: {problem}") from problem
    with opened(f"sqlite:///{copy}"):
        return copy


def _is_empty(store: Store) -> bool:
    with store.look() as work:
        return work.connection.execute(select(tables.keeper.c.id).limit(1)).first() is None


def _file_of(db: str | None) -> Path:
    with told_plainly():
        file = sqlite_file(parsed(db or default_url()))
    if file is None:
        raise Refusal("--db: only a SQLite file is copied this way; use the database server's own tools")
    return file
