"""How likely an animal is in premolt, from its state alone: quick enough for every line of a round.

The molt model (:mod:`bot.husbandry.molts`) weighs the whole shelf's journal and is the better judge; this
one knows the days since the last molt, the interval before it, and the refusals since the last meal.
"""

from __future__ import annotations

from datetime import date
from math import erfc, log, sqrt
from typing import Final

from bot.husbandry.animal import Animal
from bot.husbandry.molt_interval import usual_days
from bot.husbandry.practice import PREMOLT_PART, REFUSES_IN_PREMOLT, REFUSES_OTHERWISE
from bot.terms import Stage

#: From this probability on, premolt is reckoned with and spoken of though nobody has noted it.
PROBABLY: Final = 0.5
#: Scatter of an interval in logs: about what practice has for pace and size, and with an own one known.
_BY_KIND_SD, _BY_OWN_SD = 0.45, 0.28
#: How much the interval before counts beside the rule, and how much longer the next one is, in logs.
_OWN_SHARE, _LENGTHENING = 0.65, 0.1


def premolt_chance(animal: Animal, on: date) -> float:
    """The probability of premolt on a day; 0 for a mature male."""
    state = animal.state
    if animal.stage is Stage.MATURE_MALE:
        return 0.0
    before = (
        PREMOLT_PART.value if state.last_molted is None else _by_days(animal, (on - state.last_molted).days)
    )
    odds = before / (1.0 - before)
    for number in range(state.refusals):
        run = min(number, len(REFUSES_OTHERWISE) - 1)
        odds *= REFUSES_IN_PREMOLT[run].value / REFUSES_OTHERWISE[run].value
    return odds / (1.0 + odds)


def perhaps_in_premolt(animal: Animal) -> bool:
    """Whether an animal that refuses is told to be perhaps in premolt, though nobody has noted it.

    That is weighed on the day of its last refusal. One that takes its meals is not, however long its last
    molt on record is ago.
    """
    state = animal.state
    noted = state.premolt_since is not None or state.sealed_since is not None
    if noted or not state.refusals or state.last_refused is None:
        return False
    return premolt_chance(animal, state.last_refused) >= PROBABLY


def _by_days(animal: Animal, waited: int) -> float:
    """By the days since the last molt: that the last part of the interval has begun, given it is not over."""
    middle = log(usual_days(animal.species.pace, animal.span_cm, animal.adult_span_cm))
    spread = _BY_KIND_SD
    own = animal.state.last_interval
    if own is not None:
        middle = (1.0 - _OWN_SHARE) * middle + _OWN_SHARE * (log(own) + _LENGTHENING)
        spread = _BY_OWN_SD
    lasts = (log(max(waited, 1)) - middle) / spread
    begun = (log(max(waited, 1) / (1.0 - PREMOLT_PART.value)) - middle) / spread
    not_over = _tail(lasts)
    chance = 1.0 - _tail(begun) / not_over if not_over > 1e-12 else 1.0
    return min(max(chance, 1e-4), 1.0 - 1e-4)


def _tail(z: float) -> float:
    return 0.5 * erfc(z / sqrt(2.0))
