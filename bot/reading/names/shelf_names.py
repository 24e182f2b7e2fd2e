"""The names of a shelf: everything a keeper may call an animal, ready to be looked up word by word.

The index is built once for a shelf and only looked up afterwards: a message costs as many look-ups as
it has words, however many animals there are.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import chain
from typing import Final

from rapidfuzz.distance import OSA

from bot.reading.names.forms import Form, forms_of
from bot.reading.words.normalise import fold, plain_text, without_accents
from bot.reading.words.rule_words import rule_words
from bot.reading.words.tokens import Token, joins_words, tokens_of
from bot.terms import Specimen
from bot.terms.value_object import value_object

_MOST_LONGER: Final = 8

#: How surely a way of naming means the very animal: the first that fits wins.
RANKS: Final = ("tag", "name", "aka", "species", "common", "genus", "initials", "part", "place")
#: Those of them that mean the very animal.
EXACT: Final = frozenset({"tag", "name", "aka"})


@value_object()
class Hit:
    """What a phrase may stand for: a way of naming, and the animals so named, in shelf order."""

    how: str
    tags: tuple[str, ...]
    plural: bool = False
    species: str | None = None
    place: str | None = None


@value_object()
class NameSpan:
    """A name found in a message: tokens ``i`` to ``j`` (exclusive) and what they may stand for."""

    i: int
    j: int
    hits: tuple[Hit, ...]
    spaced: bool = False


@dataclass(slots=True)
class ShelfNames:
    """The index of a shelf's names. Build with :meth:`of`; what it tells never changes afterwards."""

    specimens: tuple[Specimen, ...]
    by_tag: dict[str, Specimen]
    order: dict[str, int]
    phrases: dict[tuple[str, ...], tuple[Hit, ...]]
    longest: dict[str, int]
    numbered: dict[tuple[str, ...], dict[str, str]]
    places: tuple[str, ...]
    words: dict[str, tuple[str, ...]] = field(default_factory=dict)
    sorted_words: tuple[str, ...] = ()
    all_words: frozenset[str] = frozenset()
    letters: frozenset[str] = frozenset()
    _near: dict[str, tuple[str, ...]] = field(default_factory=dict, repr=False, compare=False)

    @classmethod
    def of(cls, specimens: Sequence[Specimen]) -> ShelfNames:
        """The index of these animals, in shelf order."""
        order = {s.tag: n for n, s in enumerate(specimens)}
        forms = list(forms_of(specimens))
        phrases = _phrases(forms, order)
        words = _words_with_slips(forms, order)
        return cls(
            tuple(specimens),
            {s.tag: s for s in specimens},
            order,
            phrases,
            _longest(phrases),
            _numbered(forms),
            tuple(dict.fromkeys(form.place for form in forms if form.place is not None)),
            words,
            tuple(sorted(words)),
            frozenset(chain.from_iterable(phrases)),
            frozenset(keys[0] for keys in phrases if len(keys) == 1 and len(keys[0]) == 1),
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

    def place_called(self, keys: tuple[str, ...]) -> Hit | None:
        """The place of a name; ``None`` where no place is called so."""
        return next((hit for hit in self.phrases.get(keys, ()) if hit.how == "place"), None)

    def in_order(self, tags: Iterable[str]) -> tuple[str, ...]:
        """Tags in shelf order, each once."""
        once = set(tags)
        return tuple(sorted(once, key=self.order.__getitem__) if len(once) > 1 else once)

    def near_names(self, word: str) -> list[tuple[int, str, tuple[str, ...]]]:
        """Names that a slip away from a word: (slips, name, tags), best first."""
        if not self._near:  # only a word left over needs it
            self._near = _neighbours(self.words)
        found: dict[str, int] = {}
        for key in _deletions(word):
            for name in self._near.get(key, ()):
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
    """The hits that a closer look leaves: a letter is no article ("a 2 inch gap", "on a shelf").

    No point stands within a place: "watered A and B. Shelf C refused".
    """
    if any(token.text == "." for token in tokens):
        hits = tuple(hit for hit in hits if hit.how != "place")
    if spaced and tokens[0].text in _WORDS_TOO and not tokens[0].upper:
        return tuple(h for h in hits if h.how not in {"tag", "place"})
    return hits


_WORDS_TOO: Final = rule_words("letters_that_are_words")


def _phrases(forms: Sequence[Form], order: Mapping[str, int]) -> dict[tuple[str, ...], tuple[Hit, ...]]:
    """What each phrase may stand for, the surest way of naming first."""
    gathered: dict[tuple[str, ...], dict[tuple[str, bool], list[Form]]] = {}
    for form in forms:
        gathered.setdefault(form.keys, {}).setdefault((form.how, form.plural), []).append(form)
    return {keys: _hits(ways.values(), order) for keys, ways in gathered.items()}


def _hits(ways: Iterable[Sequence[Form]], order: Mapping[str, int]) -> tuple[Hit, ...]:
    hits = [_hit(forms, order) for forms in ways]
    if len(hits) > 1:
        hits.sort(key=lambda h: (RANKS.index(h.how), order[h.tags[0]], h.plural))
    return tuple(hits)


def _hit(forms: Sequence[Form], order: Mapping[str, int]) -> Hit:
    """What the forms of one phrase that name in the same way stand for; of places it is the first."""
    first = forms[0]
    if len(forms) == 1 or first.how == "place":
        return Hit(first.how, first.tags, first.plural, first.species, first.place)
    tags = sorted({tag for form in forms for tag in form.tags}, key=order.__getitem__)
    species = first.species if all(form.species == first.species for form in forms) else None
    return Hit(first.how, tuple(tags), first.plural, species)


def _longest(phrases: Iterable[tuple[str, ...]]) -> dict[str, int]:
    """How many words the longest phrase has that begins with a word."""
    longest: dict[str, int] = {}
    for keys in phrases:
        longest[keys[0]] = max(longest.get(keys[0], 0), len(keys))
    return longest


def _numbered(forms: Iterable[Form]) -> dict[tuple[str, ...], dict[str, str]]:
    """Names that end in a number form a row: "GBB 1", "GBB 2"; so do tags: B1, B2."""
    rows: dict[tuple[str, ...], dict[str, str]] = {}
    for form in forms:
        if len(form.keys) > 1 and form.keys[-1].isdigit() and form.how in EXACT and not form.plural:
            rows.setdefault(form.keys[:-1], {}).setdefault(form.keys[-1], form.tags[0])
    return rows


def _words_with_slips(forms: Iterable[Form], order: Mapping[str, int]) -> dict[str, tuple[str, ...]]:
    """The names in which slips are looked for, each with the tags of those who bear it."""
    words: dict[str, set[str]] = {}
    for form in forms:
        if form.fuzzy:
            words.setdefault(" ".join(form.keys), set()).update(form.tags)
    return {word: tuple(sorted(tags, key=order.__getitem__)) for word, tags in words.items()}


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
