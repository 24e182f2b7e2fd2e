"""Verbs that tell of something only together with what else is said: "took", "moved", "got"."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Final

from bot.reading.clauses import START, TITLE
from bot.reading.frames import Frame
from bot.reading.items import Item


def words_before(frame: Frame, at: int) -> Sequence[Item]:
    """What stands before a verb in its own clause; nothing where it is another clause's verb."""
    return () if frame.inherited else frame.clause.items[:at]


def _none(frame: Frame, at: int) -> bool:
    """ "…, Monday none": behind its animal, and not all that is said."""
    before = words_before(frame, at)
    return bool(before) and before[-1].cat == "S" and frame.clause.sep not in {START, TITLE}


def _eats(frame: Frame, at: int) -> bool:
    if not frame.inherited and _whom(frame.clause.items[at + 1 : at + 3]):  # "caught her"
        return False
    return bool(frame.meals) or "food" in frame.nouns or bool(frame.loose)


def _whom(after: Sequence[Item]) -> bool:
    """Whether an animal, and no meal of hers, is what the verb was done to."""
    pron = after[0].senses.get("pron") if after else None
    return pron is not None and pron.group.sex is not None and (len(after) == 1 or after[1].cat in "MDP")


def _gets(frame: Frame, at: int) -> bool:
    return bool(frame.meals) and bool(frame.refs)


def _takes(frame: Frame, at: int) -> bool:
    """ "Ink took": eaten, where nothing else is said that could have been taken."""
    after = frame.clause.items[at + 1 :] if not frame.inherited else []
    if any({"away", "from"} <= set(i.senses) for i in after):  # "took a cricket out of her tub"
        return False
    return _eats(frame, at) or all(i.cat in "DPMX" or "fill" in i.senses for i in after)


def _kicks(frame: Frame, at: int) -> bool:
    """ "Ink chucked the locust out": the animal does it, and it goes away from her."""
    before = words_before(frame, at)
    hers = not frame.ref_at or any(i.cat == "S" or "pron" in i.senses for i in before)
    away = any("away" in i.senses for i in frame.clause.items[at + 1 :])
    return bool(frame.meals) and hers and away and not any("self" in i.senses for i in before)


def _puts(frame: Frame, at: int) -> bool:
    """ "threw a locust in with Ink": the keeper does it; where she stands before the verb, who did what?"""
    before = words_before(frame, at)
    hers = bool(before) and (before[-1].cat == "S" or "pron" in before[-1].senses)
    waste = (
        not frame.ref_at and not frame.flags & {"on", "with", "to"} and any(m.prekilled for m in frame.meals)
    )
    return bool(frame.meals) and (frame.inherited or not hers) and not waste


def _alone(frame: Frame, at: int) -> bool:
    """An animal, the verb, and nothing that it could be done to: "K3 laid", "topped off rack 1"."""
    after = frame.clause.items[at + 1 :] if not frame.inherited else []
    said = frame.refs and not (frame.meals or frame.amounts or frame.loose)
    return bool(said) and all(i.cat in "SDPMX" or "fill" in i.senses for i in after)


def _opens(frame: Frame, at: int) -> bool:
    return "mouth" in frame.nouns or (_alone(frame, at) and not frame.verb_first)


def _leaves(frame: Frame, at: int) -> bool:
    """ "Ink … but left the roach": the animal leaves it; "left a roach in with Ink" is the keeper."""
    before = words_before(frame, at)
    hers = bool(before) and before[-1].cat == "S" if frame.ref_at else frame.clause.sep != START
    return bool(frame.meals) and hers and not frame.flags & {"with", "on", "self"}


def _backs(frame: Frame, at: int) -> bool:
    return "body" not in frame.nouns and not frame.meals


def _escapes(frame: Frame, at: int) -> bool:
    before = words_before(frame, at)
    return not frame.ref_at and not any("pron" in i.senses and i.senses["pron"].group.sex for i in before)


def _pours(frame: Frame, at: int) -> bool:
    volume = any(a.dimension == "volume" for _, a in frame.amounts)
    return not frame.meals and (
        (volume and "box" not in frame.nouns) or bool(frame.nouns & {"water", "dish"})
    )


def _moves(frame: Frame, at: int) -> bool:
    volume = any(a.dimension == "volume" for _, a in frame.amounts)
    return volume or "box" in frame.nouns


def _buys(frame: Frame, at: int) -> bool:
    if frame.taxa:
        return True
    own = [r for r in frame.refs if r.how in {"tag", "name", "aka", "group", "place"}]
    return not own and (
        any(r.species for r in frame.refs)
        or bool(frame.groups)
        or bool(frame.meals)
        or "animal" in frame.flags
    )


def _parts(frame: Frame, at: int) -> bool:
    money = any(a.dimension == "money" for _, a in frame.amounts)
    return not frame.meals and bool(frame.refs) and (money or bool(frame.flags & {"to", "with"}))


def _loses(frame: Frame, at: int) -> bool:
    return bool(frame.refs) and "body" not in frame.nouns and not frame.meals


def _moldy(frame: Frame, at: int) -> bool:
    return bool(frame.refs) and len(frame.verbs) == 1


def _noun_molt(frame: Frame, at: int) -> bool:
    """ "a molt from Ink"; "since her molt" only says when something else was."""
    said = (i for i in words_before(frame, at) if i.cat != "D")
    before = [i for i in said if "the" not in i.senses and "pron" not in i.senses][-3:]
    if before and "from" in before[-1].senses:
        return False
    if any("when" in i.senses or (i.cat == "P" and i.val.kind in {"since", "until"}) for i in before):
        return False
    return not frame.flags & {"neg", "no"}


WEAK: Final[Mapping[str, Callable[[Frame, int], bool]]] = {
    "fed": _eats,
    "get": _gets,
    "have": lambda f, at: bool(f.meals),
    "give": lambda f, at: bool(f.meals),
    "put": _puts,
    "take": _takes,
    "back": _backs,
    "skip": lambda f, at: True,
    "dropped": lambda f, at: True,
    "none": _none,
    "escape": _escapes,
    "who_escaped": _escapes,
    "try": lambda f, at: bool(f.meals),
    "pour": _pours,
    "slip": _moldy,
    "close": lambda f, at: "mouth" in f.nouns,
    "open": _opens,
    "laid": lambda f, at: _alone(f, at) and "eggs" not in f.nouns,
    "leaves": _leaves,
    "top": lambda f, at: _pours(f, at) or _alone(f, at),
    "measured": lambda f, at: any(a.dimension in {"length", "weight"} for _, a in f.amounts),
    "move": _moves,
    "new_home": lambda f, at: (
        bool(f.refs) and "box" in f.nouns and any(a.dimension == "volume" for _, a in f.amounts)
    ),
    "remove": lambda f, at: "waste" in f.nouns,
    "sex": lambda f, at: any(g.group.sex for g in f.groups),
    "buy": _buys,
    "arrive": _buys,
    "new": _buys,
    "lose": _loses,
    "part": _parts,
    "meet": lambda f, at: len(f.refs) > 1,
    "kick": _kicks,
    "outcome": lambda f, at: True,
    "molted": _noun_molt,
    "sign": lambda f, at: True,
    "sac": lambda f, at: False,
    "premolt": lambda f, at: True,
}
