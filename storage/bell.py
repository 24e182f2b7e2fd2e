"""Tells a process at once that another put something into the inbox or the outbox.

On PostgreSQL a trigger of either table notifies those who listen, when the insert commits. Whoever misses
a ring finds the rows when next they look, so it only ever saves waiting. In one process nobody needs it.
"""

from __future__ import annotations

from collections.abc import AsyncIterator
from typing import Final

from storage.engine import parsed

#: The channels: one for each table that others wait for.
INBOX: Final = "burrowbell_inbox"
OUTBOX: Final = "burrowbell_outbox"


async def rings(url: str) -> AsyncIterator[str]:
    """The channels as they ring, for as long as the connection holds; then it ends.

    Ends at once where the store is no server's. Raises ``OSError`` where the server cannot be reached.
    """
    address = parsed(url)
    if address.get_backend_name() != "postgresql":
        return
    import psycopg  # noqa: PLC0415  only where PostgreSQL is used

    plain = address.set(drivername="postgresql").render_as_string(hide_password=False)
    try:
        async with await psycopg.AsyncConnection.connect(plain, autocommit=True) as connection:
            for channel in (INBOX, OUTBOX):
                await connection.execute(f"LISTEN {channel}")
            async for notice in connection.notifies():
                yield notice.channel
    except psycopg.Error as problem:
        raise ConnectionError("the database server does not ring") from problem
