"""A piece of work in words: is it done ("cleaned box 4" of "clean box 4"), does it give food? Pure.

How a verb shows that is data: ``done_ends`` and its neighbours in ``lexicon/<language>/instructions.yaml``.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Sequence
from functools import cache
from typing import Final

from bot.reading.words.lexicon import lexicon
from bot.reading.words.phrasings import folded, meaning, word_set

_WORD: Final = re.compile(r"[\w#]+")
#: A stem has so many letters or more.
_STEM: Final = 2


def words_of_work(text: str, language: str) -> list[str]:
    """The words by which a piece of work is known, in order."""
    light = word_set("light_in_a_reminder", language)
    return [word for word in _WORD.findall(folded(text)) if word not in light]


def is_done(said: Sequence[str], wanted: Sequence[str], language: str) -> bool:
    """Whether both are of the same things, and one word of the one is the past of one of the other's.

    A verb in front of the rest may be another one for the same: "sprayed shelf A" for "mist shelf A".
    """
    past, work = Counter(said) - Counter(wanted), Counter(wanted) - Counter(said)
    if len(said) < _FEWEST or [past.total(), work.total()] != [1, 1]:
        return False
    done, meant = next(iter(past)), next(iter(work))
    if _stem(done, language) == _stem(meant, language):
        return True
    leads = said[0] == done and wanted[0] == meant
    return leads and not _kinds(done, language).isdisjoint(_kinds(meant, language))


#: A verb alone is of nothing in particular.
_FEWEST: Final = 2


def asks_to_feed(what: str, language: str) -> bool:
    """Whether a piece of work is to give food: "feed Rust", "a dubia for Rust", and not "buy crickets"."""
    said = words_of_work(what, language)
    if not word_set("no_food_work", language).isdisjoint(said):
        return False
    prey = lexicon(language).account.senses
    return any(w in word_set("food_words", language) or any(s.cat == "prey" for s in prey(w)) for w in said)


def _kinds(word: str, language: str) -> set[str]:
    """What a verb tells of, by the lexicon."""
    senses = lexicon(language).account.senses(word)
    return {s.group.kind.value for s in senses if s.cat == "verb" and s.group.kind}


def _stem(word: str, language: str) -> str:
    """The part that a verb's forms share."""
    word = meaning("done_instead", language).get(word, word)
    word = _within(language).sub(r"\1", word)
    for end in _ends(language):
        if word.endswith(end) and len(word) - len(end) >= _STEM:
            word = word.removesuffix(end)
            break
    return re.sub(r"([b-df-hj-np-tv-z])\1$", r"\1", word)


@cache
def _ends(language: str) -> tuple[str, ...]:
    return tuple(
        sorted(word_set("done_ends", language) | word_set("undone_ends", language), key=len, reverse=True)
    )


@cache
def _within(language: str) -> re.Pattern[str]:
    """What a verb has at its beginning or behind its first part when it is done: "aufgefüllt"."""
    parts = "|".join(sorted(word_set("parts_of_verbs", language), key=len, reverse=True))
    marks = "|".join(word_set("within_done", language)) or "(?!)"
    return re.compile(rf"^({parts})?(?:{marks})")
