"""What an animal's waterings, and looks that found its substrate dry or damp, say of how fast it dries.

A belief on the log of the days that one watering lasts, as a precision and the mean times that, both in
whole thousandths so that a state folded anew is the same to the last digit. Older things count less and
less: seasons change. What is known from practice is not in it; ``watering`` weighs the two.
"""

from __future__ import annotations

from functools import lru_cache
from math import erfc, exp, log, pi, sqrt
from typing import Final

from bot.terms.data_file import data_of

#: Weight in thousandths, and weight times the mean of the log days in thousandths.
Belief = tuple[int, int]
NOTHING: Final[Belief] = (0, 0)

#: A keeper waters when it suits: how much a gap between waterings scatters about what it should be.
_GAP_SD: Final = 0.5
#: How sharp "dry" and "still damp" are, in logs of days.
_LOOK_SD: Final = 0.25
#: What is kept of what was known at each further watering or look.
_KEPT: Final = 0.9
#: A longer gap tells of an absence, or of waterings that nobody noted, not of substrate.
LONGEST_GAP: Final = 14
#: Anything between a day and three weeks: where a look alone has to be weighed against something.
_BROAD_MEAN, _BROAD_SD = log(5.0), 0.7
_MOST_WORDS: Final = 8


def after_gap(belief: Belief, days: int) -> Belief:
    """After a watering so many days after the one before."""
    if not 1 <= days <= LONGEST_GAP:
        return belief
    weight, total = (_KEPT * part for part in belief)
    more = 1000.0 / _GAP_SD**2
    return round(weight + more), round(total + more * log(days))


def after_look(belief: Belief, days: int, *, dry: bool) -> Belief:
    """After the substrate was found dry, or still damp, so many days after a watering.

    Dry means that it lasted no longer than that, damp that it lasts longer: a normal belief cut off there,
    matched in mean and variance.
    """
    if not 1 <= days <= LONGEST_GAP:
        return belief
    weight = _KEPT * belief[0] / 1000.0 + 1.0 / _BROAD_SD**2
    mean = (_KEPT * belief[1] / 1000.0 + _BROAD_MEAN / _BROAD_SD**2) / weight
    variance = 1.0 / weight
    spread = sqrt(variance + _LOOK_SD**2)
    side = 1.0 if dry else -1.0
    z = side * (log(days) - mean) / spread
    mills = _density(z) / max(_below(z), 1e-12)
    mean -= side * variance / spread * mills
    variance -= variance**2 / spread**2 * mills * (mills + z)
    precision = 1.0 / max(variance, 1e-4)
    return (
        max(round(1000.0 * (precision - 1.0 / _BROAD_SD**2)), 0),
        round(1000.0 * (mean * precision - _BROAD_MEAN / _BROAD_SD**2)),
    )


def _density(z: float) -> float:
    return exp(-0.5 * z * z) / sqrt(2.0 * pi)


def _below(z: float) -> float:
    return 0.5 * erfc(-z / sqrt(2.0))


def found_dry(note: str | None) -> bool | None:
    """Whether a note says that the substrate is dry (true) or damp (false); ``None`` where it says neither.

    A note that denies, that says both, or that is about much else says neither.
    """
    words = (note or "").casefold().replace("’", "'").replace(",", " ").replace(".", " ").split()
    if not words or len(words) > _MOST_WORDS:
        return None
    known = _words()
    if known["denies"] & set(words):
        return None
    dry, damp = (bool(known[what] & set(words)) for what in ("dry", "damp"))
    return None if dry == damp else dry


@lru_cache(maxsize=1)
def _words() -> dict[str, frozenset[str]]:
    found = data_of(__package__ or "bot.husbandry", "substrate_words.yaml")
    return {what: frozenset(words) for what, words in found.items()}
