"""The lexicon is checked data: every phrase of it is reached by its own example."""

from importlib import resources

import pytest

from bot.reading.items.item import Item
from bot.reading.items.split_phrases import drawn_together
from bot.reading.words.lexicon import Lexicon, LexiconError, _groups, lexicon, phrasings
from bot.reading.words.normalise import plain_text
from bot.reading.words.tokens import tokens_of
from bot.reading.words.word_groups import CATEGORIES, CUES, EARLIER, IDEAS, SIGNS, Group

LANGUAGES = ("en", "de", "es")
LEXICON = lexicon("en")


def _layer(group: Group, words: Lexicon):
    layers = {CUES: words.cues, SIGNS: words.signs, IDEAS: words.ideas, EARLIER: words.earlier}
    return next((layer for cats, layer in layers.items() if group.is_ in cats), words.account)


def _reached(group: Group, phrase: str, words: Lexicon) -> bool:
    """Whether the look-up over the example finds the phrase with this group's category at some token."""
    within = "Mole" if group.is_ == "except" else ""  # an exception is put around whom it takes out
    tokens = tokens_of(plain_text(group.example.replace("{}", phrase.replace("…", within))))
    keys = [words.key(t) if t.owns else t.key for t in tokens]
    if group.split:
        items = [Item("S" if t.upper else "U", n, n + 1, t.text) for n, t in enumerate(tokens)]
        return any(group.is_ in item.senses for item in drawn_together(items, keys, words))
    found = (_layer(group, words).find(tokens, keys, at) for at in range(len(tokens)))
    return any(any(s.cat == group.is_ for s in senses) for hit in found if hit for senses in [hit[1]])


@pytest.mark.parametrize(
    ("language", "group"),
    [(language, group) for language in LANGUAGES for group in lexicon(language).groups],
    ids=lambda part: part if isinstance(part, str) else f"{part.is_}: {part.say[0]}",
)
def test_every_phrase_is_reached_by_its_example(language: str, group: Group) -> None:
    phrases = [form for say in group.say for form in phrasings(say) if form.strip()]
    assert [p for p in phrases if not _reached(group, p, lexicon(language))] == []


def test_every_category_is_used_or_a_cue_for_another_language() -> None:
    used = {group.is_ for group in LEXICON.groups}
    assert used <= set(CATEGORIES)


def test_a_fault_in_a_lexicon_file_is_told_with_file_group_and_place() -> None:
    with pytest.raises(LexiconError, match=r"words\.yaml, group 2: is: .*is no category"):
        _groups("words.yaml", [{"is": "neg", "say": ["not"]}, {"is": "nonsense", "say": ["x"]}])


def test_each_language_has_a_folder_of_its_own() -> None:
    folder = resources.files("bot.reading") / "lexicon"
    assert (folder / "en").is_dir()


@pytest.mark.parametrize(
    ("phrase", "forms"),
    [
        ("(a) dark [patch|spot]", {"dark patch", "dark spot", "a dark patch", "a dark spot"}),
        ("plain", {"plain"}),
        ("[x|y] z", {"x z", "y z"}),
    ],
)
def test_a_phrase_is_written_out_in_all_its_forms(phrase: str, forms: set[str]) -> None:
    assert set(phrasings(phrase)) == forms


#: Phrases of a language that a small board can hold: each takes some 150 bytes, and the time to be made.
MOST_PHRASES = 92_000


@pytest.mark.parametrize("language", ["en", "de", "es"])
def test_a_language_has_no_more_phrases_than_a_small_board_can_hold(language):
    said = {say: sum(1 for _ in phrasings(say)) for group in lexicon(language).groups for say in group.say}
    assert sum(said.values()) < MOST_PHRASES
    assert max(said.values()) < MOST_PHRASES / 12, max(said, key=said.get)
