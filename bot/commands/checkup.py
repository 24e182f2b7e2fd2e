"""``doctor``: whether all that the bot rests on is in order."""

from __future__ import annotations

import os
from collections.abc import Iterator
from dataclasses import asdict, dataclass
from datetime import UTC, datetime
from importlib import metadata
from typing import Final
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

import click
import httpx

from bot.commands.options import db_option, debug_option, json_option, print_json
from bot.commands.store import all_keepers, place_of
from bot.settings import PREFIX, Settings, SettingsError, load_settings
from storage import Store
from storage.checkup import faults_of
from storage.engine import parsed, sqlite_file
from storage.errors import StoreError
from storage.fence import is_bypassed

#: A clock that shows an earlier time than this has lost it, as a small board does without a battery.
_NOT_BEFORE: Final = datetime(2026, 1, 1, tzinfo=UTC)
_PATIENCE_S: Final = 10
_ABOVE_THE_FENCE: Final = (
    "its user is a superuser or bypasses row security, so PostgreSQL does not keep keepers apart; "
    "use a role of its own (deploy/README.md)"
)


@dataclass(frozen=True, slots=True)
class Check:
    """One thing looked at, whether it is well, and what was seen."""

    check: str
    ok: bool
    detail: str


@click.command("doctor")
@db_option
@json_option
@debug_option
def doctor_command(*, db: str | None, as_json: bool) -> int:
    """Check store, settings, clock, zone data and connection, one line each.

    \b
    Example:
      burrowbell doctor
    """
    checks = list(_all_checks(db))
    for found in checks:
        if as_json:
            print_json(asdict(found))
        else:
            click.echo(f"{'ok ' if found.ok else 'BAD'} {found.check}: {found.detail}")
    return 0 if all(found.ok for found in checks) else 1


def _all_checks(db: str | None) -> Iterator[Check]:
    zones, store = _store(db)
    yield store
    settings, told = _settings()
    yield told
    yield _clock()
    yield _zone_data(zones)
    yield _connection(settings)


def _store(db: str | None) -> tuple[set[str], Check]:
    """The store is looked at without making or migrating one; with it come its keepers' zones."""
    try:
        url = place_of(db).database_url
        file = sqlite_file(parsed(url))
        if file is not None and not file.exists():
            return set(), Check("store", True, f"none yet; the first start makes {file}")
        store = Store.open(url)
    except (StoreError, SettingsError) as problem:
        return set(), Check("store", False, str(problem))
    try:
        with store.look() as work:
            keepers, bypassed = all_keepers(work), is_bypassed(work.connection)
        zones = {keeper.settings.zone for keeper in keepers}
        if bypassed:
            return zones, Check("store", False, _ABOVE_THE_FENCE)
        if faults := faults_of(store):
            return zones, Check("store", False, " ".join(faults))
        return zones, Check("store", True, f"whole, with {len(keepers)} keeper(s): {file or 'on a server'}")
    except StoreError as problem:
        return set(), Check("store", False, str(problem))
    finally:
        store.close()


def _settings() -> tuple[Settings | None, Check]:
    if not any(name.startswith(PREFIX) for name in os.environ) and not os.path.exists(".env"):
        return None, Check("settings", True, "none for Telegram; the keyboard needs none")
    try:
        settings = load_settings()
    except SettingsError as problem:
        return None, Check("settings", False, str(problem))
    return settings, Check("settings", True, f"complete; {len(settings.keepers)} keeper(s) listed")


def _clock() -> Check:
    now = datetime.now(UTC)
    if now < _NOT_BEFORE:
        return Check("clock", False, f"{now:%Y-%m-%d %H:%M} UTC lies in the past; set the computer's clock")
    return Check("clock", True, f"{now:%Y-%m-%d %H:%M} UTC")


def _zone_data(zones: set[str]) -> Check:
    unknown = sorted(zone for zone in zones | {"Europe/London"} if not _is_known(zone))
    if unknown:
        return Check("zone data", False, f"no data for {', '.join(unknown)}; install the tzdata package")
    return Check("zone data", True, f"tzdata {metadata.version('tzdata')}")


def _is_known(zone: str) -> bool:
    try:
        ZoneInfo(zone)
    except (ZoneInfoNotFoundError, ValueError, OSError):
        return False
    return True


def _connection(settings: Settings | None) -> Check:
    """Asks Telegram who the bot is. The token is part of the address, so no error is repeated as it is."""
    if settings is None:
        return Check("connection", True, "not tried: no token is set")
    address = f"{settings.api_base_url}/bot{settings.token.get_secret_value()}/getMe"
    try:
        answer = httpx.get(address, timeout=_PATIENCE_S)
    except httpx.HTTPError as problem:
        return Check("connection", False, f"no answer from Telegram ({type(problem).__name__})")
    if answer.status_code == httpx.codes.OK:
        return Check("connection", True, "Telegram knows the bot")
    return Check("connection", False, f"Telegram refuses the token (status {answer.status_code})")
