"""The state of a specimen: what its journal adds up to today.

The state is a fold over the specimen's live entries in the order of day, clock time and entry
number; storage keeps it beside the journal in the same transaction and can rebuild it at any time.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import fields
from datetime import date, time
from types import SimpleNamespace
from typing import Final, cast

from bot.husbandry.effects import SAME_MOLT_DAYS, change_by
from bot.husbandry.specimen_state import SpecimenState, state_with
from bot.terms import Entry

__all__ = ["SAME_MOLT_DAYS", "SpecimenState", "advance", "journal_order", "state_of", "state_with"]

_NAMES: Final = tuple(field.name for field in fields(SpecimenState))


def journal_order(entry: Entry) -> tuple[date, time]:
    """Where an entry stands in the journal: by day, then clock time, entries without a time first.

    Entries that compare equal stand in the order in which they were recorded.
    """
    return entry.day, entry.time or time.min


def state_of(entries: Iterable[Entry], start: SpecimenState | None = None) -> SpecimenState:
    """The state that a specimen's entries, given in the order of recording, add up to.

    ``start`` is what was so before the first of them: sex, span, size of the lot.
    """
    # years of entries are folded in one namespace, and frozen once at the end: a fraction of the cost
    state = start or SpecimenState()
    folding = SimpleNamespace(**{name: getattr(state, name) for name in _NAMES})
    so_far = cast(SpecimenState, folding)
    for entry in sorted(entries, key=journal_order):
        folding.__dict__.update(change_by(so_far, entry))
    return state_with(folding.__dict__)


def advance(state: SpecimenState, entry: Entry) -> SpecimenState:
    """The state after one more entry, which must not stand earlier than those already in it.

    The entry's ``specimens`` are not looked at. Never fails: an entry that says nothing of use
    moves only ``first_entry`` and ``last_entry``.
    """
    return state_with(vars(state) | change_by(state, entry))
