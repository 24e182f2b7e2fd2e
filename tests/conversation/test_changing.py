"""What a correction by a bare figure makes of an entry."""

from datetime import date
from decimal import Decimal

import pytest

from bot.conversation.changing import changed_row
from bot.conversation.wording import length
from bot.terms import Entry, KeeperSettings, Kind, Units


@pytest.mark.parametrize("units", Units)
def test_a_bare_figure_is_in_the_unit_that_the_keeper_is_shown(units):
    entry = Entry(kind=Kind.MEASURED, day=date(2026, 5, 14), specimens=("A1",), span_cm=Decimal("14.5"))
    new = changed_row(entry, {"number": Decimal(5)}, KeeperSettings(units=units))
    assert new is not None
    assert length(new.span_cm, units).split()[0] == "5"
