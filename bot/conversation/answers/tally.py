"""What happened in a stretch of time, counted: "what did Ink eat in October", "who refused this week"."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from datetime import date
from typing import Final

from bot.conversation import wording
from bot.conversation.answers.subject import alike, asked_of, named, never_kept, not_living, thing
from bot.conversation.model import Reply
from bot.conversation.pages import fit
from bot.conversation.texts import say, say_of
from bot.conversation.turn import Turn
from bot.husbandry.prey import is_of_kind
from bot.reading.model import Question
from bot.reading.questions.stretches import Stretch
from bot.terms import Entry, Kind, Specimen
from storage.records import JournalEntry

_PAGE: Final = 15


def tally(turn: Turn, question: Question) -> list[Reply]:
    """How often a kind of thing happened, with the dates; of the whole shelf, to whom."""
    assert question.kind is not None
    if question.kind is Kind.STOCKED:
        return [_of_the_box(turn, question)]
    if not named(question):
        return [fit(turn, "\n".join(lines_of_everybody(turn, question, question.kind)), page_lines=2 * _PAGE)]
    blocks = [_of_one(turn, question, question.kind, animal) for animal in asked_of(turn, question)]
    return [fit(turn, "\n".join(blocks) or not_living(turn, question), page_lines=_PAGE)]


def _rows(turn: Turn, question: Question, kind: Kind, tag: str | None = None) -> tuple[JournalEntry, ...]:
    rows = turn.work.journal.entries(
        turn.shelf_id,
        tags=[tag] if tag else None,
        kinds=alike(kind),
        since=question.since,
        until=question.until,
    )
    return tuple(row for row in rows if of_prey(row.entry, question.prey))


def of_prey(entry: Entry, prey: str | None) -> bool:
    """Whether an entry is of a feeder, where one is asked about: a dubia roach is a roach."""
    if prey is None:
        return True
    return entry.prey is not None and is_of_kind(entry.prey, prey)


# --- one animal ------------------------------------------------------------------------------


def _of_one(turn: Turn, question: Question, kind: Kind, animal: Specimen) -> str:
    rows = _rows(turn, question, kind, animal.tag)
    span = _span(turn, question, rows)
    if not rows:
        return say("tally.never", who=animal.called, span=span, what=thing(kind, question.prey))
    times = wording.times(len(rows))
    what = _sum_of(rows)
    parts = [
        say("tally.one", who=animal.called, span=span, told=say_of("told", kind.value), times=times)
        if not what
        else say(
            "tally.one_with",
            who=animal.called,
            span=span,
            told=say_of("told", kind.value),
            times=times,
            what=what,
        )
    ]
    refused = len(_rows(turn, question, Kind.REFUSED, animal.tag)) if kind is Kind.FED else 0
    if refused:
        parts.append(say("tally.refused", times=wording.times(refused)))
    dates = [
        say("history.line", day=wording.date_of(row.entry.day, turn.today), what=turn.told(row.entry))
        for row in rows
    ]
    return "\n".join([" ".join(parts), *dates])


def _sum_of(rows: Sequence[JournalEntry]) -> str:
    """The prey of all meals together, by kind and size; nothing where a meal's count was not said."""
    eaten: Counter[tuple[str, str | None]] = Counter()
    for row in rows:
        entry = row.entry
        if entry.kind is not Kind.FED or entry.prey is None or entry.count is None:
            return ""
        eaten[entry.prey, entry.size] += entry.count
    return wording.listed([wording.meal(prey, n, size) for (prey, size), n in eaten.most_common()])


def _of_the_box(turn: Turn, question: Question) -> Reply:
    """The feeders that were bought in a time: all in all, and each with its day."""
    rows = _rows(turn, question, Kind.STOCKED)
    told, span = wording.capital(say_of("thing", Kind.STOCKED.value)), _span(turn, question, rows)
    if not rows:
        return turn.reply(say("tally.nothing", told=told, span=span))
    bought: Counter[tuple[str, str | None]] = Counter()
    for row in rows:
        if row.entry.prey is not None and row.entry.count is not None:
            bought[row.entry.prey, row.entry.size] += row.entry.count
    what = wording.listed([wording.meal(prey, n, size) for (prey, size), n in bought.most_common()])
    lines = [say("answer.card", who=f"{told}, {span}", what=what)]
    lines += [
        say("history.line", day=wording.date_of(row.entry.day, turn.today), what=turn.told(row.entry))
        for row in rows
    ]
    return fit(turn, "\n".join(lines), page_lines=_PAGE)


def prey_of_all(rows: Sequence[JournalEntry]) -> str:
    """The prey that all meals took whose count was said, by kind and size; each animal had so many."""
    went: Counter[tuple[str, str | None]] = Counter()
    for row in rows:
        if row.entry.prey is not None and row.entry.count is not None:
            went[row.entry.prey, row.entry.size] += row.entry.count * len(row.entry.specimens)
    return wording.listed([wording.meal(prey, n, size) for (prey, size), n in went.most_common()])


# --- everybody -------------------------------------------------------------------------------


def lines_of_everybody(turn: Turn, question: Question, kind: Kind) -> list[str]:
    """To whom a kind of thing happened in a time: how many they are, and a line for each."""
    rows = _rows(turn, question, kind)
    head = wording.capital(say_of("told", kind.value))
    span = _span(turn, question, rows)
    own: dict[str, list[JournalEntry]] = {}
    for row in rows:
        for tag in row.entry.specimens:
            own.setdefault(tag, []).append(row)
    if not own:
        told = (
            say("last.of_prey", thing=head, prey=wording.meal(question.prey, None, None))
            if question.prey
            else head
        )
        return [never_kept(turn) or say("tally.nobody", told=told, span=span)]
    one_day = question.since is not None and question.since == question.until
    times = sum(map(len, own.values()))
    lines = [
        say("tally.everybody", told=head, span=span, n=len(own))
        if times == len(own)
        else say("tally.everybody_in_all", told=head, span=span, n=len(own), times=wording.times(times))
    ]
    order = turn.shelf.in_order(own)
    if kind is Kind.REFUSED and not one_day:  # whoever does it most comes first
        order = sorted(order, key=lambda tag: -len(own[tag]))
    lines += [_line_of(turn, tag, own[tag], one_day=one_day) for tag in order]
    eaten = prey_of_all(rows) if kind is Kind.FED else ""
    if eaten:
        lines.insert(1, say("tally.used", what=eaten))
    return lines


def _line_of(turn: Turn, tag: str, rows: Sequence[JournalEntry], *, one_day: bool) -> str:
    """The latest, and how often; rows are newest first."""
    entry, who = rows[0].entry, turn.called(tag)
    what = turn.told(entry)
    if one_day:
        return say("tally.line_today", who=who, what=what)
    day = wording.day_of(entry.day, turn.today)
    if len(rows) > 1:
        return say("tally.line_of_several", who=who, times=wording.times(len(rows)), day=day)
    if what == say_of("told", entry.kind.value):
        return say("tally.line_alone", who=who, day=day)
    return say("tally.line", who=who, what=what, day=day)


def _span(turn: Turn, question: Question, rows: Sequence[JournalEntry]) -> str:
    return span_asked(turn, question, rows[-1].entry.day if rows else None)


def span_asked(turn: Turn, question: Question, first: date | None) -> str:
    """The time asked about in words; where none was said, since the ``first`` of its kind on record."""
    if question.since is None or question.until is None:
        return span_told(turn, None, first)
    return span_told(turn, Stretch(question.since, question.until), first)


def span_told(turn: Turn, days: Stretch | None, first: date | None) -> str:
    """Some days in words; without any, since the ``first`` of what is told on record."""
    if days is not None:
        return wording.span_of_days(days.first, days.last, turn.today)
    return say("tally.ever") if first is None else say("tally.since", day=wording.date_of(first, turn.today))
