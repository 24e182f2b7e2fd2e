"""The ways in which animals may be named: tag, name, nickname, species, trade name, place."""

from __future__ import annotations

from collections.abc import Container, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cache, lru_cache
from typing import Final

from bot.reading.names.genera import genera_in_short
from bot.reading.words.normalise import plain_text, without_accents
from bot.reading.words.rule_words import rule_words, rule_words_in_order
from bot.reading.words.tokens import tokens_of
from bot.terms import Specimen
from bot.terms.data_file import data_of

#: Words of a longer name that alone name nobody.
_TOO_COMMON: Final = rule_words("too_common_in_names")


@dataclass(frozen=True, slots=True)
class Form:
    """One way to name animals. ``fuzzy``: a slip of the thumb in it may be looked for."""

    keys: tuple[str, ...]
    how: str
    tags: tuple[str, ...]
    plural: bool = False
    species: str | None = None
    place: str | None = None
    fuzzy: bool = False


@lru_cache(maxsize=4096)  # the same species and trade names stand on very many shelves
def keys_of(phrase: str) -> tuple[str, ...]:
    """The look-up keys of a phrase: its words and numbers, folded, without marks and accents."""
    return tuple(without_accents(t.key) for t in tokens_of(plain_text(phrase)) if t.kind != "mark")


def forms_of(specimens: Sequence[Specimen]) -> Iterator[Form]:
    """Every way to name the animals of a shelf; those of one species or trade name are named together."""
    of_species: dict[str, list[str]] = {}
    called: dict[tuple[str, str], list[str]] = {}
    places: dict[str, list[str]] = {}
    for specimen in specimens:
        tag, tags = specimen.tag, (specimen.tag,)
        yield Form(keys_of(tag), "tag", tags)
        if specimen.name:
            yield from _name_forms(specimen.name, "name", tags)
        for aka in specimen.aka:
            yield from _name_forms(aka, "aka", tags)
        of_species.setdefault(specimen.species, []).append(tag)
        for common in dict.fromkeys(specimen.common):
            called.setdefault((common, specimen.species), []).append(tag)
        for place in _places_of(specimen):
            places.setdefault(place, []).append(tag)
    for species, those in of_species.items():
        yield from _species_forms(species, tuple(those))
    for (common, species), those in called.items():
        yield from _common_forms(common, tuple(those), species)
    yield from _trade_forms(of_species, own={keys_of(common) for common, _ in called})
    for place, those in places.items():
        yield from _place_forms(place, tuple(those))


def _trade_forms(of_species: Mapping[str, Sequence[str]], own: Container[tuple[str, ...]]) -> Iterator[Form]:
    """What the trade calls the species of a shelf; what this keeper calls so comes first."""
    for species, those in of_species.items():
        for keys in _trade_names().get(species, ()):
            if keys not in own:
                yield Form(keys, "common", tuple(those), species=species)
                yield Form(_plural(keys), "common", tuple(those), plural=True, species=species)


@cache
def _trade_names() -> Mapping[str, tuple[tuple[str, ...], ...]]:
    """What the trade calls each species, be it on a keeper's list of names or not."""
    rows = data_of("bot.reading", "lexicon", "taxa.yaml")
    return {row["species"]: tuple(keys_of(name) for name in row["trade"]) for row in rows}


def _name_forms(name: str, how: str, tags: tuple[str, ...]) -> Iterator[Form]:
    keys = keys_of(name)
    if not keys:
        return
    article = _articles().get(keys[0]) if len(keys) > 1 else None
    bare = keys if article is None else keys[1:]
    for said in {keys, bare}:
        yield Form(said, how, tags, fuzzy=True)
    if article and bare[-1].endswith("e"):
        yield Form((*bare[:-1], bare[-1] + article), how, tags)
    yield Form(_plural(bare), how, tags, plural=True)
    if len(bare) > 1:
        for word in bare:
            if len(word) >= 3 and word not in _TOO_COMMON and not word.isdigit():
                yield Form((word,), "part", tags, fuzzy=True)
                yield Form(_plural((word,)), "part", tags, plural=True)


@cache
def _articles() -> Mapping[str, str]:
    """The articles of names, each with the ending that a name has behind another form of it."""
    rows = data_of("bot.reading", "lexicon", "name_articles.yaml")
    return {word: row.get("declined", "") for row in rows for word in row["articles"]}


def _species_forms(species: str, tags: tuple[str, ...]) -> Iterator[Form]:
    keys = keys_of(species)
    if not keys:
        return
    genus, rest = keys[0], keys[1:]
    yield Form((genus,), "genus", tags, species=species, fuzzy=len(genus) >= 6)
    yield Form(_plural((genus,)), "genus", tags, plural=True, species=species)
    for short in genera_in_short().get(genus, ()):
        yield Form((short,), "genus", tags, species=species)
        for many in {_plural((short,)), (f"{short}s",)}:
            yield Form(many, "genus", tags, plural=True, species=species)
    if rest and len(rest[0]) > 2:
        yield Form(keys, "species", tags, species=species)
        yield Form((genus[0], *rest), "species", tags, species=species)
        yield Form(_plural((genus[0], *rest)), "species", tags, plural=True, species=species)
        for cut in _cut_short(rest[0]) if len(rest) == 1 else ():
            yield Form((genus[0], cut), "species", tags, species=species)
        yield Form(rest, "species", tags, species=species, fuzzy=len(rest) == 1)
        yield Form(_plural(rest), "species", tags, plural=True, species=species)


def _cut_short(epithet: str) -> Iterator[str]:
    """ "P. met", "T. albo": an epithet as the trade cuts it behind the letter of the genus."""
    cuts = (epithet[:end] for end in range(_SHORTEST_CUT, len(epithet)))
    return (cut for cut in cuts if cut not in _NO_CUTS)


_SHORTEST_CUT: Final = 3
#: Beginnings of epithets that behind a letter are something else: "shelf C, mar 3".
_NO_CUTS: Final = rule_words("no_epithets")


def _common_forms(common: str, tags: tuple[str, ...], species: str) -> Iterator[Form]:
    keys = keys_of(common)
    if not keys:
        return
    yield Form(keys, "common", tags, species=species, fuzzy=True)
    for many in {_plural(keys), *_plurals_elsewhere(keys)}:
        yield Form(many, "common", tags, plural=True, species=species)
    if len(keys) > 1:
        yield Form(("".join(keys),), "common", tags, species=species)
        yield Form(_plural(("".join(keys),)), "common", tags, plural=True, species=species)
        for word in {keys[-1], keys[0]}:
            if len(word) >= 4 and word not in _TOO_COMMON:
                yield Form((word,), "part", tags, species=species)
                yield Form(_plural((word,)), "part", tags, plural=True, species=species)
        yield from _initials(keys, tags, species)
    yield from _of_the_body(keys, tags, species)
    for end in _KINDS_OF_ANIMAL:
        yield Form((*keys, end), "common", tags, species=species)
        yield Form((*keys, end + "s"), "common", tags, plural=True, species=species)


#: Parts of an animal that end a trade name, written in one with what is before them or apart.
_BODY: Final = rule_words_in_order("ends_of_trade_names")


def _of_the_body(keys: tuple[str, ...], tags: tuple[str, ...], species: str) -> Iterator[Form]:
    """ "Mexican fireleg" is a "fire leg", and a "Mexican red knee" a "redknee"."""
    last = keys[-1]
    end = next((e for e in _BODY if last.endswith(e)), None)
    if end is None:
        return
    joined = keys if last != end else (*keys[:-2], "".join(keys[-2:]))
    apart = (*joined[:-1], joined[-1].removesuffix(end), end)
    for said in (joined, joined[-1:], apart, apart[-2:]):
        if said != keys and all(said):
            how = "common" if len(said) == len(joined) + (said[-1] == end) else "part"
            yield Form(said, how, tags, species=species)
            yield Form(_plural(said), how, tags, plural=True, species=species)


def _initials(keys: tuple[str, ...], tags: tuple[str, ...], species: str) -> Iterator[Form]:
    """The trade writes the first letters of a long trade name, often with a T for tarantula."""
    letters = "".join(word[0] for word in keys)
    for said in {letters, letters + "t"}:
        if len(said) >= 3:
            yield Form((said,), "initials", tags, species=species)
            yield Form((said + "s",), "initials", tags, plural=True, species=species)


def _plural(keys: tuple[str, ...]) -> tuple[str, ...]:
    last = keys[-1]
    if last.endswith(("s", "x", "ch", "sh")):
        many = last + "es"
    elif last.endswith("y") and len(last) > 2 and last[-2] not in "aeiou":
        many = last[:-1] + "ies"
    else:
        many = last + "s"
    return (*keys[:-1], many)


def _plurals_elsewhere(keys: tuple[str, ...]) -> Iterator[tuple[str, ...]]:
    """The plurals of a German or Spanish trade name: "Tigervogelspinnen", "Kürbisse", "ornamentales"."""
    last = keys[-1]
    if last.endswith("e"):
        yield (*keys[:-1], last + "n")
    elif last.endswith("s"):
        yield from ((*keys[:-1], last + end) for end in ("se", "sen"))
    elif last[-1] in "dlnrz":
        yield (*keys[:-1], last + "es")


def _place_forms(place: str, tags: tuple[str, ...]) -> Iterator[Form]:
    """A place by its whole name, the other way round ("the C shelf"), and by its last letter.

    Never by its number alone: "2" of "rack 1 tub 2" counts crickets far more often.
    """
    keys = keys_of(place)
    if not keys:
        return
    yield Form(keys, "place", tags, place=place)
    if len(keys) > 1 and len(keys[-1]) == 1 and keys[-1].isalpha():
        yield Form((keys[-1],), "place", tags, place=place)
        if len(keys) == 2:
            yield Form((keys[-1], keys[0]), "place", tags, place=place)
    for adjective in _place_adjectives().get(keys[-1], ()) if len(keys) > 1 else ():
        yield Form((*keys_of(adjective), *keys[:-1]), "place", tags, place=place)


@cache
def _place_adjectives() -> dict[str, list[str]]:
    return dict(data_of("bot.reading", "lexicon", "place_adjectives.yaml"))


def _places_of(specimen: Specimen) -> tuple[str, ...]:
    """Where an animal stands, and the larger place that it is part of: "rack 1 tub 2" is in "rack 1"."""
    if not specimen.place:
        return ()
    words = specimen.place.split()
    numbered = len(words) == 4 and len(words[1]) <= 2 and len(words[3]) <= 2
    return (specimen.place, " ".join(words[:2])) if numbered else (specimen.place,)


_KINDS_OF_ANIMAL: Final = rule_words_in_order("kinds_of_animal")
