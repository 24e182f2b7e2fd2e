"""Species beyond the shelf: a newcomer is known by scientific name, short form or trade name."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Final

from bot.reading.names.forms import keys_of
from bot.reading.words.tokens import Token, joins_words
from bot.terms.data_file import data_of
from bot.terms.scientific_names import spellings

_SHORTEST_EPITHET: Final = 4


@dataclass(frozen=True, slots=True)
class Taxa:
    """Species by the words for them; genera by their name, for species not in the list."""

    phrases: Mapping[tuple[str, ...], str | None]
    fitting: Mapping[tuple[str, ...], frozenset[str]]
    longest: Mapping[str, int]
    genera: frozenset[str]
    firsts: frozenset[str]

    def called(self, words: str) -> list[str]:
        """The species that bear a name, in the order of the alphabet: two for some trade names."""
        return sorted(self.fitting.get(tuple(keys_of(words)), ()))

    def begun(
        self, tokens: Sequence[Token], known: Callable[[str], object]
    ) -> dict[int, tuple[int, str | None]]:
        """The species named at each token, where one is: most messages name none."""
        found = ((at, self.find(tokens, at, known)) for at, t in enumerate(tokens) if t.key in self.firsts)
        return {at: taxon for at, taxon in found if taxon is not None}

    def find(
        self, tokens: Sequence[Token], at: int, known: Callable[[str], object] = lambda _word: None
    ) -> tuple[int, str | None] | None:
        """The species named at a token: the token after its name, and the scientific name.

        A ``known`` word of the language behind a genus is no epithet: "the male Nhandu shed".
        The name is ``None`` where a trade name is used for more than one species.
        """
        key = tokens[at].key
        if key not in self.firsts:
            return None
        longest = self.longest.get(key)
        found: tuple[int, str | None] | None = None
        if longest is not None:
            found = self._listed(tokens, at, longest)
        if key in self.genera and at + 1 < len(tokens):
            epithet = tokens[at + 1]
            free = found is None or found[0] == at + 1
            if (
                free
                and epithet.kind == "word"
                and len(epithet.key) >= _SHORTEST_EPITHET
                and epithet.gap == " "
                and not known(epithet.key)
            ):
                return at + 2, f"{key.capitalize()} {epithet.key}"
        return found

    def _listed(self, tokens: Sequence[Token], at: int, longest: int) -> tuple[int, str | None] | None:
        said: tuple[str, ...] = ()
        found = None
        for place in range(at, len(tokens)):
            if said and tokens[place].kind == "mark":
                if joins_words(tokens, place):
                    continue
                break
            said = (*said, tokens[place].key)
            if said in self.phrases:
                found = place + 1, self.phrases[said]
            if len(said) == longest:
                break
        return found


@lru_cache(maxsize=1)
def taxa() -> Taxa:
    """All species of the list."""
    gathered: dict[tuple[str, ...], set[str]] = {}
    genera = {name.lower() for name in data_of("bot.reading", "lexicon", "genera.yaml")}
    for row in data_of("bot.reading", "lexicon", "taxa.yaml"):
        species = row["species"]
        keys = keys_of(species)
        genera.add(keys[0])
        trade = [keys_of(name) for name in row["trade"]]
        scientific = [(*keys[:-1], epithet) for epithet in spellings(keys[-1])]
        short = [form for name in scientific for form in ((name[0][0], *name[1:]), name[1:])]
        for form in (*scientific, *short, *trade):
            if len(form) > 1 or len(form[0]) >= _SHORTEST_EPITHET or form in trade:
                gathered.setdefault(form, set()).add(species)
                gathered.setdefault((*form[:-1], form[-1] + "s"), set()).add(species)
    phrases = {form: next(iter(found)) if len(found) == 1 else None for form, found in gathered.items()}
    longest: dict[str, int] = {}
    for form in phrases:
        longest[form[0]] = max(longest.get(form[0], 0), len(form))
    fitting = {form: frozenset(found) for form, found in gathered.items()}
    return Taxa(phrases, fitting, longest, frozenset(genera), frozenset(longest) | genera)
