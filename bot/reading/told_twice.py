"""Meals that a message tells of some animals twice, so that whom a group takes in is in doubt. Pure."""

from __future__ import annotations

from collections.abc import Sequence

from bot.reading.drafts import Doubt, Draft
from bot.reading.model import FEEDING, About


def doubt_whom_twice(drafts: Sequence[Draft]) -> None:
    """ "2 crickets for each sling but Nip, and all ate": all of the slings, or of the shelf, is asked."""
    meals = [draft for draft in drafts if draft.kind in FEEDING and draft.tags]
    for at, later in enumerate(meals):
        if not later.of_group or later.doubts:
            continue
        again = [earlier for earlier in meals[:at] if _some_again(earlier, later)]
        if any(not later.fields or _came_to_another_end(earlier, later) for earlier in again):
            later.doubts.append(Doubt(About.SPECIMEN, "some_of_several"))


def _came_to_another_end(earlier: Draft, later: Draft) -> bool:
    """ "Mole refused, but everyone on C ate a cricket": none of them did both."""
    return earlier.kind is not later.kind and set(earlier.tags) < set(later.tags)


def _some_again(earlier: Draft, later: Draft) -> bool:
    """Whether a meal of the same day was told of some, and not all, of those told of later."""
    some = set(earlier.tags) & set(later.tags)
    return earlier.day == later.day and bool(some) and set(earlier.tags) != set(later.tags)
