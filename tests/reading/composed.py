"""Messages put together at random from clauses of which it is known what each of them tells.

A clause here is plain; what is tried is how clauses stand beside one another, with any mark or word between.
The animals are those of the contract's shelf whose names are no other words.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from random import Random
from typing import Any, Final

TAGS: Final[Mapping[str, str]] = {
    "Ink": "A2",
    "Saffron": "A4",
    "Anvil": "C1",
    "mole": "C3",
    "Lantern": "D1",
    "Twig": "D2",
    "Dot": "B5",
    "Dottie": "B6",
    "Biscuit": "A1",
    "Captain": "T12",
    "T07": "T07",
    "Old Bess": "A6",
    "Little Bess": "A7",
    "GBB 1": "B1",
    "B3": "B3",
}
_MEALS: Final[Mapping[str, Mapping[str, Any]]] = {
    "a cricket": {"prey": "cricket", "count": 1},
    "2 crickets": {"prey": "cricket", "count": 2},
    "a small dubia": {"prey": "dubia roach", "count": 1, "size": "small"},
    "three mealworms": {"prey": "mealworm", "count": 3},
    "a red runner": {"prey": "red runner roach", "count": 1},
}


@dataclass(frozen=True)
class Form:
    """A way to tell one thing: ``{who}`` and ``{meal}`` are filled in; of at most so many animals."""

    kind: str | None
    words: str
    most: int = 3
    least: int = 1
    fields: Mapping[str, Any] = field(default_factory=dict)


def _forms(kind: str | None, *words: str, most: int = 3, least: int = 1, **fields: Any) -> tuple[Form, ...]:
    return tuple(Form(kind, w, most, least, fields) for w in words)


FORMS: Final[Sequence[Form]] = (
    *_forms("fed", "{who} ate {meal}", "{who} had {meal}", "fed {who} {meal}", "gave {who} {meal}"),
    *_forms(
        "fed", "{who} also had {meal}", "{who} finally ate {meal}", "{who} pounced on {meal}", "fed {who}"
    ),
    *_forms(
        "fed", "{who} both had {meal}", "{who} both ate {meal}", "fed {who} {meal} each", most=2, least=2
    ),
    *_forms(
        "refused",
        "{who} refused {meal}",
        "{who} didn't eat",
        "{who} wouldn't take {meal}",
        "no luck with {who}",
    ),
    *_forms("watered", "watered {who}", "{who} watered"),
    *_forms("watered", "misted {who}", how="misted"),
    *_forms("watered", "filled {who}'s dish", "topped up {who}'s water dish", most=1, how="dish"),
    *_forms("watered", "30 ml into the soil for {who}", most=1, how="substrate", ml=30),
    *_forms("molted", "{who} molted", "{who} just moulted"),
    *_forms("molted", "found a molt in {who}'s tub", most=1),
    *_forms("sealed", "{who} sealed the burrow", most=1),
    *_forms("opened", "{who} opened up", most=1),
    *_forms("premolt", "{who} in premolt", "{who} looks premolt", most=1),
    *_forms("measured", "{who} is 8 cm", "measured {who} at 8 cm", most=1, span_cm=8),
    *_forms("measured", "weighed {who}, 12 g", most=1, weight_g=12),
    *_forms("rehoused", "rehoused {who}", most=1),
    *_forms("rehoused", "moved {who} into a 5 l tub", most=1, volume_l=5),
    *_forms("cleaned", "spot cleaned {who}'s tub", most=1),
    *_forms("checked", "checked {who}", most=1),
    *_forms("sexed", "{who} is female", most=1, sex="female"),
    *_forms("climate", "room 24 C", "24C in the room", most=0, temp_c=24),
    *_forms(None, "haven't fed {who}", "going to rehouse {who} tomorrow", "will feed {who} later", most=1),
)
#: What stands between two clauses that have nothing to do with one another.
APART: Final = (". ", "\n", "; ", " - ")


def composed(seed: int, how_many: int, day: str) -> Iterator[tuple[str, dict[str, Any]]]:
    """So many messages of two clauses each, with the reading that is meant."""
    chance = Random(seed)
    for _ in range(how_many):
        names = chance.sample(sorted(TAGS), len(TAGS))
        told: list[dict[str, Any]] = []
        text = ""
        for _ in range(2):
            words, entries = _clause(chance, names, day)
            text += (chance.choice(APART) if text else "") + words
            told += entries
        yield text, {"reading": "entries", "entries": told} if told else {"reading": "unclear"}


def _clause(chance: Random, names: list[str], day: str) -> tuple[str, list[dict[str, Any]]]:
    form = chance.choice(FORMS)
    who = [names.pop() for _ in range(chance.randint(min(form.least, form.most), form.most))]
    meal = chance.choice(sorted(_MEALS))
    words = form.words.format(who=_listed(who), meal=meal)
    fields = {**form.fields, **(_MEALS[meal] if "{meal}" in form.words else {})}
    if form.kind is None:
        return words, []
    entries = [{"kind": form.kind, "day": day, "specimens": [TAGS[name]], **fields} for name in who] or [
        {"kind": form.kind, "day": day, "specimens": [], **fields}
    ]
    return words, entries


def _listed(names: Sequence[str]) -> str:
    return " and ".join(filter(None, (", ".join(names[:-1]), *names[-1:])))
