"""Phrasings are tried only where a message has their words; what fits is the same as if all were tried."""

from __future__ import annotations

import pytest

from bot.reading.words.phrasings import Phrasings, all_alike, bare, compiled, own_data


def _phrases(language: str) -> list[str]:
    groups = own_data(language).get("actions", {}).values()
    return [phrase for group in groups for phrase in group["say"]]


@pytest.mark.parametrize("language", ["en", "de", "es"])
def test_a_message_fits_the_phrasings_that_it_fits_when_all_are_tried(language):
    phrases = _phrases(language)
    known = Phrasings(((phrase, phrase) for phrase in phrases), language=language)
    patterns = [(phrase, compiled(phrase, language=language)) for phrase in phrases]
    examples = [group["example"] for group in own_data(language).get("actions", {}).values()]
    fitted = 0
    for text in examples:
        words = bare(text, language=language)
        fits = [phrase for phrase, pattern in patterns if pattern.fullmatch(words)]
        assert [phrase for phrase, _ in known.fitting(words)] == fits, text
        fitted += len(fits)
    assert fitted >= len(examples)


@pytest.mark.parametrize(
    ("phrase", "words"),
    [
        ("(please) {what}", "anything at all"),
        ("[,|and] {what}", ", anything"),
        ("don't [feed|water] {who}", "DON'T  feed Ink"),
        ("[thank you|thanks] (so much)", "thank you"),
        ("{who} is [here's|back]", "Ink is here's"),
    ],
)
def test_signs_gaps_and_capitals_keep_no_phrasing_from_being_tried(phrase, words):
    assert [found[0] for _, found in all_alike([phrase], {}).fitting(words)] == [words]
