"""Renaming, retagging, moving and retiring animals, in words; a doubt about whom or where is asked."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, Final

from bot.conversation import wording
from bot.conversation.model import Reply
from bot.conversation.pages import fit
from bot.conversation.tags import known_place, like_places
from bot.conversation.texts import say, say_of
from bot.conversation.turn import Choice, Turn, rows_of, undo_row
from bot.reading import read, reading_to_store
from bot.reading.model import Reading, ReadingKind
from bot.reading.wanted.wanted import Action, Instruction
from bot.terms import Entry, Kind, Specimen
from storage.errors import TagTakenError
from storage.records import Prompt

_FIELDS: Final = {Action.RENAME: "name", Action.RETAG: "tag"}
_LIKE_OFFERED: Final = 3
_NAMES_SHOWN: Final = 12


def alter(turn: Turn, wanted: Instruction) -> list[Reply]:
    """Changes who or where an animal is; asks which one where several bear the name."""
    if wanted.action is Action.MOVE and wanted.every:
        return _move(turn, wanted)
    if len(wanted.tags) > 1:
        return [_which(turn, wanted)]
    if wanted.action is Action.RETIRE:
        return [_retire(turn, wanted.tags[0])]
    return [_alter(turn, wanted.action, wanted.tags[0], wanted.value or "")]


# --- moving ---------------------------------------------------------------------------------


def _move(turn: Turn, wanted: Instruction) -> list[Reply]:
    """Puts animals at a place, asked about where it is like another; then the other matter."""
    said = " ".join((wanted.value or "").split())
    like = like_places(turn.work.shelves.places(turn.shelf_id), said)
    if like:
        return [_ask_place(turn, wanted, said, like), *_beside(turn, wanted)]
    return [_moved(turn, wanted.tags, said), *_beside(turn, wanted)]


def _beside(turn: Turn, wanted: Instruction) -> list[Reply]:
    """What the message says of the animals beside where they are: read, and answered, by itself."""
    if not wanted.rest:
        return []
    of = wanted.tags[0] if len(wanted.tags) == 1 else None
    reading = read(wanted.rest, turn.shelf.names, now=turn.now, settings=turn.settings, talked_of=of)
    if reading.reading is ReadingKind.UNCLEAR:
        return [turn.reply(say("shelf.rest_unread", words=wanted.rest))]
    return turn.readings[reading.reading](turn, reading)


def _ask_place(turn: Turn, wanted: Instruction, said: str, like: Sequence[str]) -> Reply:
    tags = list(wanted.tags)
    known = [Choice(place, {"do": "place", "tags": tags, "place": place}) for place in like[:_LIKE_OFFERED]]
    new = Choice(say("shelf.new_place", place=said), {"do": "place", "tags": tags, "place": said})
    nothing = Choice(say("button.none_of_these"), {"do": "none", "word": "no"})
    return turn.reply(say("shelf.which_place", place=said), rows_of([*known, new, nothing], 1), pending={})


def pressed_place(turn: Turn, _prompt: Prompt, action: Mapping[str, Any]) -> list[Reply]:
    """The place was chosen."""
    return [_moved(turn, action["tags"], action["place"], in_place=True)]


def _moved(turn: Turn, tags: Sequence[str], said: str, *, in_place: bool = False) -> Reply:
    places = turn.work.shelves.places(turn.shelf_id)
    place = known_place(places, said)
    change_id = turn.open_change()
    for tag in tags:
        turn.work.shelves.alter(change_id, tag, place=place)
    turn.refresh()
    if len(tags) == 1:
        turn.remember(of=tags[0])
    who = wording.called(turn.animals(tags), most=_NAMES_SHOWN)
    how = ("one" if len(tags) == 1 else "several") + ("" if place in places else "_new")
    text = say_of("shelf.moved", how, who=who, place=place)
    turn.note_done(change_id, text)
    return turn.reply(text, [undo_row(change_id)], change_id=change_id, in_place=in_place)


def places(turn: Turn) -> list[Reply]:
    """The places, with who stands there; a place has no list of its own."""
    return [*list_animals(turn), turn.reply(say("shelf.places"))]


def list_animals(turn: Turn) -> list[Reply]:
    """Everyone on the shelf, place by place."""
    places: dict[str | None, list[str]] = {}
    for animal in turn.shelf.specimens:
        places.setdefault(animal.place, []).append(animal.called)
    lines = [
        say("log.line", who=place or say("round.no_place"), what=", ".join(names), when="")
        for place, names in places.items()
    ]
    return [fit(turn, "\n".join(lines) or say("answer.empty_shelf"))]


def _which(turn: Turn, wanted: Instruction) -> Reply:
    choices = [
        Choice(
            animal.called,
            {"do": "alter", "action": wanted.action.value, "tag": animal.tag, "value": wanted.value},
        )
        for animal in turn.animals(wanted.tags[:12])
    ]
    rows = [*rows_of(choices, 1), [Choice(say("button.none_of_these"), {"do": "none", "word": "no"})]]
    return turn.reply(say("shelf.which"), rows, pending={})


def pressed_alter(turn: Turn, _prompt: Prompt, action: Mapping[str, Any]) -> list[Reply]:
    """The animal was chosen."""
    wanted = Instruction(
        action=Action(action["action"]), tags=(action["tag"],), value=action["value"], every=True
    )
    return alter(turn, wanted)


def _alter(turn: Turn, action: Action, tag: str, value: str) -> Reply:
    before = turn.called(tag)
    change_id = turn.open_change()
    try:
        turn.work.shelves.alter(change_id, tag, **{_FIELDS[action]: value})
    except TagTakenError as taken:
        turn.work.journal.undo(change_id, at=turn.incoming.sent_at)
        return turn.reply(say("add.tag_taken", tag=taken.tag))
    turn.refresh()
    now_tag = value if action is Action.RETAG else tag
    turn.remember(of=now_tag)
    text = say_of("shelf.altered", action.value, before=before, after=turn.called(now_tag), value=value)
    turn.note_done(change_id, text)
    return turn.reply(text, [undo_row(change_id)], change_id=change_id)


def _retire(turn: Turn, tag: str) -> Reply:
    """An animal leaves the shelf by what happened to it: that is asked, and is an entry."""
    animal = turn.shelf.by_tag[tag]
    choices = [
        Choice(say("shelf.died_today"), _take(turn, animal, Kind.DIED)),
        Choice(say("shelf.left_today"), _take(turn, animal, Kind.LEFT)),
        Choice(say("button.cancel"), {"do": "none", "word": "no"}),
    ]
    return turn.reply(say("shelf.retire", who=animal.called), rows_of(choices, 1), pending={})


def _take(turn: Turn, animal: Specimen, kind: Kind) -> dict[str, Any]:
    entry = Entry(kind=kind, day=turn.today, specimens=(animal.tag,))
    reading = Reading(reading=ReadingKind.ENTRIES, text=turn.incoming.text, entries=(entry,))
    return {"do": "take", "reading": reading_to_store(reading), "origin": turn.origin}
