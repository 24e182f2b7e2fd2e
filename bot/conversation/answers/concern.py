"""What to look at twice, in words: on the card of one animal, and for the whole shelf when asked."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from decimal import Decimal
from typing import Any

from bot.conversation import wording
from bot.conversation.answers.subject import empty_shelf
from bot.conversation.model import Reply
from bot.conversation.next_up import rest_cards
from bot.conversation.pages import fit
from bot.conversation.texts import say, say_of
from bot.conversation.turn import Turn
from bot.husbandry.ailment_record import Sign
from bot.husbandry.concern import Concern, concerns
from bot.reading.short_answers import is_word
from bot.reading.wanted.wanted import Instruction
from bot.terms import Specimen
from storage.living_shelf import read_living


def worries(turn: Turn, wanted: Instruction) -> list[Reply]:
    """What to look at, of the animals named or of the whole shelf."""
    animals = turn.animals(wanted.tags) if wanted.tags else list(turn.shelf.specimens)
    lines = _lines(turn, animals, named=len(animals) > 1 or not wanted.tags)
    return [fit(turn, "\n".join(lines) or empty_shelf(turn) or say("concern.none"))]


def posture(turn: Turn, wanted: Instruction) -> list[Reply]:
    """What it means how an animal lies, for a keeper who is afraid for it; and what its record shows."""
    shown = _lines(turn, turn.animals(wanted.tags), named=True) if wanted.tags else []
    meant = say_of("posture", wanted.value or "unsure")
    return [fit(turn, "\n".join([meant, *rest_cards(turn, wanted.tags), *shown]))]


def sign(turn: Turn, wanted: Instruction) -> list[Reply]:
    """What to do about a sign of trouble, told before any of it is on record."""
    assert wanted.value is not None
    return [fit(turn, "\n".join([say_of("signs", wanted.value), *rest_cards(turn, wanted.tags)]))]


def what_to_do(turn: Turn) -> list[Reply] | None:
    """ "What do I do?" about an animal just talked of that is missing, not well or at rest; else ``None``."""
    of = turn.dialog.get("of")
    if not is_word("what_to_do", turn.incoming.text, turn.settings.language) or not isinstance(of, str):
        return None
    if turn.facts.get(of) is None:
        return None
    lines = _lines(turn, turn.animals((of,)), named=True)
    if not lines and (rests := rest_cards(turn, (of,))):
        lines = [*rests, say_of("posture", "still")]
    return [fit(turn, "\n".join(lines))] if lines else None


def concern_lines(turn: Turn, animal: Specimen) -> list[str]:
    """What to look at of one animal, without its name."""
    return _lines(turn, [animal], named=False)


def _lines(turn: Turn, animals: Sequence[Specimen], *, named: bool) -> list[str]:
    tags = [animal.tag for animal in animals]
    shelf = read_living(turn.work, turn.shelf_id, tags=tags if len(tags) == 1 else None)
    found = concerns([one for one in shelf.records() if one.specimen.tag in tags], turn.today)
    whose: dict[str, list[str]] = {}
    for concern in found:
        whose.setdefault(_sentence(turn, concern), []).append(turn.called(concern.tag))
    lines = [_line(told, who, named=named) for told, who in whose.items()]
    if any(concern.serious for concern in found):
        lines.append(say_of("signs", Sign.UNWELL.value))
    return lines


def _sentence(turn: Turn, concern: Concern) -> str:
    return say_of("concerns", concern.key, **{k: _told(turn, k, v) for k, v in concern.facts.items()})


def _line(told: str, who: Sequence[str], *, named: bool) -> str:
    if named:
        return say("concern.of", who=wording.listed(list(who), most=6), what=told)
    return wording.capital(told)


def _told(turn: Turn, key: str, value: Any) -> str:
    if isinstance(value, date):
        return wording.day_of(value, turn.today)
    if key == "temp_c":
        return wording.temperature(value, turn.settings.units)
    if key == "part":
        return f"{value:.0%}"
    return f"{value.normalize():f}" if isinstance(value, Decimal) else str(value)
