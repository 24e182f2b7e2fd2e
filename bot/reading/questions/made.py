"""The question that words make, with all that is said of it: of whom, of which days, of which feeder."""

from __future__ import annotations

from dataclasses import replace
from typing import Final

from bot.reading.model import Question, Topic
from bot.reading.names.shelf_names import ShelfNames
from bot.reading.questions.topics import Heard, topic_of
from bot.reading.words.rule_words import rule_words
from bot.terms import Kind

_OF_SPECIES: Final = frozenset({Topic.COUNT, Topic.SPECIES_SUMMARY})
_OF_A_TIME: Final = frozenset({Topic.CLIMATE, Topic.SPENDING})


def question_of(heard: Heard, names: ShelfNames) -> Question | None:
    """The question that words ask, or ``None`` where no topic is found.

    One about a species that is not on the shelf is about that, never about the whole shelf.
    """
    asked = _of_the_shelf(heard, names)
    if asked is None or heard.refs or asked.species or asked.topic in _OF_FEEDERS:
        return asked
    strange = next((i.val for i in heard.items if i.cat == "T" and i.val), None)
    return replace(asked, species=strange) if strange else asked


_OF_FEEDERS: Final = frozenset({Topic.SHOPPING, Topic.STOCK})


def _of_the_shelf(heard: Heard, names: ShelfNames) -> Question | None:
    topic = topic_of(heard)
    if topic is None or (topic is Topic.STATUS and not heard.refs and heard.of_other_things()):
        return None
    tags = names.in_order(t for r in heard.refs for t in r.tags)
    everyone = len(tags) == len(names.specimens) > 1
    if everyone:
        tags = ()  # "list everything in premolt"
    kind = Kind.FED if _without_meals(heard, topic) else heard.kind()
    if topic in _OF_SPECIES and len(heard.refs) == 1 and heard.refs[0].species:
        of = kind if "how long as a rule" in heard.ideas.at else None
        return Question(topic=topic, kind=of, species=heard.refs[0].species)
    if topic in _OF_THE_PAST or (topic is Topic.SIZE and heard.stretch is not None and not heard.latest):
        return _of_the_past(heard, topic, kind, tags, everyone=everyone)
    return _of_now(heard, topic, kind, tags)


_OF_THE_PAST: Final = frozenset({Topic.LAST, Topic.HISTORY})
#: What is told of with the feeder that it was.
_WITH_PREY: Final = frozenset({Kind.FED, Kind.REFUSED, Kind.OFFERED, Kind.STOCKED})


def _of_the_past(
    heard: Heard, topic: Topic, kind: Kind | None, tags: tuple[str, ...], *, everyone: bool
) -> Question:
    """When a thing last happened, or all of it in a time; of a size, what was measured then."""
    since, until = heard.stretch or (None, None)
    if topic is Topic.SIZE:
        return Question(topic=Topic.HISTORY, kind=Kind.MEASURED, specimens=tags, since=since, until=until)
    prey = heard.prey() if kind in _WITH_PREY else None
    one = topic is Topic.LAST and not heard.several_last()
    if one and kind is not None and (heard.stretch is None or heard.latest or _so_far(heard)):
        return Question(topic=topic, kind=kind, specimens=tags, everyone=everyone, prey=prey)
    if kind is None and heard.counts_prey():
        kind, prey = Kind.FED, heard.prey()  # "how many crickets did I use this week"
    return Question(topic=Topic.HISTORY, kind=kind, specimens=tags, since=since, until=until, prey=prey)


def _so_far(heard: Heard) -> bool:
    """ "did I feed Ink yet today": whether it is done, which the last time tells."""
    return heard.stretch is not None and heard.stretch.first == heard.today and _yet(heard)


def _yet(heard: Heard) -> bool:
    return any(item.text in _YET for item in heard.items)


_YET: Final = rule_words("yet")


def _of_now(heard: Heard, topic: Topic, kind: Kind | None, tags: tuple[str, ...]) -> Question:
    since, until = heard.stretch or (None, None)
    if topic in _OF_A_TIME:
        return Question(topic=topic, specimens=tags, since=since, until=until)
    if topic is Topic.DUE and (Topic.MOLT_INTERVAL.value in heard.topics or kind is Kind.WATERED):
        # "how often does Ink eat", "when does she need water"
        return Question(topic=topic, kind=kind, specimens=tags)
    if topic in {Topic.NOT_EATEN, Topic.NOT_SINCE}:
        asked = kind if topic is Topic.NOT_SINCE else None
        first = heard.stretch.first if heard.stretch and not heard.days() else None
        return Question(topic=topic, kind=asked, specimens=tags, days=heard.days(), since=first)
    if topic is Topic.MEAL:
        return Question(topic=topic, specimens=tags, prey=heard.prey())
    return Question(topic=topic, specimens=tags)


def _without_meals(heard: Heard, topic: Topic) -> bool:
    """ "how long has Ink not eaten", "since when is she off food": of one animal, when it last ate."""
    return topic is Topic.LAST and Topic.NOT_EATEN.value in heard.topics
