"""``serve``: the Telegram front end."""

from __future__ import annotations

from contextlib import closing
from functools import partial
from pathlib import Path

import click

from bot.clock import Clock, Safekeeping
from bot.clock.safekeeping import Posts
from bot.commands.errors import Refusal
from bot.commands.options import db_option, debug_option
from bot.commands.store import told_plainly
from bot.settings import Settings, SettingsError, load_settings
from bot.telegram import serve
from storage import Store
from storage.copies import Copies
from storage.rotation import Keep


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
    with told_plainly(), closing(Store.open(settings.database_url, photos=settings.photo_folder)) as store:
        return serve(settings, store, clock=Clock, keeping=partial(_safekeeping, settings))


def _safekeeping(settings: Settings, store: Store, posts: Posts) -> Safekeeping:
    copies = None
    if settings.backup_folder:
        keep = Keep(*settings.backup_keep)
        copies = Copies(
            settings.database_url, Path(settings.backup_folder), keep, photos=settings.photo_folder
        )
    operator = str(settings.keepers[0])
    return Safekeeping(store, posts, operator=operator, copies=copies, key=settings.backup_key)
