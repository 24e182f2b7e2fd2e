"""Number words written as one: "fünfundzwanzig", "zweihundertfünfzig". Pure."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from pydantic import BaseModel, ConfigDict

_HUNDRED: Final = 100
_THOUSAND: Final = 1000


class GluedData(BaseModel):
    """How a language glues number words: the units as they stand before others, and what joins a ten."""

    model_config = ConfigDict(extra="forbid", frozen=True)

    stems: Mapping[str, int]
    joint: str
    hundred: str
    thousand: str


def glued_tens(data: GluedData, tens: Mapping[str, int]) -> dict[str, int]:
    """ "fünfundzwanzig": 25."""
    return {
        f"{stem}{data.joint}{ten}": value + unit
        for ten, value in tens.items()
        for stem, unit in data.stems.items()
    }


def glued_hundreds(data: GluedData) -> dict[str, int]:
    """ "hundert", "zweihundert": round ones."""
    return _multiples(data.stems, data.hundred, _HUNDRED)


def glued(data: GluedData, units: Mapping[str, int], tens: Mapping[str, int]) -> dict[str, int]:
    """All numbers written as one word, below a thousand; thousands with round hundreds behind them."""
    both = glued_tens(data, tens)
    below = {**units, **tens, **both}
    hundreds = glued_hundreds(data)
    thousands = _multiples(data.stems, data.thousand, _THOUSAND)
    joints = ("", data.joint)
    return {
        **both,
        **hundreds,
        **{
            f"{h}{joint}{b}": n + more
            for h, n in hundreds.items()
            for b, more in below.items()
            for joint in joints
        },
        **thousands,
        **{f"{t}{h}": n + more for t, n in thousands.items() for h, more in hundreds.items()},
    }


def _multiples(stems: Mapping[str, int], word: str, worth: int) -> dict[str, int]:
    return {word: worth, **{f"{stem}{word}": worth * unit for stem, unit in stems.items()}}
