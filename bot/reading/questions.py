"""What the keeper wants to know: a table from the words of a question to its topic."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import Final

from bot.reading.items import Item, Ref
from bot.reading.model import Question, Reading, ReadingKind, Topic
from bot.reading.names import ShelfNames
from bot.reading.parse import Message
from bot.reading.stretches import Stretch, stretch_ahead, stretch_in
from bot.reading.words import Sense
from bot.terms import Kind

#: When the words of several topics are there, the first of these that fits is meant.
_PRIORITY: Final = (
    Topic.NOT_EATEN,
    Topic.HOME,
    Topic.REHOUSE_DUE,
    Topic.MATURITY,
    Topic.GROWTH,
    Topic.MOLT_INTERVAL,
    Topic.NEXT_MOLT,
    Topic.SHOPPING,
    Topic.SPECIES_SUMMARY,
    Topic.PREMOLT_NOW,
    Topic.SEALED_NOW,
    Topic.DUE,
    Topic.WHERE,
    Topic.SIZE,
    Topic.COUNT,
    Topic.HISTORY,
    Topic.LAST,
    Topic.STATUS,
)
_OF_SPECIES: Final = frozenset({Topic.COUNT, Topic.SPECIES_SUMMARY})


class Heard:
    """The words of a question: cue phrases, items of the account, animals, and the time it is about."""

    def __init__(
        self,
        topics: set[str],
        items: Sequence[Item],
        refs: Sequence[Ref],
        stretch: Stretch | None,
        *,
        latest: bool,
    ) -> None:
        self.topics, self.items, self.refs, self.stretch = topics, items, refs, stretch
        self.latest = latest
        self.periods = [i.val for i in items if i.cat == "P"]

    def kind(self, *, weak: bool = True) -> Kind | None:
        """What the question asks about having happened; ``weak`` verbs are "have", "got" and the like."""
        for item in self.items:
            helps = "did" in item.senses or "fill" in item.senses
            for cat, sense in item.senses.items():
                vague = helps or sense.group.weak
                if cat.startswith("verb") and sense.group.kind is not None and (weak or not vague):
                    return sense.group.kind
        return None

    def ahead(self) -> bool:
        """Whether it is about what is yet to happen: "will Ink molt soon"."""
        return any("future" in item.senses for item in self.items)


#: Words that ask for one event, whatever else is said of the time: "her last molt, was it in May".
_LATEST: Final = frozenset({"last", "latest", "most recent"})
#: What a question about the future of these is about.
_TO_COME: Final[dict[Kind | None, Topic]] = {
    Kind.MOLTED: Topic.NEXT_MOLT,
    Kind.FED: Topic.DUE,
    Kind.WATERED: Topic.DUE,
    Kind.REHOUSED: Topic.REHOUSE_DUE,
    Kind.MATURED: Topic.MATURITY,
    Kind.MEASURED: Topic.GROWTH,
}
_OPENING: Final = frozenset({"last", "history", "status", "due", "shopping", "next_molt", "species_summary"})


def told_and_asked(message: Message, sentence: range) -> list[range]:
    """ "Saffron took her roach, whens Ink due?": a sentence cut before the question that it ends with."""
    for at in message.cues_in("ask", sentence[1:]):
        before = range(sentence.start, at)
        cut = message.tokens[at - 1].text == "," or _joins(message, at - 1)
        if cut and _tells(message, before) and _names(message, range(at, sentence.stop)):
            return [before, range(at, sentence.stop)]
    return [sentence]


def _joins(message: Message, at: int) -> bool:
    return any(s.cat == "and" for s in message.lexicon.account.senses(message.keys[at]))


def _tells(message: Message, part: range) -> bool:
    items = message.items([part])
    acts = any("verb" in i.senses and not i.senses["verb"].group.base for i in items)
    return acts and not message.cues_in("ask", part) and any(i.cat == "S" for i in items)


def _names(message: Message, part: range) -> bool:
    return any(i.cat == "S" or "pron" in i.senses for i in message.items([part]))


def question_in(message: Message, sentence: range) -> Reading | None:
    """The question that a sentence asks, ``None`` where it asks none or none that is known."""
    marked = message.tokens[sentence.stop - 1].text == "?"
    first = message.first_word(sentence)
    if not (marked or _may_ask(message, first, sentence)):
        return None
    items = message.items([sentence])
    told_of = {n for i in items if i.cat in "SD" for n in range(i.i, i.j)}
    cues = [(at, s) for at, (_, senses) in message.cues.items() if at in sentence for s in senses]
    cues = [(at, s) for at, s in cues if at not in told_of]
    opens = first is not None and first not in told_of and _asks(message, first)
    opens = opens or any(s.cat == "ask" and at == first for at, s in cues)
    if not marked and first is not None and _plans(message, first, items):
        return None
    topics = {s.group.topic for _, s in cues if s.cat == "topic" and s.group.topic}
    starts = any(s.cat == "topic" and at == first and s.group.topic in _OPENING for at, s in cues)
    starts = starts or _names_topic(cues, items, sentence)
    habit = any("habit" in i.senses for i in items)
    if not (marked or opens or (starts and not habit)):
        return None
    refs = [i.val for i in items if i.cat == "S"]
    if not refs and any("pron" in i.senses for i in items):
        told_before = message.items([range(sentence.start)]) if sentence.start else []
        refs = [i.val for i in told_before if i.cat == "S"][-1:]
        if not refs and message.talked_of is not None:
            refs = [message.talked_of]
    stretch = stretch_in(items, message.settings.language, message.now.date())
    periods = {n for i in items if i.cat == "P" for n in range(i.i, i.j)}
    latest = any(s.cat == "topic" and s.words in _LATEST for at, s in cues if at not in periods)
    asked = question_of(Heard(topics, items, refs, stretch, latest=latest), message.names)
    if asked is not None and asked.topic in {Topic.DUE, Topic.SHOPPING}:
        asked = _due_when(message, sentence, asked)
    return Reading(reading=ReadingKind.QUESTION, question=asked) if asked is not None else None


def _names_topic(cues: Sequence[tuple[int, Sense]], items: Sequence[Item], sentence: range) -> bool:
    """ "Ink timeline", "the GBBs status": animals and what about them, and nothing more."""
    topics = [at for at, s in cues if s.cat == "topic" and s.group.topic in _OPENING]
    if not topics:
        return False
    rest = [i for i in items if i.i < topics[-1] and i.cat != "M"]
    named = bool(rest) and any(i.cat == "S" for i in rest)
    light = all(i.cat == "S" or "the" in i.senses or "of" in i.senses for i in rest)
    behind = [i for i in items if i.i > topics[-1] and i.cat not in "MUW"]
    return named and light and not behind and _ends_with(cues, topics[-1], sentence)


def _ends_with(cues: Sequence[tuple[int, Sense]], at: int, sentence: range) -> bool:
    words = max(len(s.words.split()) for place, s in cues if place == at and s.cat == "topic")
    return at + words >= sentence.stop


def _due_when(message: Message, sentence: range, asked: Question) -> Question:
    """ "Who is due tomorrow", "what to buy until Sunday": the days to come that are asked about."""
    items = message.items([sentence], "future")
    ahead = stretch_ahead(items, message.settings.language, message.now.date())
    return replace(asked, since=ahead.first, until=ahead.last) if ahead is not None else asked


def _may_ask(message: Message, first: int | None, sentence: range) -> bool:
    """Whether a sentence with no question mark may be a question, before it is taken apart."""
    if first is None:
        return False
    return _asks(message, first) or any(message.cues_in(cat, sentence) for cat in ("ask", "topic"))


def _asks(message: Message, first: int) -> bool:
    return any(s.cat == "ask" for s in message.lexicon.cues.senses(message.keys[first]))


def _plans(message: Message, first: int, items: Sequence[Item]) -> bool:
    """ "will feed Ink tomorrow", "did the water", "do not feed Ink": an opening word that asks nothing.

    What asks turns subject and verb round ("will Ink eat", "did I feed Ink"); what tells does not.
    """
    opening = next((i for i in items if i.i <= first < i.j), None)
    if opening is None or first + 1 >= len(message.tokens):
        return False
    if _OPENS_A_PLAN.isdisjoint(opening.senses):
        return False
    nxt = next((i for i in items if i.i == opening.j), None)
    asks_of = any(s.cat == "topic" for s in message.cues.get(opening.i, (0, ()))[1])
    phrase = opening.j > opening.i + 1 and not {"future", "undone"}.isdisjoint(opening.senses)
    if phrase and nxt is not None and not asks_of:
        return True  # "going to order more dubia"
    if nxt is None or nxt.cat not in "WU":
        return False
    if "future" in opening.senses:
        return any(c.startswith("verb") for c in nxt.senses) or "did" in nxt.senses
    return any(c in nxt.senses for c in ("neg", "the", "a", "undone", "future"))


_OPENS_A_PLAN: Final = frozenset({"future", "did", "undone"})


def question_of(heard: Heard, names: ShelfNames) -> Question | None:
    """The question that words ask, or ``None`` where no topic is found."""
    topic = _topic(heard)
    if topic is None:
        return None
    tags = names.in_order(t for r in heard.refs for t in r.tags)
    if len(tags) == len(names.specimens) > 1:
        tags = ()  # "list everything in premolt"
    if topic in _OF_SPECIES and len(heard.refs) == 1 and heard.refs[0].species:
        return Question(topic=topic, species=heard.refs[0].species)
    kind = heard.kind()
    if topic is Topic.LAST and kind is not None and (heard.stretch is None or heard.latest):
        return Question(topic=topic, kind=kind, specimens=tags)
    if topic in {Topic.LAST, Topic.HISTORY}:
        since, until = heard.stretch or (None, None)
        return Question(topic=Topic.HISTORY, kind=kind, specimens=tags, since=since, until=until)
    if topic is Topic.DUE and (Topic.MOLT_INTERVAL.value in heard.topics or kind is Kind.WATERED):
        # "how often does Ink eat", "when does she need water"
        return Question(topic=topic, kind=kind, specimens=tags)
    if topic is Topic.NOT_EATEN:
        days = next((p.days for p in heard.periods if p.days), None)
        return Question(topic=topic, specimens=tags, days=days)
    return Question(topic=topic, specimens=tags)


def _topic(heard: Heard) -> Topic | None:
    found = _as_meant({Topic(t) for t in heard.topics}, heard)
    if Topic.LAST in found and heard.kind() is not None and Topic.NEXT_MOLT not in found:
        return Topic.LAST
    return next((topic for topic in _PRIORITY if topic in found), None) or _without_topic(heard)


def _as_meant(found: set[Topic], heard: Heard) -> set[Topic]:
    """The topics with those turned whose words mean another beside what happened and to whom."""
    for topic, turned in _TURNED:
        if topic in found and (meant := turned(heard, found)) is not None:
            found = (found - {topic}) | {meant}
    return found


def _without_topic(heard: Heard) -> Topic | None:
    """ "did Ink eat", "will she molt": what the verb alone asks."""
    kind = heard.kind()
    if not heard.refs:
        return Topic.HISTORY if kind is not None and heard.stretch is not None else None
    if kind is None:
        return Topic.STATUS
    if kind is Kind.MEASURED and not heard.ahead():
        return Topic.SIZE
    return _TO_COME.get(kind, Topic.LAST) if heard.ahead() else Topic.LAST


def _summary(heard: Heard, _found: set[Topic]) -> Topic | None:
    if len(heard.refs) == 1 and heard.refs[0].species:
        return None
    return Topic.HISTORY if _single(heard) else Topic.STATUS


def _rhythm(heard: Heard, _found: set[Topic]) -> Topic | None:
    """ "how often" asks for days between molts, unless it names something else."""
    kind = heard.kind()
    if kind in _OF_MOLTS:
        return None
    return Topic.DUE if kind in _ROUTINE else Topic.HISTORY


_TURNED: Final[tuple[tuple[Topic, Callable[[Heard, set[Topic]], Topic | None]], ...]] = (
    (Topic.NOT_EATEN, lambda heard, _found: Topic.LAST if _single(heard) else None),
    (Topic.SPECIES_SUMMARY, _summary),
    (
        Topic.COUNT,
        lambda heard, found: Topic.HISTORY if Topic.SHOPPING not in found and _counts_events(heard) else None,
    ),
    (Topic.MOLT_INTERVAL, _rhythm),
    # "how much does Ink eat"
    (Topic.SIZE, lambda heard, _found: Topic.HISTORY if heard.kind() is Kind.FED else None),
)


_OF_MOLTS: Final = frozenset({None, Kind.MOLTED, Kind.MATURED})
_OF_OWNING: Final = frozenset({Kind.ACQUIRED, Kind.LEFT, Kind.DIED})
_ROUTINE: Final = frozenset({Kind.FED, Kind.WATERED})


def _counts_events(heard: Heard) -> bool:
    """ "how many crickets did Ink eat", "how many times did she refuse": what happened, not the animals."""
    kind = heard.kind(weak=False)
    about_them = bool(heard.refs) and kind not in _OF_OWNING
    happened = kind is not None and (about_them or heard.stretch is not None)
    return happened or any("prey" in i.senses for i in heard.items)


def _single(heard: Heard) -> bool:
    return len(heard.refs) == 1 and len(heard.refs[0].tags) == 1
