"""Which topic the words of a question ask about, and the question they make."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from datetime import date
from typing import Final

from bot.reading.items.item import Item, Ref
from bot.reading.items.lengths import length_in
from bot.reading.model import Topic
from bot.reading.questions.ideas import Ideas, topics_of
from bot.reading.questions.stretches import Stretch
from bot.reading.words.rule_words import rule_openings, rule_words
from bot.reading.words.word_groups import Group
from bot.terms import Kind

#: When the words of several topics are there, the first of these that fits is meant.
_PRIORITY: Final = (
    Topic.NOT_EATEN,
    Topic.NOT_SINCE,
    Topic.HOME,
    Topic.MEAL,
    Topic.REHOUSE_DUE,
    Topic.MATURITY,
    Topic.GROWTH,
    Topic.MOLT_INTERVAL,
    Topic.NEXT_MOLT,
    Topic.STOCK,
    Topic.SPENDING,
    Topic.SHOPPING,
    Topic.SPECIES_SUMMARY,
    Topic.PREMOLT_NOW,
    Topic.SEALED_NOW,
    Topic.DUE,
    Topic.WHERE,
    Topic.CLIMATE,
    Topic.SIZE,
    Topic.COUNT,
    Topic.HISTORY,
    Topic.LAST,
    Topic.STATUS,
)


_OTHER_THINGS: Final = frozenset({"weather", "people", "stranger"})
#: What verbs do that may stand for anything: "has she got …", "did I give …".
_LIGHT: Final = frozenset({"get", "have", "give", "take", "put", "buy", "move", "new", "new_home"})


class Heard:
    """The words of a question: cue phrases, items of the account, animals, ideas, and the time it is about.

    ``asking`` are the tokens of the phrase that asks ("could you check"), which tells of nothing.
    """

    def __init__(
        self,
        topics: set[str],
        items: Sequence[Item],
        refs: Sequence[Ref],
        stretch: Stretch | None,
        ideas: Ideas,
        asking: range,
        today: date,
        *,
        latest: bool,
    ) -> None:
        self.items = [i for i in items if i.i not in asking]
        self.refs, self.stretch, self.ideas, self.latest = refs, stretch, ideas, latest
        self.today = today
        self.periods = [i.val for i in items if i.cat == "P"]
        self.topics = topics | {topic.value for topic in self._by_ideas()}

    def kind(self, *, weak: bool = True) -> Kind | None:
        """What the question asks about having happened; ``weak`` verbs are "have", "got" and the like."""
        if self.bought_feeders():
            return Kind.STOCKED
        surely = next(self._told(lambda group: not group.weak and not (weak and group.noun)), None)
        if surely is not None or not weak:
            return surely
        named = next((kind for _, kind in self.ideas.kinds), None)
        if named is not None:
            return named
        return next(self._told(lambda group: group.act not in _LIGHT), None) or next(
            self._told(lambda _group: True, helping=True), None
        )

    def _told(self, fits: Callable[[Group], bool], *, helping: bool = False) -> Iterator[Kind]:
        for item in self.items:
            if not helping and ("did" in item.senses or "fill" in item.senses):
                continue
            for verb in item.senses.verbs:
                if verb.group.kind is not None and fits(verb.group):
                    yield verb.group.kind

    def counts_prey(self) -> bool:
        """Whether it asks for the number of feeders that went: "how many crickets did I use"."""
        past = not {"past", "when did"}.isdisjoint(self.ideas.at)
        return past and any("prey" in i.senses or "feeder_food" in i.senses for i in self.items)

    def bought_feeders(self) -> bool:
        """Whether it asks for feeders that were bought: "when did I last buy crickets"."""
        said = self.ideas.at.keys()
        feeders = "feeders" in said or any("prey" in i.senses for i in self.items)
        return "bought" in said and feeders and not self.refs and not said.isdisjoint({"past", "latest"})

    def several_last(self) -> bool:
        """ "her last 3 molts": the last of several, and not the last one."""
        numbers = [i.val.value for i in self.items if i.cat == "N" and i.val.value]
        return "many" in self.ideas.at and any(n > 1 for n in numbers)

    def prey(self) -> str | None:
        """The feeder that is asked about."""
        return next((i.senses["prey"].group.prey for i in self.items if "prey" in i.senses), None)

    def ahead(self) -> bool:
        """Whether it is about what is yet to happen: "will Ink molt soon"."""
        return any("future" in item.senses for item in self.items)

    def happened(self) -> bool:
        """Whether it is about what has happened: "who died", "did any molt", no "can someone feed them".

        A word that is not understood may ask something else: "which of them refused twice running".
        """
        covered = self.ideas.covered
        if any(i.cat == "U" and not covered.issuperset(range(i.i, i.j)) for i in self.items):
            return False
        verbs = [verb for i in self.items for verb in i.senses.verbs]
        return any(not s.group.base for s in verbs) or any("did" in i.senses for i in self.items)

    def of_other_things(self) -> bool:
        """Whether it is about the weather or the bot: "what's the weather doing", "how are you"."""
        return any(item.text in _YOU or not _OTHER_THINGS.isdisjoint(item.senses) for item in self.items)

    def asks_when(self) -> bool:
        """Whether it asks for a time: "when did I last weigh Ink", no "what did she weigh last"."""
        return not {"when", "how long", "past"}.isdisjoint(self.ideas.at) and "what" not in self.ideas.at

    def days(self) -> int | None:
        """A length of time that is said, in days: "for 3 weeks", "gone a month"."""
        of_periods = next((p.days for p in self.periods if p.days), None)
        return of_periods or length_in(self.items) or self._days_back()

    def _since_a_day(self) -> bool:
        """Whether the time it is about reaches back: "hasn't molted this year"."""
        return self.stretch is not None and self.stretch.first <= self.today

    def _days_back(self) -> int | None:
        """ "was over 3 weeks ago": the days since a day before which it was."""
        spans = [i.val for i in self.items if i.cat == "D"] if "over" in self.ideas.at else []
        return next((d for s in spans if s.day and (d := (self.today - s.day).days) > 0), None)

    def _by_ideas(self) -> Iterator[Topic]:
        if not self.ideas:
            return iter(())
        who = "none" if not self.refs else "one" if single(self) else "many"
        more = {
            "length": self.days() is not None,
            "a time": self.days() is not None or self._since_a_day(),
            "feeders": any("prey" in i.senses for i in self.items),
            "of a species": len(self.refs) == 1 and self.refs[0].species is not None,
            "a home": any(i.senses.part == "box" for i in self.items),
            "latest before": self.ideas.before("latest"),
            "between before": self.ideas.before("between", Kind.MOLTED),
        }
        return topics_of(
            self.ideas, self.kind(), frozenset(name for name, is_so in more.items() if is_so), who
        )


_YOU: Final = rule_words("bare_you")


#: What a question about the future of these is about.
_TO_COME: Final[dict[Kind | None, Topic]] = {
    Kind.MOLTED: Topic.NEXT_MOLT,
    Kind.FED: Topic.DUE,
    Kind.WATERED: Topic.DUE,
    Kind.REHOUSED: Topic.REHOUSE_DUE,
    Kind.MATURED: Topic.MATURITY,
    Kind.MEASURED: Topic.GROWTH,
}


def topic_of(heard: Heard) -> Topic | None:
    """The topic that the words turn on, ``None`` where there is none."""
    found = _as_meant({Topic(t) for t in heard.topics}, heard)
    if heard.latest and "ahead" not in heard.ideas.at:
        found.discard(Topic.NEXT_MOLT)  # "Ink's last molt date"
    over = _OVER_LAST if heard.asks_when() else _OVER_LAST | {Topic.SIZE}
    if Topic.LAST in found and heard.kind() is not None and found.isdisjoint(over):
        return Topic.LAST
    return next((topic for topic in _PRIORITY if topic in found), None) or _without_topic(heard)


#: What is asked with "last", of something else than when it was: "whose last meal was over a month ago".
_OVER_LAST: Final = frozenset({Topic.NEXT_MOLT, Topic.NOT_EATEN})


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
        of_whom = heard.stretch is not None or ("somebody" in heard.ideas.at and heard.happened())
        return Topic.HISTORY if kind is not None and of_whom else None
    if kind is None:
        return Topic.STATUS
    if heard.items[0].text.startswith(_ALL_OF):
        return Topic.HISTORY  # "all of Saffron's molts"
    if kind is Kind.MEASURED and not heard.ahead():
        return Topic.SIZE
    return _TO_COME.get(kind, Topic.LAST) if heard.ahead() else Topic.LAST


_ALL_OF: Final = rule_openings("all_of_alone")


def _summary(heard: Heard, _found: set[Topic]) -> Topic | None:
    if len(heard.refs) == 1 and heard.refs[0].species:
        return None
    return Topic.HISTORY if single(heard) else Topic.STATUS


def _of_the_species(heard: Heard) -> Topic:
    """ "overview for Poecilotheria regalis": of the species; "how is the regalis doing" is of the animal."""
    asked = any(item.text.partition(" ")[0] in _OVERVIEWS for item in heard.items if item.cat in "UW")
    named = bool(heard.refs) and all(ref.how == "species" for ref in heard.refs)
    return Topic.SPECIES_SUMMARY if asked and named else Topic.STATUS


_OVERVIEWS: Final = rule_words("overviews")


def _rhythm(heard: Heard, _found: set[Topic]) -> Topic | None:
    """ "how often" asks for days between molts, unless it names something else."""
    kind = heard.kind()
    if kind in _OF_MOLTS:
        return None
    return Topic.DUE if kind in _ROUTINE else Topic.HISTORY


_TURNED: Final[tuple[tuple[Topic, Callable[[Heard, set[Topic]], Topic | None]], ...]] = (
    (Topic.NOT_EATEN, lambda heard, _found: Topic.LAST if single(heard) else None),
    (Topic.SPECIES_SUMMARY, _summary),
    (Topic.STATUS, lambda heard, _found: _of_the_species(heard)),
    (
        Topic.COUNT,
        lambda heard, found: Topic.HISTORY if Topic.SHOPPING not in found and _counts_events(heard) else None,
    ),
    # "what do I feed today", "what feeders do I need": no animal is named that they would have to fit
    (Topic.MEAL, lambda heard, found: None if heard.refs else _FED_OR_BOUGHT[Topic.SHOPPING in found]),
    (Topic.MOLT_INTERVAL, _rhythm),
    # "how many feeders did they eat this month": those that went, not those to buy
    (Topic.SHOPPING, lambda heard, _found: Topic.HISTORY if _went(heard) else Topic.SHOPPING),
    # "who sealed in April": who did then, not who is now
    (Topic.SEALED_NOW, lambda heard, _found: _then(heard, Kind.SEALED)),
    (Topic.PREMOLT_NOW, lambda heard, _found: _then(heard, Kind.PREMOLT)),
    # "how much does Ink eat"
    (Topic.SIZE, lambda heard, _found: Topic.HISTORY if heard.kind(weak=False) is Kind.FED else None),
)


_FED_OR_BOUGHT: Final[Mapping[bool, Topic]] = {False: Topic.DUE, True: Topic.SHOPPING}


def _went(heard: Heard) -> bool:
    over = heard.stretch is not None and heard.stretch.first <= heard.today
    return over and "past" in heard.ideas.at and heard.kind() in {Kind.FED, Kind.STOCKED}


def _then(heard: Heard, kind: Kind) -> Topic | None:
    over = heard.stretch is not None and heard.stretch.last < heard.today
    return Topic.HISTORY if over and heard.kind() is kind else None


_OF_MOLTS: Final = frozenset({None, Kind.MOLTED, Kind.MATURED})
_OF_OWNING: Final = frozenset({Kind.ACQUIRED, Kind.LEFT, Kind.DIED})
_ROUTINE: Final = frozenset({Kind.FED, Kind.WATERED})


_OF_ANIMALS_ASKED: Final = frozenset({"spiders", "collection"})


def _counts_events(heard: Heard) -> bool:
    """ "how many crickets did Ink eat", "how many times did she refuse": what happened, not the animals."""
    kind = heard.kind(weak=False)
    if (
        "number" in heard.ideas.at
        and heard.ideas.kinds
        and heard.ideas.at.keys().isdisjoint(_OF_ANIMALS_ASKED)
    ):
        return heard.stretch is not None or bool(heard.refs)  # "how many feedings last month"
    about_them = bool(heard.refs) and kind not in _OF_OWNING
    happened = kind is not None and (about_them or heard.stretch is not None)
    return happened or any("prey" in i.senses for i in heard.items)


def single(heard: Heard) -> bool:
    """Whether it is about one animal."""
    return len(heard.refs) == 1 and len(heard.refs[0].tags) == 1
