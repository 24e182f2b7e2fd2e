"""Doubts whether it was an animal, or a thing or a feeder of hers: "vendí el terrario de Ink"."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import Final

from bot.reading.clauses.frames import Frame
from bot.reading.clauses.neighbours import acts_of
from bot.reading.items.item import Item
from bot.reading.kinds.drafts import Doubt, Draft, kind_choices, of_another_kind
from bot.reading.model import About
from bot.reading.words.rule_words import rule_words
from bot.terms import Kind, WaterHow

#: Kinds of which a word before "de Ink" that is not understood may be the one that it happened to.
OF_THINGS: Final = frozenset(
    {Kind.DIED, Kind.LEFT, Kind.MOLTED, Kind.MATURED, Kind.SEXED, Kind.MEASURED, Kind.WATERED, Kind.PAIRED}
    | {Kind.OPENED}
)


def of_a_thing_of_hers(draft: Draft, frame: Frame) -> Doubt | None:
    """ "se murió la planta de Ink", "vendí el terrario de Ink", "Ink's cricket molted": was it she?"""
    if frame.inherited or (draft.kind is Kind.WATERED and draft.fields.get("how") is WaterHow.DISH):
        return None
    if any(
        verb.group.noun and verb.group.kind is draft.kind
        for _, item in frame.verbs
        for verb in item.senses.verbs
    ):
        return None  # "la muda intacta de Ink"
    hers = _hers(frame) if draft.kind is not Kind.WATERED else _of_her(frame)
    of_the_carapace = draft.kind is Kind.MEASURED and "carapace" in frame.flags  # on a skin as on her
    thing = next((item for item in hers if _is_no_animal(item, draft.kind)), None)
    thing = None if of_the_carapace else thing
    if thing is None:
        return None
    return of_another_kind(draft, "strange_words", thing.text)


def _hers(frame: Frame) -> Iterator[Item]:
    """What is said to be an animal's: right before "de Ink", right behind "Ink's"."""
    yield from _of_her(frame)
    items = frame.clause.items
    for at, (whose, thing) in enumerate(pairwise(items)):
        there = at > 0 and not (
            items[at - 1].senses.verbs or "the" in items[at - 1].senses
        )  # "in Ink's tank"
        if whose.cat == "S" and whose.owns and not there:
            yield thing


def _of_her(frame: Frame) -> Iterator[Item]:
    items = frame.clause.items
    for at, (of, whose) in enumerate(pairwise(items)):
        if whose.cat != "S" or not _leads_on(of) or at == 0:
            continue
        things = (item for item in _named_before(items, at) if not _SMALL & item.senses.keys())
        yield from (item for item in things if "of" in of.senses or "prey" in item.senses)


def _leads_on(item: Item) -> bool:
    return "verb" not in item.senses and bool({"of", "on"} & item.senses.keys())


def _named_before(items: Sequence[Item], at: int) -> Iterator[Item]:
    """The words of the thing that is hers, from its last to its first: "la planta del terrario viejo"."""
    while at > 0:
        yield items[at - 1]
        at -= 1
        small = bool((_SMALL | {"noun"}) & items[at].senses.keys()) and "verb" not in items[at].senses
        if not small or ("the" in items[at].senses and not (at and _leads_on(items[at - 1]))):
            return


#: Senses of the words that a thing is named with, beside its noun.
_SMALL: Final = frozenset({"of", "on", "the", "trait", "fill", "a"})


def _is_no_animal(item: Item, kind: Kind) -> bool:
    """Whether what happened may have happened to that instead: a word not understood, a home, a feeder."""
    if kind is Kind.WATERED:
        return item.cat == "U" and item.text.isalpha()
    if kind is Kind.MEASURED and "sac" in item.senses.acts:
        return True  # "la ooteca de Anvil pesa 3 g"
    skin = kind in _OF_A_SKIN and any(
        verb.group.noun and verb.group.kind is Kind.MOLTED for verb in item.senses.verbs
    )
    burrow = kind is Kind.MEASURED and item.senses.part == "mouth"  # "el túnel de Ink mide 15 cm"
    thing = "verb" not in item.senses and (burrow or item.senses.part in _THINGS)
    return skin or thing or "prey" in item.senses or (item.cat == "U" and item.text.isalpha())


#: What may be told of a skin as of an animal: sold, measured.
_OF_A_SKIN: Final = frozenset({Kind.DIED, Kind.LEFT, Kind.MEASURED})
#: Parts of a home, which are no animals.
_THINGS: Final = frozenset({"box", "dish", "lid", "sub", "waste"})


def given_to_her(draft: Draft, frame: Frame) -> Doubt | None:
    """ "regalado un grillo a Ink": a feeder given to her, and she to nobody?"""
    return of_another_kind(draft, "strange_words") if frame.meals else None


def of_a_feeder(draft: Draft, frame: Frame) -> Doubt | None:
    """ "la dubia mudó en el terrario de Ink", "die Schabe hat sich bei Ink vergraben": what a feeder did."""
    first = frame.verbs[0][0] if frame.verbs and not frame.inherited else 0
    before = frame.clause.items[:first]
    feeder = next((n for n, item in enumerate(before) if "prey" in item.senses), len(before))
    whose = next((n for n, item in enumerate(before) if item.cat == "S"), len(before))
    there = whose == len(before) or (feeder < whose and not _AT.isdisjoint(before[whose - 1].senses))
    return of_another_kind(draft, "strange_words") if feeder < len(before) and there else None


#: Senses of the words for where something happened: with Ink, in her tub.
_AT: Final = frozenset({"with", "on"})


def not_that_one(draft: Draft, frame: Frame) -> Doubt | None:
    """ "la que mudó no fue Ink": behind what happened, a denial that it was she."""
    items = frame.clause.items
    for no, was, whom in zip(items[1:], items[2:], items[3:], strict=False):
        if (
            {"neg", "no"} <= no.senses.keys()
            and "did" in was.senses
            and whom.cat == "S"
            and "verb" not in no.senses
        ):
            return of_another_kind(draft, "denied")
    return None


def did_not_want_her(draft: Draft, frame: Frame) -> Doubt | None:
    """ "Marta no quiso a Ink": behind a verb of refusing, whom somebody else would not have."""
    for verb, to, whom in zip(
        frame.clause.items, frame.clause.items[1:], frame.clause.items[2:], strict=False
    ):
        refuses = Kind.REFUSED in verb.senses.kinds and not verb.senses.acts & {"outcome", "uneaten", "none"}
        if refuses and "to" in to.senses and "verb" not in to.senses and whom.cat == "S":
            return of_another_kind(draft, "strange_words", verb.text)
    return None


def lives_on(draft: Draft, frame: Frame) -> Doubt | None:
    """ "Ink sigue viva": she herself, or what she was given?"""
    if frame.meals:
        return None
    for whom, alive in pairwise(frame.clause.items):
        part = (verb.group.part for verb in alive.senses.verbs)
        if whom.cat == "S" and "alive" in part:
            return of_another_kind(draft, "strange_words", alive.text)
    return None


def elsewhere(draft: Draft, frame: Frame) -> Doubt | None:
    """ "afuera hay 30 grados", "roaches for Ink are in the fridge": not in the room, and not with her."""
    hers = bool(frame.refs) if draft.kind is Kind.CLIMATE else bool(frame.verbs)
    away = "elsewhere" in frame.said and not hers
    return of_another_kind(draft, "strange_words") if away else None


def of_what_she_did(draft: Draft, frame: Frame) -> Doubt | None:
    """ "Ink cavó 10 cm", "Ink subió 2 g": a word not understood right behind an animal, and a figure.

    It may be none of hers, or what she gained or lost; "wt" is short for what the figure is of.
    """
    if frame.verbs or frame.flags & {"span", "carapace", "weight"}:
        return None
    items = frame.clause.items
    said = [i for i in items if i.cat == "A" and any(letter.isdigit() for letter in i.text)]
    figures = {i.val.dimension for i in said}  # none for "missing a foot"
    for whom, did in pairwise(items):
        if whom.cat != "S" or did.cat != "U" or not did.text.isalpha():
            continue
        if "length" in figures or ("weight" in figures and len(did.text) > _SHORT_FOR_A_MEASURE):
            return of_another_kind(draft, "strange_words", did.text)
    return None


_SHORT_FOR_A_MEASURE: Final = 3


def of_her_box(draft: Draft, frame: Frame) -> Doubt | None:
    """ "Ink mudó en su caja de 30 cm": the length of a home, and no measure of hers."""
    for thing, of, amount in zip(
        frame.clause.items, frame.clause.items[1:], frame.clause.items[2:], strict=False
    ):
        box = thing.senses.part in _THINGS
        if box and "of" in of.senses and amount.cat == "A" and amount.val.dimension == "length":
            return of_another_kind(draft, "strange_words", thing.text)
    for one, other in pairwise(frame.clause.items):
        long = next((i for i in (one, other) if i.cat == "A" and i.val.dimension == "length"), None)
        boxes = [i.text for i in (one, other) if i.senses.part == "box"]
        if long is not None and boxes and "span" not in frame.flags:  # "Ink 30 cm Becken"
            return of_another_kind(draft, "strange_words", boxes[0])
    return None


def paid_for(draft: Draft, frame: Frame) -> Doubt | None:
    """ "neue Box für Ink 12 Euro", "neue Box für Ink gekauft": bought, and perhaps nobody in it yet."""
    money = any(amount.dimension == "money" for _, amount in frame.amounts)
    bought = any(item.text in _BOUGHT for item in frame.clause.items)
    return of_another_kind(draft, "strange_words") if money or bought else None


_BOUGHT: Final = rule_words("bought")


def moved_with_her_box(draft: Draft, frame: Frame) -> Doubt | None:
    """ "moví el terrario de Ink", "moved Ink's tub": carried somewhere with her in it, or a new home?"""
    if frame.amounts or acts_of(frame) != {"move"}:
        return None
    thing = next((item for item in _hers(frame) if item.senses.part == "box"), None)
    return of_another_kind(draft, "strange_words", thing.text) if thing is not None else None


def moved_to_a_place(draft: Draft, frame: Frame) -> Doubt | None:
    """ "moví la caja de Ink a la balda B": a place where she goes, and nobody else who lives there."""
    items = frame.clause.items
    for at, (before, place) in enumerate(pairwise(items)):
        goes_to = before.cat == "S" or "to" in before.senses
        named = any(item.cat == "S" and item.val.how != "place" for item in items[: at + 1])
        if named and goes_to and place.cat == "S" and place.val.how == "place":
            return of_another_kind(draft, "strange_words", place.text)
    return None


def yes_behind_no(draft: Draft, frame: Frame) -> Doubt | None:
    """ "Ink no comió ayer, hoy sí": behind a denial, that it was otherwise."""
    turned = frame.inherited and "yes" in frame.flags
    choices = kind_choices(Kind.FED, Kind.REFUSED)
    return Doubt(About.KIND, "two_kinds", choices=choices) if turned else None


def left_to_another(draft: Draft, frame: Frame) -> Doubt | None:
    """ "el grillo que no quiso Ink se lo comió Biscuit": of whom which of the two is told."""
    items = frame.clause.items
    rel = next((at for at, item in enumerate(items[:4]) if "rel" in item.senses), 0)
    whose = rel > 0 and not any(item.cat in "SX" for item in items[:rel])
    several = sum(item.cat == "S" for item in items) > 1
    if several and draft.kind is Kind.REFUSED and _denied_of_the_first(items):
        return Doubt(About.KIND, "two_kinds")
    return Doubt(About.KIND, "two_kinds") if whose and several and "rel" in items[rel].senses else None


def _denied_of_the_first(items: Sequence[Item]) -> bool:
    """ "das Heimchen das Ink nicht wollte hat Biscuit gefressen": a denial, and a deed of another."""
    named = [at for at, item in enumerate(items) if item.cat == "S"]
    between = items[named[0] + 1 : named[-1]]
    denied = any("neg" in item.senses and "verb" not in item.senses for item in between)
    acts = any(Kind.FED in item.senses.kinds for item in items[named[-1] + 1 :])
    return denied and acts and any("did" in item.senses for item in between)


def of_a_distance(draft: Draft, frame: Frame) -> Doubt | None:
    """ "Ink is 15 cm from the lid": how far she is from a thing, and no measure of hers."""
    items = frame.clause.items
    if "span" in frame.flags:
        return None
    for at, item in enumerate(items):
        behind = items[at + 1 : at + 5]
        leads = bool(behind) and ({"from", "of", "on"} & behind[0].senses.keys() or behind[0].text in _AWAY)
        thing = next((i for i in behind[1:] if i.senses.part in _PLACES), None)
        if item.cat == "A" and item.val.dimension == "length" and leads and thing is not None:
            return of_another_kind(draft, "strange_words", thing.text)
    return None


_AWAY: Final = rule_words("away_from_a_thing")
#: Parts of a home that somebody may be so far from.
_PLACES: Final = frozenset({"lid", "box", "dish", "mouth", "sub"})


def handed_to_somebody(draft: Draft, frame: Frame) -> Doubt | None:
    """ "offered Ink to Marta": the animal itself may have been what was offered."""
    trios = zip(frame.clause.items, frame.clause.items[1:], frame.clause.items[2:], strict=False)
    somebody = (who.text for whom, to, who in trios if whom.cat == "S" and "to" in to.senses and who.upper)
    name = next(somebody, None) if not frame.meals else None
    return of_another_kind(draft, "strange_words", name) if name is not None else None


def had_by_the_keeper(draft: Draft, frame: Frame) -> Doubt | None:
    """ "I have a cricket for Ink": it is there for her, and perhaps no more."""
    pairs = pairwise(frame.clause.items)
    keeps = any("self" in who.senses and "did" in has.senses and has.senses.kinds for who, has in pairs)
    keeps = keeps and len(frame.verbs) == 1  # no "I have given …"
    return of_another_kind(draft, "strange_words", "") if keeps and frame.meals else None


def so_much_more_or_less(draft: Draft, frame: Frame) -> Doubt | None:
    """ "Ink lost 2 g", "weighs 2 g less": how much lighter she is, and no weight of hers."""
    pairs = list(pairwise(frame.clause.items))
    lost = [b.text for a, b in pairs if "lose" in a.senses.acts and b.cat == "A"]
    differs = [a.text for a, b in pairs if a.cat == "A" and b.text.split()[0] in _MORE_OR_LESS]
    said = next(iter(lost + differs), None)
    return Doubt(About.AMOUNT, "number_unexplained", said) if said is not None else None


#: Words behind a figure that make it a difference.
_MORE_OR_LESS: Final = rule_words("more_or_less_than")


def warmth_of_water(draft: Draft, frame: Frame) -> Doubt | None:
    """ "water is 20 C": no air, where nothing else was measured."""
    water = "water" in frame.nouns and "room" not in frame.flags and not frame.refs
    return of_another_kind(draft, "strange_words", "") if water else None


def only_found(draft: Draft, frame: Frame) -> Doubt | None:
    """ "Ink's tub: cricket found": a feeder that was there may have been left."""
    found = any(sense.group.act == "find" for i in frame.clause.items for sense in i.senses.values())
    if not found or frame.verbs or "titled name" not in frame.flags:
        return None
    return Doubt(About.KIND, "two_kinds", choices=kind_choices(Kind.REFUSED, Kind.FED))
