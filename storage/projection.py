"""The state of each specimen, kept beside its journal in the same transaction.

A specimen's row and state are a function of what it was added as, of the alterations in force and of
its live entries in the journal's order. :meth:`Projection.work_out` is that function;
:meth:`Projection.add_on_top` is the short way for an entry that stands last, and comes to the same.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, time
from typing import Any, Final

from sqlalchemy import Connection, bindparam, select, update

from bot.husbandry.state import SpecimenState, advance, journal_order, state_of
from bot.round.model import OWN_INTERVALS
from bot.terms import Entry, Kind, Sex, Stage
from storage import tables as t
from storage.dialect import AnyRow
from storage.errors import NotOnShelfError, TagTakenError
from storage.facts import facts_of, start_of, state_from
from storage.keys import key_of
from storage.rows import ENTRY_COLUMNS, entry_from
from storage.starts import ALTERATIONS

#: Kinds of entry that say for themselves what an alteration may have said otherwise.
_SETS_SEX: Final = frozenset({Kind.SEXED, Kind.MATURED})
_SETS_STAGE: Final = frozenset({Kind.MATURED})

#: Columns of a specimen that the journal adds up to, and those that alterations are laid over.
_FROM_STATE: Final = ("sex", "stage", "span_cm", "lot_size", "gone_on")
_FROM_ADDING: Final = (
    "tag",
    "name",
    "species",
    "common",
    "aka",
    "habit",
    "place_id",
    "position",
    *OWN_INTERVALS.values(),
)
#: No interval of an animal's own is said.
NO_INTERVALS: Final[dict[str, Any]] = dict.fromkeys(OWN_INTERVALS.values())
_CURRENT: Final = (*_FROM_ADDING, *_FROM_STATE, "void")

_CHUNK: Final = 500


@dataclass(slots=True)
class Standing:
    """A specimen as it stands before new entries: its numbers, its state, and what was folded in last."""

    id: int
    shelf_id: int
    tag: str
    state: SpecimenState
    last: tuple[date, time] | None
    seen: dict[str, Any]


_T = t.specimen.c
_FIND = (
    select(
        _T.id,
        _T.tag,
        _T.tag_key,
        *(_T[name] for name in _FROM_STATE),
        t.state.c.facts,
        t.state.c.last_day,
        t.state.c.last_time,
    )
    .join_from(t.specimen, t.state, t.state.c.specimen_id == _T.id)
    .where(
        _T.shelf_id == bindparam("shelf"),
        _T.tag_key.in_(bindparam("keys", expanding=True)),
        ~_T.void,
    )
    .order_by(_T.id)
)
_OF_NUMBERS = _T.id.in_(bindparam("numbers", expanding=True))
_SPECIMENS = (
    select(
        _T.id,
        _T.shelf_id,
        _T.added_on,
        _T.added_as,
        _T.tag_key,
        *(_T[name] for name in _CURRENT),
        t.change.c.undone_at,
    )
    .join_from(t.specimen, t.change, t.change.c.id == _T.change_id)
    .where(_OF_NUMBERS)
)
_ENTRIES = (
    select(t.entry.c.specimen_id, t.entry.c.change_id, *ENTRY_COLUMNS)
    .where(t.entry.c.specimen_id.in_(bindparam("numbers", expanding=True)), t.entry.c.live)
    .order_by(t.entry.c.id)
)
_SAVE_STATE = (
    update(t.state)
    .where(t.state.c.specimen_id == bindparam("number"))
    .values(facts=bindparam("facts"), last_day=bindparam("last_day"), last_time=bindparam("last_time"))
)
_SAVE_FROM_STATE = (
    update(t.specimen)
    .where(_T.id == bindparam("number"))
    .values({name: bindparam(f"new_{name}") for name in _FROM_STATE})
)
_SAVE_CURRENT = (
    update(t.specimen)
    .where(_T.id == bindparam("number"))
    .values({name: bindparam(f"new_{name}") for name in (*_CURRENT, "tag_key", "name_key")})
)
_SET_ASIDE_TAG = (
    update(t.specimen).where(_T.id == bindparam("number")).values(tag_key=bindparam("new_tag_key"))
)
_TAG_HOLDERS = select(_T.tag).where(
    _T.shelf_id == bindparam("shelf"),
    _T.tag_key.in_(bindparam("keys", expanding=True)),
    _T.gone_on.is_(None),
    ~_T.void,
    _T.id.not_in(bindparam("numbers", expanding=True)),
)
_REVISE = update(t.shelf).where(t.shelf.c.id == bindparam("number")).values(revision=t.shelf.c.revision + 1)


class Projection:
    """Keeps specimens and states true to the journal."""

    def __init__(self, connection: Connection) -> None:
        self._db = connection

    def find(self, shelf_id: int, tags: Iterable[str]) -> dict[str, Standing]:
        """The specimens of these tags by the tags' keys: the living one, or the one that went last.

        Raises :class:`NotOnShelfError` for a tag that the shelf has never had.
        """
        keys = {key_of(tag): tag for tag in tags}
        if not keys:
            return {}
        found: dict[str, AnyRow] = {}
        for row in self._db.execute(_FIND, {"shelf": shelf_id, "keys": list(keys)}):
            before = found.get(row.tag_key)
            if before is None or _found_rather(row, before):
                found[row.tag_key] = row
        if missing := [tag for key, tag in keys.items() if key not in found]:
            raise NotOnShelfError(f"There is no {', '.join(missing)} on this shelf.")
        return {key: _standing(row, shelf_id) for key, row in found.items()}

    def add_on_top(self, new: Sequence[tuple[Standing, Entry]]) -> None:
        """Folds new entries in, in the order of recording: on top where they stand last, else anew."""
        again: set[int] = set()
        touched: dict[int, Standing] = {}
        for standing, entry in new:
            touched[standing.id] = standing
            where = journal_order(entry)
            if (standing.last is not None and where < standing.last) or entry.kind in _SETS_SEX:
                again.add(standing.id)
            else:
                standing.state = advance(standing.state, entry)
                standing.last = where
        self._save([standing for number, standing in touched.items() if number not in again])
        self.work_out(again)

    def _save(self, standings: Sequence[Standing]) -> None:
        if not standings:
            return
        self._db.execute(_SAVE_STATE, [_state_row(s.id, s.state, s.last) for s in standings])
        moved = [
            {"number": s.id, **{f"new_{name}": value for name, value in now.items()}}
            for s in standings
            if (now := _columns_of(s.state)) != s.seen
        ]
        if moved:
            self._db.execute(_SAVE_FROM_STATE, moved)
            self.revise({s.shelf_id for s in standings})

    def work_out(self, numbers: Iterable[int]) -> None:
        """Works out these specimens anew from what they were added as, alterations and live entries.

        Raises :class:`TagTakenError` where one would come back under a tag that was given away meanwhile.
        """
        ordered = sorted(set(numbers))
        for start in range(0, len(ordered), _CHUNK):
            self._work_out_some(ordered[start : start + _CHUNK])

    def _work_out_some(self, numbers: list[int]) -> None:
        chosen = {"numbers": numbers}
        rows = self._db.execute(_SPECIMENS, chosen).all()
        alterations = _by_specimen(self._db.execute(ALTERATIONS, chosen))
        entries = _by_specimen(self._db.execute(_ENTRIES, chosen))
        states: list[dict[str, Any]] = []
        changed: list[tuple[AnyRow, dict[str, Any]]] = []
        for row in rows:
            state, last = _fold(row, alterations[row.id], entries[row.id])
            states.append(_state_row(row.id, state, last))
            now = _current(row, alterations[row.id], state)
            if any(getattr(row, name) != value for name, value in now.items()):
                changed.append((row, now))
        if states:
            self._db.execute(_SAVE_STATE, states)
        self._save_current(changed)

    def _save_current(self, changed: Sequence[tuple[AnyRow, dict[str, Any]]]) -> None:
        if not changed:
            return
        self._refuse_taken_tags(changed)
        aside = [
            {"number": row.id, "new_tag_key": f"\x01{row.id}"}
            for row, now in changed
            if row.tag_key != key_of(now["tag"])
        ]
        if aside:  # two specimens may be trading tags
            self._db.execute(_SET_ASIDE_TAG, aside)
        self._db.execute(_SAVE_CURRENT, [_current_row(row.id, now) for row, now in changed])
        self.revise({row.shelf_id for row, _ in changed})

    def _refuse_taken_tags(self, changed: Sequence[tuple[AnyRow, dict[str, Any]]]) -> None:
        wanted: dict[int, list[str]] = defaultdict(list)
        for row, now in changed:
            if now["gone_on"] is None and not now["void"]:
                wanted[row.shelf_id].append(key_of(now["tag"]))
        numbers = [row.id for row, _ in changed]
        for shelf_id, keys in wanted.items():
            self.refuse_taken(shelf_id, keys, besides=numbers)

    def refuse_taken(self, shelf_id: int, keys: Sequence[str], *, besides: Sequence[int] = ()) -> None:
        """Raises :class:`TagTakenError` where a living specimen besides these has one of the tags' keys."""
        for key, times in Counter(keys).items():
            if times > 1:
                raise TagTakenError(key)
        chosen = {"shelf": shelf_id, "keys": list(keys), "numbers": list(besides)}
        taken = self._db.execute(_TAG_HOLDERS, chosen).scalar()
        if taken is not None:
            raise TagTakenError(taken)

    def revise(self, shelves: Iterable[int]) -> None:
        """Marks that who stands on these shelves has changed."""
        self._db.execute(_REVISE, [{"number": shelf_id} for shelf_id in sorted(shelves)])


def _found_rather(row: AnyRow, before: AnyRow) -> bool:
    """Whether a specimen is meant rather than another of the same tag: alive, or gone later."""
    if row.gone_on is None or before.gone_on is None:
        return row.gone_on is None
    return bool(row.gone_on >= before.gone_on)


def _standing(row: AnyRow, shelf_id: int) -> Standing:
    last = None if row.last_day is None else (row.last_day, row.last_time or time.min)
    seen = {name: getattr(row, name) for name in _FROM_STATE}
    return Standing(
        id=row.id, shelf_id=shelf_id, tag=row.tag, state=state_from(row.facts), last=last, seen=seen
    )


def _by_specimen(rows: Iterable[AnyRow]) -> defaultdict[int, list[AnyRow]]:
    grouped: defaultdict[int, list[AnyRow]] = defaultdict(list)
    for row in rows:
        grouped[row.specimen_id].append(row)
    return grouped


def _fold(
    row: AnyRow, alterations: Sequence[AnyRow], entries: Sequence[AnyRow]
) -> tuple[SpecimenState, tuple[date, time] | None]:
    """A specimen's state, and where its last entry stands."""
    read = [(entry_row.change_id, entry_from(entry_row[2:], None)) for entry_row in entries]
    state = state_of((entry for _, entry in read), start_of(row.added_as, row.added_on))
    last = max((journal_order(entry) for _, entry in read), default=None)
    return _as_declared(state, alterations, read), last


def _as_declared(
    state: SpecimenState, alterations: Sequence[AnyRow], entries: Sequence[tuple[int, Entry]]
) -> SpecimenState:
    """The keeper's latest word on sex and stage, be it an alteration or an entry, stands."""
    said: dict[str, Any] = {}
    for field, read, kinds in (("sex", Sex, _SETS_SEX), ("stage", Stage, _SETS_STAGE)):
        declared = [(a.change_id, a.fields[field]) for a in alterations if field in a.fields]
        logged = max((change_id for change_id, entry in entries if entry.kind in kinds), default=0)
        if declared and declared[-1][0] >= logged:
            said[field] = read(declared[-1][1])
    return replace(state, **said) if said else state


def _columns_of(state: SpecimenState) -> dict[str, Any]:
    return {
        "sex": state.sex.value,
        "stage": state.stage.value if state.stage else Stage.JUVENILE.value,
        "span_cm": state.span_cm,
        "lot_size": state.lot_size,
        "gone_on": state.gone_on,
    }


def _current(row: AnyRow, alterations: Sequence[AnyRow], state: SpecimenState) -> dict[str, Any]:
    """All columns of a specimen as they should be now."""
    identity: dict[str, Any] = NO_INTERVALS | row.added_as  # older rows were added before some could be said
    for alteration in alterations:
        identity |= alteration.fields
    now = {name: identity[name] for name in _FROM_ADDING}
    return now | _columns_of(state) | {"void": row.undone_at is not None}


def _current_row(number: int, now: Mapping[str, Any]) -> dict[str, Any]:
    keys = {"tag_key": key_of(now["tag"]), "name_key": key_of(now["name"]) if now["name"] else None}
    return {"number": number} | {f"new_{name}": value for name, value in (dict(now) | keys).items()}


def _state_row(number: int, state: SpecimenState, last: tuple[date, time] | None) -> dict[str, Any]:
    return {
        "number": number,
        "facts": facts_of(state),
        "last_day": last[0] if last else None,
        "last_time": last[1] if last else None,
    }
