"""Photos: which picture shows whom."""

from __future__ import annotations

from datetime import datetime
from typing import Final

from sqlalchemy import Connection, bindparam, insert, select, update

from storage import tables as t
from storage.changes import shelf_of_change
from storage.dialect import AnyRow, new_row
from storage.keys import key_of
from storage.projection import Projection
from storage.records import StoredPhoto

#: The path of a picture whose file could not be had.
NO_FILE: Final = ""

_INSERT = insert(t.photo)
_READ = (
    select(t.photo, t.specimen.c.tag)
    .join_from(t.photo, t.change, t.change.c.id == t.photo.c.change_id)
    .outerjoin(t.specimen, t.specimen.c.id == t.photo.c.specimen_id)
    .where(t.change.c.undone_at.is_(None))
    .order_by(t.photo.c.at.desc(), t.photo.c.id.desc())
)
_OF_SPECIMEN = _READ.where(t.photo.c.specimen_id == bindparam("number"))
_OF_SHELF = _READ.where(t.photo.c.shelf_id == bindparam("shelf"))


_NOT_YET_KEPT = (
    select(t.photo, t.specimen.c.tag)
    .outerjoin(t.specimen, t.specimen.c.id == t.photo.c.specimen_id)
    .where(t.photo.c.path.is_(None))
    .order_by(t.photo.c.id)
    .limit(bindparam("most"))
)
_KEPT = (
    update(t.photo)
    .where(t.photo.c.id == bindparam("number"))
    .values(path=bindparam("where"), width=bindparam("across"), height=bindparam("down"))
)
_SHOWN_BY = (
    select(t.specimen.c.tag)
    .join_from(t.photo, t.specimen, t.specimen.c.id == t.photo.c.specimen_id)
    .where(t.photo.c.change_id == bindparam("number"))
)
_PATHS = select(t.photo.c.path).where(t.photo.c.path.is_not(None), t.photo.c.path != NO_FILE)


class Photos:
    """Pictures that came with messages; out of sight while their change is undone."""

    def __init__(self, connection: Connection) -> None:
        self._db = connection

    def add(
        self,
        change_id: int,
        tag: str | None,
        *,
        reference: str,
        path: str | None,
        at: datetime,
        size: tuple[int, int] | None = None,
    ) -> int:
        """Keeps a picture's reference and path, of a specimen or of the shelf. Gives its number."""
        shelf_id = shelf_of_change(self._db, change_id)
        values = {
            "shelf_id": shelf_id,
            "change_id": change_id,
            "specimen_id": None if tag is None else self._number(shelf_id, tag),
            "reference": reference,
            "path": path,
            "at": at,
            "width": size[0] if size else None,
            "height": size[1] if size else None,
        }
        return new_row(self._db, _INSERT, values)

    def not_yet_kept(self, most: int) -> tuple[StoredPhoto, ...]:
        """Pictures whose file is still to be fetched, the oldest first."""
        return tuple(_photo_from(row) for row in self._db.execute(_NOT_YET_KEPT, {"most": most}))

    def kept(self, number: int, path: str, size: tuple[int, int]) -> bool:
        """Notes where a picture's file lies, and its size in pixels. False where it was erased meanwhile."""
        values = {"number": number, "where": path, "across": size[0], "down": size[1]}
        return bool(self._db.execute(_KEPT, values).rowcount)

    def cannot_be_kept(self, number: int) -> None:
        """Notes that a picture has no file and will have none: it is not asked for again."""
        self._db.execute(_KEPT, {"number": number, "where": NO_FILE, "across": None, "down": None})

    def shown_by(self, change_id: int) -> frozenset[str]:
        """The tags of the animals that the pictures of a change show."""
        return frozenset(self._db.execute(_SHOWN_BY, {"number": change_id}).scalars())

    def paths(self) -> frozenset[str]:
        """Where the files of all pictures lie, also of changes that are undone."""
        return frozenset(self._db.execute(_PATHS).scalars())

    def of(self, shelf_id: int, tag: str | None) -> tuple[StoredPhoto, ...]:
        """The pictures of a specimen, or of everything on the shelf; the newest first."""
        if tag is None:
            rows = self._db.execute(_OF_SHELF, {"shelf": shelf_id})
        else:
            rows = self._db.execute(_OF_SPECIMEN, {"number": self._number(shelf_id, tag)})
        return tuple(_photo_from(row) for row in rows)

    def _number(self, shelf_id: int, tag: str) -> int:
        return Projection(self._db).find(shelf_id, [tag])[key_of(tag)].id


def _photo_from(row: AnyRow) -> StoredPhoto:
    return StoredPhoto(
        id=row.id,
        shelf_id=row.shelf_id,
        change_id=row.change_id,
        tag=row.tag,
        reference=row.reference,
        path=row.path,
        at=row.at,
        size=None if row.width is None or row.height is None else (row.width, row.height),
    )
