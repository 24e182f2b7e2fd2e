"""Answers to the round in words, read against that round: "all took except 3", "only water today"."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from typing import Any, Final

from bot.conversation.model import Reply
from bot.conversation.people import name_of
from bot.conversation.reminders import on_the_calendar
from bot.conversation.round_board import (
    by_button,
    does,
    feeds,
    newest_open,
    of_round,
    over,
    shown,
    still_open,
)
from bot.conversation.round_items import items_now
from bot.conversation.round_named import ends_with, meant_by
from bot.conversation.round_opening import opened_today
from bot.conversation.round_put_off import later, skip
from bot.conversation.round_settings import today_held_off
from bot.conversation.round_talk import some_refused
from bot.conversation.round_ticks import tick
from bot.conversation.round_words import REST, is_open
from bot.conversation.texts import say
from bot.conversation.turn import Choice, Turn, rows_of
from bot.conversation.wording import listed
from bot.reading import read, reading_to_store
from bot.reading.model import Reading, ReadingKind
from bot.reading.round_answers import RoundAnswer, Said, moment_said, read_round_answer, said_of_them
from bot.round.model import TaskKind
from bot.terms.walltime import instant_of
from storage.records import Occurrence, Prompt

_EVERYTHING: Final = frozenset({TaskKind.FEED.value, TaskKind.WATER.value, TaskKind.CHECK.value})
_FEED: Final = frozenset({TaskKind.FEED.value})
_WATER: Final = frozenset({TaskKind.WATER.value})

_MEANT: Final[dict[Said, frozenset[str]]] = {
    Said.DONE: _EVERYTHING,
    Said.TOOK: _FEED,
    Said.FED_ALL: _FEED,
    Said.FED_DUE: _FEED,
    Said.REFUSED: _FEED,
    Said.WATERED: _WATER,
    Said.WATERED_ALL: _WATER,
    Said.WATERED_DUE: _WATER,
}
#: What is said of those who are due, whether they were shown or not.
_OF_THOSE_DUE: Final = frozenset({Said.FED_DUE, Said.WATERED_DUE})
#: Without a round these say nothing by themselves; the others are left to the ordinary reading.
_OF_A_ROUND: Final = frozenset({Said.DONE, Said.WATERED})
_PUT_OFF: Final = frozenset({Said.LATER, Said.SKIP})


def typed(turn: Turn) -> list[Reply] | None:
    """A message read as an answer to the newest open round; ``None`` where it is none."""
    answer = read_round_answer(turn.incoming.text, turn.settings.language)
    if answer is None:
        return None
    latest = newest_open(turn)
    if answer.said is Said.NO_ROUND:
        return _no_round_today(turn, latest)
    if latest is None:
        return _without_round(turn, answer)
    if answer.said in _PUT_OFF:
        return _put_off(turn, latest, answer)
    if answer.said is Said.SOME:
        return _some(turn, latest, answer)
    if answer.said is Said.FED_ALL:
        return _round_or_shelf(turn, latest)
    return _answered(turn, latest, answer)


def _some(turn: Turn, occurrence: Occurrence, answer: RoundAnswer) -> list[Reply] | None:
    """Some refused that are not named, of the whole round or of a place of it: it is asked who."""
    asked = feeds(items_now(turn, occurrence))
    only, strange = meant_by(turn, answer.only, asked)
    if strange or not asked:
        return None
    if not answer.only:
        return some_refused(turn, occurrence, {})
    if not any(item["tag"] in only for item in asked):
        return [turn.reply(say("round.nothing_of_that"))]
    return some_refused(turn, occurrence, {"tags": sorted(only)})


def _no_round_today(turn: Turn, latest: Occurrence | None) -> list[Reply]:
    """ "No round today": what is left of today's is skipped, and where it is yet to come it does not come."""
    if latest is not None and latest.day == turn.today:
        return skip(turn, latest, {})
    held = None if turn.helps else today_held_off(turn)
    if held is not None:
        return [held]
    opened = None if turn.helps else opened_today(turn)
    return skip(turn, opened, {}) if opened is not None else [turn.reply(say("round.none_open"))]


def _put_off(turn: Turn, occurrence: Occurrence, answer: RoundAnswer) -> list[Reply] | None:
    """Later, or not in this round: all that is left of it, or some animals of it."""
    items = [item for item in items_now(turn, occurrence) if is_open(item)]
    only, strange = meant_by(turn, answer.only, items)
    if strange:
        return None
    which = {"tags": sorted(only)} if answer.only else {}
    if answer.said is Said.SKIP:
        return skip(turn, occurrence, which)
    if not answer.at and not answer.after:
        return later(turn, occurrence, which)
    words, what = moment_said(answer, turn.settings.language)
    wanted = read(words, turn.shelf.names, now=turn.now, settings=turn.settings).reminder
    if wanted is None or wanted.time is None or wanted.repeats or not what.endswith(wanted.what):
        return None
    moment = instant_of(
        on_the_calendar(turn, wanted.day or turn.today, wanted.time), wanted.time, turn.settings.zone
    )
    return later(turn, occurrence, {"at": moment})


def _without_round(turn: Turn, answer: RoundAnswer) -> list[Reply] | None:
    """Those due are looked up; what only answers a round is not taken before one was shown."""
    if answer.said in _PUT_OFF and not (answer.only or answer.at or answer.after):
        return [turn.reply(say("round.none_open"))]
    nobody_ate = answer.said is Said.REFUSED and not answer.out
    if answer.only or not (nobody_ate or answer.said in _OF_A_ROUND | _OF_THOSE_DUE):
        return None
    opened = opened_today(turn)
    if nobody_ate:
        return _nobody_ate(turn, opened)
    if answer.said in _OF_THOSE_DUE:
        return [turn.reply(say("round.nobody_due"))] if opened is None else _answered(turn, opened, answer)
    if opened is None:
        return [turn.reply(say("round.none_open"))]
    return [turn.reply(say("round.not_shown")), shown(turn, opened, items_now(turn, opened))]


def _nobody_ate(turn: Turn, opened: Occurrence | None) -> list[Reply] | None:
    """ "Nobody ate" with no round shown: those who are due, or the whole shelf? It is asked."""
    due = feeds(items_now(turn, opened)) if opened is not None else []
    if opened is None or not due:
        return None
    refused = [item["tag"] for item in due]
    choices = [Choice(say("round.those_due", n=len(due)), does(opened, "save", refused=refused))]
    if turn.reading.reading is ReadingKind.ENTRIES:
        everyone = {tag for entry in turn.reading.entries for tag in entry.specimens}
        stored = {"do": "take", "reading": reading_to_store(turn.reading), "origin": turn.origin}
        choices.append(Choice(say("round.whole_shelf", n=len(everyone)), stored))
    choices.append(Choice(say("button.none_of_these"), {"do": "none"}))
    return [
        turn.reply(say("round.who_left_it", names=_names(turn, refused)), rows_of(choices, 1), pending={})
    ]


def _names(turn: Turn, tags: Sequence[str]) -> str:
    return listed([turn.called(tag) for tag in tags], most=12)


def _round_or_shelf(turn: Turn, occurrence: Occurrence) -> list[Reply] | None:
    """ "Everyone ate": those that the round asked for, or the whole shelf? It is asked."""
    asked = feeds(items_now(turn, occurrence))
    if not asked or turn.reading.reading is not ReadingKind.ENTRIES:
        return None
    fed = {tag for entry in turn.reading.entries for tag in entry.specimens}
    choices = [
        Choice(say("round.those_of_it", n=len(asked)), does(occurrence, "took")),
        Choice(
            say("round.whole_shelf", n=len(fed)),
            {"do": "take", "reading": reading_to_store(turn.reading), "origin": turn.origin},
        ),
    ]
    return [turn.reply(say("round.who_ate"), rows_of(choices, 1), pending={})]


def _answered(turn: Turn, occurrence: Occurrence, answer: RoundAnswer) -> list[Reply] | None:
    items = [
        item
        for item in items_now(turn, occurrence)
        if by_button(item) and item["task"] in _MEANT[answer.said]
    ]
    asked = _tag_or_count(turn, occurrence, answer, len({item["tag"] for item in items}))
    if asked is not None:
        return [asked]
    out, unknown = meant_by(turn, answer.out, items)
    only, strange = meant_by(turn, answer.only, items)
    aside = _aside(turn, answer, out, unknown)
    if strange or (answer.aside and aside is None) or not _is_known(turn, answer.by):
        return None
    if unknown and aside is None:
        return [turn.reply(say("round.who_is", words=unknown[0]))]
    told = aside.entries if aside else ()
    out = out.union(*(entry.specimens for entry in told))
    chosen = [item for item in items if item["tag"] not in out and (not answer.only or item["tag"] in only)]
    if not chosen and not told:
        return [_nothing_left(turn, occurrence, answer)]
    refused = [item["tag"] for item in chosen] if answer.said is Said.REFUSED else []
    return tick(turn, occurrence, chosen, refused=refused, beside=told, in_place=False)


def _tag_or_count(turn: Turn, occurrence: Occurrence, answer: RoundAnswer, due: int) -> Reply | None:
    """ "All but 3": the one whose tag ends so, or three of them? It is asked; beside a name it is a tag."""
    part = answer.out[0] if len(answer.out) == 1 else ""
    if not part.isdecimal() or part in turn.shelf.by_tag or not 0 < int(part) <= due:
        return None
    of_it = {"do": "round_said", **of_round(occurrence), "said": answer.said.value}
    only = list(answer.only)
    tags = [tag for tag in turn.shelf.by_tag if ends_with(tag, int(part)) and _is_of(occurrence, tag)]
    choices = [Choice(turn.called(tag), of_it | {"out": [tag], "only": only}) for tag in tags]
    choices.append(Choice(say("round.so_many", n=int(part)), of_it | {"out": []}))
    return turn.reply(say("round.tag_or_count", words=part), rows_of(choices, 1), pending={})


def _is_known(turn: Turn, by: str) -> bool:
    """Whether who is said to have done it is a helper; nobody has to be named. "Nobody did the B ones"."""
    handed = turn.work.handovers.of_shelf(turn.shelf_id) if by else ()
    names = {name for one in handed for name in (one.called, name_of(turn, one.helper or 0))}
    return not by or by.casefold() in map(str.casefold, names)


def _is_of(occurrence: Occurrence, tag: str) -> bool:
    return any(item["tag"] == tag and item["task"] != REST for item in occurrence.tasks)


def pressed(turn: Turn, _prompt: Prompt, action: Mapping[str, Any]) -> list[Reply]:
    """Who was excepted by "all but 3" has been answered: one by its tag, or so many that are to be named."""
    occurrence = still_open(turn, action)
    if occurrence is None:
        return [over(turn, action)]
    if not action["out"]:
        return [turn.reply(say("round.name_them"))]
    answer = RoundAnswer(said=Said(action["said"]), out=tuple(action["out"]), only=tuple(action["only"]))
    return _answered(turn, occurrence, answer) or []


def _aside(turn: Turn, answer: RoundAnswer, out: Collection[str], unknown: Sequence[str]) -> Reading | None:
    """What is said of those excepted, beside the others; ``None`` where that is not known for sure."""
    if answer.aside:
        return _of_animals(turn, answer.aside)
    if not out or not unknown or list(unknown) != list(answer.out[-len(unknown) :]):
        return None
    reading = _of_animals(turn, said_of_them(out, ", ".join(unknown), turn.settings.language))
    named = {tag for entry in reading.entries for tag in entry.specimens} if reading else set()
    return reading if named == set(out) else None


def _of_animals(turn: Turn, words: str) -> Reading | None:
    """Words read by themselves, where they tell what happened to animals, and nothing else."""
    reading = read(words, turn.shelf.names, now=turn.now, settings=turn.settings)
    if reading.reading is not ReadingKind.ENTRIES or reading.question or reading.reminder or reading.hold:
        return None
    return reading if all(entry.specimens for entry in reading.entries) else None


def _nothing_left(turn: Turn, occurrence: Occurrence, answer: RoundAnswer) -> Reply:
    items = items_now(turn, occurrence)
    if any(map(is_open, items)):
        if answer.said is Said.DONE and not answer.only:  # what is left has to be told one by one
            return shown(turn, occurrence, items, brief=True)
        return turn.reply(say("round.nothing_of_that"))
    turn.work.rounds.close(occurrence.id, turn.incoming.sent_at)
    return turn.reply(say("round.finished"))
