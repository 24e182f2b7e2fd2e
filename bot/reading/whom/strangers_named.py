"""Words not understood that stand where only an animal's name can, beside animals that are known.

Passed over, what is told of them would be told of the others: "trickled 50 ml into Zork's burrow, shelf C
is 24 C". Where no animal is named at all, the clause itself finds whom it lacks.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from bot.reading.items.item import Item, Ref, ends_sentence
from bot.reading.model import FEEDING
from bot.reading.names.shelf_names import ShelfNames
from bot.reading.whom.rows import does_itself
from bot.reading.words.rule_words import rule_words
from bot.terms import Kind


def strangers_named(items: list[Item], _names: ShelfNames) -> list[Item]:
    """The items with names that nobody bears where such words stand."""
    out = list(items)
    others = any(item.cat == "S" or not _OTHERS.isdisjoint(item.senses) for item in items)
    where = (*_ANYWHERE, *_BESIDE_OTHERS) if others else _ANYWHERE
    for at, item in enumerate(items):
        if item.cat == "U" and _is_a_word(item) and any(stands(items, at) for stands in where):
            whom = Ref((), sure=False, words=item.text, doubt="unknown_name")
            out[at] = Item("S", item.i, item.j, item.text, val=whom)
            out[at].owns, out[at].upper = item.owns, item.upper
    return out


def _is_a_word(item: Item) -> bool:
    return len(item.text) > 1 and item.text.replace("'", "").isalpha()


def _owns_a_home(items: Sequence[Item], at: int) -> bool:
    """ "Zork's burrow", "outside Zork's hide"."""
    behind = items[at + 1 : at + 3]
    things = [item for item in behind if "trait" not in item.senses][:1]
    return items[at].owns and any(item.senses.part in _OF_HERS for item in things)


def _acts_first(items: Sequence[Item], at: int) -> bool:
    """ "Zork got the superworm that Ink didn't want": who opens a sentence, and does what animals do."""
    opens = at == 0 or ends_sentence(items[at - 1])
    deed = next(
        (n for n in range(at + 1, min(at + 3, len(items))) if _BETWEEN.isdisjoint(items[n].senses)), at
    )
    to_one = any(item.cat == "S" for item in items[deed + 1 : deed + 2])  # "Marta took Ink off me"
    return opens and items[at].upper and (_not_another(items, at) or (_does(items[deed]) and not to_one))


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
    if not at or items[at - 1].senses.kinds.isdisjoint(_DONE_TO_HER):
        return False
    by_keeper = any(verb.group.keeper for verb in items[at - 1].senses.verbs)
    if any(item.cat == "S" for item in items[at + 1 : at + 2]):
        return False  # "gave Marta B4"
    myself = at > 1 and "self" in items[at - 2].senses
    return by_keeper and (items[at].upper or (myself and _is_served(items[at + 1 : at + 2])))


def _is_served(behind: Sequence[Item]) -> bool:
    return any(item.cat == "N" or not _MEAL.isdisjoint(item.senses) for item in behind)


def _where_it_went(items: Sequence[Item], at: int) -> bool:
    """ "a dozen pinheads into zork", "6 crix to zork not June": right behind where prey went."""
    if at > 1 and "with" in items[at - 1].senses and not items[at - 2].senses.kinds.isdisjoint(FEEDING):
        return any(verb.group.keeper for verb in items[at - 2].senses.verbs)  # "put them in with Zork"
    if at < 1 or not (items[at - 1].text in _INTO or "to" in items[at - 1].senses):
        return False
    prey = at > 1 and "prey" in items[at - 2].senses
    ends = at + 1 == len(items) or items[at + 1].cat == "M" or not _ENDS.isdisjoint(items[at + 1].senses)
    return ends and (prey or items[at - 1].text in _IN_WITH)


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


#: Senses of the words that may stand for others who are not named.
_OTHERS: Final = frozenset({"everyone", "all", "group", "rest"})
_ANYWHERE: Final = (_owns_a_home, _moved_in)
_BESIDE_OTHERS: Final = (_acts_first, _measured_first, _given_to, _where_it_went, _behind_a_number, _none_of)
#: Parts of a home, of which each is some animal's.
_OF_HERS: Final = frozenset({"box", "dish", "mouth", "water", "sub", "lid"})
_BETWEEN: Final = frozenset({"did", "fill", "still", "hedge"})
_HER_DEEDS: Final = frozenset(
    {Kind.FED, Kind.REFUSED, Kind.MOLTED, Kind.SEALED, Kind.OPENED, Kind.DIED, Kind.PREMOLT, Kind.MATURED}
)
_DONE_TO_HER: Final = frozenset({Kind.FED, Kind.OFFERED, Kind.WATERED, Kind.REHOUSED, Kind.PAIRED})
_MEAL: Final = frozenset({"a", "prey", "size", "prekilled"})
_INTO: Final = rule_words("into_her")
_NONE_OF: Final = rule_words("none_of")
_IN_WITH: Final = rule_words("in_with_her")
_ENDS: Final = frozenset({"and", "neg", "but", "did", "verb"})
