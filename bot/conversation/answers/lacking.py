"""Who of the shelf is without something that the bot could know: a name, a place, a photo, a span, a home."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping
from datetime import date
from typing import Final

from bot.conversation import wording
from bot.conversation.answers.past import latest_of
from bot.conversation.answers.subject import empty_shelf
from bot.conversation.model import Reply
from bot.conversation.pages import fit
from bot.conversation.texts import say, say_of
from bot.conversation.turn import Turn
from bot.reading.wanted.wanted import Instruction
from bot.terms import Kind, Specimen

_MOST_NAMES: Final = 30


def lacking(turn: Turn, wanted: Instruction) -> list[Reply]:
    """Those who lack what is asked about, and how it is put right; of spans, also who has grown since."""
    if not turn.shelf.specimens:
        return [turn.reply(empty_shelf(turn) or "")]
    what = wanted.value or "name"
    found = _WITHOUT[what](turn)
    lines = [_these(what, found)] if found else [say_of("lacking.nobody", what)]
    if what == "span" and (outgrown := _molted_since(turn)):
        lines.append(_these("outgrown", outgrown))
        found = [*found, *outgrown]
    if found:
        one = found[0]
        lines.append(say_of("lacking.how", what, who=one.name or one.tag, tag=one.tag))
    return [fit(turn, "\n".join(lines))]


def _these(what: str, found: Collection[Specimen]) -> str:
    names = wording.called(found, most=_MOST_NAMES)
    return say("who_of_all.these", what=say_of("lacking.head", what, n=len(found)), names=names)


def _by_card(lacks: Callable[[Specimen], bool]) -> Callable[[Turn], list[Specimen]]:
    return lambda turn: [animal for animal in turn.shelf.specimens if lacks(animal)]


def _unphotographed(turn: Turn) -> list[Specimen]:
    shown = {photo.tag for photo in turn.work.photos.of(turn.shelf_id, None)}
    return [animal for animal in turn.shelf.specimens if animal.tag not in shown]


def _unmeasured(turn: Turn) -> list[Specimen]:
    """Those whose span is neither measured nor on their card."""
    return [
        facts.specimen
        for facts in turn.facts.all()
        if facts.state.span_cm is None and facts.specimen.span_cm is None
    ]


def _molted_since(turn: Turn) -> list[Specimen]:
    """Those who molted since they were last measured, the longest ago first."""
    measured, molted = latest_of(turn, Kind.MEASURED), latest_of(turn, Kind.MOLTED)
    found = [
        animal
        for animal in turn.shelf.specimens
        if animal.tag in measured and molted.get(animal.tag, date.min) > measured[animal.tag]
    ]
    return sorted(found, key=lambda animal: measured[animal.tag])


def _homeless(turn: Turn) -> list[Specimen]:
    """Those of whose home no size is on record."""
    return [facts.specimen for facts in turn.facts.all() if facts.state.volume_l is None]


_WITHOUT: Final[Mapping[str, Callable[[Turn], list[Specimen]]]] = {
    "name": _by_card(lambda animal: animal.name is None),
    "place": _by_card(lambda animal: animal.place is None),
    "photo": _unphotographed,
    "span": _unmeasured,
    "home": _homeless,
}
