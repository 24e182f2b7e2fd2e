"""Several animals to be added in one message: a list of them, or several of a kind by names or tags. Pure."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cache
from typing import Final, Literal

from bot.reading.names import ShelfNames
from bot.reading.newcomer import Newcomer, newcomer_from
from bot.reading.newcomer_words import bare_words, is_surely_name, kind_in, may_be_name
from bot.reading.numbers import numbers_data
from bot.reading.phrasings import either, folded, synonyms, word_set
from bot.reading.species_said import species_said

#: More than this many at once come from a file: what is shown before it is done has to be read.
MOST_AT_ONCE: Final = 50


def newcomers_from(rest: str, names: ShelfNames | None = None) -> tuple[Newcomer, ...]:
    """All animals of what was said: "Sky GBB; Ziggy OBT, 5 cm", "3 curly hair slings: Fig, Date and Plum".

    A list has a species for each; what is said of all ("all on shelf A") goes to each that lacks it. Several
    of a kind are one ``Newcomer`` each where they have names or tags of their own, else one with a count.
    """
    behind = _BEHIND_ALL.search(rest)
    if behind is not None and kind_in(behind["said"], names)[1] is None:
        of_all = newcomer_from(behind["said"], names)
        return tuple(_with(one, of_all) for one in newcomers_from(rest[: behind.start()], names))
    for split in (_lines, _counted_parts, _ands, _commas):
        parts = [part for part in map(_unnumbered, split(rest)) if bare_words(part)]
        shared = [part for part in parts if _OF_ALL.match(part) and kind_in(part, names)[1] is None]
        each = [part for part in parts if part not in shared]
        if each and len(parts) > 1 and _told_apart(each, names, alone=split is not _commas):
            of_all = newcomer_from(", ".join(_OF_ALL.sub("", part) for part in shared), names)
            return tuple(_with(one, of_all) for part in each for one in newcomers_from(part, names))
    return _of_a_kind(_OF_ALL.sub("", rest), names)


def is_animal(newcomer: Newcomer, names: ShelfNames) -> bool:
    """Whether words that do not say so are of an animal: a species or a stage, and nothing strange."""
    others = [words for words in newcomer.words if words != newcomer.kind]
    told = newcomer.kind is not None or (newcomer.stage is not None and not others)
    return told and not newcomer.unread and all(is_surely_name(words, names) for words in others)


# --- a list of them ---------------------------------------------------------------------------

_ALL_OF_THEM: Final = r"\s*(?:and\s+)?(?:they(?:'re| are)\s+)?(?:all|both|each|every one)(?!\w)"
_OF_ALL: Final = re.compile(rf"^{_ALL_OF_THEM}", re.I)
#: What is said of all at the end of a list: ", all on shelf A".
_BEHIND_ALL: Final = re.compile(rf"(?:[,;\n]|\.\s){_ALL_OF_THEM}(?P<said>.*)$", re.I | re.S)
_NUMBERING: Final = re.compile(r"^\s*(?:\d{1,2}[.)]|[-*•–])\s+")


def _unnumbered(part: str) -> str:
    return _NUMBERING.sub("", part)


def _lines(said: str) -> list[str]:
    return re.split(r"[;\n]", said)


def _counted_parts(said: str) -> list[str]:
    """ "2 GBBs, Sky and Blue, and an OBT": a number or an article behind a comma or an "and" begins one."""
    return _counted_start().split(said)


def _ands(said: str) -> list[str]:
    return re.split(r",?\s+(?:and|plus|&|\+)\s+", said)


def _commas(said: str) -> list[str]:
    return re.split(r",(?![^(]*\))", said)


@cache
def _counted_start() -> re.Pattern[str]:
    numbers = either(sorted((*numbers_data("en").units, "a", "an", "another"), key=len, reverse=True))
    return re.compile(
        rf"(?:,|\s(?:and|plus|&))+\s*(?:and\s+)?(?=(?:{numbers}|\d{{1,3}}\s?x?)\s+[^\W\d])", re.I
    )


def _told_apart(parts: Sequence[str], names: ShelfNames | None, *, alone: bool) -> bool:
    """Whether each part is an animal of its own: it names a species.

    Where a kind ``alone`` will not do, as between commas, each says more than that, or they are of as many
    species as there are parts: "GBB, OBT", no "B. hamorii, Mexican red knee".
    """
    found = [kind_in(part, names) for part in parts]
    kinds = [kind for _, kind, _ in found if kind is not None]
    if len(kinds) < len(parts):
        return False
    if alone or all(bare_words(before) or bare_words(behind) for before, _, behind in found):
        return True
    species = {species_said(kind, names) for kind in kinds}
    return None not in species and len(species) == len(parts)


def _with(one: Newcomer, of_all: Newcomer) -> Newcomer:
    """A newcomer with what was said of all, where nothing of the sort was said of it."""
    return replace(
        one,
        place=one.place or of_all.place,
        span_cm=one.span_cm or of_all.span_cm,
        stage=one.stage or of_all.stage,
        sex=one.sex or of_all.sex,
        came=one.came or of_all.came,
        kept=one.kept or of_all.kept,
        new=one.new or of_all.new,
        source=one.source or of_all.source,
        unread=one.unread + of_all.unread + of_all.words,
    )


# --- several of a kind ------------------------------------------------------------------------


def _of_a_kind(said: str, names: ShelfNames | None) -> tuple[Newcomer, ...]:
    """Those of one species: each by itself where each has a name or a tag, else one with a count."""
    said, number = _number_taken(said)
    for own in (*_tags_taken(said), *_names_taken(said, names)):
        of_all = newcomer_from(_OF_ALL.sub("", own.rest.lstrip(" ,;:-–")), names)
        if of_all.lot:
            continue
        count = number or of_all.count
        if count == 1 and _SINGLE.match(own.rest):
            return (replace(of_all, name=own.whole),) if own.whole else (newcomer_from(said, names),)
        if count in (1, len(own.each)):
            return own.given_to(replace(of_all, count=1))
        if own.what == "tag":
            return (replace(of_all, count=count, own_tags=tuple(own.each)),)
    one = newcomer_from(said, names)
    return (replace(one, count=number) if number and not one.lot else one,)


_SINGLE: Final = re.compile(r"[\s,;:\-–]*(?:an?|one|another)\s", re.I)
_NUMBER: Final = re.compile(r"(?<!\w)(?:x\s?(\d{1,3})|(\d{1,3})\s?x)(?!\w)", re.I)


def _number_taken(said: str) -> tuple[str, int | None]:
    """What is said without "x5", and that number."""
    found = _NUMBER.search(said)
    if found is None:
        return said, None
    return f"{said[: found.start()]} {said[found.end() :]}", int(found[1] or found[2])


@dataclass(frozen=True, slots=True)
class _Own:
    """What is said besides, and what each has of its own: names or tags; ``whole`` if it may be one name."""

    rest: str
    what: Literal["name", "tag"]
    each: list[str]
    whole: str | None = None

    def given_to(self, one: Newcomer) -> tuple[Newcomer, ...]:
        if self.what == "tag":
            return tuple(replace(one, tag=tag) for tag in self.each)
        return tuple(replace(one, name=name) for name in self.each)


_TAG_RANGE: Final = re.compile(
    r"(?<!\w)(?P<lead>(?:tag|label|code)s?|tagged|labelled|numbered)?\s*(?:are|is|:)?\s*"
    r"(?<!\w)([A-Za-z]{0,3})(\d{1,4})\s*(?:to|through|thru|until|up to|-|–)\s*([A-Za-z]{0,3})(\d{1,4})(?!\w)",
    re.I,
)
_TAG_LIST: Final = re.compile(
    r"(?<!\w)(?:tags|labels|codes|tagged|numbered)\s*(?:are|:)?\s*"
    r"([A-Za-z]{0,3}\d{1,4}(?:\s*(?:,|&|(?<!\w)and(?!\w))+\s*[A-Za-z]{0,3}\d{1,4}(?!\w))+)",
    re.I,
)


def _tags_taken(said: str) -> Iterator[_Own]:
    """Tags of its own for each: "tags H1 to H5", "tags H1, H2 and H4"."""
    if found := _TAG_RANGE.search(said):
        _, letters, first, again, last = found.groups()
        numbers = range(int(first), int(last) + 1)
        is_tag = folded(again) in ("", folded(letters)) and bool(letters or found["lead"])
        if is_tag and 1 < len(numbers) <= MOST_AT_ONCE:
            yield _Own(
                _without(found, said), "tag", [f"{letters}{number:0{len(first)}d}" for number in numbers]
            )
    if found := _TAG_LIST.search(said):
        yield _Own(_without(found, said), "tag", re.findall(r"[A-Za-z]{0,3}\d{1,4}", found[1]))


def _names_taken(said: str, names: ShelfNames | None) -> Iterator[_Own]:
    """Names of its own for each, as far as the words listed may be names."""
    called = _called().search(said)
    for found in (*filter(None, [called]), *_NAMES_ALONE.finditer(said)):
        listed = [name.strip(" .'\"“”") for name in _BETWEEN_NAMES.split(found["names"])]
        fit = next((i for i, name in enumerate(listed) if not _is_own_name(name, names)), len(listed))
        whole = found["names"] if found is called and _ONE_NAME.fullmatch(found["names"]) else None
        if fit > 1:
            left_over = ", ".join(listed[fit:])
            yield _Own(f"{_without(found, said)}, {left_over}", "name", listed[:fit], whole)
        if fit == len(listed):
            yield _Own(_without(found, said), "name", [word for name in listed for word in name.split()])


def _without(found: re.Match[str], said: str) -> str:
    return f"{said[: found.start()]}, {said[found.end() :]}"


def _is_own_name(said: str, names: ShelfNames | None) -> bool:
    """Whether listed words may be a name: no species, stage, sex, or word of a place."""
    words = {folded(word) for word in said.split()}
    no_names = {
        *map(folded, (*synonyms("stages"), *synonyms("sexes"))),
        *word_set("places"),
        *word_set("newcomer_small"),
    }
    return may_be_name(said) and not words & no_names and kind_in(said, names)[1] is None


_BETWEEN_NAMES: Final = re.compile(r"\s*(?:,|&|(?<!\w)and(?!\w))+\s*")
#: "Salt and Pepper": of one animal, this is its name.
_ONE_NAME: Final = re.compile(r"\S+ (?:and|&) \S+", re.I)
_ITEM: Final = r"(?-i:[^\W\d_][\w'’\-]*(?: [A-Z][\w'’\-]*)?)"
_CAPITAL: Final = r"[A-Z][\w'’\-]*(?: [A-Z][\w'’\-]*)?"


def _list_of(item: str) -> str:
    """Names in a row: the last behind an "and", or commas alone."""
    return rf"{item}(?:\s*,\s*{item})*\s*,?\s*(?<!\w)(?:and|&)\s+{item}|{item}(?:\s*,\s*{item})+"


@cache
def _called() -> re.Pattern[str]:
    leads = either(sorted(word_set("newcomers_called"), key=len, reverse=True))
    return re.compile(rf"(?:{leads})\s*[:“\"]?\s*(?P<names>{_list_of(_ITEM)})", re.I)


#: Capitalised names that nothing leads to: at the beginning, or behind a mark.
_NAMES_ALONE: Final = re.compile(
    rf"(?:^\s*|[,:(]\s*|\s[-–]\s*)(?P<names>{_list_of(_CAPITAL)})(?=\s*(?:$|[,:;)]|\s[-–]\s))"
)
