"""What a reading must not say of this shelf without a question: the doubts that need the journal.

- a taken meal of an animal that is sealed: did the burrow open?
- a second meal on the same day or within hours, told by another message: the same one, or again?
- a molt of a mature male, who has had his ultimate one
- a second molt within a few days: the same one, or another?
- anything of an animal after the day on which it died or left
- a word on a meal of an animal whose offer is open: see ``open_offers``
- a refusal beside a meal, a meal beside a molt, a sac beside a sac, two genera paired: see ``contradictions``
- a meal, a refusal or water of many at once, of whom some rest: see ``rest_checks``

Each check looks at the whole reading and gives a :class:`Doubt` or nothing. A doubt that was
answered is in ``passed`` and is not raised again.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import replace
from datetime import date, timedelta
from typing import Final

from bot.conversation import wording
from bot.conversation.changing import replaced as changed
from bot.conversation.contradictions import (
    ate_with_soft_fangs,
    refused_beside_a_meal,
    second_sac,
    two_genera,
)
from bot.conversation.doubts import Check, Doubt, Way, each, names_of, without
from bot.conversation.open_offers import may_be_an_offers
from bot.conversation.people import who_logged
from bot.conversation.rest_checks import some_rest
from bot.conversation.texts import say
from bot.conversation.turn import Turn
from bot.husbandry.journal import MOLT_KINDS
from bot.husbandry.state import SAME_MOLT_DAYS
from bot.reading.model import Reading, ReadingKind
from bot.reading.short_answers import speaks_of_another
from bot.terms import Entry, Kind, Stage
from storage.records import JournalEntry

_DAY: Final = timedelta(days=1)
#: So long after another person's entry a meal of the next day may still be the same one: an evening told
#: again after midnight (common practice, no source).
_ANOTHERS_MEAL: Final = timedelta(hours=12)
#: So long after one's own meal of an evening, one after midnight is asked about (common practice, no source).
_ONE_EVENING: Final = timedelta(hours=5)


def first_doubt(
    turn: Turn, reading: Reading, passed: Collection[str], replaced: Collection[int] = ()
) -> Doubt | None:
    """The first doubt that is not answered yet. ``replaced`` are journal entries about to be replaced."""
    for name, check in _CHECKS.items():
        if name not in passed:
            doubt = check(turn, reading, replaced)
            if doubt is not None:
                return doubt
    return None


# --- helpers --------------------------------------------------------------------------------


def _recoded(reading: Reading, kind: Kind, to: Kind, tags: Collection[str]) -> Reading:
    """The reading with these animals' entries of that kind turned into another kind."""
    others = without(reading, kind, tags).entries
    turned = tuple(
        Entry(kind=to, day=entry.day, time=entry.time, specimens=hit)
        for entry in reading.entries
        if entry.kind is kind and (hit := tuple(t for t in entry.specimens if t in tags))
    )
    return replace(reading, reading=ReadingKind.ENTRIES, entries=others + turned)


def _leave_out(turn: Turn, reading: Reading, kind: Kind, tags: Sequence[str], alone: str) -> Way:
    """The way that stores everything but these animals; ``alone`` is its label where they are all."""
    rest = without(reading, kind, tags)
    label = say("checks.leave_out", names=names_of(turn, tags)) if rest.entries else alone
    return Way(label, rest, word="no")


# --- the checks -----------------------------------------------------------------------------


def _gone(turn: Turn, reading: Reading, replaced: Collection[int]) -> Doubt | None:
    gone = {stored.specimen.tag: stored.gone_on for stored in turn.shelf.gone}
    for entry in reading.entries:
        for tag in entry.specimens:
            day = gone.get(tag)
            if day is None or entry.day < day:
                continue
            last = turn.work.journal.last(turn.shelf_id, tag, (Kind.DIED, Kind.LEFT))
            if last is None or last.id not in replaced:
                mine = last if last is not None and (not turn.helps or last.by == turn.keeper.id) else None
                return Doubt("gone", _gone_text(turn, tag, last), wrong=mine)
    return None


def _gone_text(turn: Turn, tag: str, last: JournalEntry | None) -> str:
    if last is None:
        return say("checks.not_here", who=turn.called(tag))
    day = wording.day_in_full(last.entry.day, turn.today)
    if last.entry.kind is Kind.DIED:
        return say("checks.died", who=turn.called(tag), day=day)
    return say("checks.left", who=turn.called(tag), day=day)


def _sealed(turn: Turn, reading: Reading, _replaced: Collection[int]) -> Doubt | None:
    opening = {tag for entry, tag in each(reading, Kind.OPENED, Kind.MOLTED)}
    hits: list[str] = []
    for entry, tag in each(reading, Kind.FED):
        facts = turn.facts.get(tag)
        since = facts.state.sealed_since if facts else None
        if since is not None and entry.day >= since and tag not in opening:
            hits.append(tag)
    if not hits:
        return None
    first = turn.facts[hits[0]].state.sealed_since
    assert first is not None
    names = names_of(turn, hits)
    opened = _with_opened(reading, hits)
    leave = _leave_out(turn, reading, Kind.FED, hits, say("checks.not_fed"))
    ways = [Way(say("checks.opened_and_ate"), opened, word="yes"), leave]
    if len({tag for _, tag in each(reading, Kind.FED)}) > len(hits):
        ways.reverse()
    if len(hits) == 1:
        text = say("checks.sealed_one", who=names, day=wording.day_in_full(first, turn.today))
    else:
        text = say("checks.sealed_many", names=names)
    return Doubt("sealed", text, tuple(ways))


def _with_opened(reading: Reading, tags: Sequence[str]) -> Reading:
    """The reading with the mouth of these burrows open on the day of the meal."""
    days = {tag: entry for entry, tag in each(reading, Kind.FED) if tag in tags}
    opened = tuple(
        Entry(kind=Kind.OPENED, day=meal.day, time=meal.time, specimens=(tag,)) for tag, meal in days.items()
    )
    return replace(reading, entries=opened + reading.entries)


def _fed_twice(turn: Turn, reading: Reading, replaced: Collection[int]) -> Doubt | None:
    fed = list(each(reading, Kind.FED))
    if not fed:
        return None
    # The state names the day of the last meal; only animals fed from the day before on can be doubled.
    suspects = {tag for entry, tag in fed if _fed_since(turn, tag, entry.day - _DAY)}
    hits: dict[str, JournalEntry] = {}
    for entry, tag in fed:
        if tag not in suspects:
            continue
        rows = turn.work.journal.entries(
            turn.shelf_id, tags=(tag,), kinds=(Kind.FED,), since=entry.day - _DAY, until=entry.day
        )
        earlier = [row for row in rows if row.id not in replaced and _may_be_the_same(turn, row, entry)]
        if earlier:
            hits[tag] = earlier[0]
    if not hits:
        return None
    tags = list(hits)
    entry = next(entry for entry, tag in fed if tag in hits)
    day = wording.day_of(hits[tags[0]].entry.day if len(tags) == 1 else entry.day, turn.today)
    again = Way(say("checks.fed_again"), reading, word="yes")
    now = _meal(entry)
    if len(tags) == 1:
        row = hits[tags[0]]
        when, before = _when_and_who(turn, row), _meal(row.entry)
        text = say("checks.fed_already", now=now, who=names_of(turn, tags), day=day, when=when, before=before)
    else:
        text = say("checks.fed_already_many", now=now, names=names_of(turn, tags), day=day)
    same = _leave_out(turn, reading, Kind.FED, tags, say("checks.same_meal"))
    return Doubt("fed_twice", text, (again, same, *_put_right(reading, entry, hits[tags[0]])))


def _put_right(reading: Reading, entry: Entry, row: JournalEntry) -> tuple[Way, ...]:
    """The meal on record told otherwise: it may be what is to be changed."""
    alone = len(reading.entries) == 1 and len(entry.specimens) == 1 and row.entry.day == entry.day
    otherwise = entry.details() and entry.details() != row.entry.details()
    return (Way(say("checks.change_meal"), reading, instead=(row,)),) if alone and otherwise else ()


def said_instead(turn: Turn, doubt: Doubt) -> Way | None:
    """ "Gave her a roach instead" just after that meal was stored: the way that changes it; else ``None``."""
    latest = turn.work.journal.latest_change(turn.shelf_id, turn.keeper.id)
    if latest is None or not speaks_of_another(turn.incoming.text):
        return None
    changing = (way for way in doubt.ways if way.instead and doubt.key == "fed_twice")
    return next((way for way in changing if {row.change_id for row in way.instead} == {latest.id}), None)


def _fed_since(turn: Turn, tag: str, day: date) -> bool:
    facts = turn.facts.get(tag)
    return facts is not None and facts.state.last_fed is not None and facts.state.last_fed >= day


def _may_be_the_same(turn: Turn, row: JournalEntry, entry: Entry) -> bool:
    """Whether a meal on record may be the one told: of its day, or of the day before and some hours old."""
    if row.entry.day == entry.day:
        return True
    if entry.day != turn.today:
        return False
    ago = turn.incoming.sent_at - row.recorded_at
    if row.by != turn.keeper.id:
        return ago <= _ANOTHERS_MEAL
    told_at_once = turn.day_of(row.recorded_at) == row.entry.day
    return told_at_once and ago <= _ONE_EVENING


def _meal(entry: Entry) -> str:
    return wording.meal_of(entry) or say("checks.a_meal")


def _when_and_who(turn: Turn, row: JournalEntry) -> str:
    """The clock time of an entry, and who recorded it where that was somebody else."""
    time = wording.clock(row.entry.time or row.recorded_at.astimezone(turn.now.tzinfo))
    if row.by == turn.keeper.id or turn.work.keepers.name_of(row.by) is None:
        return say("checks.at", time=time)
    return say("checks.at_by", time=time, name=who_logged(turn, row.by))


def _male_molt(turn: Turn, reading: Reading, _replaced: Collection[int]) -> Doubt | None:
    for entry, tag in each(reading, Kind.MOLTED):
        facts = turn.facts.get(tag)
        stage = facts.state.stage or facts.specimen.stage if facts else None
        if stage is Stage.MATURE_MALE:
            text = say("checks.mature_male", who=turn.called(tag))
            ways = (
                Way(say("checks.log_anyway"), reading, word="yes"),
                Way(say("checks.checked_only"), _recoded(reading, entry.kind, Kind.CHECKED, {tag})),
                Way(say("checks.nothing"), without(reading, Kind.MOLTED, {tag}), word="no"),
            )
            return Doubt("male_molt", text, ways)
    return None


def _molted_twice(turn: Turn, reading: Reading, replaced: Collection[int]) -> Doubt | None:
    near = timedelta(days=SAME_MOLT_DAYS)
    for entry, tag in each(reading, *MOLT_KINDS):
        facts = turn.facts.get(tag)
        last = facts.state.last_molted if facts else None
        if last is None or not abs(entry.day - last) < near:
            continue
        rows = turn.work.journal.entries(
            turn.shelf_id,
            tags=(tag,),
            kinds=MOLT_KINDS,
            since=entry.day - near + _DAY,
            until=entry.day + near - _DAY,
        )
        earlier = [row for row in rows if row.id not in replaced]
        if earlier:
            day = wording.day_in_full(earlier[0].entry.day, turn.today)
            text = say("checks.molted_already", who=turn.called(tag), day=day)
            ways = (
                _same_molt(reading, entry, tag, earlier),
                Way(say("checks.another_molt"), reading, word="yes"),
            )
            return Doubt("molted_twice", text, ways)
    return None


def _same_molt(reading: Reading, entry: Entry, tag: str, earlier: Sequence[JournalEntry]) -> Way:
    """One molt told twice; where it is now told as the one that made him mature, it was that one."""
    rest = without(reading, entry.kind, {tag})
    if entry.kind is not Kind.MATURED or any(row.entry.kind is Kind.MATURED for row in earlier):
        return Way(say("checks.same_molt"), rest, word="no")
    matured = changed(earlier[0].entry, {"kind": Kind.MATURED})
    told = replace(reading, reading=ReadingKind.ENTRIES, entries=(*rest.entries, matured))
    return Way(say("checks.same_molt"), told, word="no", instead=tuple(earlier))


_CHECKS: Final[dict[str, Check]] = {
    "gone": _gone,
    "resting": some_rest,
    "sealed": _sealed,
    "male_molt": _male_molt,
    "molted_twice": _molted_twice,
    "offer": may_be_an_offers,
    "fed_twice": _fed_twice,
    "soft_fangs": ate_with_soft_fangs,
    "ate_already": refused_beside_a_meal,
    "second_sac": second_sac,
    "two_genera": two_genera,
}
