"""Every row of recurrences.yaml is reached by its example, as a reminder of that kind of rule."""

from __future__ import annotations

from datetime import datetime
from zoneinfo import ZoneInfo

import pytest

from bot.reading import ShelfNames, read
from bot.reading.recurrences import counts_from_done, examples
from bot.terms import KeeperSettings
from bot.terms.recurrence import first_day, parts_of
from tests.faults.house import SHELF

NAMES = ShelfNames.of(SHELF)
KEEPER = KeeperSettings(zone="Europe/Berlin")
NOW = datetime(2026, 3, 4, 9, 0, tzinfo=ZoneInfo(KEEPER.zone))


@pytest.mark.parametrize(("rule", "example"), examples("en").items())
def test_every_rule_is_reached_by_its_example(rule, example):
    reading = read(example, NAMES, now=NOW, settings=KEEPER)
    found = parts_of(reading.reminder.repeats)
    assert found.keys() == parts_of(rule).keys()
    assert found["FREQ"] == parts_of(rule)["FREQ"]
    assert first_day(reading.reminder.repeats, NOW.date()) is not None


def test_a_count_from_when_it_was_done_is_told_from_the_fixed_one():
    assert counts_from_done("every 3 days, counted from when it is done", "en")
    assert counts_from_done("every 3 days", "en") is None
