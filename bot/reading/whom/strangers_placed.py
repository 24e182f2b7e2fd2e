"""Where a word stands as an animal's name does, by what is done to it or is its own: "Zork's burrow"."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from bot.reading.items.item import Item, ends_sentence
from bot.reading.model import FEEDING
from bot.reading.whom.rows import does_itself
from bot.reading.words.rule_words import rule_words, rule_words_in_order
from bot.terms import Kind


def _owns_a_home(items: Sequence[Item], at: int) -> bool:
    """ "Zork's burrow", "outside Zork's hide"."""
    behind = items[at + 1 : at + 3]
    things = [item for item in behind if "trait" not in item.senses][:1]
    alone = not behind or behind[0].cat == "M"  # "took a bolus out of Zork's"
    out_of = alone and at > 0 and not {"from", "of"}.isdisjoint(items[at - 1].senses)
    return items[at].owns and (out_of or any(item.senses.part in _OF_HERS for item in things))


def _acts_first(items: Sequence[Item], at: int) -> bool:
    """ "Zork got the superworm that Ink didn't want": who opens a sentence, and does what animals do."""
    opens = (at == 0 or ends_sentence(items[at - 1])) and not items[at].text.endswith(NO_NAMES)
    deed = next(
        (
            n
            for n in range(at + 1, min(at + 4, len(items)))
            if items[n].cat != "D" and _BETWEEN.isdisjoint(items[n].senses)
        ),
        at,
    )
    served = "did" in items[min(at + 1, len(items) - 1)].senses and is_a_meal(items[at + 2 : at + 6])
    if opens and items[at].upper and served:
        return not is_to_another(items, at + 1)  # "Zork hat eine Schabe genommen"
    to_one = deed > at and is_to_another(items, deed)
    return opens and items[at].upper and (_not_another(items, at) or (_does(items[deed]) and not to_one))


def _acts_behind(items: Sequence[Item], at: int) -> bool:
    """ "hat Zork eine Schabe gefressen", "el domingo mudó Zork", "dafür ist jetzt Zork dicht"."""
    if not at or not items[at].upper or items[at].text.endswith(NO_NAMES):
        return False
    lead, behind = items[at - 1], items[at + 1 : at + 5]
    if "did" in lead.senses and is_a_meal(behind):
        return True
    ends = not behind or behind[0].cat == "M" or "and" in behind[0].senses
    if _does(lead) and not any(verb.group.weak for verb in lead.senses.verbs):
        return ends and "on" not in lead.senses and not lead.upper  # "LANTERN MOULTED AHHHH"
    told = bool(behind) and _does(behind[0]) and (len(behind) == 1 or behind[1].cat == "M")
    return told and "fill" in lead.senses


def is_to_another(items: Sequence[Item], deed: int) -> bool:
    """ "Marta took Ink off me", "Marta said no to a roach for Ink": done by a person to an animal."""
    behind = enumerate(items[deed + 1 : deed + 6], start=deed + 1)
    return any(
        item.cat == "S" and (n == deed + 1 or not _TO_WHOM.isdisjoint(items[n - 1].senses))
        for n, item in behind
    )


def _not_another(items: Sequence[Item], at: int) -> bool:
    """ "Zork, not Dottie, was given a fruit fly"."""
    behind = items[at + 1 : at + 4]
    return len(behind) > 2 and behind[0].text == "," and "neg" in behind[1].senses and behind[2].cat == "S"


def _measured_first(items: Sequence[Item], at: int) -> bool:
    """ "Zork on the scales 24 grams; Mole wouldn't sit still": who opens a sentence, and how big it is."""
    opens = at == 0 or ends_sentence(items[at - 1])
    figure = next((item for item in items[at + 1 : at + 3] if item.cat != "W" or _is_measure(item)), None)
    sized = figure is not None and (figure.cat == "W" or _is_size(figure))
    return opens and items[at].upper and sized


def _is_measure(item: Item) -> bool:
    return not {"weight", "span", "carapace"}.isdisjoint(item.senses)


def _is_size(item: Item) -> bool:
    return item.cat == "A" and item.val.dimension in {"length", "weight"}


def _moved_in(items: Sequence[Item], at: int) -> bool:
    """ "finally got Zork into her new tub"."""
    behind = items[at + 1 : at + 3]
    led = len(behind) > 1 and behind[0].text in _INTO and "pron" in behind[1].senses
    return led and at > 0 and not items[at - 1].senses.acts.isdisjoint({"put_into", "move"})


def _given_to(items: Sequence[Item], at: int) -> bool:
    """ "put Zork in with Lantern", "Friday I fed zork a dubia": right behind what a keeper does."""
    if not at or not is_done_to_her(items[at - 1]):
        return False
    if any(item.cat == "S" for item in items[at + 1 : at + 2]):  # "misted Zork Lantern", but "gave Marta B4"
        return items[at].upper and items[at - 1].senses.kinds <= _TO_NO_PERSON
    myself = at > 1 and "self" in items[at - 2].senses
    served = is_a_meal(items[at + 1 : at + 4]) and not items[at].text.endswith(NO_NAMES)
    return items[at].upper or served or (myself and _is_served(items[at + 1 : at + 2]))


def _cared_for(items: Sequence[Item], at: int) -> bool:
    """ "rocié a Zork", "una langosta para Lantern, otra para Zork"."""
    led = at > 1 and items[at].upper and not {"to", "for"}.isdisjoint(items[at - 1].senses)
    another = led and not {"ones", "one", "a"}.isdisjoint(items[at - 2].senses)
    watered = led and bool(items[at - 2].senses.kinds & _TO_NO_PERSON)
    return watered or (another and any("prey" in item.senses for item in items[:at]))


def is_done_to_her(item: Item) -> bool:
    """Whether a word tells what a keeper does to an animal: "fed", "put", "misted"."""
    cares = any(verb.group.keeper for verb in item.senses.verbs)
    return cares and not item.senses.kinds.isdisjoint(_DONE_TO_HER)


def _is_served(behind: Sequence[Item]) -> bool:
    return any(item.cat == "N" or not _MEAL.isdisjoint(item.senses) for item in behind)


def is_a_meal(behind: Sequence[Item]) -> bool:
    """Whether a number or an article leads to prey: "2 large crickets", "a roach"; no "118 eggs"."""
    counted = bool(behind) and (behind[0].cat == "N" or "a" in behind[0].senses)
    return counted and any("prey" in item.senses or "each" in item.senses for item in behind[1:])


def _where_it_went(items: Sequence[Item], at: int) -> bool:
    """ "a dozen pinheads into zork", "6 crix to zork not June": right behind where prey went."""
    if at > 1 and "with" in items[at - 1].senses and not items[at - 2].senses.kinds.isdisjoint(FEEDING):
        return any(verb.group.keeper for verb in items[at - 2].senses.verbs)  # "put them in with Zork"
    if at < 1:
        return False
    if (
        items[at - 1].text.rpartition(" ")[2] in _TO and items[at - 1].senses.verbs
    ):  # "his roach went to Zork"
        return items[at].upper and any("prey" in item.senses for item in items[max(0, at - 4) : at - 1])
    if not (items[at - 1].text in _INTO | _IN_WITH or "to" in items[at - 1].senses):
        return False
    given = items[at - 2] if at > 1 else None
    prey = given is not None and _is_given(given)
    ends = at + 1 == len(items) or items[at + 1].cat == "M" or not _ENDS.isdisjoint(items[at + 1].senses)
    return ends and (prey or items[at - 1].text in _IN_WITH)


def _is_given(item: Item) -> bool:
    """Prey, or a number or a "them" that stands for it."""
    them = "pron" in item.senses and item.senses["pron"].group.plural
    return item.cat == "N" or "prey" in item.senses or them


def _behind_a_number(items: Sequence[Item], at: int) -> bool:
    """ "May 4 zork took a roach": between a number that may be of a date, and what an animal did."""
    dated = at > 1 and items[at - 1].cat == "N" and items[at - 2].cat == "S"
    return dated and at + 1 < len(items) and _does(items[at + 1])


def _none_of(items: Sequence[Item], at: int) -> bool:
    """ "not a single one of zork came out"."""
    return at > 0 and items[at - 1].text in _NONE_OF


def _does(item: Item) -> bool:
    """Whether a word tells what an animal did, and no person: "got", "ate"; no "bought"."""
    return does_itself(item) and not item.senses.kinds.isdisjoint(_HER_DEEDS)


#: Where it needs no other animal beside it, and where it does.
ANYWHERE: Final = (_owns_a_home, _moved_in)
PLACED: Final = (
    _acts_first,
    _acts_behind,
    _measured_first,
    _given_to,
    _cared_for,
    _where_it_went,
    _behind_a_number,
    _none_of,
)
#: Parts of a home, of which each is some animal's.
_OF_HERS: Final = frozenset({"box", "dish", "mouth", "water", "sub", "lid"})
_BETWEEN: Final = frozenset({"did", "fill", "still", "hedge"})
_TO_WHOM: Final = frozenset({"to", "for", "with"})
_HER_DEEDS: Final = frozenset(
    {Kind.FED, Kind.REFUSED, Kind.MOLTED, Kind.SEALED, Kind.OPENED, Kind.DIED, Kind.PREMOLT, Kind.MATURED}
)
_DONE_TO_HER: Final = frozenset(
    {Kind.FED, Kind.OFFERED, Kind.WATERED, Kind.REHOUSED, Kind.PAIRED, Kind.CLEANED}
)
_TO_NO_PERSON: Final = frozenset({Kind.WATERED, Kind.CLEANED})
_MEAL: Final = frozenset({"a", "prey", "size", "prekilled"})
_INTO: Final = rule_words("into_her")
_NONE_OF: Final = rule_words("none_of")
_IN_WITH: Final = rule_words("in_with")
_TO: Final = rule_words("to")
_ENDS: Final = frozenset({"and", "neg", "but", "did", "verb", "for", "same", "fill", "everyone", "all"})
#: How words end that are seldom names: "Waved a roach", "counted 118 eggs", "greedily took it".
NO_NAMES: Final = rule_words_in_order("endings_of_deeds")
