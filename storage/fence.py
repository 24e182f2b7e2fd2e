"""The fence between keepers, on PostgreSQL: a second hindrance should a query ever ask for too much.

Every connection of the program is in *service*: whoever takes updates in, sends, or asks who is due works
across keepers. What is done for one keeper is done within the fence: until it ends, the database itself shows
and takes only what is that keeper's or on a shelf that they may see. Any other connection sees nothing.

The policies are in migration 0008. They bind the tables' owner, but no superuser and no role that bypasses
row security; :func:`is_bypassed` tells. SQLite has no such thing, and its one file is one household's.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from datetime import date, timedelta
from typing import Any, Final

from sqlalchemy import Connection, text

SERVICE: Final = "SET burrowbell.scope = 'service'"

#: A keeper's day may be another than ours: the fence stands a day further out than the conversation goes.
_A_DAY: Final = timedelta(days=1)

_UP: Final = text(
    """
    SELECT set_config('burrowbell.keeper', CAST(:keeper AS text), true),
           set_config('burrowbell.shelves', (
               SELECT CAST(coalesce(array_agg(shelf_id), '{}') AS text) FROM membership
               WHERE keeper_id = CAST(:keeper AS bigint)
                   AND (from_day IS NULL OR from_day <= :latest)
                   AND (until_day IS NULL OR until_day >= :earliest)
           ), true),
           set_config('burrowbell.people', (
               SELECT CAST(coalesce(array_agg(other.keeper_id), '{}') AS text)
               FROM membership AS own JOIN membership AS other ON other.shelf_id = own.shelf_id
               WHERE own.keeper_id = CAST(:keeper AS bigint)
           ), true),
           set_config('burrowbell.scope', 'keeper', true)
    """
)
_SCOPE: Final = text("SELECT set_config('burrowbell.scope', :scope, true)")
_BYPASSED: Final = text("SELECT rolsuper OR rolbypassrls FROM pg_roles WHERE rolname = current_user")


def put_in_service(raw: Any) -> None:
    """Puts a new PostgreSQL connection of the driver's into service, for all its transactions."""
    raw.autocommit = True
    raw.execute(SERVICE)
    raw.autocommit = False


@contextmanager
def fenced(connection: Connection, keeper_id: int, on: date) -> Iterator[None]:
    """Within the block, the transaction sees and writes what is the keeper's, and nothing else.

    ``on`` is the day, which tells whose shelves are shared with them. An error within ends the transaction.
    """
    if connection.dialect.name != "postgresql":
        yield
        return
    days = {"latest": on + _A_DAY, "earliest": on - _A_DAY}
    connection.execute(_UP, {"keeper": keeper_id, **days})
    yield
    connection.execute(_SCOPE, {"scope": "service"})


@contextmanager
def in_service(connection: Connection) -> Iterator[None]:
    """Within a fenced block: a step out of it, for what one keeper's word does to others' rows."""
    if connection.dialect.name != "postgresql":
        yield
        return
    scope = connection.execute(text("SELECT current_setting('burrowbell.scope')")).scalar_one()
    connection.execute(_SCOPE, {"scope": "service"})
    yield
    connection.execute(_SCOPE, {"scope": scope})


def is_bypassed(connection: Connection) -> bool:
    """Whether the fence does nothing, for the database's user is above it."""
    return connection.dialect.name == "postgresql" and bool(connection.execute(_BYPASSED).scalar())
