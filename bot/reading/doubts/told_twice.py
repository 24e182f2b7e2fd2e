"""What a message tells of some animals twice, so that whom it takes in, or when it was, is in doubt. Pure."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from bot.reading.clauses.frames import Frame
from bot.reading.doubts.dated_drafts import LASTING
from bot.reading.items.item import words_in
from bot.reading.kinds.drafts import Doubt, Draft, day_choices
from bot.reading.kinds.outcomes import outcome_only
from bot.reading.model import FEEDING, About
from bot.reading.words.rule_words import rule_words
from bot.terms import Kind


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
    return earlier.kind is not later.kind and bool(earlier.tags) and set(earlier.tags) < set(later.tags)


def _some_again(earlier: Draft, later: Draft) -> bool:
    """Whether a meal of the same day was told of some, and not all, of those told of later."""
    some = set(earlier.tags) & set(later.tags)
    return earlier.day == later.day and bool(some) and set(earlier.tags) != set(later.tags)


def doubt_day_told_twice(drafts: Sequence[Draft], draft: Draft, frame: Frame) -> bool:
    """ "Ink molted, shed on Monday": once, on a day that is asked; "…, the last one in May" is two."""
    if frame.ref_at or not draft.dated or not _AGAIN.isdisjoint(words_in(frame.clause.items)):
        return False
    earlier = drafts[-1] if drafts else None
    if earlier is None or earlier.dated or (earlier.kind, earlier.tags) != (draft.kind, draft.tags):
        return False
    once = draft.kind in LASTING | {Kind.MOLTED} or (draft.kind is Kind.FED and outcome_only(frame))
    if not once or earlier.day == draft.day:
        return False
    earlier.fields.update(draft.fields)
    earlier.doubts.append(Doubt(About.DAY, "two_days", choices=day_choices(draft.day, earlier.day)))
    return True


#: Words that tell of another time, and of one before.
_AGAIN: Final = rule_words("another_time") | rule_words("at_another_time") | rule_words("one_before")
