"""The names of a shelf: everything a keeper may call an animal, ready to be looked up word by word.

The index is built once for a shelf and only looked up afterwards: a message costs as many look-ups as
it has words, however many animals there are.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from typing import Final

from rapidfuzz.distance import OSA

from bot.reading.forms import Form, forms_of, place_forms, region_of
from bot.reading.normalise import fold, plain_text, without_accents
from bot.reading.tokens import Token, joins_words, tokens_of
from bot.terms import Specimen

_MOST_LONGER: Final = 8

#: How surely a way of naming means the very animal: the first that fits wins.
RANKS: Final = ("tag", "name", "aka", "species", "common", "genus", "initials", "part", "place")
#: Those of them that mean the very animal.
EXACT: Final = frozenset({"tag", "name", "aka"})


@dataclass(frozen=True, slots=True)
class Hit:
    """What a phrase may stand for: a way of naming, and the animals so named, in shelf order."""

    how: str
    tags: tuple[str, ...]
    plural: bool = False
    species: str | None = None
    place: str | None = None


@dataclass(frozen=True, slots=True)
class NameSpan:
    """A name found in a message: tokens ``i`` to ``j`` (exclusive) and what they may stand for."""

    i: int
    j: int
    hits: tuple[Hit, ...]
    spaced: bool = False


@dataclass(slots=True)
class ShelfNames:
    """The index of a shelf's names. Build with :meth:`of`; never changes afterwards."""

    specimens: tuple[Specimen, ...]
    by_tag: dict[str, Specimen]
    order: dict[str, int]
    phrases: dict[tuple[str, ...], tuple[Hit, ...]]
    longest: dict[str, int]
    numbered: dict[tuple[str, ...], dict[str, str]]
    places: dict[str, tuple[str, ...]]
    near: dict[str, tuple[str, ...]] = field(default_factory=dict)
    words: dict[str, tuple[str, ...]] = field(default_factory=dict)
    sorted_words: tuple[str, ...] = ()

    @classmethod
    def of(cls, specimens: Sequence[Specimen]) -> ShelfNames:
        """The index of these animals, in shelf order."""
        order = {s.tag: n for n, s in enumerate(specimens)}
        gathered: dict[tuple[str, ...], dict[tuple[str, bool], list[Form]]] = {}
        numbered: dict[tuple[str, ...], dict[str, str]] = {}
        words: dict[str, set[str]] = {}
        places: dict[str, list[str]] = {}
        for specimen in specimens:
            if specimen.place:
                for place in filter(None, (specimen.place, region_of(specimen.place))):
                    places.setdefault(place, []).append(specimen.tag)
            for form in forms_of(specimen):
                gathered.setdefault(form.keys, {}).setdefault((form.how, form.plural), []).append(form)
                _note_number(form, numbered)
                if form.fuzzy:
                    words.setdefault(
                        form.keys[-1] if len(form.keys) == 1 else " ".join(form.keys), set()
                    ).add(form.tag)
        for place, tags in places.items():
            for form in place_forms(place, tags[0]):
                gathered.setdefault(form.keys, {}).setdefault((form.how, form.plural), []).append(form)
        phrases, longest = _frozen(gathered, places)
        sorted_words = {w: tuple(sorted(t, key=order.__getitem__)) for w, t in words.items()}
        return cls(
            tuple(specimens),
            {s.tag: s for s in specimens},
            order,
            phrases,
            longest,
            numbered,
            {p: tuple(t) for p, t in places.items()},
            _neighbours(sorted_words),
            sorted_words,
            tuple(sorted(sorted_words)),
        )

    def find(self, tokens: Sequence[Token]) -> list[NameSpan]:
        """Every longest name in the message, left to right, none overlapping another."""
        spans: list[NameSpan] = []
        at, size = 0, len(tokens)
        while at < size:
            longest = self.longest.get(tokens[at].key)
            span = self._longest_at(tokens, at, longest) if longest else None
            if span is None:
                at += 1
            else:
                spans.append(span)
                at = span.j
        return spans

    def _longest_at(self, tokens: Sequence[Token], at: int, longest: int) -> NameSpan | None:
        keys: list[str] = []
        best: NameSpan | None = None
        spaced = False
        place = at
        while place < len(tokens) and len(keys) < longest:
            token = tokens[place]
            if token.kind == "mark":
                if not keys or not joins_words(tokens, place):
                    break
                place += 1
                continue
            if keys and len(token.gap) > 1:
                break
            spaced = spaced or (bool(keys) and token.gap == " ")
            keys.append(token.key)
            place += 1
            hits = self.phrases.get(tuple(keys))
            if hits:
                hits = _fitting(hits, tokens[at:place], spaced)
                if hits:
                    best = NameSpan(at, place, hits, spaced)
            if token.owns:
                break
        return best

    def in_order(self, tags: Iterable[str]) -> tuple[str, ...]:
        """Tags in shelf order, each once."""
        return tuple(sorted(set(tags), key=self.order.__getitem__))

    def near_names(self, word: str) -> list[tuple[int, str, tuple[str, ...]]]:
        """Names that a slip away from a word: (slips, name, tags), best first."""
        found: dict[str, int] = {}
        for key in _deletions(word):
            for name in self.near.get(key, ()):
                if name not in found:
                    found[name] = OSA.distance(word, name)
        for name in self._longer(word):
            found.setdefault(name, 2)
        return sorted((slips, name, self.words[name]) for name, slips in found.items() if slips <= 2)

    def _longer(self, word: str) -> list[str]:
        """Names that begin with a word: who types "Dott" may have meant Dottie."""
        at = bisect_left(self.sorted_words, word)
        out: list[str] = []
        while (
            at < len(self.sorted_words) and self.sorted_words[at].startswith(word) and len(out) < _MOST_LONGER
        ):
            out.append(self.sorted_words[at])
            at += 1
        return out


def _fitting(hits: tuple[Hit, ...], tokens: Sequence[Token], spaced: bool) -> tuple[Hit, ...]:
    """The hits that a closer look leaves: a tag's letter is no article ("a 2 inch gap")."""
    if spaced and tokens[0].text in {"a", "i"} and not tokens[0].upper:
        return tuple(h for h in hits if h.how != "tag")
    return hits


def _note_number(form: Form, numbered: dict[tuple[str, ...], dict[str, str]]) -> None:
    """Names that end in a number form a row: "GBB 1", "GBB 2"; so do tags: B1, B2."""
    if (
        len(form.keys) >= 2
        and form.keys[-1].isdigit()
        and form.how in {"aka", "name", "tag"}
        and not form.plural
    ):
        numbered.setdefault(form.keys[:-1], {}).setdefault(form.keys[-1], form.tag)


def _frozen(
    gathered: dict[tuple[str, ...], dict[tuple[str, bool], list[Form]]], places: dict[str, list[str]]
) -> tuple[dict[tuple[str, ...], tuple[Hit, ...]], dict[str, int]]:
    phrases: dict[tuple[str, ...], tuple[Hit, ...]] = {}
    longest: dict[str, int] = {}
    for keys, ways in gathered.items():
        hits = []
        for (how, plural), forms in ways.items():
            place = forms[0].place
            # forms were gathered animal by animal, so that tags stand in shelf order already
            tags = places[place] if how == "place" and place else dict.fromkeys([f.tag for f in forms])
            species = forms[0].species
            if len(forms) > 1 and any(f.species != species for f in forms):
                species = None
            hits.append(Hit(how, tuple(tags), plural, species, place))
        if len(hits) > 1:
            hits.sort(key=lambda h: RANKS.index(h.how))
        phrases[keys] = tuple(hits)
        longest[keys[0]] = max(longest.get(keys[0], 0), len(keys))
    return phrases, longest


def _deletions(word: str) -> set[str]:
    return {word} | {word[:n] + word[n + 1 :] for n in range(len(word))}


def _neighbours(words: dict[str, tuple[str, ...]]) -> dict[str, tuple[str, ...]]:
    near: dict[str, list[str]] = {}
    for word in words:
        for key in _deletions(word):
            near.setdefault(key, []).append(word)
    return {key: tuple(sorted(found)) for key, found in near.items()}


def keys_of(phrase: str) -> tuple[str, ...]:
    """The look-up keys of a phrase: words and numbers, folded, without marks and accents."""
    return tuple(
        without_accents(t.key) for t in tokens_of(plain_text(phrase)) if t.kind != "mark" or t.text == "#"
    )


def known_word(names: ShelfNames, word: str) -> bool:
    """Whether a word begins a name of this shelf."""
    return fold(word) in names.longest
