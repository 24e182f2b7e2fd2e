"""Two numbers said as one: "eleven ninety nine euro" is "11.99 euro", "at six thirty" is "at 6:30".

Only where nothing else can be meant: "eight fifty euro" may be 850, and is left to be asked about.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Final

from bot.reading.message.spoken import Spoken
from bot.reading.names.shelf_names import ShelfNames
from bot.reading.words.numbers import sum_of
from bot.reading.words.tokens import Token

#: Two numbers have no more words than this: "twenty two ninety nine".
_MOST_WORDS: Final = 4
_LAST_HOUR, _LAST_MINUTE = 12, 59
#: From here on a price in two numbers is not in hundreds.
_NO_HUNDREDS: Final = 10
#: Cents that end a price however small it is: "six ninety nine euro".
_ENDS_A_PRICE: Final = frozenset({49, 89, 95, 98, 99})


def pair_at(
    tokens: Sequence[Token], place: int, names: ShelfNames, known: Spoken, number_words: Mapping[str, int]
) -> tuple[int, int, str] | None:
    """A price or a clock time that begins with the number at a place: its tokens, and its figures."""
    end = place
    while end < min(len(tokens), place + _MOST_WORDS) and tokens[end].key in number_words:
        end += 1
    if end == place + 1:
        return None
    behind = tokens[end] if end < len(tokens) else None
    pair = _two_of([number_words[token.key] for token in tokens[place:end]])
    if pair is None:
        return None
    first, second = pair
    if behind is not None and behind.key in known.money:
        sure = first >= _NO_HUNDREDS or second in _ENDS_A_PRICE
        return (place, end, f"{first}.{second}") if sure else None
    before = tokens[place - 1].key if place else ""
    clock = before in known.at_a_time and 0 < first <= _LAST_HOUR and second <= _LAST_MINUTE
    ends = behind is None or behind.kind == "mark" or behind.key in known.behind_a_time
    named = behind is not None and behind.key in names.longest and behind.key not in number_words
    return (place, end, f"{first}:{second}") if clock and (ends or named) else None


def _two_of(values: Sequence[int]) -> tuple[int, int] | None:
    """Number words that make no number together, but two: the second of two figures."""
    if sum_of(values) is not None or 0 in values:
        return None
    for cut in range(1, len(values)):
        first, second = sum_of(values[:cut]), sum_of(values[cut:])
        if first is not None and second is not None and 10 <= second <= 99:
            return first, second
    return None
