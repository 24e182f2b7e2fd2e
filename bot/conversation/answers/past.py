"""What was: when something last happened, the history, who has not eaten."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from datetime import date
from itertools import groupby, pairwise
from statistics import median
from typing import Final

from bot.conversation import next_up, wording
from bot.conversation.answers.subject import alike, asked_of, named, never_kept, thing
from bot.conversation.answers.tally import of_prey, tally
from bot.conversation.model import Reply
from bot.conversation.pages import fit
from bot.conversation.people import who_logged
from bot.conversation.texts import say, say_of
from bot.conversation.turn import Turn
from bot.husbandry.journal import MOLT_KINDS
from bot.husbandry.state import SpecimenState
from bot.husbandry.water_places import are_told_apart
from bot.reading.model import Question
from bot.terms import Kind, Specimen, WaterHow
from storage.records import JournalEntry

_HISTORY_MOST: Final = 300
_HISTORY_PAGE: Final = 15


def last(turn: Turn, question: Question) -> list[Reply]:
    """When a kind of thing last happened to the animals asked about, with the date and days ago."""
    kinds = alike(question.kind) if question.kind else None
    animals = asked_of(turn, question)
    if question.everyone and question.kind is not None and turn.shelf.specimens:
        return [fit(turn, "\n".join(_of_everyone(turn, question.kind)))]
    if not named(question):
        return [turn.reply(_last_of_all(turn, question, kinds))]
    if not animals:
        return [turn.reply(say("answer.none_of_species", species=question.species or ""))]
    lines = [_last_line(turn, question, animal, kinds) for animal in animals]
    return [fit(turn, "\n".join(lines))]


def _of_everyone(turn: Turn, kind: Kind) -> list[str]:
    """When a kind of thing last happened to each animal, the longest ago first, those it never did before."""
    latest = latest_of(turn, kind)
    ordered = sorted(turn.shelf.specimens, key=lambda animal: latest.get(animal.tag, date.min))
    head = say("last.of_each", what=wording.capital(say_of("told", kind.value)))
    return [head, *(day_line(turn, animal, kind, latest) for animal in ordered)]


def latest_of(turn: Turn, kind: Kind) -> dict[str, date]:
    """The last day of a kind of thing for each animal that it ever happened to."""
    latest: dict[str, date] = {}
    for row in turn.work.journal.entries(turn.shelf_id, kinds=alike(kind)):
        for tag in row.entry.specimens:
            latest.setdefault(tag, row.entry.day)
    return latest


def day_line(turn: Turn, animal: Specimen, kind: Kind, latest: Mapping[str, date]) -> str:
    """An animal with the last day of a kind of thing, or that it never happened."""
    if animal.tag not in latest:
        return say("last.never", who=animal.called, what=thing(kind))
    day = wording.day_and_ago(latest[animal.tag], turn.today)
    return say("not_eaten.line", who=animal.called, day=day)


def _last_of_all(turn: Turn, question: Question, kinds: Collection[Kind] | None) -> str:
    prey = question.prey
    rows = turn.work.journal.entries(turn.shelf_id, kinds=kinds, limit=None if prey else 1)
    rows = tuple(row for row in rows if of_prey(row.entry, prey))
    if not rows:
        return never_kept(turn) or say("last.never_anyone", what=thing(question.kind, prey))
    row = rows[0]
    who = turn.called(row.entry.specimens[0]) if row.entry.specimens else say("answer.shelf")
    return say(
        "last.found",
        who=who,
        what=turn.told(row.entry),
        day=wording.day_and_ago(row.entry.day, turn.today),
    )


def _last_line(turn: Turn, question: Question, animal: Specimen, kinds: Collection[Kind] | None) -> str:
    row = _last_row(turn, question.prey, animal.tag, kinds or tuple(Kind))
    if row is None:
        return _never(turn, question, animal)
    line = say(
        "last.found",
        who=animal.called,
        what=turn.told(row.entry),
        day=wording.day_and_ago(row.entry.day, turn.today),
    )
    return " ".join(part for part in (line, _since(turn, question, animal, row)) if part)


def _last_row(turn: Turn, prey: str | None, tag: str, kinds: Collection[Kind]) -> JournalEntry | None:
    if prey is None:
        return turn.work.journal.last(turn.shelf_id, tag, kinds)
    rows = turn.work.journal.entries(turn.shelf_id, tags=(tag,), kinds=kinds)
    return next((row for row in rows if of_prey(row.entry, prey)), None)


def _since(turn: Turn, question: Question, animal: Specimen, row: JournalEntry) -> str:
    """What has to be known beside it: refusals since the meal, the molt before, that a sac is there."""
    facts = turn.facts.get(animal.tag)
    if question.kind is Kind.MOLTED:
        between = intervals(turn, animal.tag)
        return say("last.gap_before", days=wording.days(between[-1])) if between else ""
    if question.kind is Kind.SAC:
        return say("last.sac_there") if facts is not None and facts.state.sac_since is not None else ""
    if facts is None:
        return ""
    state = facts.state
    if question.kind is Kind.WATERED and are_told_apart(state):
        return _other_places(turn, state, row)
    if question.kind is not Kind.FED:
        return ""
    parts = []
    if state.refusals and state.last_refused and state.last_refused >= row.entry.day:
        day = wording.day_of(state.last_refused, turn.today)
        parts.append(say("last.refused_since", n=state.refusals, day=day))
    parts.append(next_up.rest_line(turn, animal.tag))
    return " ".join(part for part in parts if part)


def _other_places(turn: Turn, state: SpecimenState, row: JournalEntry) -> str:
    """The last water of the place that the last entry was not of; one without a place was of both."""
    if row.entry.how is None:
        return ""
    place, other = (
        ("substrate", state.last_dampened) if row.entry.how is WaterHow.DISH else ("dish", state.last_dish)
    )
    return (
        say_of("last_water", place, day=wording.day_and_ago(other, turn.today)) if other is not None else ""
    )


def _never(turn: Turn, question: Question, animal: Specimen) -> str:
    facts = turn.facts.get(animal.tag)
    since = facts.state.first_entry or facts.added_on if facts else None
    what = thing(question.kind, question.prey)
    if since is None:
        return say("last.never", who=animal.called, what=what)
    day = wording.date_of(since, turn.today)
    return say("last.never_since", who=animal.called, what=what, day=day)


# --- history --------------------------------------------------------------------------------


def history(turn: Turn, question: Question) -> list[Reply]:
    """The journal of the animals asked about, newest first, a line for each day and animal.

    One kind of thing is counted instead.
    """
    if question.kind is not None:
        return tally(turn, question)
    tags = tuple(animal.tag for animal in asked_of(turn, question)) if named(question) else None
    rows = turn.work.journal.entries(
        turn.shelf_id, tags=tags, since=question.since, until=question.until, limit=_HISTORY_MOST
    )
    single = tags is not None and len(tags) == 1
    who = wording.called(asked_of(turn, question), most=4) if tags else say("answer.shelf")
    within = (
        wording.span_of_days(question.since, question.until, turn.today)
        if question.since is not None and question.until is not None
        else None
    )
    if not rows:
        empty = say("history.empty_within", who=who, span=within) if within else say("history.empty", who=who)
        return [turn.reply(never_kept(turn) or empty)]
    lines = []
    if within:
        lines = [say("history.within", who=who, span=within)]
    elif single:
        lines = [say("history.of", who=who)]
    for (day, of), group in groupby(rows, key=lambda row: (row.entry.day, _subject(turn, row))):
        what = ", ".join(_credited(turn, row) for row in group)
        who = "" if single else of
        date = wording.date_of(day, turn.today)
        lines.append(
            say("history.line_of", day=date, who=who, what=what)
            if who
            else say("history.line", day=date, what=what)
        )
    if len(rows) == _HISTORY_MOST:
        lines.append(say("history.older", n=_HISTORY_MOST))
    return [fit(turn, "\n".join(lines), page_lines=_HISTORY_PAGE)]


def _subject(turn: Turn, row: JournalEntry) -> str:
    """Of what an entry is: an animal, a place; empty for the room and the feeder box."""
    if row.entry.specimens:
        return turn.called(row.entry.specimens[0])
    return wording.capital(row.entry.place or "")


def _credited(turn: Turn, row: JournalEntry) -> str:
    """What an entry says, and who logged it where that was somebody else."""
    told = turn.told(row.entry)
    if row.by == turn.keeper.id or not turn.work.keepers.name_of(row.by):
        return told
    return say("handover.by", what=told, who=who_logged(turn, row.by))


# --- molts ----------------------------------------------------------------------------------


def molt_interval(turn: Turn, question: Question) -> list[Reply]:
    """How many days lay between an animal's molts, by its own record, with how many there were."""
    lines = [_interval_line(turn, animal) for animal in asked_of(turn, question)]
    return [fit(turn, "\n".join(lines) or say("answer.empty_shelf"))]


def intervals(turn: Turn, tag: str) -> list[int]:
    """The days between one recorded molt of an animal and the next, oldest first."""
    rows = turn.work.journal.entries(turn.shelf_id, tags=(tag,), kinds=MOLT_KINDS, newest_first=False)
    found = [row.entry.day for row in rows]
    return [(later - earlier).days for earlier, later in pairwise(found)]


def _interval_line(turn: Turn, animal: Specimen) -> str:
    between = intervals(turn, animal.tag)
    if not between:
        return say("molt.no_interval", who=animal.called)
    if len(between) == 1:
        return say("molt.one_interval", who=animal.called, days=wording.days(between[0]))
    return say(
        "molt.intervals",
        who=animal.called,
        low=min(between),
        high=max(between),
        median=round(median(between)),
        n=len(between),
    )
