"""What came of a feeding, drawn together with the feeding: "offered …, she took it"."""

from __future__ import annotations

from collections.abc import Sequence

from bot.reading.drafts import Draft
from bot.reading.frames import Frame
from bot.reading.model import FEEDING
from bot.terms import Kind


def merges(drafts: Sequence[Draft], draft: Draft, frame: Frame) -> bool:
    """Draws a word on a feeding's outcome together with the feeding: "offered …, she took it"."""
    for earlier in reversed(drafts):
        if earlier.kind not in FEEDING:
            continue
        if (
            earlier.tags == draft.tags
            and earlier.day == draft.day
            and not draft.doubts
            and _compatible(earlier, draft, frame)
        ):
            _unite(earlier, draft, frame)
            return True
        if _but_for(earlier, draft, frame):
            earlier.tags = draft.tags
            _unite(earlier, draft, frame)
            return True
        if earlier.of_group and draft.tags and set(draft.tags) < set(earlier.tags) and not draft.doubts:
            earlier.tags = tuple(t for t in earlier.tags if t not in draft.tags)
            own_prey = "prey" in draft.fields
            for name in ("prey", "count", "size", "prekilled"):
                if name in earlier.fields and not own_prey:
                    draft.fields.setdefault(name, earlier.fields[name])
            return False
    return False


def _but_for(earlier: Draft, draft: Draft, frame: Frame) -> bool:
    """ "fed rack 2, everybody took except Gus": of the same group, and now without those excepted."""
    excepted = {t for r in frame.excepted if r.sure for t in r.tags}
    same = bool(excepted) and set(earlier.tags) == {*draft.tags, *excepted} and earlier.day == draft.day
    return same and not draft.doubts and _compatible(earlier, draft, frame)


def _compatible(earlier: Draft, draft: Draft, frame: Frame) -> bool:
    for name in ("prey", "size"):
        if name in earlier.fields and name in draft.fields and earlier.fields[name] != draft.fields[name]:
            return False
    both_say_prey = "prey" in draft.fields and "prey" in earlier.fields
    return earlier.kind is not draft.kind or not both_say_prey or _outcome_only(frame)


def _outcome_only(frame: Frame) -> bool:
    return any(
        s.group.act in {"outcome", "kick"}
        for _, i in frame.verbs
        for c, s in i.senses.items()
        if c.startswith("verb")
    )


def _unite(earlier: Draft, draft: Draft, frame: Frame) -> None:
    if draft.kind is not earlier.kind and not (earlier.kind is Kind.REFUSED and draft.kind is Kind.FED):
        earlier.kind = draft.kind
    elif draft.kind is Kind.FED:
        earlier.kind = Kind.FED
    earlier.fields.update(draft.fields)
