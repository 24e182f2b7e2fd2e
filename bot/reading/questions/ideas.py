"""What a question turns on: its ideas and what happened, in whatever order the words stand.

The words are data (``lexicon/<language>/ideas.yaml``); which ideas together make which topic is the
table here, so that "Captain's last meal", "last meal of Captain" and "when was the last meal" are one way.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from functools import cache
from typing import Final

from bot.reading.items.item import Item
from bot.reading.message.parse import Message
from bot.reading.model import Topic
from bot.reading.words.lexicon import lexicon
from bot.reading.words.rule_words import rule_openings, rule_words
from bot.terms import Kind


@dataclass(slots=True)
class Ideas:
    """The ideas of a sentence: for each the tokens it begins at; the kinds named, with their tokens."""

    at: dict[str, list[int]] = field(default_factory=dict)
    kinds: list[tuple[int, Kind]] = field(default_factory=list)
    covered: set[int] = field(default_factory=set)

    def __bool__(self) -> bool:
        return bool(self.at or self.kinds)

    def before(self, idea: str, kind: Kind | None = None) -> bool:
        """Whether an idea stands before what happened: "next molt", no "molted next"."""
        places = [place for place, said in self.kinds if kind is None or said is kind]
        return any(at < place for at in self.at.get(idea, ()) for place in places)


def may_name_a_matter(message: Message, sentence: range) -> bool:
    """Whether a sentence with no word that asks may still name what is wanted; asked of every sentence."""
    words = _matter_words(message.settings.language)
    return not words.isdisjoint(message.keys[sentence.start : sentence.stop])


@cache
def _matter_words(language: str) -> frozenset[str]:
    """Of each idea one of which a sentence needs to be :func:`names_a_matter` the longest word."""
    phrases = lexicon(language).ideas.phrases()
    return frozenset(
        max(reversed(words), key=len)
        for words, senses in phrases
        if any(s.group.act in _MATTERS for s in senses)
    )


#: The ideas one of which stands in every sentence that names a matter.
_MATTERS: Final = frozenset(
    {
        "latest",
        "expected",
        "records",
        "measured",
        "located",
        "all of it",
        "gap",
        "between",
        "date",
        "many",
        "listed",
    }
)


def ideas_in(message: Message, sentence: range, names: set[int], periods: set[int], asking: range) -> Ideas:
    """The ideas of a sentence.

    ``names`` are the tokens of animals and days, which stand for themselves; ``periods`` those of lengths of
    time, in which only "more than" is an idea; ``asking`` those of a phrase that asks, which tells no kind.
    """
    found = Ideas()
    for at in sentence:
        hit = message.lexicon.ideas.find(message.tokens, message.keys, at) if at not in names else None
        if hit is None:
            continue
        end, senses = hit
        found.covered.update(range(at, end))
        for sense in senses:
            act, kind = sense.group.act, sense.group.kind
            if act is not None and (at not in periods or act == "over"):
                found.at.setdefault(act, []).append(at)
            if kind is not None and at not in asking and at not in periods:
                found.kinds.append((at, kind))
    return found


@dataclass(frozen=True, slots=True)
class Rule:
    """A topic, and what a question must turn on to be about it.

    ``kinds``: what is asked about having happened, any where empty. ``ideas`` are all there, those of
    ``without`` are not. ``whose``: "of some" where animals have to be named, "of none" where none may be,
    "of many" where not one alone, "of all" always.
    """

    topic: Topic
    kinds: frozenset[Kind] = frozenset()
    ideas: frozenset[str] = frozenset()
    without: frozenset[str] = frozenset()
    whose: str = "of all"


def _rule(
    topic: Topic, said: str, *, kinds: Sequence[Kind] = (), but: str = "", whose: str = "of all"
) -> Rule:
    return Rule(topic, frozenset(kinds), frozenset(_names(said)), frozenset(_names(but)), whose)


def _names(said: str) -> list[str]:
    return [name.strip() for name in said.split("+") if name.strip()]


#: What is asked about, beside meals, as not done or seen for so long.
_SELDOM: Final = (Kind.MOLTED, Kind.WATERED, Kind.MEASURED, Kind.CLEANED, Kind.REHOUSED, Kind.CHECKED)
_PAST: Final = "past + latest + when did"
#: Every rule that fits gives its topic; which of several is meant, the order of topics says.
RULES: Final = (
    _rule(Topic.NOT_EATEN, "deny", kinds=[Kind.FED], but="when + own not yet", whose="of many"),
    _rule(Topic.NOT_EATEN, "deny + length", kinds=[Kind.FED], whose="of many"),
    _rule(Topic.NOT_EATEN, "latest + over + length", kinds=[Kind.FED], but="when", whose="of many"),
    _rule(Topic.NOT_SINCE, "deny + a time", kinds=_SELDOM, but="when + own not yet", whose="of many"),
    _rule(Topic.MEAL, "may + feeders", kinds=[Kind.FED], whose="of some"),
    _rule(Topic.MEAL, "suits + feeders", but="past + obtain + when + number", whose="of some"),
    _rule(Topic.SPECIES_SUMMARY, "how long as a rule + of a species", kinds=[Kind.SEALED]),
    _rule(Topic.DUE, "own not yet", kinds=[Kind.FED, Kind.WATERED], but="length"),
    _rule(Topic.REHOUSE_DUE, "bigger", but=_PAST),
    _rule(Topic.REHOUSE_DUE, "wants", kinds=[Kind.REHOUSED], but="past + latest"),
    _rule(Topic.REHOUSE_DUE, "when do", kinds=[Kind.REHOUSED]),
    _rule(Topic.REHOUSE_DUE, "may", kinds=[Kind.REHOUSED], but=_PAST),
    _rule(Topic.REHOUSE_DUE, "ahead", kinds=[Kind.REHOUSED], but="past + latest"),
    _rule(Topic.REHOUSE_DUE, "somebody", kinds=[Kind.REHOUSED], but=f"{_PAST} + owning"),
    _rule(Topic.MATURITY, "grown + until", but=_PAST, whose="of some"),
    _rule(Topic.MATURITY, "grown + when", but=f"{_PAST} + gap", whose="of some"),
    _rule(Topic.MOLT_INTERVAL, "gap", kinds=[Kind.MOLTED]),
    _rule(Topic.MOLT_INTERVAL, "between before", kinds=[Kind.MOLTED]),
    _rule(Topic.NEXT_MOLT, "ahead", kinds=[Kind.MOLTED], but="latest + near + gap + between before"),
    _rule(Topic.NEXT_MOLT, "when + ahead", kinds=[Kind.PREMOLT], but="latest + past + near"),
    _rule(Topic.PREMOLT_NOW, "near", kinds=[Kind.MOLTED, Kind.PREMOLT], but="latest"),
    _rule(Topic.PREMOLT_NOW, "somebody", kinds=[Kind.PREMOLT], but="latest + when did + past"),
    _rule(Topic.SEALED_NOW, "now", kinds=[Kind.SEALED, Kind.OPENED], but=_PAST),
    _rule(Topic.STOCK, "number + feeders + remaining", but="past + who", whose="of none"),
    _rule(Topic.STOCK, "owning + feeders", but="past + who + enough + shop", whose="of none"),
    _rule(Topic.STOCK, "what + feeder box", but="past + who", whose="of none"),
    _rule(Topic.CLIMATE, "climate", but="wants"),
    _rule(Topic.SPENDING, "spending"),
    _rule(Topic.SHOPPING, "obtain + feeders", but="past + who", whose="of none"),
    _rule(Topic.SHOPPING, "shop", but="past + who", whose="of none"),
    _rule(Topic.COUNT, "number + spiders"),
    _rule(Topic.COUNT, "number + collection"),
    _rule(Topic.COUNT, "measure + collection", whose="of none"),
    _rule(Topic.HOME, "measure + a home", but="when + bigger", whose="of some"),
    _rule(Topic.SIZE, "measure", but="when + bigger + how long", whose="of some"),
    _rule(Topic.SIZE, "measures + what", but="when", whose="of some"),
    _rule(Topic.SIZE, "what", kinds=[Kind.MEASURED], but="when + how long", whose="of some"),
    _rule(Topic.SPECIES_SUMMARY, "species + of a species"),
    _rule(Topic.SPECIES_SUMMARY, "records + say + of a species"),
    _rule(Topic.HISTORY, "records", whose="of some"),
    _rule(Topic.HISTORY, "all of it + about", whose="of some"),
    _rule(
        Topic.HISTORY, "these + many", but="latest + ahead + gap + between before + number", whose="of some"
    ),
    _rule(Topic.STATUS, "well", whose="of some"),
    _rule(Topic.WHERE, "place", but="wants", whose="of some"),
    _rule(Topic.DUE, "wants", kinds=[Kind.FED, Kind.WATERED], but="past + latest + deny"),
    _rule(Topic.DUE, "until", kinds=[Kind.FED, Kind.WATERED], but="past + latest + deny", whose="of some"),
    _rule(
        Topic.DUE, "may", kinds=[Kind.FED, Kind.WATERED], but=f"{_PAST} + feeders + suits", whose="of some"
    ),
    _rule(Topic.STATUS, "may", kinds=[Kind.SEALED, Kind.OPENED], but=_PAST, whose="of some"),
    _rule(Topic.DUE, "hungry"),
    _rule(Topic.LAST, "latest before"),
)


def topics_of(ideas: Ideas, kind: Kind | None, more: frozenset[str], who: str) -> Iterator[Topic]:
    """The topics whose rules fit; ``more`` are ideas of the whole sentence, as that it names a length."""
    said = more | ideas.at.keys()
    for rule in RULES:
        if rule.kinds and kind not in rule.kinds:
            continue
        if rule.ideas <= said and rule.without.isdisjoint(said) and who in _WHOSE[rule.whose]:
            yield rule.topic


_WHOSE: Final = {
    "of all": frozenset({"one", "many", "none"}),
    "of some": frozenset({"one", "many"}),
    "of many": frozenset({"many", "none"}),
    "of none": frozenset({"none"}),
}

#: Senses of words that only hold a phrase together.
_SMALL: Final = frozenset({"the", "of", "for", "to", "self", "all", "fill", "and", "pron", "animal", "group"})
_ON: Final = rule_words("on_or_about")


def _took_it_all(before: Item | None, item: Item) -> bool:
    """ "Ink refused everything": told of what she was offered."""
    acts = before.senses.verbs if before is not None else ()
    told = bool(acts) and not any(sense.group.noun or sense.group.base for sense in acts)
    return not _EVERYTHING.isdisjoint(item.text.split()[-1:]) and (told or bool(item.senses.verbs))


_EVERYTHING: Final = rule_words("everything")


def names_a_matter(items: Sequence[Item], ideas: Ideas, cued: set[int]) -> bool:
    """ "Captain's last meal", "date of her next molt": a matter and whose it is, with nothing told of it."""
    if any(_took_it_all(before, item) for before, item in zip((None, *items), items, strict=False)):
        return False
    for item in items:
        if (
            item.cat in "SM"
            or (item.cat == "D" and "listed" in ideas.at)
            or ideas.covered.issuperset(range(item.i, item.j))
        ):
            continue
        if item.cat == "W" and (not _SMALL.isdisjoint(item.senses) or item.text in _ON or item.i in cued):
            continue
        return False
    named = any(item.cat == "S" and item.i not in ideas.covered for item in items)
    if ideas.before("latest") or ideas.before("expected"):
        return True
    matter = not ideas.at.keys().isdisjoint({"records", "measured", "located", "all of it"})
    kinds = {kind for _, kind in ideas.kinds}
    spaced = Kind.MOLTED in kinds and not ideas.at.keys().isdisjoint({"gap", "between", "date"})
    row = {"these", "many"} <= ideas.at.keys()
    row = row or (bool(kinds) and items[0].text.startswith(_ALL_OF))  # "all of Saffron's molts"
    return (named and (matter or spaced or row)) or "listed" in ideas.at


_ALL_OF: Final = rule_openings("all_of_alone")
