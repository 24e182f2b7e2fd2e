"""How often, for whom and in which months, as it is told back."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence

from bot.conversation import wording
from bot.conversation.texts import say, say_of, words
from bot.conversation.wording import capital
from bot.husbandry import practice
from bot.round.model import SpecimenFacts
from bot.terms.schedule import Care, Group, Schedule, Scope, SlowMonths

_MOST_NAMES = 8


def group_name(group: Group) -> str:
    """Who they are, as it stands within a sentence: "slings", "Grammostola pulchra", "everyone"."""
    if group.scope is Scope.SPECIES:
        return str(group.value)
    return say("schedule.everyone") if group.value is None else say_of("schedule.stages", group.value)


def every(days: int) -> str:
    """ "every 4 days"."""
    return say("remind.every_day") if days == 1 else say("remind.every_days", n=days)


def names(facts: Iterable[SpecimenFacts]) -> str:
    """Some animals by name, the first few of many."""
    return wording.called([one.specimen for one in facts], most=_MOST_NAMES)


def said_for_each(own: Mapping[int, Sequence[SpecimenFacts]], groups: Mapping[Group, int]) -> str:
    """Who is fed or watered how often by a word of their own: "slings every 4 days, Ink every 10 days"."""
    whom = [(group_name(group), days) for group, days in sorted(groups.items())]
    whom += [(names(animals), days) for days, animals in sorted(own.items())]
    return ", ".join(say("schedule.one", who=who, every=every(days)) for who, days in whom)


def by_days(animals: Iterable[SpecimenFacts], work: Care) -> dict[int, list[SpecimenFacts]]:
    """The animals that have an interval of their own, by its days."""
    found = defaultdict(list)
    for facts in animals:
        days = facts.own_interval(work)
        if days is not None:
            found[days].append(facts)
    return dict(found)


def slow_months(slow: SlowMonths) -> str:
    """What slow months do, with the months and the figure that it rests on."""
    months = words("calendar.months")
    first, last = months[slow.first - 1], months[slow.last - 1]
    span = first if len(slow) == 1 else say("schedule.span", first=first, last=last)
    return say("schedule.slow", span=span, times=f"{practice.SLOW_MONTHS.value:g}")


def all_said(schedule: Schedule, shelf: Sequence[SpecimenFacts]) -> Iterator[str]:
    """A line for each thing that the keeper has said of how often, groups first; then the slow months."""
    for work in Care:
        groups = sorted((group, days) for (of, group), days in schedule.every.items() if of is work)
        for group, days in groups:
            yield say_of("schedule.line", work.value, who=capital(group_name(group)), every=every(days))
        for days, animals in sorted(by_days(shelf, work).items()):
            yield say_of("schedule.line", work.value, who=names(animals), every=every(days))
    if schedule.slow is not None:
        yield slow_months(schedule.slow)
