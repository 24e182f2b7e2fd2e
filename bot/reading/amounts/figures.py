"""Figures of an amount: "7.5", "1 1/2", "½", "1,200", "two and a half", as exact numbers."""

from __future__ import annotations

import re
from collections.abc import Mapping
from decimal import Context, Decimal
from types import MappingProxyType
from typing import Final

#: Own context, so that no caller's decimal settings change a reading.
EXACT: Final = Context(prec=28)

_VULGAR: Final[Mapping[str, Decimal]] = MappingProxyType(
    {
        sign: EXACT.divide(Decimal(above), Decimal(below))
        for sign, above, below in (
            ("½", 1, 2),
            ("¼", 1, 4),
            ("¾", 3, 4),
            ("⅓", 1, 3),
            ("⅔", 2, 3),
            ("⅛", 1, 8),
            ("⅜", 3, 8),
            ("⅝", 5, 8),
            ("⅞", 7, 8),
        )
    }
)
_SIGNS: Final = "".join(_VULGAR)


def figure_pattern(thousands: str) -> str:
    """A regular expression for an amount's figure, where ``thousands`` groups by three."""
    mark = re.escape(thousands)
    return (
        rf"(?:\d{{1,4}}(?:[ -]\d{{1,3}}/\d{{1,3}}(?![\d/])|[ ]?[{_SIGNS}])"
        rf"|\d{{1,3}}/\d{{1,3}}(?![\d/])|[{_SIGNS}]"
        rf"|\d{{1,3}}(?:{mark}\d{{3}})+(?:[.,]\d{{1,2}})?(?!\d)"
        r"|\d{1,7}[.,]\d{1,4}(?!\d)|\d{1,7}(?!\d)|\.\d{1,4}(?!\d))"
    )


def figure_value(said: str, thousands: str) -> Decimal | None:
    """The number a figure says; nothing for a fraction of nothing ("1/0")."""
    if said[-1] in _VULGAR:
        whole = said[:-1].strip()
        return EXACT.add(Decimal(whole or 0), _VULGAR[said[-1]])
    if "/" in said:
        return _fraction(said)
    return Decimal(_plain(said, thousands))


def of_two(said: str) -> tuple[Decimal, Decimal] | None:
    """ "temps 25/21": two readings, where a fraction would make no sense."""
    both = _TWO.fullmatch(said)
    return (Decimal(both[1]), Decimal(both[2])) if both else None


_TWO: Final = re.compile(r"(\d{2})/(\d{2})")


def _fraction(said: str) -> Decimal | None:
    whole, _, part = said.replace("-", " ").rpartition(" ")
    above, _, below = part.partition("/")
    if int(below) == 0:
        return None
    return EXACT.add(Decimal(whole or 0), EXACT.divide(Decimal(above), Decimal(below)))


def _plain(said: str, thousands: str) -> str:
    """A comma or a point is the decimal mark, unless it groups by three as the language does."""
    if re.fullmatch(rf"\d{{1,3}}(?:{re.escape(thousands)}\d{{3}})+(?:[.,]\d{{1,2}})?", said):
        said = re.sub(rf"{re.escape(thousands)}(?=\d{{3}})", "", said)
    return said.replace(",", ".")
