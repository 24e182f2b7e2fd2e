"""What a clause says of an animal's sex, and what only praises her as a girl or him as a boy. Pure."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import Final

from bot.reading.clauses.frames import Frame
from bot.reading.items.item import Item
from bot.reading.words.rule_words import rule_words
from bot.terms import Kind


def praises(frame: Frame) -> bool:
    """ "is a brave girl", "is a big boy": what she is like, and no word on what sex she is."""
    items = frame.clause.items
    girls = (at for at, item in enumerate(items) if item.text in _GIRLS or _is_dear(item))
    return any(_praised(items, at) for at in girls)


def called_dearly(frame: Frame) -> bool:
    """ "ist ein gieriges Mädchen": a word of endearment, with what she is like."""
    return any(map(_is_dear, frame.clause.items)) and praises(frame)


def _is_dear(item: Item) -> bool:
    """Whether a word calls an animal by what it is like as often as by its sex: "Mädchen"."""
    return "group" in item.senses and item.senses["group"].group.act == "dear"


def _praised(items: Sequence[Item], at: int) -> bool:
    """Whether words between an article and a girl or boy say what she is like."""
    like, place = False, at - 1
    while place > 0 and (items[place].cat == "U" or _likes(items[place])):
        like = like or items[place].text not in _SURE
        place -= 1
    little = place >= 0 and items[place].text in _LITTLE
    a_one = place >= 0 and ("a" in items[place].senses or "sex" in items[place].senses.acts)
    return little or (like and a_one)


_LITTLE: Final = rule_words("a_little")


def _likes(item: Item) -> bool:
    return not _LIKENS.isdisjoint(item.senses) and not item.senses.verbs


#: Words that call an animal by what it is like as often as by its sex; "female" and "male" tell that alone.
_GIRLS: Final = rule_words("girls")
_LIKENS: Final = frozenset({"fill", "trait", "size", "idle"})
#: Words that say how sure it is, or how old she is.
_SURE: Final = rule_words("surely")


def told_by_her_skin(frame: Frame) -> bool:
    """ "definitely a boy from the shed skin", "Ink's molt says female": her sex, and how it was told."""
    items = frame.clause.items
    sexed = next(
        (n for n, i in enumerate(items) if "group" in i.senses and i.senses["group"].group.sex), None
    )
    if sexed is None or "neg" in frame.flags:
        return False
    pairs = enumerate(pairwise(items[:sexed]))
    says = next((n + 1 for n, (a, b) in pairs if _is_skin(a) and b.text in _SAYS), 0)
    if any(item.cat == "S" and item.owns for item in items[:says]):
        return True
    if says == 1 and any(item.cat == "S" for item in items[says:sexed]):
        return True  # "molt confirms C4 female"
    behind = items[sexed + 1 :]
    skin = next((n for n, i in enumerate(behind) if Kind.MOLTED in i.senses.kinds), None)
    return skin is not None and any(i.text in _TOLD_BY for i in behind[:skin])


def _is_skin(item: Item) -> bool:
    return any(verb.group.noun and verb.group.kind is Kind.MOLTED for verb in item.senses.verbs)


_SAYS: Final = rule_words("shows_the_sex")
_TOLD_BY: Final = rule_words("told_by")
