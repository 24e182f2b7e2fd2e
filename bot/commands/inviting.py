"""``invite``: a one-time code that lets a person in."""

from __future__ import annotations

from datetime import UTC, datetime

import click

from bot.commands.options import db_option, debug_option, keeper_option
from bot.commands.store import opened, some_keeper
from bot.telegram.deep_link import link, payload_for_invite
from bot.telegram.invites import HOLDS_FOR
from storage.codes import hash_of, new_code
from storage.records import Role


@click.command("invite")
@click.option(
    "--as",
    "role",
    type=click.Choice(["keeper", *(role.value for role in Role if role is not Role.OWNER)]),
    default="keeper",
    show_default=True,
    help="With a shelf of their own, or sharing in yours.",
)
@click.option("--bot", metavar="NAME", help="The bot's user name on Telegram, to get a link to send.")
@db_option
@keeper_option
@debug_option
def invite_command(role: str, bot: str | None, db: str | None, keeper_name: str | None) -> None:
    """Make a code that lets one person talk to the bot, once, within two days.

    \b
    Example:
      burrowbell invite --as helper --bot my_shelf_bot
    """
    now = datetime.now(UTC)
    code = new_code()
    with opened(db) as store, store.begin() as work:
        keeper = some_keeper(work, keeper_name)
        work.keepers.invite(
            None if role == "keeper" else keeper.shelf_id,
            role=Role.OWNER if role == "keeper" else role,
            code_hash=hash_of(code),
            by=keeper.id,
            expires_at=now + HOLDS_FOR,
            at=now,
        )
    payload = payload_for_invite(code)
    click.echo(link(bot.removeprefix("@"), payload) if bot else f"/start {payload}")
