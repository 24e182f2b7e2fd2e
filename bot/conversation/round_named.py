"""Which animals of a round words name: by name, tag, place, the number a tag ends with, or as a group."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from typing import Final

from bot.conversation.round_words import Item
from bot.conversation.tags import same_place
from bot.conversation.turn import Turn
from bot.reading.names.names_alone import whom
from bot.reading.wanted.groups_alone import group_alone

#: The letters of a place's own mark: "B", "2b".
_SHORT: Final = 2


def meant_by(turn: Turn, words: Sequence[str], items: Sequence[Item]) -> tuple[set[str], list[str]]:
    """The animals that words name, and the words that name nobody."""
    meant: set[str] = set()
    unknown: list[str] = []
    for part in words:
        tags = _one_meant(turn, part, items)
        if tags:
            meant |= set(tags)
        else:
            unknown.append(part)
    return meant, unknown


def _one_meant(turn: Turn, part: str, items: Sequence[Item]) -> Collection[str]:
    there = [tag for tag, animal in turn.shelf.by_tag.items() if _is_place(turn, animal.place, part)]
    if there:  # be it that nothing is left to do there
        return there
    tags = whom(part, turn.shelf.names)
    if len(tags) > 1:
        tags = tuple(tag for tag in tags if any(item["tag"] == tag for item in items))
    if tags:
        return tags if len(tags) == 1 else ()
    if part.isdecimal():
        ending = {item["tag"] for item in items if ends_with(item["tag"], int(part))}
        return ending if len(ending) == 1 else ()
    return group_alone(part, turn.shelf.names, now=turn.now, settings=turn.settings)


def ends_with(tag: str, number: int) -> bool:
    """Whether the number at the end of a tag is that one."""
    digits = tag[len(tag.rstrip("0123456789")) :]
    return bool(digits) and int(digits) == number


def _is_place(turn: Turn, place: str | None, part: str) -> bool:
    """A place by its name, "B" for "shelf B", and "the rack" for "rack 1" where that is the only one."""
    words = (place or "").casefold().split()
    if same_place(place, part) or part.isdecimal() or len(words) <= 1:
        return same_place(place, part)
    said = part.casefold().removeprefix("the ")
    places = {(animal.place or "").casefold() for animal in turn.shelf.by_tag.values()}
    alone = sum(other.split()[:1] == [said] for other in places) == 1
    return (words[0] == said and alone) or (len(words[-1]) <= _SHORT and words[-1] == said)
