"""Whole messages of a word or two: yes and no, "and Rust?", "the others", "not today". Pure."""

from __future__ import annotations

import re
from functools import cache

from bot.reading.words.phrasings import SHARED, bare, either, folded, meaning, word_set


def is_yes(text: str, language: str = SHARED) -> bool:
    """Whether the whole message is a yes."""
    return folded(bare(text, polite=False)) in word_set("yes", language)


def is_no(text: str, language: str = SHARED) -> bool:
    """Whether the whole message is a no."""
    return folded(bare(text, polite=False)) in word_set("no", language)


def is_word(key: str, text: str, language: str = SHARED) -> bool:
    """Whether the whole message is one of a list of words, and no word of courtesy beside it."""
    return folded(bare(text, polite=False)) in word_set(key, language)


def is_follow_up(text: str) -> bool:
    """Whether the message goes on from the question before: "and Rust?"."""
    words = folded(bare(text))
    return any(words.startswith(f"{word} ") for word in word_set("follow_ups"))


def is_the_others(text: str) -> bool:
    """Whether the message asks the question before of all the others: "and the others?"."""
    return folded(bare(text)) in word_set("the_others")


def snoozed_days(text: str, language: str = SHARED) -> int | None:
    """For how many days a reminder just told is put off; ``None`` where the message says no such thing."""
    days = meaning("snoozes", language).get(folded(bare(text, language=language)))
    return int(days) if days is not None else None


def has_pronoun(text: str) -> bool:
    """Whether a word of the message stands for the animal just talked of."""
    return _pronouns().search(folded(text)) is not None


def speaks_of_offer(text: str) -> bool:
    """Whether the message points to prey that lay there before: "ate yesterday's", "took it in the end"."""
    return _of_the_offer().search(folded(text)) is not None


@cache
def _of_the_offer() -> re.Pattern[str]:
    return re.compile(either(sorted(word_set("of_the_offer"), key=len, reverse=True)))


def speaks_of_another(text: str) -> bool:
    """Whether the message says that what it tells is in the place of something: "a roach instead"."""
    return not text.rstrip().endswith("?") and _in_place_of().search(folded(text)) is not None


@cache
def _in_place_of() -> re.Pattern[str]:
    return re.compile(either(sorted(word_set("in_place_of"), key=len, reverse=True)))


@cache
def _pronouns() -> re.Pattern[str]:
    return re.compile(either(sorted(word_set("pronouns"))))


def is_nobody(text: str, language: str = SHARED) -> bool:
    """Whether the whole message says that there is no name, or that nothing is to be set."""
    return folded(bare(text, language=language)) in word_set("nobody", language)


def speaks_of_life(text: str) -> bool:
    """Whether the message says that an animal did not die or go after all."""
    return not text.rstrip().endswith("?") and _life().search(folded(text)) is not None


@cache
def _life() -> re.Pattern[str]:
    return re.compile(either(sorted(word_set("life"), key=len, reverse=True)))
