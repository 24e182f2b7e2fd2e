"""Messages put together at random in which several animals and several kinds meet in one list.

Unlike ``composed``, what is tried is not clauses side by side, but a list whose rows lend one another what
they leave out: a verb, a unit, the prey, a group of which some did something else.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from random import Random
from typing import Any, Final

from tests.reading.composed import TAGS

Entry = dict[str, Any]
#: Prey of which so many may be counted.
_PREY: Final[Mapping[str, str]] = {"crickets": "cricket", "dubias": "dubia roach", "mealworms": "mealworm"}
#: A group and those who belong to it, by the names that the list may use for them.
_GROUP: Final = "the GBBs"
_OF_GROUP: Final[Mapping[str, str]] = {"GBB 1": "B1", "B2": "B2", "B3": "B3", "GBB 4": "B4"}
_ROWS: Final = ("\n", ". ", "; ")
#: What one of a group may have done instead, and what that tells.
_INSTEAD: Final[Mapping[str, str]] = {
    "refused": "refused",
    "left hers": "refused",
    "didn't eat": "refused",
    "is sealed": "sealed",
    "is in premolt": "premolt",
}
#: A mature male, whose molt would be asked about.
_MATURE: Final = "Twig"
#: Doings told of one, before the others of its group are.
_FIRST: Final[Mapping[str, str]] = {"refused": "refused", "died": "died", "molted": "molted"}


def _numbers_over_names(chance: Random, names: list[str]) -> tuple[str, list[Entry]]:
    """ "2 crickets: Ink, Mole" and the like, row for row, with those who refused at the end."""
    prey, rows, told = chance.choice(sorted(_PREY)), [], []
    for count in chance.sample((2, 3, 4), chance.randint(1, 2)):
        who = [names.pop() for _ in range(chance.randint(1, 3))]
        head = chance.choice((f"{count} {prey}", f"{prey} x{count}", f"{count} {prey} each"))
        rows.append(f"{head}: {', '.join(who)}")
        told += [_entry("fed", TAGS[name], prey=_PREY[prey], count=count) for name in who]
    if chance.random() < 0.5:
        who = [names.pop() for _ in range(chance.randint(1, 2))]
        rows.append(f"{chance.choice(('refused', 'none', 'not interested'))}: {', '.join(who)}")
        told += [_entry("refused", TAGS[name]) for name in who]
    return chance.choice(_ROWS).join(rows), told


def _amounts(chance: Random, names: list[str]) -> tuple[str, list[Entry]]:
    """ "watered Ink 50 ml, Mole 100", "moved Ink to a 5 l, Mole to an 8 l", "weighed Ink 12, Mole 15 g"."""
    who = [names.pop() for _ in range(chance.randint(2, 3))]
    sizes = chance.sample((20, 30, 50), len(who))
    joints = [chance.choice((", ", " and ")) for _ in who[1:]]
    way = chance.choice(("watered", "moved", "measured"))
    if way == "watered":
        said = [f"{name} {n}{'' if k else ' ml'}" for k, (name, n) in enumerate(zip(who, sizes, strict=True))]
        told = [_entry("watered", TAGS[name], ml=n) for name, n in zip(who, sizes, strict=True)]
    elif way == "moved":
        said = [f"{name} {chance.choice(('to', 'into'))} a {n} l" for name, n in zip(who, sizes, strict=True)]
        told = [_entry("rehoused", TAGS[name], volume_l=n) for name, n in zip(who, sizes, strict=True)]
    else:
        way, unit = "weighed", len(who) - 1
        said = [
            f"{name} {n}{' g' if k == unit else ''}"
            for k, (name, n) in enumerate(zip(who, sizes, strict=True))
        ]
        told = [_entry("measured", TAGS[name], weight_g=n) for name, n in zip(who, sizes, strict=True)]
    return f"{way} {said[0]}" + "".join(j + s for j, s in zip(joints, said[1:], strict=True)), told


def _one_did_not(chance: Random, names: list[str]) -> tuple[str, list[Entry]]:
    """ "fed the GBBs a cricket each, except that B2 refused"."""
    one = chance.choice(sorted(_OF_GROUP))
    does = chance.choice(sorted(_INSTEAD))
    lead = chance.choice((f"fed {_GROUP} a cricket each", f"{_GROUP} had a cricket each"))
    joint = chance.choice((", except that ", ", except ", " except that ", ", only "))
    if joint == ", only " and _INSTEAD[does] != "refused":
        joint = ", except that "
    others = [tag for tag in _OF_GROUP.values() if tag != _OF_GROUP[one]]
    fed = [_entry("fed", tag, prey="cricket", count=1) for tag in others]
    hers = {"prey": "cricket", "count": 1} if joint == ", only " else {}  # that very cricket
    return f"{lead}{joint}{one} {does}", [*fed, _entry(_INSTEAD[does], _OF_GROUP[one], **hers)]


def _the_others(chance: Random, names: list[str]) -> tuple[str, list[Entry]]:
    """ "B2 died, the other GBBs ate"."""
    one = chance.choice(sorted(_OF_GROUP))
    does = chance.choice(sorted(_FIRST))
    whom = chance.choice(("the other GBBs", "the other three GBBs", "the other 3 GBBs"))
    others = [tag for tag in _OF_GROUP.values() if tag != _OF_GROUP[one]]
    told = [_entry(_FIRST[does], _OF_GROUP[one])]
    if chance.random() < 0.5:
        return f"{one} {does}{chance.choice((', ', '. '))}{whom} molted", told + [
            _entry("molted", t) for t in others
        ]
    fed = [_entry("fed", tag, prey="dubia roach", count=1) for tag in others]
    return f"{one} {does}{chance.choice((', ', '. '))}gave {whom} a dubia each", told + fed


def _both_of_two(chance: Random, names: list[str]) -> tuple[str, list[Entry]]:
    """ "Ink molted. Mole opened up. Both had a cricket"."""
    two, told, said = [name for name in names if name != _MATURE][:2], [], []
    for name in two:
        words, kind = chance.choice(
            (("molted", "molted"), ("opened up", "opened"), ("looks premolt", "premolt"))
        )
        said.append(f"{name} {words}")
        told.append(_entry(kind, TAGS[name]))
    last = chance.choice(("Both had a cricket", "both ate a cricket", "had a cricket each"))
    told += [_entry("fed", TAGS[name], prey="cricket", count=1) for name in two]
    return ". ".join([*said, last]), told


_LISTS: Final[Sequence[Callable[[Random, list[str]], tuple[str, list[Entry]]]]] = (
    _numbers_over_names,
    _amounts,
    _one_did_not,
    _the_others,
    _both_of_two,
)


def _entry(kind: str, tag: str, **fields: Any) -> Entry:
    return {"kind": kind, "specimens": [tag], **fields}


def lists(seed: int, how_many: int, day: str) -> Iterator[tuple[str, dict[str, Any]]]:
    """So many messages of one list each, with the reading that is meant."""
    chance = Random(seed)
    names_of_one = [name for name in sorted(TAGS) if name not in _OF_GROUP]
    for _ in range(how_many):
        names = chance.sample(names_of_one, len(names_of_one))
        text, told = chance.choice(_LISTS)(chance, names)
        yield text, {"reading": "entries", "entries": [{**entry, "day": day} for entry in told]}
