"""``erase``: all that is kept of a keeper, deleted on their word."""

from __future__ import annotations

import click

from bot.commands.errors import Refusal
from bot.commands.options import db_option, debug_option, keeper_option
from bot.commands.store import note, opened, some_keeper
from bot.telegram.admit import FRONT_END
from storage import Work
from storage.erase import belongings, erase
from storage.records import Keeper


@click.command("erase")
@click.option("--telegram", "number", metavar="NUMBER", help="The keeper, by their Telegram user number.")
@click.option(
    "--really", "typed", metavar="NAME", help="The keeper's name, to be sure; it is asked for otherwise."
)
@db_option
@keeper_option
@debug_option
def erase_command(number: str | None, typed: str | None, db: str | None, keeper_name: str | None) -> None:
    """Delete all that is kept of a keeper, for good: shelf, journal, settings, messages, contacts.

    What they logged on other keepers' shelves stays there, without their name. Backups made before are not
    touched. "burrowbell export" writes the keeper's data to a folder first, if they want it.

    \b
    Example:
      burrowbell erase --telegram 123456
    """
    with opened(db) as store:
        with store.look() as work:
            keeper = _meant(work, number, keeper_name)
            counts = belongings(work, keeper.id)
        note(
            f"{keeper.name}: {counts.animals} animals, {counts.entries} entries; "
            f"{counts.sharers} others share the shelf. Nothing brings them back."
        )
        typed = (
            typed
            if typed is not None
            else click.prompt("Type the keeper's name to delete all of it", err=True)
        )
        if typed.strip() != keeper.name:
            raise Refusal("that is not the keeper's name; nothing was deleted")
        with store.begin() as work:
            erase(work, keeper.id)
    click.echo("Everything of that keeper is deleted.")


def _meant(work: Work, number: str | None, name: str | None) -> Keeper:
    if number is None:
        return some_keeper(work, name)
    keeper = work.keepers.by_contact(FRONT_END, number)
    if keeper is None:
        raise Refusal("--telegram: no keeper is reached under that number")
    return keeper
