"""Several animals to be added in one message: a list of them, or several of a kind by names or tags. Pure."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Final, Literal

from bot.reading.names.shelf_names import ShelfNames
from bot.reading.names.species_said import species_said
from bot.reading.wanted.newcomer import Newcomer, newcomer_from
from bot.reading.wanted.newcomer_patterns import OfSeveral, of_several
from bot.reading.wanted.newcomer_words import bare_words, is_surely_name, kind_in, may_be_name
from bot.reading.words.phrasings import SHARED, folded, synonyms, word_set

#: More than this many at once come from a file: what is shown before it is done has to be read.
MOST_AT_ONCE: Final = 50


def newcomers_from(
    rest: str, names: ShelfNames | None = None, language: str = SHARED
) -> tuple[Newcomer, ...]:
    """All animals of what was said: "Sky GBB; Ziggy OBT, 5 cm", "3 curly hair slings: Fig, Date and Plum".

    A list has a species for each; what is said of all ("all on shelf A") goes to each that lacks it. Several
    of a kind are one ``Newcomer`` each where they have names or tags of their own, else one with a count.
    """
    words = of_several(language)
    behind = words.behind_all.search(rest)
    if behind is not None and kind_in(behind["said"], names)[1] is None:
        of_all = newcomer_from(behind["said"], names, language)
        return tuple(_with(one, of_all) for one in newcomers_from(rest[: behind.start()], names, language))
    for split in (_LINES, words.counted_start, words.joint, _COMMAS):
        parts = [part for part in map(_unnumbered, split.split(rest)) if bare_words(part, language)]
        shared = [part for part in parts if words.of_all.match(part) and kind_in(part, names)[1] is None]
        each = [part for part in parts if part not in shared]
        if each and len(parts) > 1 and _told_apart(each, names, alone=split is not _COMMAS):
            of_all = newcomer_from(", ".join(words.of_all.sub("", part) for part in shared), names, language)
            return tuple(_with(one, of_all) for part in each for one in newcomers_from(part, names, language))
    return _OfAKind(names, language).each(words.of_all.sub("", rest))


def is_animal(newcomer: Newcomer, names: ShelfNames, language: str = SHARED) -> bool:
    """Whether words that do not say so are of an animal: a species or a stage, and nothing strange."""
    others = [words for words in newcomer.words if words != newcomer.kind]
    told = newcomer.kind is not None or (newcomer.stage is not None and not others)
    return told and not newcomer.unread and all(is_surely_name(words, names, language) for words in others)


# --- a list of them ---------------------------------------------------------------------------

_NUMBERING: Final = re.compile(r"^\s*(?:\d{1,2}[.)]|[-*•–])\s+")
_LINES: Final = re.compile(r"[;\n]")
_COMMAS: Final = re.compile(r",(?![^(]*\))")


def _unnumbered(part: str) -> str:
    return _NUMBERING.sub("", part)


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


_NUMBER: Final = re.compile(r"(?<!\w)(?:x\s?(\d{1,3})|(\d{1,3})\s?x)(?!\w)", re.I)


def _number_taken(said: str) -> tuple[str, int | None]:
    """What is said without "x5", and that number."""
    found = _NUMBER.search(said)
    if found is None:
        return said, None
    return f"{said[: found.start()]} {said[found.end() :]}", int(found[1] or found[2])


def _without(found: re.Match[str], said: str) -> str:
    return f"{said[: found.start()]}, {said[found.end() :]}"


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


@dataclass(frozen=True, slots=True)
class _OfAKind:
    """Those of one species: each by itself where each has a name or a tag, else one with a count."""

    names: ShelfNames | None
    language: str

    @property
    def _words(self) -> OfSeveral:
        return of_several(self.language)

    def each(self, said: str) -> tuple[Newcomer, ...]:
        """The newcomers of what was said of one species."""
        said, number = _number_taken(said)
        for own in (*self._tags_taken(said), *self._names_taken(said)):
            of_all = self._one(self._words.of_all.sub("", own.rest.lstrip(" ,;:-–")))
            if of_all.lot:
                continue
            count = number or of_all.count
            if count == 1 and self._words.single.match(own.rest):
                return (replace(of_all, name=own.whole),) if own.whole else (self._one(said),)
            if count in (1, len(own.each)):
                return own.given_to(replace(of_all, count=1))
            if own.what == "tag":
                return (replace(of_all, count=count, own_tags=tuple(own.each)),)
        one = self._one(said)
        return (replace(one, count=number) if number and not one.lot else one,)

    def _one(self, said: str) -> Newcomer:
        return newcomer_from(said, self.names, self.language)

    def _tags_taken(self, said: str) -> Iterator[_Own]:
        """Tags of its own for each: "tags H1 to H5", "tags H1, H2 and H4"."""
        if found := self._words.tag_range.search(said):
            _, letters, first, again, last = found.groups()
            numbers = range(int(first), int(last) + 1)
            is_tag = folded(again) in ("", folded(letters)) and bool(letters or found["lead"])
            if is_tag and 1 < len(numbers) <= MOST_AT_ONCE:
                tags = [f"{letters}{number:0{len(first)}d}" for number in numbers]
                yield _Own(_without(found, said), "tag", tags)
        if found := self._words.tag_list.search(said):
            yield _Own(_without(found, said), "tag", re.findall(r"[A-Za-z]{0,3}\d{1,4}", found[1]))

    def _names_taken(self, said: str) -> Iterator[_Own]:
        """Names of its own for each, as far as the words listed may be names."""
        called = self._words.names_called.search(said)
        for found in (*filter(None, [called]), *self._words.names_alone.finditer(said)):
            listed = [name.strip(" .'\"“”„«»") for name in self._words.between_names.split(found["names"])]
            fit = next((i for i, name in enumerate(listed) if not self._is_own_name(name)), len(listed))
            is_one = found is called and self._words.one_name.fullmatch(found["names"])
            whole = found["names"] if is_one else None
            if fit > 1:
                left_over = ", ".join(listed[fit:])
                yield _Own(f"{_without(found, said)}, {left_over}", "name", listed[:fit], whole)
            if fit == len(listed):
                yield _Own(_without(found, said), "name", [word for name in listed for word in name.split()])

    def _is_own_name(self, said: str) -> bool:
        """Whether listed words may be a name: no species, stage, sex, or word of a place."""
        words = {folded(word) for word in said.split()}
        no_names = {
            *(folded(word) for key in ("stages", "sexes") for word in synonyms(key, self.language)),
            *word_set("places", self.language),
            *word_set("newcomer_small", self.language),
        }
        fits = may_be_name(said, self.language) and not words & no_names
        return fits and kind_in(said, self.names)[1] is None
