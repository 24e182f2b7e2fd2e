"""``migrate``, ``backup`` and ``restore``: keeping a store in order."""

from __future__ import annotations

from pathlib import Path

import click

from bot.commands.errors import Refusal
from bot.commands.options import db_option, debug_option, input_file
from bot.commands.store import default_url, opened, photo_folder, told_plainly
from storage.backup import backup, restore
from storage.engine import parsed, sqlite_file
from storage.errors import CopyFailedError


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
    """Copy the store, photos and all, to one file that is whole, while the bot runs.

    \b
    Example:
      burrowbell backup shelf-2026-05.db
    """
    url = db or default_url()
    with told_plainly():
        _refuse_itself(file, url)
        counts = backup(url, file, photos=photo_folder())
    click.echo(f"{file} holds the store: {counts['specimen']} specimens, {counts['entry']} entries.")


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
    url = db or default_url()
    with told_plainly():
        _refuse_itself(file, url)
        try:
            counts = restore(file, url, replace=replace, photos=photo_folder())
        except CopyFailedError as problem:
            raise Refusal(f"{file}: {problem}") from problem
    click.echo(f"The store is what {file} holds: {counts['specimen']} specimens, {counts['entry']} entries.")


def _refuse_itself(file: Path, url: str) -> None:
    own = sqlite_file(parsed(url))
    if own is not None and own.exists() and file.exists() and file.samefile(own):
        raise Refusal(f"{file} is the store itself; name another file")
