"""Every row of recurrences.yaml is reached by its example, as a reminder of that kind of rule."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime
from zoneinfo import ZoneInfo

import pytest

from bot.reading import ShelfNames, read
from bot.reading.days.recurrences import counts_from_done, examples, repeats_in
from bot.reading.words.lexicon import phrasings
from bot.reading.words.scan import Words
from bot.terms import KeeperSettings
from bot.terms.data_file import data_of
from bot.terms.recurrence import first_day, parts_of
from tests.faults.house import SHELF

NAMES = ShelfNames.of(SHELF)
KEEPER = KeeperSettings(zone="Europe/Berlin")
NOW = datetime(2026, 3, 4, 9, 0, tzinfo=ZoneInfo(KEEPER.zone))


LANGUAGES = ("en", "de", "es")


@pytest.mark.parametrize(
    ("language", "rule", "example"),
    [(language, *row) for language in LANGUAGES for row in examples(language).items()],
)
def test_every_rule_is_reached_by_its_example(language, rule, example):
    reading = read(example, NAMES, now=NOW, settings=replace(KEEPER, language=language))
    found = parts_of(reading.reminder.repeats)
    assert found.keys() == parts_of(rule).keys()
    assert found["FREQ"] == parts_of(rule)["FREQ"]
    assert first_day(reading.reminder.repeats, NOW.date()) is not None


WORDS = {
    "nth": "third",
    "day": "3rd",
    "day2": "17th",
    "weekday": "monday",
    "weekday2": "friday",
    "month": "june",
}
MEANT = {"nth": "3", "day": "3", "day2": "17", "weekday": "MO", "weekday2": "FR", "month": "6"}
ROWS = data_of("bot.reading", "lexicon", "en", "recurrences.yaml")["rules"]


@pytest.mark.parametrize(("phrase", "rule"), [(say, row["rule"]) for row in ROWS for say in row["say"]])
def test_each_way_to_say_a_repetition_is_found_as_its_rule(phrase, rule):
    for said in phrasings(phrase):
        found = repeats_in(Words(f"weigh Ink {said.format_map(WORDS)} please"), "en")
        assert found is not None, said
        assert found.rule == rule.format_map(MEANT), said


@pytest.mark.parametrize(
    ("said", "rule"),
    [
        ("every second Friday", "FREQ=WEEKLY;INTERVAL=2;BYDAY=FR"),
        ("on the second Friday", "FREQ=MONTHLY;BYDAY=2FR"),
        ("every second Friday of the month", "FREQ=MONTHLY;BYDAY=2FR"),
    ],
)
def test_every_second_friday_is_a_fortnight_unless_the_month_is_named(said, rule):
    assert repeats_in(Words(f"order crickets {said}"), "en").rule == rule


def test_a_count_from_when_it_was_done_is_told_from_the_fixed_one():
    assert counts_from_done("every 3 days, counted from when it is done", "en")
    assert counts_from_done("every 3 days", "en") is None
