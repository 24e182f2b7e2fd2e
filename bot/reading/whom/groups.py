"""Groups of animals in a message: "the female juvies on B", "everyone on C".

Works over settled items and gives back fewer: each group becomes one "S" item.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import Final

from bot.reading.items.item import Item, Ref, ends_sentence
from bot.reading.model import FEEDING
from bot.reading.names.shelf_names import EXACT, ShelfNames
from bot.reading.whom.descriptions import described, may_begin
from bot.reading.words.rule_words import rule_words, rule_words_in_order
from bot.terms import Kind


def grouped(items: Sequence[Item], names: ShelfNames) -> list[Item]:
    """The items with the words that describe a group drawn together."""
    out: list[Item] = []
    at = 0
    bought = next((place for place, item in enumerate(items) if _buys(item)), len(items))
    while at < len(items):
        if not may_begin(items[at]):
            out.append(items[at])
            at += 1
            continue
        plain = (
            (at > bought and _newcomer(items, at))
            or _counts_up(out, items[at])
            or _hatched(out, items[at])
            or _of_stock(out, items[at])
            or _size_of_prey(out, items[at])
            or ("everyone" in items[at].senses and _of_those_named(items, at, out))
            or (_all_the_prey(items, at) and _named_in_sentence(out))
            or _all_of_a_thing(items, at)
        )
        item, at = (items[at], at + 1) if plain else described(items, at, names)
        if "both" in item.senses and out and out[-1].cat == "S" and len(out[-1].val.tags) > _BOTH:
            out[-1].val.sure, out[-1].val.doubt = (
                False,
                "some_of_several",
            )  # "the males both refused", of three
        if item.cat == "S" and len(item.val.tags) == len(names.specimens) and _of_a_place_before(items, at):
            _of_that_place(item.val, out)
        if not plain and (number := _some_counted(out, item, items)) is not None:
            del out[number:]
        if item.cat == "S" and len(item.val.tags) > 1 and (_of_a_portion(out) or _one_of_many(out, item)):
            item.val.sure, item.val.doubt = False, "some_of_several"
        out.append(item)
    return out


def _counts_up(out: Sequence[Item], item: Item) -> bool:
    """ "the females all ate": "all" behind a group is of that group."""
    return "all" in item.senses and item.cat == "W" and bool(out) and out[-1].cat == "S"


_BOTH: Final = 2
#: Words for everyone that as often say "altogether", or all of what was named before.
_ALTOGETHER: Final = rule_words("altogether")
_THEM_ALL: Final = rule_words("them_all")
#: Senses of words that go on with "all" to name a group.
_NAMES_A_GROUP: Final = frozenset(
    {"group", "of", "the", "trait", "both", "one", "animal", "except", "but", "on"}
)


def _of_those_named(items: Sequence[Item], at: int, before: Sequence[Item]) -> bool:
    """Whether "all" is no group of its own: "Mole is all sealed up", "8 flies for Dot, every one eaten"."""
    if items[at].text in _THEM_ALL and _named(before):
        return True  # "fed Ink and Mole, watered them all"
    if _is_all_she_got(items[at], before):
        return True
    item, nxt = items[at], items[at + 1] if at + 1 < len(items) else None
    if nxt is not None and "pron" in nxt.senses and _named(before):
        return True  # "filled all their bowls": of those just named
    if item.cat != "W" or "everyone" not in item.senses or item.text not in _ALTOGETHER or not before:
        return False
    if nxt is not None and (
        nxt.cat in "SN" or not _NAMES_A_GROUP.isdisjoint(nxt.senses) or "on" in nxt.senses
    ):
        return False
    if before[-1].cat == "A" and before[-1].val.dimension == "money":
        return True  # "60 euro the lot"
    if any(s.group.keeper for c, s in before[-1].senses.items() if c == "verb"):
        return False  # "fed all"
    return "did" in before[-1].senses or _named_in_sentence(before)


def _is_all_she_got(item: Item, before: Sequence[Item]) -> bool:
    """ "Ink refused everything", "snubs the lot": all that was offered, where an animal eats or leaves it."""
    acts = before[-1].senses.verbs if before else ()
    by_her = bool(acts) and not any(s.group.keeper for s in acts) and before[-1].senses.kinds <= FEEDING
    refused = bool(before) and before[-1].senses.kinds == {Kind.REFUSED}  # which no keeper does
    return item.text in _ALL_OFFERED and by_her and (refused or _named_in_sentence(before[:-1]))


_ALL_OFFERED: Final = rule_words("all_offered")


def _all_the_prey(items: Sequence[Item], at: int) -> bool:
    """ "cleared all 6 of their small roaches": all of the prey, and no group of animals."""
    if items[at].text not in _ALL:
        return False
    for item in items[at + 1 : at + 6]:
        if "prey" in item.senses:
            return True
        if item.cat != "N" and _BEFORE_ITS_PREY.isdisjoint(item.senses):
            return False
    return False


_ALL: Final = rule_words("all_or_all_of")


#: Senses of the words between "all" and the prey that it counts.
_BEFORE_ITS_PREY: Final = frozenset({"of", "the", "pron", "size", "prekilled"})


def _all_of_a_thing(items: Sequence[Item], at: int) -> bool:
    """ "all the old web out of Mole's tub", "everything out of …": what was there, and no animals."""
    if items[at].text not in _ALL_OF_IT:
        return False
    if not any(verb.group.keeper for item in items[:at] for verb in item.senses.verbs):
        return False
    behind = [i for i in items[at + 1 : at + 4] if not ({"the", "trait", "of", "size"} & i.senses.keys())]
    thing = behind[0] if behind else None
    if thing is None or thing.cat not in "WU":
        return False
    if items[at].text in _EVERYTHING:
        return "from" in thing.senses
    noun = thing.senses.get("noun")
    if noun is None or "fill" in thing.senses:
        named = not _THE.isdisjoint(items[at].text.split()) or "the" in items[at + 1].senses
        return named and (thing.cat == "U" or "prey" in thing.senses)
    return noun.group.part not in _EACH_HAS_ONE and "verb" not in thing.senses


_THE: Final = rule_words("the")
_EVERYTHING: Final = rule_words("everything")
_ALL_OF_IT: Final = rule_words("all_of_it")
#: Things of which each animal has one: "all the tubs" are everybody's.
_EACH_HAS_ONE: Final = frozenset({"box", "dish", "water", "food"})


def _named(before: Sequence[Item]) -> bool:
    return any(item.cat == "S" for item in before)


def _named_in_sentence(before: Sequence[Item]) -> bool:
    for item in reversed(before):
        if ends_sentence(item):
            return False
        if item.cat == "S" or "pron" in item.senses:
            return True
    return False


def _of_a_place_before(items: Sequence[Item], at: int) -> bool:
    """ "Shelf B 26 °C. Everyone on it had flies": a place that a pronoun stands for."""
    behind = items[at : at + 2]
    return len(behind) > 1 and behind[0].text in _PLACED and "pron" in behind[1].senses


def _of_that_place(everyone: Ref, before: Sequence[Item]) -> None:
    """Has "everyone on it" stand for all of the place named before; where none was, who is meant is asked."""
    last = next((item.val for item in reversed(before) if item.cat == "S"), None)
    if last is not None and last.how == "place" and last.sure:
        everyone.tags, everyone.place = last.tags, last.place
    else:
        everyone.sure, everyone.doubt = False, "some_of_several"


_PLACED: Final = rule_words("on_or_in")


def _of_a_portion(before: Sequence[Item]) -> bool:
    """ "some of the slings", "most of B"."""
    last = [i for i in before[-2:] if "the" not in i.senses]
    return bool(last) and "portion" in last[-1].senses


def _one_of_many(before: Sequence[Item], item: Item) -> bool:
    """ "a GBBs sealed itself in": behind an article a name for several is one of them, and not said which."""
    ref: Ref = item.val
    article = bool(before) and "a" in before[-1].senses
    return article and ref.plural and ref.how not in {"place", "tag"} and not item.text.startswith(_SAYS_ALL)


_SAYS_ALL: Final = rule_words_in_order("all")


def _hatched(before: Sequence[Item], item: Item) -> bool:
    """ "her sac hatched, 120 slings": those are none of the shelf yet."""
    group = item.senses.get("group")
    if group is None or group.group.stage != "sling" or not group.group.plural:
        return False
    return any(Kind.SAC in i.senses.kinds for i in before)


def _some_counted(before: Sequence[Item], item: Item, items: Sequence[Item]) -> int | None:
    """Where the number is of "3 (more) slings on shelf B ate": so many animals, and no meal.

    Where there are more of them, which they are has to be asked.
    """
    at = len(before) - 1
    while at > 0 and before[at].text in _BEHIND_NUMBER:
        at -= 1
    if (
        at < 0
        or before[at].cat != "N"
        or item.cat != "S"
        or not (item.val.plural and item.val.how == "group")
    ):
        return None
    if (at and before[at - 1].cat == "S") or any(not i.senses.kinds.isdisjoint(_COUNTS_NEW) for i in items):
        return None
    number = before[at].val
    if number.ordinal or number.doubt or number.value is None or not 1 < number.value <= len(item.val.tags):
        return None
    if number.value < len(item.val.tags):
        item.val.sure, item.val.doubt = False, "some_of_several"
    return at


_BEHIND_NUMBER: Final = rule_words("behind_a_number")
#: What is told of with a number of animals that are none of the shelf, or of it no more.
_COUNTS_NEW: Final = frozenset({Kind.ACQUIRED, Kind.STOCKED, Kind.LEFT, Kind.DIED, Kind.SAC})


def _of_stock(before: Sequence[Item], item: Item) -> bool:
    """ "cricket delivery came, 500 adults": so many of the feeders."""
    if "size" not in item.senses or not before or before[-1].cat != "N":
        return False
    return any(Kind.STOCKED in i.senses.kinds for i in before) and any("prey" in i.senses for i in before)


def _size_of_prey(before: Sequence[Item], item: Item) -> bool:
    """ "grillos chicos": a word for a size and for animals, right behind the prey that is of that size."""
    return "size" in item.senses and bool(before) and "prey" in before[-1].senses


def _buys(item: Item) -> bool:
    return not _BUYS.isdisjoint(item.senses.acts)


_BUYS: Final = frozenset({"buy", "new"})


def _newcomer(items: Sequence[Item], at: int) -> bool:
    """Whether words here describe an animal just bought, none of the shelf: "got two more GBB slings"."""
    verb, known = None, False
    for place in range(at - 1, -1, -1):
        item = items[place]
        if ends_sentence(item):
            break
        acts = verb is not None and item.cat == "S" and items[place + 1] is verb  # "both stirmis got one"
        if item.cat == "S" and (item.val.how in EXACT or acts):
            verb = None
            break
        known = known or item.cat in {"S", "T"}
        if _buys(item):
            verb = item
    if verb is None or known:
        return known and verb is not None
    for item in items[at:]:
        if ends_sentence(item) or "prey" in item.senses:
            return False
        if item.cat == "S":
            return item.val.called_by_species is not None
        if item.cat == "T":
            return True
    return False


def neither_of_two(items: list[Item], _names: ShelfNames) -> list[Item]:
    """ "neither Bess ate": behind the word for none of two, a name of two stands for both."""
    for before, item in pairwise(items):
        two = (
            item.cat == "S"
            and not item.val.sure
            and item.val.doubt == "two_fit"
            and len(item.val.tags) == _BOTH
        )
        if before.text in _NEITHER and two:
            item.val = Ref(item.val.tags, how="group", words=item.val.words, plural=True, group=True)
    return items


_NEITHER: Final = rule_words("neither")
