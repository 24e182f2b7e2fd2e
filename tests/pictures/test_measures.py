from datetime import date
from decimal import Decimal

import pytest

from bot.pictures import measures
from bot.terms import DateOrder, Units

NBSP = "\N{NO-BREAK SPACE}"


@pytest.mark.parametrize(
    ("measure", "value", "told"),
    [
        # NIST SP 811: 1 in = 2.54 cm; F = 1.8 C + 32; 1 US gal = 3.785411784 L
        (measures.length(Units.METRIC), Decimal("12.50"), "12.5 cm"),
        (measures.length(Units.IMPERIAL), Decimal(12), "12 cm"),
        (measures.length(Units.US), Decimal("12.7"), "5 in"),
        (measures.temperature(Units.METRIC), 24.5, "24.5 °C"),
        (measures.temperature(Units.US), 25, "77 °F"),
        (measures.temperature(Units.US), -40, "-40 °F"),
        (measures.volume(Units.METRIC), 2.0, "2 L"),
        (measures.volume(Units.US), Decimal("3.785411784"), "1 gal"),
        (measures.GRAMS, Decimal("0.35"), "0.35 g"),
    ],
)
def test_figures_are_told_in_the_keepers_units(measure, value, told):
    assert measure.told(value) == told.replace(" ", NBSP)


@pytest.mark.parametrize(
    ("value", "told"), [(12.0, "12"), (0.04, "0"), (-0.04, "0"), (100.0, "100"), (1.25, "1.2")]
)
def test_figures_have_no_needless_noughts(value, told):
    assert measures.plain(value) == told


@pytest.mark.parametrize(
    ("order", "full", "short"),
    [
        (DateOrder.DMY, "4 May 2026", "4 May"),
        (DateOrder.MDY, "May 4, 2026", "May 4"),
        (DateOrder.YMD, "2026-05-04", "4 May"),
    ],
)
def test_days_are_told_in_the_keepers_order(order, full, short):
    assert (measures.day(date(2026, 5, 4), order), measures.short_day(date(2026, 5, 4), order)) == (
        full,
        short,
    )
