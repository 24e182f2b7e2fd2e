"""An amount that was found in a text."""

from __future__ import annotations

from decimal import Decimal

from bot.terms.value_object import value_object


@value_object()
class AmountSpan:
    """An amount found in a text, ``text[start:end]``.

    ``dimension`` is "length" (cm), "weight" (g), "volume" (l), "temperature" (°C), "humidity" (%RH) or
    "money" (``currency`` units, ISO 4217). ``unit`` is the unit said; ``high`` the last of a range.
    """

    start: int
    end: int
    dimension: str
    value: Decimal
    currency: str | None = None
    unit: str = ""
    doubt: str | None = None
    high: Decimal | None = None
