"""Doubts about whom of a group a clause tells."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import Final

from bot.reading.clauses.frames import Frame
from bot.reading.clauses.neighbours import refuses
from bot.reading.items.item import Item
from bot.reading.kinds.drafts import Doubt, Draft
from bot.reading.model import About
from bot.reading.words.rule_words import rule_words
from bot.terms import Kind


def one_of_a_group(draft: Draft, frame: Frame) -> Doubt | None:
    """ "fed everyone sept Will": a word not understood between a group and one of its animals."""
    if all(item.cat != "U" for item in frame.clause.items):
        return None
    trios = zip(frame.clause.items, frame.clause.items[1:], frame.clause.items[2:], strict=False)
    odd = [
        word.text
        for group, word, one in trios
        if group.cat == one.cat == "S" and word.cat == "U" and set(one.val.tags) < set(group.val.tags)
    ]
    return Doubt(About.SPECIMEN, "excepted_whom", odd[0]) if odd else None


def meant_another(draft: Draft, frame: Frame) -> Doubt | None:
    """ "fed Ink I mean Zebra": what was said is taken back, and who was meant is not understood."""
    if "fix" not in frame.said:
        return None
    for at, (fix, meant) in enumerate(pairwise(frame.clause.items)):
        ends = at + 2 == len(frame.clause.items)
        if "fix" in fix.senses and meant.cat == "U" and ends:
            return Doubt(About.SPECIMEN, "unknown_name", meant.text)
    return None


def all_or_those(draft: Draft, frame: Frame) -> Doubt | None:
    """ "all those ladies ate": everyone, and right behind that only some of them."""
    if len(draft.tags) < _SEVERAL:
        return None
    trios = zip(frame.clause.items, frame.clause.items[1:], frame.clause.items[2:], strict=False)
    for everyone, between, some in trios:
        whole = everyone.cat == some.cat == "S" and everyone.val.everyone and between.cat in "UW"
        joins = not {"and", "but", "except", "verb"}.isdisjoint(between.senses)
        if whole and not joins and set(some.val.tags) < set(everyone.val.tags):
            return Doubt(About.SPECIMEN, "some_of_several", some.text)
    return None


_SEVERAL: Final = 3


def all_of_whom(draft: Draft, frame: Frame) -> Doubt | None:
    """ "b lot all had a pinhead": all of what the word before, that is not understood, names."""
    items = frame.clause.items
    for place, item in enumerate(items):
        at = place - 1
        while at > 0 and items[at].text in _LOTS:
            at -= 1
        whole = item.cat == "S" and item.text in _EVERYBODY
        if whole and at >= 0 and items[at].cat == "U":
            return Doubt(About.SPECIMEN, "unknown_name", items[at].text)
    return None


_EVERYBODY: Final = rule_words("everybody")


def on_a_what(draft: Draft, frame: Frame) -> Doubt | None:
    """ "everyone on a diet refused": behind a group, what only some of it may be on."""
    items = frame.clause.items
    for place, item in enumerate(items[:-3]):
        on, article, thing = items[place + 1 : place + 4]
        strange = on.text in _ON and "a" in article.senses and thing.cat in "UW"
        if strange and item.cat == "S" and item.val.plural:
            return Doubt(About.SPECIMEN, "some_of_several", thing.text)
    return None


_ON: Final = rule_words("bare_on")


def of_somebody_else(draft: Draft, frame: Frame) -> Doubt | None:
    """ "Lisas Ink hat gefressen", "Ink von Lisa …": an animal of the same name that another keeper has?"""
    items = frame.clause.items
    for at, item in enumerate(items):
        if item.cat != "S" or item.val.how != "name" or len(item.val.tags) != 1:
            continue
        owner = items[at - 1] if at and _names_an_owner(items[at - 1], opens=at == 1) else None
        whence = [i for i in items[at + 1 : at + 4] if "the" not in i.senses][:2]
        of_whom = len(whence) > 1 and not {"from", "of"}.isdisjoint(whence[0].senses)
        if of_whom and whence[1].cat == "U" and whence[1].upper:
            owner = whence[1]
        if owner is not None and not item.owns:
            return Doubt(About.SPECIMEN, "unknown_name", owner.text)
    return _happened_to_somebody(items)


def _happened_to_somebody(items: Sequence[Item]) -> Doubt | None:
    """ "a Marta le mudó la Ink": somebody whom something of hers happened to."""
    trios = zip(items, items[1:], items[2:], strict=False)
    names = (
        who.text
        for to, who, her in trios
        if "to" in to.senses and who.cat == "U" and who.upper and "pron" in her.senses
    )
    name = next(names, None)
    return Doubt(About.SPECIMEN, "unknown_name", name) if name is not None else None


def _names_an_owner(item: Item, *, opens: bool) -> bool:
    """A word not understood that ends as names do of whose something is, and is written as a name."""
    name = item.cat == "U" and item.text.isalpha() and len(item.text) >= _SHORTEST_OWNER
    of_whom = name and item.text.endswith("s")
    of_whom = of_whom and not item.text.removesuffix("s").endswith("s")  # no "Miss Saffron"
    return item.cat == "U" and (item.owns or (of_whom and (item.upper or opens)))


_SHORTEST_OWNER: Final = 4
#: Words for a number of animals, behind what they are called.
_LOTS: Final = rule_words("lots")


def exception_of_nobody(draft: Draft, frame: Frame) -> Doubt | None:
    """ "all but the third": an exception that names nobody, or a "not" before a name."""
    if _EXCEPTING.isdisjoint(frame.said):
        return None
    excepts = "except" in frame.said and not frame.excepted
    pairs = list(pairwise(frame.clause.items))
    but_day = any("but" in a.senses and b.cat == "D" for a, b in pairs)
    not_one = any("neg" in a.senses and "verb" not in a.senses and b.cat == "S" for a, b in pairs)
    turned = draft.kind in {Kind.REFUSED, Kind.OPENED} and not (frame.inherited and refuses(frame))
    if turned and not (excepts or but_day):  # "refused: not Ink" turns nothing round
        return None
    return Doubt(About.SPECIMEN, "excepted_whom") if excepts or but_day or not_one else None


_EXCEPTING: Final = frozenset({"except", "but", "neg"})
