"""Who a question may be about that nobody on the shelf is called. Pure."""

from __future__ import annotations

import re
from functools import cache
from itertools import pairwise
from typing import Final

from bot.reading.days.words import days_data
from bot.reading.names.shelf_names import ShelfNames
from bot.reading.words.lexicon import lexicon, phrasings
from bot.reading.words.normalise import plain_text
from bot.reading.words.phrasings import SHARED, word_set
from bot.reading.words.tokens import Token, tokens_of

_SLOT: Final = re.compile(r"\{\w+\}")
_WORD: Final = re.compile(r"[^\W\d_]+")


def strangers(text: str, names: ShelfNames, language: str = SHARED) -> list[str]:
    """The words that stand where a name would and are neither a name of the shelf nor a word of the lexicon.

    As they were written: a word in capitals, or one after "did", "is", "how's" and the like; a tag that
    nobody bears ("B2").
    """
    plain = plain_text(text)
    tokens = [token for token in tokens_of(plain) if token.kind != "mark"]
    tags = [
        plain.plain[letters.start : figures.end]
        for letters, figures in pairwise(tokens)
        if _is_tag(letters, figures) and figures.text not in names.numbered.get((letters.key,), {})
    ]
    return tags + [
        plain.plain[token.start : token.end]
        for before, token in zip([None, *tokens], tokens, strict=False)
        if _may_be_a_name(before, token, language)
        and not any(token.key in _known_words(one) for one in {language, SHARED})
        and token.key not in names.longest
    ]


def _may_be_a_name(before: Token | None, token: Token, language: str) -> bool:
    if before is None or token.kind != "word":
        return False
    return token.upper or before.text.replace("'", "") in word_set("before_a_name", language)


#: "B2", "GBB1": more letters with figures behind them are a word with a number.
_LONGEST_LETTERS: Final = 3


def _is_tag(letters: Token, figures: Token) -> bool:
    glued = letters.end == figures.start and figures.text.isdigit()
    return glued and letters.kind == "word" and letters.upper and len(letters.text) <= _LONGEST_LETTERS


@cache
def _known_words(language: str) -> frozenset[str]:
    said = (phrase for group in lexicon(language).groups for say in group.say for phrase in phrasings(say))
    apart = {word for phrase in said for word in phrase.split()}  # of many thousand phrases, some thousand
    words = frozenset(token.key for word in apart for token in tokens_of(plain_text(word)))
    return words | _words_of_days(language) | word_set("question_words", language)


def _words_of_days(language: str) -> frozenset[str]:
    """ "What did I do yesterday": whatever a day or a stretch of time is said with."""
    data = days_data(language)
    said = [word for means in data.words.values() for words in means.values() for word in words]
    said += [_SLOT.sub(" ", phrase) for rule in data.rules for phrase in rule.say]
    return frozenset(word for phrase in said for word in _WORD.findall(phrase))
