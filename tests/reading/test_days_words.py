"""The files of days: each rule is reached by its example, and a file with a fault is refused."""

import re

import pytest
from pydantic import ValidationError

from bot.reading.days.grammar import grammar
from bot.reading.days.meaning import MEANINGS
from bot.reading.days.words import RuleData, days_data
from bot.reading.words.scan import Words

LANGUAGES = ["en", "de", "es"]
RULES = [(language, rule) for language in LANGUAGES for rule in days_data(language).rules]


@pytest.mark.parametrize(("language", "rule"), RULES, ids=[f"{lang}: {rule.name}" for lang, rule in RULES])
def test_every_rule_is_reached_by_its_example(language, rule):
    rules = grammar(language)
    words = Words(rule.example)
    found = rules.periods(words) if rule.kind == "period" else rules.moments(words)
    assert rule.name in {heard.rule.name for heard in found}


@pytest.mark.parametrize(("language", "rule"), RULES, ids=[f"{lang}: {rule.name}" for lang, rule in RULES])
def test_every_rule_names_a_meaning_and_lists_that_exist(language, rule):
    data = days_data(language)
    if rule.kind == "day":
        assert rule.means in MEANINGS
    for named in (*rule.unless_next, rule.unless_before):
        assert named is None or named in data.lists
    for slot in re.findall(r"\{(\w+)\}", " ".join(rule.say)):
        bare = slot.rstrip("0123456789")
        assert slot in data.words or bare in data.words or bare in _FIGURE_SLOTS | {"year"}, slot


_FIGURE_SLOTS = {
    "day",
    "hour",
    "minute",
    "num",
    "num_late",
    "num2_month",
    "yy",
    "hhmm",
    "noughted",
    "year",
    "n",
}


@pytest.mark.parametrize("language", LANGUAGES)
def test_names_of_rules_are_not_used_twice_for_one_kind(language):
    names = [(rule.kind == "period", rule.name) for rule in days_data(language).rules]
    assert len(set(names)) == len(names)


def test_a_rule_with_a_key_nobody_knows_is_refused():
    with pytest.raises(ValidationError):
        RuleData.model_validate(
            {"name": "x", "kind": "day", "means": "offset", "say": ["x"], "example": "x", "dayz": 1}
        )
