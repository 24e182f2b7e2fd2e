"""What a question in a whole phrasing makes of the words in its slots: who of all, how often. Pure."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Final

from bot.reading.names.names_alone import whom
from bot.reading.names.shelf_names import ShelfNames
from bot.reading.names.species_said import genus_said, of_a_kind, species_said
from bot.reading.questions.stretches import is_named
from bot.reading.wanted.how_often import animals_said
from bot.reading.wanted.wanted import Action, Instruction, Understand
from bot.reading.words.lexicon import lexicon
from bot.reading.words.normalise import plain_text
from bot.reading.words.numbers import numbers_data
from bot.reading.words.phrasings import OWNS, SHARED, folded, meaning, slot, word_set
from bot.reading.words.rule_words import rule_meanings, rule_pattern
from bot.reading.words.tokens import Token, tokens_of

#: The slot of certain words that says what is asked, and the table of its words.
_ASKED: Final[Mapping[Action, tuple[str, str]]] = {
    Action.WORLDS: ("world", "worlds"),
    Action.SEXES: ("sexed", "sexed_words"),
    Action.TENURE: ("tenure", "tenures"),
    Action.AT_REST: ("resting", "rests"),
    Action.TRAITS: ("trait", "traits"),
    Action.MOST: ("most", "mosts"),
    Action.OFTEN: ("oftened", "oftened_words"),
    Action.NEGLECTED: ("neglected", "neglected_words"),
    Action.KINDS_KEPT: ("kinds_of", "kinds_words"),
    Action.ORIGIN: ("age", "origin_words"),
    Action.SAY_WHEN: ("event", "events"),
    Action.NOT_KEPT: ("unkept", "unkept_words"),
    Action.SACS: ("sac", "sac_events"),
    Action.PRICES: ("priced", "priced_words"),
    Action.LACKING: ("lacking", "lacks"),
    Action.RULE: ("rule", "rule_words"),
}
#: What stands between animals that are compared.
_COMPARED_WITH: Final = re.compile(rf"\s+(?:{rule_pattern('compared_with')})\s+", re.I)
_COMPARED_AT_ONCE: Final = 3


def who_of_all(action: Action, found: re.Match[str], _names: ShelfNames, language: str) -> Instruction | None:
    """Who of the shelf is one of some: of a world, of a sex, here for long, at rest, arboreal."""
    name, table = _ASKED[action]
    said = slot(found, name)
    return Instruction(action=action, value=meaning(table, language)[folded(said)]) if said else None


def several(action: Action, found: re.Match[str], names: ShelfNames, _language: str) -> Instruction | None:
    """The animals named one after another: of a comparison two or three, of figures one."""
    tags = animals_said(_COMPARED_WITH.sub(" and ", OWNS.sub("", slot(found, "who") or "")), names)
    fits = 2 <= len(tags) <= _COMPARED_AT_ONCE if action is Action.COMPARE else len(tags) == 1
    return Instruction(action=action, tags=tags, every=True) if fits else None


def _most(action: Action, found: re.Match[str], names: ShelfNames, language: str) -> Instruction | None:
    """Who does most of something, of all or of some, in the time that ``rest`` says."""
    asked, said = who_of_all(action, found, names, language), slot(found, "who")
    among = _among(said) if said else None
    tags = whom(said, names) if said and among is None else ()
    if asked is None or bool(tags or among) != bool(said):
        return None
    when = slot(found, "when")
    return replace(asked, tags=tags, among=among, rest=when) if may_be_days(when) else None


def may_be_days(said: str | None, language: str = SHARED) -> bool:
    """Whether words may say of which days something is asked: "this month", no "crickets", no "in a row"."""
    words = folded(said or "")
    leads = words.split(maxsplit=1)[:1]
    return not words or (
        word_set("leads_to_days", language).issuperset(leads) and words not in word_set("one_after_another")
    )


def _among(said: str) -> str | None:
    """The trait or the sex of those that words call together: "slings", "arboreal", "male"."""
    return next(
        (
            meaning(table)[word]
            for table in ("traits", "sexed_words")
            for word in (folded(said), f"{folded(said)}s")
            if word in meaning(table)
        ),
        None,
    )


_BY_WORD: Final = {word: int(times) for word, times in rule_meanings("times_in_a_word").items()}
#: "more than twice", "at least 3 times", "only once", "never": how often, and what stands behind it.
_TIMES: Final = re.compile(
    rf"(?:(?P<over>{rule_pattern('more_often_than')})|(?P<least>{rule_pattern('so_often_at_least')})"
    rf"|(?P<exactly>{rule_pattern('just_so_often')}))?\s*"
    rf"(?:(?P<word>{'|'.join(_BY_WORD)})|(?P<n>\w+)\s?(?:{rule_pattern('times')}))(?!\w)"
    rf"(?:\s+(?:{rule_pattern('or_more')}))?(?P<rest>.*)",
    re.I,
)


def _often(action: Action, found: re.Match[str], names: ShelfNames, language: str) -> Instruction | None:
    """Who did a thing so often, as ``times`` from and to, in the time that ``rest`` says; or longest ago."""
    asked, said = who_of_all(action, found, names, language), _TIMES.fullmatch(slot(found, "times") or "")
    if slot(found, "times") is None:
        return asked  # "who molted the longest ago"
    n = _number(said) if said else None
    if asked is None or said is None or n is None:
        return None
    least, most = (n + 1, None) if said["over"] else (n, n if said["exactly"] or n == 0 else None)
    when = said["rest"].strip() or None
    return replace(asked, times=(least, most), rest=when) if may_be_days(when) else None


def _number(said: re.Match[str]) -> int | None:
    if said["word"]:
        return _BY_WORD[said["word"].lower()]
    word = said["n"].lower()
    return int(word) if word.isdecimal() and len(word) < 4 else numbers_data("en").units.get(word)


def of_some(action: Action, found: re.Match[str], names: ShelfNames, language: str) -> Instruction | None:
    """What is asked of animals, be they several; where a phrasing names nobody, of all."""
    said = slot(found, "who")
    whose = OWNS.sub("", said) if said else ""
    among = _among(whose.removeprefix("the ").removeprefix("my ")) if said else None
    tags = () if among else _animals(whose, names, language)
    return (
        Instruction(action=action, tags=tags, every=True, among=among)
        if bool(tags or among) == bool(said)
        else None
    )


def _animals(said: str, names: ShelfNames, language: str) -> tuple[str, ...]:
    """The animals that words name, as a language names them: "der Duke", "Rusts" of "Rusts Kokon"."""
    first, _, rest = said.partition(" ")
    ways = [said, rest] if folded(first) in word_set("before_names", language) else [said]
    ends = word_set("ends_of_owners", language)
    ways += [way[: -len(end)] for way in ways for end in ends if way.endswith(end)]
    return next((tags for way in ways if (tags := animals_said(way, names) or whom(way, names))), ())


def _asked_of_some(
    action: Action, found: re.Match[str], names: ShelfNames, language: str
) -> Instruction | None:
    """One of several matters, of animals: "how old is Ink", "tell me when Ink opens"."""
    asked, whose = who_of_all(action, found, names, language), of_some(action, found, names, language)
    return replace(whose, value=asked.value if asked is not None else None) if whose is not None else None


def _when_it_happens(
    action: Action, found: re.Match[str], names: ShelfNames, language: str
) -> Instruction | None:
    whose = _asked_of_some(action, found, names, language)
    said = slot(found, "opening")
    return replace(whose, value=meaning("openings")[folded(said)]) if whose is not None and said else whose


def _kinds(action: Action, found: re.Match[str], names: ShelfNames, language: str) -> Instruction | None:
    """All kinds, or those of the shelf that words call by a genus, a species or a trade name."""
    said = slot(found, "who")
    if said is None:
        return who_of_all(action, found, names, language)
    tags = of_a_kind(said, names)
    species = None if tags else species_said(said, names) or genus_said(said)
    return Instruction(action=action, tags=tags, species=species) if tags or species else None


def _of_kind_or_some(
    action: Action, found: re.Match[str], names: ShelfNames, language: str
) -> Instruction | None:
    species = species_said(slot(found, "who") or "", names)
    return Instruction(action=action, species=species) if species else of_some(action, found, names, language)


def _in_a_time(action: Action, found: re.Match[str], _names: ShelfNames, _language: str) -> Instruction:
    return Instruction(
        action=action, rest=slot(found, "when"), value="cause" if slot(found, "cause") else None
    )


def _summed(action: Action, found: re.Match[str], _names: ShelfNames, language: str) -> Instruction | None:
    """A week, a month or a year summed up: "summary of november"; "summary of Ink" is none."""
    said = slot(found, "when")
    if said is None:
        return Instruction(action=action, rest=meaning("summed_words", language)[folded(found["regular"])])
    return Instruction(action=action, rest=said) if is_named(said, language) else None


def _grown(action: Action, found: re.Match[str], names: ShelfNames, language: str) -> Instruction | None:
    whose, when = of_some(action, found, names, language), slot(found, "when")
    return replace(whose, rest=when) if whose is not None and may_be_days(when) else None


def _is_it(action: Action, found: re.Match[str], names: ShelfNames, language: str) -> Instruction | None:
    """Whether animals, or a species, have a trait: "is the OBT dangerous"."""
    whose, said = _of_kind_or_some(action, found, names, language), slot(found, "trait")
    return replace(whose, value=meaning("traits")[folded(said)]) if whose is not None and said else None


def _sacs(action: Action, found: re.Match[str], names: ShelfNames, language: str) -> Instruction | None:
    """What became of egg sacs, of animals or of all: how many hatched where nothing else is said."""
    whose, when = _asked_of_some(action, found, names, language), slot(found, "when")
    if whose is None or not may_be_days(when, language):
        return None
    return replace(whose, value=whose.value or "hatched", rest=when)


def _priced(action: Action, found: re.Match[str], names: ShelfNames, language: str) -> Instruction | None:
    asked, when = who_of_all(action, found, names, language), slot(found, "when")
    return replace(asked, rest=when) if asked is not None and may_be_days(when, language) else None


def _from_whom(action: Action, found: re.Match[str], names: ShelfNames, language: str) -> Instruction | None:
    """Who was got from a person or a shop: nobody of the shelf, no place of it, and no part of the world."""
    person = OWNS.sub("", slot(found, "person") or "").strip()
    tokens = tokens_of(plain_text(person))
    of_the_world = folded(person).removeprefix("the ") in meaning("worlds")
    if not person or names.find(tokens) or of_the_world or _is_no_person(tokens, language):
        return None
    return Instruction(action=action, value=person)


def _is_no_person(tokens: Sequence[Token], language: str) -> bool:
    """Whether words tell of the shelf or its work: "who is from my slings", "what is left of the round"."""
    layers, keys = (lexicon(language).account, lexicon(language).cues), [token.key for token in tokens]
    found = [layer.find(tokens, keys, at) for layer in layers for at in range(len(keys))]
    said = [{sense.cat for sense in senses[1]} for senses in found if senses is not None]
    return any(cats & {"group", "topic"} or cats == {"verb"} for cats in said)


def _how_to(action: Action, found: re.Match[str], _names: ShelfNames, language: str) -> Instruction | None:
    """What somebody wants to know how to do, or help about: "how do I undo something", "help with water"."""
    for name, table in (("how_to", "how_tos"), ("topic", "help_topics")):
        if said := slot(found, name):
            return Instruction(action=action, value=meaning(table, language)[folded(said)])
    return None


def _takers(action: Action, found: re.Match[str], _names: ShelfNames, _language: str) -> Instruction | None:
    """Who takes a feeder, or never did."""
    took, prey = slot(found, "took"), prey_said(slot(found, "prey") or "")
    value = meaning("took_words")[folded(took)] if took else None
    return Instruction(action=action, prey=prey, value=value) if prey else None


def _lasts(action: Action, found: re.Match[str], _names: ShelfNames, _language: str) -> Instruction | None:
    """How long the feeders in the box will do."""
    return Instruction(action=action) if prey_said(slot(found, "prey") or "") else None


def prey_said(words: str) -> str | None:
    """The feeder that all the words name; its name in the file of feeders."""
    tokens = tokens_of(plain_text(words))
    found = lexicon("en").account.find(tokens, [token.key for token in tokens], 0) if tokens else None
    if found is None or found[0] != len(tokens):
        return None
    return next((sense.group.prey for sense in found[1] if sense.cat == "prey"), None)


QUESTIONS: Final[Mapping[Action, Understand]] = {
    Action.WORLDS: who_of_all,
    Action.SEXES: who_of_all,
    Action.TENURE: who_of_all,
    Action.AT_REST: who_of_all,
    Action.TRAITS: who_of_all,
    Action.MOST: _most,
    Action.OFTEN: _often,
    Action.NEGLECTED: who_of_all,
    Action.KINDS_KEPT: _kinds,
    Action.WENT: of_some,
    Action.WARMTH: _of_kind_or_some,
    Action.TASTE: of_some,
    Action.SAY_WHEN: _when_it_happens,
    Action.HOLDS: of_some,
    Action.LOSSES: _in_a_time,
    Action.NOT_KEPT: who_of_all,
    Action.GROWN: _grown,
    Action.IS_IT: _is_it,
    Action.HANDLE: _of_kind_or_some,
    Action.FASTING: of_some,
    Action.TAKERS: _takers,
    Action.WHAT_IS: of_some,
    Action.LASTS: _lasts,
    Action.COMPARE: several,
    Action.STATS: several,
    Action.ORIGIN: _asked_of_some,
    Action.SACS: _sacs,
    Action.PRICES: _priced,
    Action.FROM_WHOM: _from_whom,
    Action.SUMMED: _summed,
    Action.LACKING: who_of_all,
    Action.RULE: who_of_all,
    Action.HOW_TO: _how_to,
}
