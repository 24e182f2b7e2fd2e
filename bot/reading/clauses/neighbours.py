"""What one clause takes from its neighbours: prey, counts, outcomes; and what tells that it may."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from bot.reading.amounts.words import OF_THE_AIR
from bot.reading.clauses.clause_model import AND, COMMA
from bot.reading.clauses.frames import Frame
from bot.reading.items.item import Item, Ref
from bot.reading.model import FEEDING
from bot.reading.words.rule_words import rule_words
from bot.terms import Kind


def of_the_air(frame: Frame) -> bool:
    """Whether a clause tells of warmth or humidity."""
    return any(amount.dimension in OF_THE_AIR for _, amount in frame.amounts)


def in_the_room(frame: Frame) -> bool:
    """ "room 23 C": the air around all the homes."""
    return of_the_air(frame) and "room" in frame.flags


def waters(frame: Frame) -> bool:
    """ "…, then 30 ml in the soil for her": water of its own, and no size of the home just told."""
    poured = {amount.dimension for _, amount in frame.amounts} == {"volume"}
    return poured and bool(frame.nouns & {"sub", "dish", "water"}) and "box" not in frame.nouns


def of_newcomers(frame: Frame) -> bool:
    """ "bought 2 tarantulas, fed Ink": those bought are none of the shelf."""
    measured = not frame.flags.isdisjoint({"span", "weight", "carapace"})  # "molted. New leg span 13 cm"
    told = frame.taxa or frame.groups or "animal" in frame.flags or ("new" in acts_of(frame) and not measured)
    return bool(told) and Kind.ACQUIRED in kinds(frame)


def said_strangely(frame: Frame) -> bool:
    """ "fed Ink, Mole frobbed", "fed Ink, Mole is dry": a word behind a name tells of that animal."""
    items = frame.clause.items
    by_keeper = any("self" in item.senses for item in items[: min(frame.ref_at, default=0)])
    return by_keeper or any(_says_of_it(items[at + 1 :]) for at in frame.ref_at)


def told_strangely(frame: Frame) -> bool:
    """ "Mole frobbed and Cricket sealed": what stands right behind one animal's name is not understood."""
    items = frame.clause.items
    return any(
        items[at].cat == "S"
        and len(items[at].val.tags) == 1
        and _says_of_it(items[at + 1 :])
        and not any(len(item.text) < _TELLING for item in items[at + 1 : at + 2])
        for at in frame.ref_at
    )


#: A word that tells something has so many letters: "Mo" may be a day.
_TELLING: Final = 4


def _says_of_it(behind: Sequence[Item]) -> bool:
    """Whether words behind a name tell of it: one not understood, or any that "is" or "has" links with it."""
    linked = False
    for item in behind:
        if "same" in item.senses:
            return False
        if item.cat == "U" or (linked and item.cat == "W"):
            return bool(item.text.isalpha())
        if item.text.split()[-1] in _FASTING:
            return True
        if not {"did", "fill"} & item.senses.keys():
            return False
        linked = linked or "did" in item.senses or item.text in _SEEMS
    return False


_FASTING: Final = rule_words("fasting")


#: What links an animal with how it is seen to be.
_SEEMS: Final = rule_words("seems")


def hands_out(frame: Frame) -> bool:
    """ "roaches to Biscuit", "two for Ink", "in Biscuit's tub": the meal first, then to whom it goes."""
    first = next((i for i in frame.clause.items if i.cat in "SN" or "prey" in i.senses), None)
    return (
        first is not None
        and first.cat != "S"
        and not frame.verbs
        and bool(frame.refs)
        and bool(frame.flags & {"to", "with"} or (frame.nouns & {"box"} and "on" in frame.flags))
    )


def takes_waste(frame: Frame) -> bool:
    """ "boluses out of T07": first what was taken out, then of whose home."""
    first = min(frame.ref_at, default=0)
    return first > 0 and not frame.verbs and "waste" in frame.nouns and "from" in frame.flags


def leads(frame: Frame, following: Sequence[Frame]) -> bool:
    """Whether a bare name belongs to the next clause: "…, Biscuit and Sunny refused"."""
    if frame.clause.turns:
        return begins_a_list(following)
    nxt = following[0] if following else None
    if nxt is None or not nxt.refs or nxt.clause.sep != AND:
        return False
    return frame.clause.sep == COMMA and bool(nxt.verbs) and not nxt.verb_first


def begins_a_list(following: Sequence[Frame]) -> bool:
    """ "…, but Mole, Twig and Dot refused": whether names that follow end with what those named did."""
    for frame in following:
        if not frame.refs or frame.clause.sep not in {COMMA, AND}:
            return False
        if not frame.bare:
            return not frame.verb_first and bool(frame.verbs or frame.meals or "neg" in frame.flags)
    return False


def has_a_thing(frame: Frame) -> bool:
    """ "filled Ink's dish": what was done to a thing of hers is not done to the animal named next."""
    last = frame.clause.items[frame.ref_at[-1]] if frame.ref_at else None
    return last is not None and bool(last.owns) and not frame.inherited


def kinds(frame: Frame) -> frozenset[Kind]:
    """The kinds that the verbs of a clause may tell of."""
    verbs = frame.verbs
    if len(verbs) == 1:
        return verbs[0][1].senses.kinds
    return frozenset().union(*[item.senses.kinds for _, item in verbs])


def among(refs: Sequence[Ref], others: Sequence[Ref]) -> bool:
    """Whether the animals are some, but not all, of others."""
    tags = {t for r in refs for t in r.tags if r.sure}
    listed = {t for r in others for t in r.tags if r.sure and r.how != "place"}
    return bool(tags) and tags < listed


def denies_what_was_told(frame: Frame) -> bool:
    """ "Ink molted. No she didn't": what was said before it did not happen after all."""
    fixes = (i.senses["fix"].group for i in frame.clause.items if "fix" in i.senses)
    return any(group.act == "denial" for group in fixes)


def feeds(frame: Frame) -> bool:
    """Whether a verb of the clause tells of a meal."""
    return bool(kinds(frame) & FEEDING)


def refuses(frame: Frame) -> bool:
    """Whether a verb of the clause tells of a refusal."""
    return Kind.REFUSED in kinds(frame) and Kind.FED not in kinds(frame)


def names_prey(frame: Frame) -> bool:
    """ "Crickets:" above a list of animals with their numbers."""
    only = len(frame.meals) == 1 and not (frame.refs or frame.verbs or frame.loose or frame.amounts)
    return frame.clause.titled and only and frame.meals[0].count is None and not frame.meals[0].doubt


def acts_of(frame: Frame) -> frozenset[str]:
    """What the verbs of a clause may do, as the lexicon calls it."""
    verbs = frame.verbs
    if len(verbs) == 1:
        return verbs[0][1].senses.acts
    return frozenset().union(*[item.senses.acts for _, item in verbs])


def sold_on(frame: Frame, prev: Frame | None) -> bool:
    """ "Marta took Ink for 25 euro and Bess for 40": one more that goes to her; marks it so."""
    goes = prev is not None and (Kind.LEFT in kinds(prev) or "goes to them" in prev.flags)
    paid = bool(frame.amounts) and all(a.dimension == "money" for _, a in frame.amounts)
    if prev is None or not (goes and paid) or frame.meals:
        return False
    frame.to_words = frame.to_words or prev.to_words
    frame.flags |= prev.flags & {"goes to them", "to", "with"}
    return True


def said_of(frame: Frame, before: Sequence[Frame]) -> Frame | None:
    """ "K6 same as K1": the clause that told of whom a clause ends with."""
    items = frame.clause.items
    compared = len(frame.refs) > 1 and any(i.text in _AS for i in items) and frame.ends_with_ref
    tags = set(frame.refs[-1].tags) if compared else set()
    return next((f for f in before if tags and any(tags == set(r.tags) for r in f.refs)), None)


_AS: Final = rule_words("as_or_same")


def describes_one(frame: Frame) -> bool:
    """Whether words stand for one animal, not by its sex: "the little one", "this one"."""
    return any(" " in sense.words and not (sense.group.plural or sense.group.sex) for sense in frame.prons)
