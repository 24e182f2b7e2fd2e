"""``migrate``, ``backup``, ``restore`` and ``key``: keeping a store in order."""

from __future__ import annotations

from pathlib import Path
from tempfile import TemporaryDirectory

import click

from bot.commands.errors import Failure, Refusal
from bot.commands.options import db_option, debug_option, input_file
from bot.commands.store import opened, place_of, told_plainly
from bot.settings import StoreSettings
from storage.backup import Counts, backup, restore
from storage.engine import parsed, sqlite_file
from storage.errors import CopyFailedError
from storage.sealing import is_sealed, new_key, seal, unseal


@click.command("migrate")
@db_option
@debug_option
def migrate_command(db: str | None) -> None:
    """Bring a store to the tables of this version; a copy of an older one is laid beside it first.

    \b
    Example:
      burrowbell migrate
    """
    with opened(db, makes=True):
        click.echo("The store has the tables of this version.")


@click.command("backup")
@click.argument("file", type=click.Path(dir_okay=False, path_type=Path))
@click.option("--key", help="Seal the copy with this public key (age1…), so that only its owner can open it.")
@db_option
@debug_option
def backup_command(file: Path, key: str | None, db: str | None) -> None:
    """Copy the store, photos and all, to one file that is whole, while the bot runs.

    \b
    Example:
      burrowbell backup shelf-2026-05.db
    """
    with told_plainly():
        place = place_of(db)
        _refuse_itself(file, place.database_url)
        if key:
            counts = _sealed_backup(place, file, key)
        else:
            counts = backup(place.database_url, file, photos=place.photo_folder)
    click.echo(f"{file} holds the store: {counts['specimen']} specimens, {counts['entry']} entries.")


@click.command("restore")
@click.argument("file", type=input_file)
@click.option("--replace", is_flag=True, help="Replace a store that is not empty; a copy of it is kept.")
@click.option("--key", type=input_file, help="The file with the secret key, for a sealed copy.")
@db_option
@debug_option
def restore_command(file: Path, replace: bool, key: Path | None, db: str | None) -> None:
    """Make the store what a backup holds. A store with something in it stays unless --replace is given.

    \b
    Example:
      burrowbell restore shelf-2026-05.db
    """
    with told_plainly(), TemporaryDirectory() as folder:
        place = place_of(db)
        _refuse_itself(file, place.database_url)
        try:
            opened_file = _opened(file, key, Path(folder))
            counts = restore(opened_file, place.database_url, replace=replace, photos=place.photo_folder)
        except CopyFailedError as problem:
            raise Refusal(f"{file}: {problem}") from problem
    click.echo(f"The store is what {file} holds: {counts['specimen']} specimens, {counts['entry']} entries.")


@click.command("key")
@debug_option
def key_command() -> None:
    """Make a pair of keys for sealed copies: one to seal with, and a secret one to open them with.

    Keep the secret one where the bot is not: on paper, or in a password manager. Without it no sealed
    copy can be opened by anybody.

    \b
    Example:
      burrowbell key > burrowbell-key.txt
    """
    with told_plainly():
        public, secret = new_key()
    click.echo(f"# seals copies; goes into BURROWBELL_BACKUP_KEY: {public}")
    click.echo("# opens them; keep this line where the bot is not:")
    click.echo(secret)


def _opened(file: Path, key: Path | None, folder: Path) -> Path:
    """The file, or what it holds if it is sealed."""
    if not is_sealed(file):
        return file
    if key is None:
        raise Refusal(f"{file} is sealed; say --key and the file with the secret key")
    unseal(file, folder / "copy.db", key)
    return folder / "copy.db"


def _sealed_backup(place: StoreSettings, file: Path, key: str) -> Counts:
    """The open copy lies beside the sealed one, on the same disk, and only while it is sealed."""
    try:
        with TemporaryDirectory(dir=file.absolute().parent) as folder:
            copy = Path(folder) / "copy.db"
            counts = backup(place.database_url, copy, photos=place.photo_folder)
            seal(copy, file, key)
    except OSError as problem:
        raise Failure(f"{file} cannot be written ({problem.strerror})") from problem
    return counts


def _refuse_itself(file: Path, url: str) -> None:
    own = sqlite_file(parsed(url))
    if own is not None and own.exists() and file.exists() and file.samefile(own):
        raise Refusal(f"{file} is the store itself; name another file")
