"""Of which shelf a change is: whatever is undone with a change is kept on that shelf."""

from __future__ import annotations

from typing import Final

from sqlalchemy import Connection, bindparam, select

from storage import tables as t
from storage.errors import NotOnShelfError

_SHELF: Final = select(t.change.c.shelf_id).where(t.change.c.id == bindparam("number"))


def shelf_of_change(connection: Connection, change_id: int) -> int:
    """The number of the change's shelf. Raises :class:`NotOnShelfError` where there is no such change."""
    shelf_id = connection.execute(_SHELF, {"number": change_id}).scalar()
    if shelf_id is None:
        raise NotOnShelfError(f"There is no change {change_id}.")
    return int(shelf_id)
