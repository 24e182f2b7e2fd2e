"""What is said of an animal's dish, burrow, sac or home, where only the thing is named."""

from __future__ import annotations

from itertools import pairwise
from typing import Final

from bot.reading.clauses.clause_model import AND, COMMA
from bot.reading.clauses.frames import Frame
from bot.reading.clauses.neighbours import acts_of, kinds
from bot.reading.words.rule_words import rule_words
from bot.terms import Kind


def poured_alike(prev: Frame, frame: Frame) -> bool:
    """ "watered Ink 50 ml, Mole 100 ml": so much water for the next one, too."""
    poured = all({a.dimension for _, a in f.amounts} == {"volume"} for f in (prev, frame))
    plain = not (frame.verbs or frame.meals or frame.loose or frame.nouns - prev.nouns)
    plain = plain and all(
        i.cat in "SA" or {"fill"} == i.senses.keys() or "for" in i.senses for i in frame.clause.items
    )  # not "into 5 l"
    return poured and plain and Kind.WATERED in kinds(prev)


def hers_and_anothers(prev: Frame, frame: Frame) -> bool:
    """ "Mole got hers plus Ink's": what another was to have, who got nothing."""
    items, last = frame.clause.items, prev.clause.items[-1]
    alone = len(items) == 1 and bool(items[0].owns) and frame.clause.sep in {AND, COMMA}
    return alone and last.text.split()[-1] in _HERS


_HERS: Final = rule_words("hers")


def leaves_her_dish(frame: Frame) -> bool:
    """ "Ink's dish was still full so left it": the keeper left the dish, and no meal is told of."""
    pairs = pairwise(frame.clause.items) if "dish" in frame.nouns else ()
    dish = any(a.cat == "S" and a.owns and "noun" in b.senses for a, b in pairs)
    left = all(item.text.split()[0] in _LEFT for _, item in frame.verbs)
    return dish and left and not frame.meals and not frame.inherited


def of_that_thing(prev: Frame, frame: Frame) -> None:
    """Marks what a clause does to the burrow or the sac that was just told of."""
    if of_her_burrow(prev, frame):
        frame.nouns.add("mouth")
    if of_her_sac(prev, frame):
        frame.flags.add("pulls her sac")


def of_her_burrow(prev: Frame, frame: Frame) -> bool:
    """ "opened the burrow then closed it again": what is closed or opened is what was just told of."""
    sure = "mouth" in prev.nouns or any(not v.group.weak for _, i in prev.verbs for v in i.senses.verbs)
    told = kinds(prev) <= {Kind.OPENED, Kind.SEALED} and bool(prev.verbs) and sure
    it = any(i.text in _IT for i in frame.clause.items)
    return (
        told and it and kinds(frame) <= {Kind.OPENED, Kind.SEALED} and not frame.nouns and bool(frame.verbs)
    )


_IT: Final = rule_words("it")


def of_her_sac(prev: Frame, frame: Frame) -> bool:
    """ "laid 2 May, pulled it 10 May": what is pulled behind a sac is that sac."""
    of_a_sac = kinds(prev) == {Kind.SAC} or "sac" in acts_of(prev)
    sac = of_a_sac and not (frame.meals or frame.nouns or frame.amounts or frame.unknown)
    small = (i for i in frame.clause.items[1:] if _OF_THE_DISH.isdisjoint(i.senses))
    pulled = len(frame.verbs) == 1 and frame.verbs[0][0] == 0 and frame.verbs[0][1].text in _PULLS
    return sac and pulled and all(i.cat == "D" for i in small)


_PULLS: Final = rule_words("pulls")


def fills_her_dish(frame: Frame, nouns: set[str]) -> bool:
    """ "Ink's bowl was dry, filled it": by the keeper, and what is filled is the dish just spoken of."""
    if "dish" not in nouns or frame.ref_at or frame.nouns or frame.meals or len(frame.verbs) != 1:
        return False
    small = (i for i in frame.clause.items[1:] if _OF_THE_DISH.isdisjoint(i.senses))
    if frame.verbs[0][0] or frame.verbs[0][1].text not in _FILLS or any(i.cat not in "DAM" for i in small):
        return False
    frame.nouns.add("dish")
    return True


#: Senses of the small words behind it: "filled it up again".
_OF_THE_DISH = frozenset({"pron", "fill", "on"})


_FILLS: Final = rule_words("fills")
_LEFT: Final = rule_words("left")


def counts_her_eggs(prev: Frame, frame: Frame) -> bool:
    """ "sac pulled at day 35 – 112 EWLs", "took the sac, counted 98 eggs": what was in it."""
    of_a_sac = Kind.SAC in kinds(prev) or "sac" in acts_of(prev)
    only = kinds(frame) <= {Kind.SAC} and not (frame.ref_at or frame.meals or frame.amounts or prev.loose)
    return of_a_sac and only and "eggs" in frame.nouns and len(frame.loose) == 1


def fills_home(prev: Frame, frame: Frame) -> bool:
    """ "Ink is in her new tub, gave her 15 cm of soil": the depth of what is in the home just told."""
    moved = kinds(prev) == {Kind.REHOUSED} and not any(a.dimension == "length" for _, a in prev.amounts)
    deep = bool(frame.amounts) and all(a.dimension == "length" for _, a in frame.amounts)
    given = not frame.verbs or acts_of(frame) & {"give", "put", "have", "take", "own_mouth", "pour"}
    return moved and deep and "sub" in frame.nouns and bool(given) and not frame.ref_at and not frame.meals
