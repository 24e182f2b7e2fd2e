"""What is kept of a keeper beside animals and entries: shares, hand-overs, rounds, photos and the like."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import UTC, date, datetime, time
from enum import Enum
from io import BytesIO
from types import MappingProxyType
from typing import Any, Final
from zipfile import ZipFile

from sqlalchemy import BindParameter, Select, bindparam, or_, select

from storage import Work
from storage import tables as t
from storage.album import Album
from storage.records import Keeper

#: Telegram takes files of up to 50 MB from a bot (Bot API, sendDocument); one is held in memory several times
#: while it is made and sent, and the service unit allows 256 MB.
_MOST_ZIPPED: Final = 20 * 1_000_000

_ME: Final[BindParameter[int]] = bindparam("keeper")
_OWN: Final[BindParameter[int]] = bindparam("shelf")
_H, _I, _M, _O, _R, _P = (
    table.c for table in (t.handover, t.invite, t.membership, t.occurrence, t.reminder, t.photo)
)
_PERIOD: Final = (_M.role, _M.from_day.label("from"), _M.until_day.label("until"))

#: Each part of the file by its name. Who others are, and what they call somebody, is theirs to tell.
_PARTS: Final[Mapping[str, Select[Any]]] = MappingProxyType(
    {
        "shared_with": select(*_PERIOD).where(_M.shelf_id == _OWN, _M.keeper_id != _ME).order_by(_M.id),
        "shares_in": select(*_PERIOD).where(_M.shelf_id != _OWN, _M.keeper_id == _ME).order_by(_M.id),
        "invitations": select(
            _I.role, _I.created_at, _I.expires_at, _I.from_day, _I.until_day, _I.redeemed_at
        )
        .where(_I.by_keeper == _ME)
        .order_by(_I.id),
        "handovers": select(_H.called, _H.first_day, _H.last_day, _H.settled)
        .where(_H.shelf_id == _OWN)
        .order_by(_H.first_day, _H.id),
        "helped": select(_H.first_day, _H.last_day)
        .join_from(t.handover, t.invite, _I.id == _H.invite_id)
        .where(_I.redeemed_by == _ME)
        .order_by(_H.first_day, _H.id),
        "rounds": select(_O.day, _O.opened_at, _O.closed_at).where(_O.keeper_id == _ME).order_by(_O.day),
        "reminders_over": select(_R.what, _R.next_at, _R.repeats)
        .where(_R.shelf_id == _OWN, or_(_R.ended, ~_R.live))
        .order_by(_R.id),
        "places": select(t.place.c.name).where(t.place.c.shelf_id == _OWN).order_by(t.place.c.id),
    }
)
_PHOTOS: Final = (
    select(
        t.specimen.c.tag.label("specimen"),
        _P.reference,
        _P.at,
        _P.path,
        t.change.c.undone_at.is_not(None).label("taken_back"),
    )
    .join_from(t.photo, t.change, t.change.c.id == _P.change_id)
    .outerjoin(t.specimen, t.specimen.c.id == _P.specimen_id)
    .where(_P.shelf_id == _OWN)
    .order_by(_P.at.desc(), _P.id.desc())
)


def kept_beside(work: Work, keeper: Keeper) -> dict[str, list[dict[str, Any]]]:
    """Parts of the file by name, each a list of objects whose values are plain JSON."""
    return {name: _rows(work, query, keeper) for name, query in _PARTS.items()}


def photos(work: Work, keeper: Keeper) -> list[dict[str, Any]]:
    """All photos of the shelf, the newest first, also those of what was taken back.

    ``file`` is the path in the store's album, ``None`` where there is no file.
    """
    rows = _rows(work, _PHOTOS, keeper)
    return [row | {"file": _path_in_album(work, row.pop("path"))} for row in rows]


def zipped_photos(album: Album | None, paths: Iterable[str | None]) -> tuple[bytes, int]:
    """Photo files as one zip, by their paths, as far as one message takes them; how many did not fit.

    The bytes are empty where there is none. ``paths`` come in the order in which they are to find room.
    """
    files = [(path, file) for path in paths if path and album and (file := album.file(path))]
    packed, room, left_out = BytesIO(), _MOST_ZIPPED, 0
    with ZipFile(packed, "w") as target:  # as they are: pictures do not get smaller by being packed
        for path, file in files:
            room -= file.stat().st_size
            if room < 0:
                left_out += 1
            else:
                target.write(file, path)
    return (packed.getvalue() if len(files) > left_out else b""), left_out


def plain(value: object) -> Any:
    """A value as JSON has it: instants in UTC, times of day to the minute."""
    match value:
        case datetime():
            return value.astimezone(UTC).isoformat()
        case time():
            return value.strftime("%H:%M")
        case date():
            return value.isoformat()
        case Enum():
            return value.value
        case _:
            return value


def _rows(work: Work, query: Select[Any], keeper: Keeper) -> list[dict[str, Any]]:
    known = {"keeper": keeper.id, "shelf": keeper.shelf_id}
    chosen = {name: known[name] for name in query.compile().params}
    found = work.connection.execute(query, chosen).mappings()
    return [{name: plain(value) for name, value in row.items()} for row in found]


def _path_in_album(work: Work, path: str | None) -> str | None:
    has_file = work.album is not None and path and work.album.file(path)
    return path if has_file else None
