"""Where a clause begins with no mark before it: "fed Ink Saffron refused". Pure."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import Final

from bot.reading.clauses.clause_model import AND, RUN_ON, Clause
from bot.reading.items.item import Item, is_deed
from bot.reading.items.yes_and_no import ANSWERS, answers
from bot.reading.words.marks import TICKS
from bot.reading.words.rule_words import rule_words


def names_run_on(clause: Clause, following: Clause) -> list[Clause]:
    """ "Ink ate a roach each Mole and Sunny refused": the names at its end lead to the next clause.

    They are taken off the clause and given as one of their own.
    """
    items, at = clause.items, len(clause.items)
    while at and items[at - 1].cat == "S" and not items[at - 1].owns:
        at -= 1
    verb = next((n for n, item in enumerate(items) if is_deed(item)), at)
    told = items[:at] if _by_keeper(items[verb:at]) else items[:verb]
    acts = any(item.cat == "S" for item in told)
    if at == len(items) or not acts or at <= verb or not _ends_what_she_did(items[at - 1]):
        return []
    if following.items[0].cat != "S" or not _begins(following.items, 0):
        return []
    names = Clause(RUN_ON)
    names.items, clause.items = items[at:], items[:at]
    return [names]


def _by_keeper(items: Sequence[Item]) -> bool:
    return any(item.senses["verb"].group.keeper for item in items[:1] if "verb" in item.senses)


def _ends_what_she_did(item: Item) -> bool:
    """Whether an item is the end of what an animal did: the prey, "each", or what she did itself."""
    return item.cat == "N" or is_deed(item) or bool({"prey", "each", "one"} & item.senses.keys())


def run_on(clause: Clause) -> Iterator[Clause]:
    """Cuts a clause where, with no mark between, another begins: "fed Ink Saffron refused"."""
    current = Clause(clause.sep, turns=clause.turns, goes_on=clause.goes_on)
    current.line, current.by = clause.line, clause.by
    animals = verb = prey = False
    for place, item in enumerate(clause.items):
        name = item.cat == "S"
        denied = name and place > 0 and "elided" in clause.items[place - 1].senses
        in_a_row = name and _next_in_a_row(clause.items, place)
        denied = denied or (name and answers(clause.items, place - 1))  # "B1 ate B2 no B3 ate"
        said = verb or denied or (name and _sized(current.items)) or (prey and _none(item))
        whose = name and place > 0 and "of" in clause.items[place - 1].senses  # "el grillo de Ink"
        in_a_row = in_a_row or (name and place > 0 and _is_told(clause.items, place))
        more = name and clause.sep == AND and _only_a_meal(current.items)  # "… and a roach Mole ate one"
        if in_a_row or ((more or (animals and said)) and not whose and _begins(clause.items, place)):
            yield current
            current = Clause(RUN_ON)
            animals = verb = prey = False
        current.items.append(item)
        animals = animals or item.cat == "S" or "pron" in item.senses
        prey = prey or "prey" in item.senses
        verb = verb or is_deed(item) or (animals and "prey" in item.senses)  # "Ink 1 roach Saffron refused"
    current.titled = clause.titled
    yield current


def _only_a_meal(items: Sequence[Item]) -> bool:
    prey = any("prey" in item.senses for item in items)
    return prey and all("a" in item.senses or _of_a_meal(item) for item in items)


def _is_told(items: Sequence[Item], place: int) -> bool:
    """ "checked the skin at work Ink = boy": whom a sign like this tells of."""
    behind = items[place + 1 : place + 3]
    return len(behind) > 1 and behind[0].text == "=" and behind[1].cat == "W"


def _begins(items: Sequence[Item], place: int) -> bool:
    """Whether a new clause begins here: an animal that acts, or the keeper who does the next thing."""
    item = items[place]
    if item.cat == "S" or ("pron" in item.senses and not item.senses.get("group")):
        ahead = place + 1
        while ahead < len(items) and _light(items[ahead]):
            ahead += 1
        if ahead >= len(items):
            return False
        if item.cat == "S" and items[place + 1].text in _SEEMS:
            return True  # "fed Ink Mole looks fat"
        return _acts(item, items[ahead]) or (item.cat == "S" and _keeper_did(items, ahead))
    if _none(item) and len(items) > place + 2 and items[place + 2].cat == "S":
        return "for" in items[place + 1].senses  # "a cricket for Ink nothing for Mole"
    if _sums_up(items, place):
        return True
    if "self" in item.senses and place + 1 < len(items):
        own = items[place + 1].senses.get("verb")
        before = items[place - 1]
        tries = own is not None and own.group.act == "try" and before.text in _WHEN
        return own is not None and own.group.keeper and not (tries or before.text in _WHICH)
    return False


_WHEN: Final = rule_words("when_or_that")  # "took a roach when I tried again on Tuesday"
_WHICH: Final = rule_words("which_or_that")  # "the roach that I dropped there on Sunday"


def _sums_up(items: Sequence[Item], place: int) -> bool:
    """ "… that was a roach each": what each of those told before had."""
    behind = items[place + 1 : place + 6]
    each = any("prey" in a.senses and "each" in b.senses for a, b in pairwise(behind))
    return each and items[place].text.split()[0] in _THAT


_THAT: Final = rule_words("that_is")


_SEEMS: Final = rule_words("seems")


def _keeper_did(items: Sequence[Item], place: int) -> bool:
    """ "… Mole I didn't feed": what the keeper did, or did not, to the animal named before it."""
    if "self" not in items[place].senses or place + 1 >= len(items):
        return False
    return not _DOES.isdisjoint(items[place + 1].senses)


_DOES: Final = frozenset({"undone", "neg", "verb"})


def _next_in_a_row(items: Sequence[Item], place: int) -> bool:
    """ "Dash 2 roaches Penny 2 crickets": with no mark between, the next animal with its own meal."""
    if not 2 <= place < len(items) - 1:
        return False
    if _is_size(items[place - 1]) and (_is_size(items[place + 1]) or items[place + 1].cat == "N"):
        return any(i.cat == "S" for i in items[:place])  # "Ink 19 g Mole 3.4 g"
    named = next((n for n in range(place + 1, len(items)) if items[n].cat != "S"), place + 1)
    before = _of_a_meal(items[place - 1])
    behind = any(map(_of_a_meal, _without_article(items, named)))  # "A3 crickets A4 A5 roaches"
    before = before or answers(items, place - 1)  # "Ink no Mole no May yes"
    before = before or _answered_meal(items, place - 1)
    return any(i.cat == "S" for i in items[:place]) and before and (behind or answers(items, place + 1))


def _without_article(items: Sequence[Item], place: int) -> Sequence[Item]:
    """The item there, or the one behind it where it is the article of "Ink a dubia Biscuit a dubia"."""
    return items[place + 1 : place + 2] if "a" in items[place].senses else items[place : place + 1]


def _answered_meal(items: Sequence[Item], place: int) -> bool:
    """ "c1 roach yes c2 roach no": a yes or no behind whom it is of and the prey."""
    return place > 1 and items[place].text in ANSWERS and "prey" in items[place - 1].senses


def _sized(items: Sequence[Item]) -> bool:
    """ "Ink 13 cm Mole ate": whether the one named last has been measured, and needs no verb behind it."""
    last = next((n for n in range(len(items) - 1, -1, -1) if items[n].cat == "S"), len(items))
    return any(i.cat == "A" and i.val.dimension in {"weight", "length"} for i in items[last + 1 :])


def _is_size(item: Item) -> bool:
    """An amount that is of the one named right before it, or a figure with a point and no unit."""
    figure = item.cat == "U" and item.text[0].isdigit()
    return figure or (item.cat == "A" and item.val.dimension in _OF_EACH_BY_ITSELF)


_OF_EACH_BY_ITSELF: Final = frozenset({"weight", "length", "volume"})


def _of_a_meal(item: Item) -> bool:
    return (
        item.cat == "N"
        or item.text in TICKS
        or any(c in item.senses for c in ("prey", "size"))
        or _none(item)
    )


def _none(item: Item) -> bool:
    verb = item.senses.get("verb")
    return verb is not None and verb.group.act == "none"


def _acts(who: Item, does: Item) -> bool:
    """Whether an animal, or the word that stands for it, does or is denied to do something of its own."""
    somebody = who.cat == "S" or " " in who.text  # "the boy didn't want his", no "he didn't"
    if somebody and ("neg" in does.senses or "undone" in does.senses or does.text in ANSWERS):
        return True
    verb = does.senses.get("verb")
    if verb is None or verb.group.keeper or verb.group.noun or verb.group.act == "outcome":
        return False
    return who.cat == "S" or not verb.group.weak


def _light(item: Item) -> bool:
    if "both" in item.senses:
        return True  # "Dot and Dottie both had a fly"
    return item.cat == "W" and not _LIGHT.isdisjoint(item.senses) and "verb" not in item.senses


_LIGHT: Final = frozenset({"fill", "did", "still"})
