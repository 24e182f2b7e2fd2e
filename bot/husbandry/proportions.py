"""What a span is to a carapace and to a weight, where an animal's own proportions are not known."""

from __future__ import annotations

from typing import Final

from bot.husbandry.practice import Figure

#: Carapace length as a part of the span: 18 to 20 mm in an animal of 13 to 15 cm.
CARAPACE_PART: Final = Figure(0.145, 0.115, 0.18, "from memory, no source; differs from kind to kind")
#: Weight in g over the cube of the span in cm: 15 to 30 g at 14 cm.
WEIGHT_PER_CM3: Final = Figure(0.008, 0.004, 0.014, "from memory, no source; differs from kind to kind")


def mass_of_span(span_cm: float) -> float:
    """What an animal of a span in cm weighs in g, by the general figure."""
    return float(WEIGHT_PER_CM3.value * span_cm**3)


def carapace_of_span(span_cm: float) -> float:
    """The carapace length in mm of an animal of a span in cm, by the general figure."""
    return float(CARAPACE_PART.value * 10.0 * span_cm)
