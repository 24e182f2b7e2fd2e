"""``serve``: the Telegram front end."""

from __future__ import annotations

import click

from bot.clock import Clock
from bot.commands.errors import Refusal
from bot.commands.options import db_option, debug_option
from bot.commands.store import opened
from bot.settings import SettingsError, load_settings
from bot.telegram import serve


@click.command("serve")
@db_option
@debug_option
def serve_command(db: str | None) -> int:
    """Answer on Telegram until stopped; token, keepers and limits come from the environment.

    \b
    Example:
      BURROWBELL_TOKEN=… BURROWBELL_KEEPERS=123456789 burrowbell serve
    """
    try:
        settings = load_settings(database_url=db) if db else load_settings()
    except SettingsError as problem:
        raise Refusal(str(problem)) from problem
    with opened(settings.database_url, photos=settings.photo_folder) as store:
        return serve(settings, store, clock=Clock)
