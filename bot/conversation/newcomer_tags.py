"""The tags of animals to be added: those said, the next free ones, and by whom one is taken."""

from __future__ import annotations

from bot.conversation import newcomers
from bot.conversation.newcomers import Draft, same
from bot.conversation.tags import next_tags
from bot.conversation.texts import say
from bot.conversation.turn import Turn
from bot.terms import Specimen


def tags_of(turn: Turn, draft: Draft) -> list[str]:
    """The tags of a draft: its own, or the next free ones at its place."""
    n = 1 if draft["lot"] else draft["count"]
    if draft.get("tag") and n == 1:
        return [draft["tag"]]
    return next_tags(with_settled(turn, draft), draft["place"] or None, n)


def with_settled(turn: Turn, draft: Draft) -> list[Specimen]:
    """The animals of the shelf and those of the draft that have their tags already."""
    settled = draft.get("settled") or []
    return [
        *turn.shelf.specimens,
        *(newcomers.specimen_of(turn, one, tag) for one in settled for tag in one["tags"]),
    ]


def tag_taken(turn: Turn, draft: Draft) -> str | None:
    """The tag of a draft that an animal of the shelf or another of the draft has already.

    A tag that was said is looked at before the place is known.
    """
    said = [draft["tag"]] if draft.get("tag") and draft["count"] == 1 else []
    taken = {animal.tag.casefold() for animal in with_settled(turn, draft)}
    return next((tag for tag in draft.get("tags") or said if tag.casefold() in taken), None)


def told_taken(turn: Turn, draft: Draft, tag: str) -> str:
    """That a tag is taken, and by whom; of several to be added, which of them needs another."""
    owner = next((animal for animal in turn.shelf.specimens if same(animal.tag, tag)), None)
    whose = (
        say("add.tag_of", tag=tag, who=owner.name or owner.species)
        if owner
        else say("add.tag_twice", tag=tag)
    )
    which = draft.get("name") or draft["species"] or say("add.nameless")
    several = len(newcomers.drafts_of(draft)) > 1
    return f"{whose} {say('add.another_tag_for', who=which) if several else say('add.another_tag')}"
