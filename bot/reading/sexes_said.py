"""What a clause says of an animal's sex, and what only praises her as a girl or him as a boy. Pure."""

from __future__ import annotations

from itertools import pairwise
from typing import Final

from bot.reading.frames import Frame
from bot.reading.items import Item
from bot.terms import Kind


def praises(frame: Frame) -> bool:
    """ "is a brave girl", "is a big boy": what she is like, and no word on what sex she is."""
    items = frame.clause.items
    if any(a.text == "a little" and who.text in _GIRLS for a, who in pairwise(items)):
        return True
    trios = zip(items, items[1:], items[2:], strict=False)
    return any(
        "a" in a.senses
        and who.text in _GIRLS
        and like.text not in _SURE
        and (like.cat == "U" or _likes(like))
        for a, like, who in trios
    )


def _likes(item: Item) -> bool:
    return not _LIKENS.isdisjoint(item.senses) and not item.senses.verbs


#: Words that call an animal by what it is like as often as by its sex; "female" and "male" tell that alone.
_GIRLS: Final = frozenset({"girl", "boy", "lad", "lady", "gal"})
_LIKENS: Final = frozenset({"fill", "trait", "size", "idle"})
#: Words that say how sure it is, or how old she is.
_SURE: Final = frozenset(
    {
        "definite",
        "confirmed",
        "certain",
        "sure",
        "proper",
        "real",
        "actual",
        "definitely",
        "probable",
        "likely",
    }
    | {"possible", "suspected", "mature", "adult", "juvenile", "young", "full", "true"}
)


def told_by_her_skin(frame: Frame) -> bool:
    """ "definitely a boy from the shed skin": her sex, and how it was told."""
    items = frame.clause.items
    sexed = next(
        (n for n, i in enumerate(items) if "group" in i.senses and i.senses["group"].group.sex), None
    )
    if sexed is None or "neg" in frame.flags:
        return False
    behind = items[sexed + 1 :]
    skin = next((n for n, i in enumerate(behind) if Kind.MOLTED in i.senses.kinds), None)
    return skin is not None and any(i.text in _TOLD_BY for i in behind[:skin])


_TOLD_BY: Final = frozenset({"from", "by", "going by"})
