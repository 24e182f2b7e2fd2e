"""Options that commands share."""

from __future__ import annotations

import json
import logging
import sys
from collections.abc import Mapping
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

import click

from bot.terms import KeeperSettings


def _keeper_time(_ctx: click.Context, _param: click.Parameter, value: str | None) -> datetime | None:
    """A date and time as the keeper's own clock shows it: naive, or aware where an offset was given."""
    try:
        return None if value is None else datetime.fromisoformat(value)
    except ValueError:
        raise click.BadParameter(f"{value!r} is not a date and time like 2026-05-14T19:30") from None


def in_zone(moment: datetime | None, zone: str) -> datetime:
    """A ``--now`` in the keeper's zone; the real time where none was given."""
    keepers_zone = ZoneInfo(zone)
    if moment is None:
        return datetime.now(UTC).astimezone(keepers_zone)
    return moment.astimezone(keepers_zone) if moment.tzinfo else moment.replace(tzinfo=keepers_zone)


def day_asked(on: date | None, now: datetime | None, settings: KeeperSettings) -> date:
    """The day of ``--on``; the keeper's day at ``--now`` where none was given."""
    return on or settings.day_of(in_zone(now, settings.zone))


def _a_day(_ctx: click.Context, _param: click.Parameter, value: str | None) -> date | None:
    try:
        return None if value is None else date.fromisoformat(value)
    except ValueError:
        raise click.BadParameter(f"{value!r} is not a date like 2026-05-14") from None


db_option = click.option(
    "--db",
    metavar="URL",
    help="The store: sqlite:///PATH or postgresql+psycopg://…  [default: that of serve]",
)
keeper_option = click.option(
    "--keeper", "keeper_name", metavar="NAME", help="Whose shelf, where the store has several keepers."
)
now_option = click.option(
    "--now",
    callback=_keeper_time,
    metavar="YYYY-MM-DDTHH:MM",
    help="The keeper's local time to go by, so that a day can be replayed.",
)
on_option = click.option(
    "--on", callback=_a_day, metavar="YYYY-MM-DD", help="The day it is about.  [default: today]"
)
json_option = click.option("--json", "as_json", is_flag=True, help="Print one JSON object for each line.")
input_file = click.Path(exists=True, dir_okay=False, readable=True, path_type=Path)


def _start_log(_ctx: click.Context, _param: click.Parameter, debug: bool) -> None:
    """The log goes to standard error with ``--debug``, and nowhere without."""
    if debug:
        logging.basicConfig(level=logging.DEBUG, stream=sys.stderr, force=True)
    else:
        logging.getLogger().addHandler(logging.NullHandler())


debug_option = click.option(
    "--debug", is_flag=True, expose_value=False, callback=_start_log, help="Write the log to standard error."
)


def print_json(line: Mapping[str, Any]) -> None:
    """One JSON object on a line of its own: ASCII only, so that nothing in it looks like a line's end."""
    click.echo(json.dumps(line))
