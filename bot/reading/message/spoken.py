"""Words as they are spoken, read as they are written: "wiv" is "with", "eighteen point five" is "18.5"."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import cached_property, lru_cache
from importlib import resources
from typing import Final

from pydantic import BaseModel, ConfigDict

from bot.reading.words.numbers import find_numbers
from bot.reading.words.scan import Words
from bot.reading.words.tokens import Token
from bot.terms.data_file import data_of

#: A number before the point has no more words than this: "one hundred and twenty five".
_MOST_BEFORE: Final = 5
_MOST_BEHIND: Final = 3


class Texted(BaseModel):
    """A figure that stands for a word (``read``): what has to be right ``ahead`` of it, and not behind that
    (``but``), what ``after`` somewhere before it, and ``behind`` what it is no animal of that name."""

    model_config = ConfigDict(extra="forbid", frozen=True)

    read: str
    ahead: frozenset[str]
    but: frozenset[str] = frozenset()
    after: frozenset[str] = frozenset()
    behind: frozenset[str] = frozenset()


class Spoken(BaseModel):
    """A language's file of spoken words, ``lexicon/<language>/spoken.yaml``."""

    model_config = ConfigDict(extra="forbid", frozen=True)

    words: Mapping[str, str] = {}
    texted: Mapping[str, Texted] = {}
    point: frozenset[str] = frozenset()
    digits: Mapping[str, int] = {}
    units: frozenset[str] = frozenset()
    plus: str = ""
    marks: Mapping[str, str] = {}
    marks_among_others: Mapping[str, str] = {}
    money: frozenset[str] = frozenset()
    at_a_time: frozenset[str] = frozenset()
    behind_a_time: frozenset[str] = frozenset()

    @cached_property
    def marks_begin(self) -> frozenset[str]:
        """The words that the names of marks begin with."""
        return frozenset(words.split()[0] for words in self.marks)


@lru_cache(maxsize=16)
def spoken(language: str) -> Spoken:
    """The spoken words of a language, none where it has no such file."""
    file = resources.files("bot.reading") / "lexicon" / language / "spoken.yaml"
    if not file.is_file():
        return Spoken()
    return Spoken.model_validate(data_of("bot.reading", "lexicon", language, "spoken.yaml"))


def decimal_at(tokens: Sequence[Token], place: int, language: str) -> tuple[int, int, str] | None:
    """The decimal around a spoken point: its first token, the one after it, and its figures."""
    known = spoken(language)
    if tokens[place].key not in known.point:
        return None
    end = place + 1
    while end < min(len(tokens), place + 1 + _MOST_BEHIND) and _digit(tokens[end], known) is not None:
        end += 1
    behind = "".join(str(_digit(token, known)) for token in tokens[place + 1 : end])
    if not behind:
        return None
    for start in range(max(0, place - _MOST_BEFORE), place):
        said = " ".join(token.text for token in tokens[start:place])
        numbers = find_numbers(Words(said), language)
        whole = numbers[0] if len(numbers) == 1 else None
        if (
            whole is not None
            and not (whole.doubt or whole.article)
            and (whole.start, whole.end) == (0, len(said))
        ):
            return start, end, f"{whole.value}.{behind}"
    measured = end < len(tokens) and tokens[end].key in known.units
    return (place, end, f"0.{behind}") if measured else None


def adds(tokens: Sequence[Token], place: int) -> bool:
    """ "+4 GBB slings": a plus sign that opens a line, and a number of something behind it."""
    opens = place == 0 or tokens[place - 1].text == "\n"
    number, what = (tokens[n] if n < len(tokens) else None for n in (place + 1, place + 2))
    if not opens or tokens[place].text != "+" or number is None or what is None:
        return False
    return number.kind == "number" and what.kind == "word" and what.gap != ""


def _digit(token: Token, known: Spoken) -> int | None:
    if token.kind == "number" and token.text.isdigit():
        return int(token.text)
    return known.digits.get(token.key)
