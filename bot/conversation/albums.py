"""Photos in the chat: "photos of Ink", "photos of Ink before the last molt"; and a photo that is only named.

The newest come first, each with its day and the molt it came after. Whom a photo shows is never guessed:
its caption names one animal, or it is asked.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from pathlib import Path
from typing import Any, Final

from bot.conversation import wording
from bot.conversation.model import Reply
from bot.conversation.texts import say
from bot.conversation.turn import Choice, Turn, rows_of, undo_row
from bot.husbandry.journal import MOLT_KINDS, distinct_molts
from bot.reading.wanted.photo_words import When, shown_alone, when_said
from bot.reading.wanted.wanted import Instruction
from storage.records import Prompt, StoredPhoto

_AT_ONCE: Final = 5
_MOST_NAMED: Final = 8


# --- looking at them ------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Wanted:
    """Whose photos, and of which days; of all days where an end is ``None``."""

    tag: str | None
    first: date | None = None
    last: date | None = None


def photos(turn: Turn, wanted: Instruction) -> list[Reply]:
    """The photos that a message asks for."""
    if len(wanted.tags) > 1:
        choices = [
            Choice(turn.called(tag), {"do": "album", "tag": tag, "when": wanted.value})
            for tag in wanted.tags[:_MOST_NAMED]
        ]
        return [turn.reply(say("album.which"), rows_of(choices))]
    return _shown(turn, wanted.tags[0] if wanted.tags else None, wanted.value, before=None)


def pressed(turn: Turn, _prompt: Prompt, action: Mapping[str, Any]) -> list[Reply]:
    """Whose photos was asked and answered, or earlier ones are wanted."""
    return _shown(turn, action["tag"], action.get("when"), before=action.get("before"))


def _shown(turn: Turn, tag: str | None, when: str | None, *, before: int | None) -> list[Reply]:
    molts = _molts(turn, tag)
    wanted = _Wanted(tag)
    if when:
        meant = when_said(when, turn.shelf.all_names, now=turn.now, settings=turn.settings)
        if meant is None:
            return [turn.reply(say("album.when", when=when))]
        if meant.molt and not molts:
            return [turn.reply(say("album.no_molt", who=_called(turn, tag)))]
        wanted = _Wanted(tag, *_days(meant, molts))
    found = [
        photo
        for photo in turn.work.photos.of(turn.shelf_id, tag)
        if _within(_day(turn, photo), wanted) and (before is None or photo.id < before)
    ]
    if tag is not None:
        turn.remember(of=tag)
    if not found:
        return [turn.reply(say("album.none_then") if when else say("album.none", who=_called(turn, tag)))]
    return _page(turn, found, molts, {"do": "album", "tag": tag, "when": when})


def _page(
    turn: Turn, found: Sequence[StoredPhoto], molts: Sequence[date], again: Mapping[str, Any]
) -> list[Reply]:
    """The newest of what was found, and a button for the earlier ones."""
    page, rest = found[:_AT_ONCE], found[_AT_ONCE:]
    there = [(photo, file) for photo in page if (file := _file(turn, photo)) is not None]
    lines = [_head(turn, len(found), again["tag"])]
    missing = sum(photo.path is None for photo in page)
    lost = len(page) - len(there) - missing
    if missing:
        lines.append(say("album.coming", photos=wording.counted(missing, "photo")))
    if lost:
        lines.append(say("album.lost", photos=wording.counted(lost, "photo")))
    rows = [[Choice(say("album.earlier"), {**again, "before": page[-1].id})]] if rest else []
    reply = turn.reply("\n".join(lines), rows)
    shown = Reply(
        text="",
        pictures=tuple(file for _, file in there),
        captions=tuple(_caption(turn, photo, molts) for photo, _ in there),
    )
    return [shown, reply] if there else [reply]


def _head(turn: Turn, count: int, tag: str | None) -> str:
    shown = min(count, _AT_ONCE)
    photos_ = wording.counted(shown, "photo")
    who = _called(turn, tag)
    if shown == count:
        return say("album.all", photos=photos_, who=who)
    return say("album.some", photos=photos_, n=count, who=who)


def _caption(turn: Turn, photo: StoredPhoto, molts: Sequence[date]) -> str:
    day = _day(turn, photo)
    told = say(
        "album.caption",
        who=_called(turn, photo.tag),
        day=wording.day_and_ago(day, turn.today),
    )
    before = [molt for molt in molts if molt <= day]
    if not before:
        return told
    molt = wording.day_of(before[-1], turn.today)
    if before[-1] == day:
        return say("album.on_molt", told=told)
    return say("album.after_molt", told=told, days=wording.days((day - before[-1]).days), molt=molt)


def _file(turn: Turn, photo: StoredPhoto) -> Path | None:
    album = turn.work.album
    return album.file(photo.path) if album is not None and photo.path else None


def _called(turn: Turn, tag: str | None) -> str:
    return turn.called(tag) if tag is not None else say("album.the_shelf")


def _day(turn: Turn, photo: StoredPhoto) -> date:
    """The keeper's day on which a photo was sent."""
    return turn.day_of(photo.at)


def _molts(turn: Turn, tag: str | None) -> tuple[date, ...]:
    if tag is None:
        return ()
    rows = turn.work.journal.entries(turn.shelf_id, tags=[tag], kinds=MOLT_KINDS, newest_first=False)
    return distinct_molts(row.entry.day for row in rows)


def _days(meant: When, molts: Sequence[date]) -> tuple[date | None, date | None]:
    if not meant.molt:
        return meant.first, meant.last
    last = molts[-1]
    return (None, last - timedelta(days=1)) if meant.molt == "before" else (last, None)


def _within(day: date, wanted: _Wanted) -> bool:
    return (wanted.first is None or wanted.first <= day) and (wanted.last is None or day <= wanted.last)


# --- taking them in -------------------------------------------------------------------------------


def named_alone(turn: Turn) -> list[Reply] | None:
    """A photo whose caption is an animal's name and nothing else; ``None`` where it says more."""
    incoming = turn.incoming
    if not incoming.photos:
        return None
    tags = shown_alone(incoming.text, turn.shelf.all_names)
    if not tags:
        return None
    references = [photo.reference for photo in incoming.photos]
    if len(tags) == 1:
        return [_kept(turn, tags[0], references)]
    choices = [
        Choice(turn.called(tag), {"do": "photo_of", "tag": tag, "photos": references})
        for tag in tags[:_MOST_NAMED]
    ]
    return [turn.reply(say("album.which_shown"), rows_of(choices))]


def pressed_whom(turn: Turn, _prompt: Prompt, action: Mapping[str, Any]) -> list[Reply]:
    """Whom a photo shows was asked and answered."""
    return [_kept(turn, action["tag"], action["photos"])]


def _kept(turn: Turn, tag: str, references: Sequence[str]) -> Reply:
    change_id = turn.open_change()
    for reference in references:
        turn.work.photos.add(change_id, tag, reference=reference, path=None, at=turn.incoming.sent_at)
    who = turn.called(tag)
    turn.note_done(change_id, say("album.did", who=who))
    turn.remember(of=tag)
    return turn.reply(say("album.kept", who=who), [undo_row(change_id)], change_id=change_id)


def not_kept(turn: Turn, replies: Sequence[Reply]) -> list[Reply]:
    """One more line where photos came with words that nothing was stored of."""
    if not turn.incoming.photos:
        return []
    asked = turn.dialog.get("open")
    kept = turn.work.journal.change_of(turn.shelf_id, turn.origin) is not None
    if kept or (asked and asked in {reply.number for reply in replies}):
        return []
    return [turn.reply(say("album.not_kept", who=turn.example))]
