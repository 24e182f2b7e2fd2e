"""The words of a newcomer that are no size, place or stage: species, name, and what is neither. Pure."""

from __future__ import annotations

import re
from typing import Final

from bot.reading.names.shelf_names import ShelfNames
from bot.reading.names.taxa import taxa
from bot.reading.words.lexicon import lexicon
from bot.reading.words.normalise import plain_text
from bot.reading.words.phrasings import NOUNS_IN_CAPITALS, SHARED, folded, word_set
from bot.reading.words.tokens import Token, tokens_of

_BETWEEN_PARTS: Final = re.compile(r"[,;:()\n]|\s[-–]\s|(?<![A-Z])(?<!\bsp)\.\s+(?=[A-Z])|\.$|\s&\s")
_NAME: Final = re.compile(r"[^\W\d_][\w'’.\-]*(?: [\w'’.\-]+)*")
_MOST_WORDS: Final = 4
#: The ways of naming that are a species' and no animal's.
_OF_SPECIES: Final = frozenset({"species", "common"})


def sorted_words(
    rest: str, names: ShelfNames | None, language: str = SHARED
) -> tuple[tuple[str, ...], str | None, tuple[str, ...]]:
    """The parts that may be a name or a species, the one that is a species, and those that are neither."""
    words: list[str] = []
    unread: list[str] = []
    kind: str | None = None
    for raw in _BETWEEN_PARTS.split(rest):
        before, found, behind = (raw, None, "") if kind else kind_in(raw, names)
        kind = kind or found
        for piece in filter(None, (bare_words(before, language), found, bare_words(behind, language))):
            (words if piece is found or may_be_name(piece, language) else unread).append(piece)
    return tuple(words), kind, tuple(unread)


def name_in(said: str, names: ShelfNames | None) -> tuple[str | None, str | None]:
    """The name that an animal is plainly called, and the species behind it: "Zoe B. hamorii"."""
    before, kind, _ = kind_in(said, names)
    name = before.strip(" .'\"") if kind else said.strip(" .'\"")
    return name or None, kind


def kind_in(part: str, names: ShelfNames | None) -> tuple[str, str | None, str]:
    """A part's words before, of and behind the species or genus that it names, if it does."""
    text = plain_text(part)
    tokens = tokens_of(text)
    for at in range(len(tokens)):
        end = _kind_at(tokens, at, names)
        if end is not None:
            start = tokens[max(0, at - 1) if _unidentified(tokens, at - 1) else at].start
            stop = tokens[end - 1].end
            return text.plain[:start], text.plain[start:stop].strip(), text.plain[stop:]
    return part, None, ""


def _kind_at(tokens: list[Token], at: int, names: ShelfNames | None) -> int | None:
    """The token behind the species that is named at one; a genus alone will do."""
    genus = tokens[at].key in taxa().genera
    if genus and _unidentified(tokens, at + 1):
        return next((i for i in range(at + 2, len(tokens)) if not _of_locality(tokens[i])), len(tokens))
    ends = [at + 1] if genus else []
    listed = taxa().find(tokens, at, lexicon("en").account.senses)
    ends += [listed[0]] if listed is not None else []
    spans = names.find(tokens[at:]) if names is not None else []
    ends += [at + span.j for span in spans[:1] if span.i == 0 and _OF_SPECIES & {h.how for h in span.hits}]
    return max(ends, default=None)


def _unidentified(tokens: list[Token], at: int) -> bool:
    return 0 <= at < len(tokens) and tokens[at].key in word_set("unidentified")


def _of_locality(token: Token) -> bool:
    """The point behind "sp." and the words of where it is from: "Aphonopelma sp. New River"."""
    return token.kind == "word" or token.text in {".", "'"}


# --- names --------------------------------------------------------------------------------------


def bare_words(said: str, language: str = SHARED) -> str:
    """Words without the small words at their ends, which are no part of a name: "another", "it is"."""
    words = said.strip(" .!'\"").split()
    small = word_set("newcomer_small", language)
    while words and folded(words[0]).strip(".") in small:
        words = words[1:]
    while words and folded(words[-1]).strip(".") in small:
        words = words[:-1]
    return " ".join(words).strip(" .!'\"")


def may_be_name(said: str, language: str = SHARED) -> bool:
    """Whether words may be what an animal is called: few, and none that only holds a sentence together."""
    words = said.split()
    fits = _NAME.fullmatch(said) is not None and len(words) <= _MOST_WORDS
    return fits and word_set("no_name", language).isdisjoint(map(folded, words))


def is_surely_name(said: str, names: ShelfNames, language: str = SHARED) -> bool:
    """Whether words are a name though nothing says so: no word of the language, no animal of the shelf."""
    tokens = tokens_of(plain_text(said))
    if not may_be_name(said, language) or names.find(tokens):
        return False
    if language not in NOUNS_IN_CAPITALS and all(token.upper for token in tokens if token.kind == "word"):
        return True
    strange = [
        not any(lexicon(of).account.senses(token.key) for of in {language, SHARED}) for token in tokens
    ]
    return all(strange) and (len(tokens) == 1 or all(token.upper for token in tokens if token.kind == "word"))
