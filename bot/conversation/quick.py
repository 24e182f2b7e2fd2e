"""One tap at the shelf: what is likely to be logged next for an animal, as buttons under its card.

A tap logs for the day on which it is tapped, and the card comes back with its buttons.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, Final

from bot.conversation import log, pictured
from bot.conversation.model import Reply
from bot.conversation.texts import say, say_of
from bot.conversation.turn import Choice, Turn
from bot.reading.model import Reading, ReadingKind
from bot.round.model import SpecimenFacts
from bot.terms import Entry, Kind
from storage.records import Prompt

#: What is offered for an animal that eats, and for one that is sealed; each row as it stands.
_OPEN: Final = ((Kind.FED, Kind.REFUSED, Kind.WATERED), (Kind.SEALED, Kind.MOLTED))
_SEALED: Final = ((Kind.OPENED, Kind.WATERED, Kind.CHECKED),)


def rows(facts: SpecimenFacts) -> list[list[Choice]]:
    """The buttons under an animal's card."""
    tag = facts.specimen.tag
    offered: Sequence[Sequence[Kind]] = _SEALED if facts.state.sealed_since is not None else _OPEN
    made = [[_button(kind, tag) for kind in row] for row in offered]
    made[-1] += [pictured.button(tag), Choice(say("quick.photo"), {"do": "photo", "tag": tag})]
    return made


def _button(kind: Kind, tag: str) -> Choice:
    return Choice(say_of("quick.log", kind.value), {"do": "quick", "kind": kind.value, "tag": tag})


def log_it(turn: Turn, action: Mapping[str, Any]) -> list[Reply]:
    """Logs what was tapped, or asks first as for a typed message."""
    entry = Entry(kind=Kind(action["kind"]), specimens=(action["tag"],), day=turn.today)
    reading = Reading(reading=ReadingKind.ENTRIES, text=turn.called(action["tag"]), entries=(entry,))
    return log.store(turn, reading, log.Storing.of_message(turn))


def pressed_photo(turn: Turn, _prompt: Prompt, action: Mapping[str, Any]) -> list[Reply]:
    """How a photo comes to an animal."""
    turn.remember(of=action["tag"])
    return [turn.reply(say("quick.photo_how", who=turn.called(action["tag"])))]
