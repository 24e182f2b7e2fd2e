"""Feeding prompts paused and resumed on the keeper's word. Water is never paused."""

from __future__ import annotations

from bot.conversation import wording
from bot.conversation.answers.subject import empty_shelf
from bot.conversation.model import Reply
from bot.conversation.pages import fit
from bot.conversation.texts import say
from bot.conversation.turn import Turn, undo_row
from bot.reading.model import Hold, Reading
from bot.reading.wanted.wanted import Instruction

_RESUME = "resume"


def hold(turn: Turn, reading: Reading) -> list[Reply]:
    """The message asks for feeding prompts to stop or to go on."""
    assert reading.hold is not None
    return set_hold(turn, reading.hold)


def set_hold(turn: Turn, wanted: Hold, *, change_id: int | None = None) -> list[Reply]:
    """Holds or resumes the feeding prompts of some animals, or of all where none is named."""
    tags = wanted.specimens or tuple(animal.tag for animal in turn.shelf.specimens)
    if not tags:
        return [turn.reply(empty_shelf(turn) or "")]
    if change_id is None:
        change_id = turn.open_change()
    if wanted.state == _RESUME:
        turn.work.holds.end(change_id, tags, on=turn.today)
        text = say("hold.resumed", names=_names(turn, tags))
    else:
        turn.work.holds.set(change_id, tags, since=turn.today, until=wanted.until)
        text = _held(turn, tags, wanted)
    turn.refresh()
    turn.note_done(change_id, text)
    return [fit(turn, text, [undo_row(change_id)], change_id=change_id)]


def _held(turn: Turn, tags: tuple[str, ...], wanted: Hold) -> str:
    if wanted.until is None:
        return say("hold.held", names=_names(turn, tags))
    return say("hold.held_until", names=_names(turn, tags), day=wording.day_in_full(wanted.until, turn.today))


def list_holds(turn: Turn, wanted: Instruction) -> list[Reply]:
    """Whose feeding prompts are held now, of those asked about or of all."""
    lines = []
    for tag, held in turn.work.holds.current(turn.shelf_id).items():
        over = held.until is not None and held.until <= turn.today
        if over or (wanted.tags and tag not in wanted.tags):
            continue
        since = wording.day_of(held.since, turn.today)
        if held.until is None:
            lines.append(say("hold.line", who=turn.called(tag), since=since))
        else:
            until = wording.day_of(held.until, turn.today)
            lines.append(say("hold.line_until", who=turn.called(tag), since=since, until=until))
    return [fit(turn, "\n".join(lines) or empty_shelf(turn) or _nobody_held(turn, wanted))]


def _nobody_held(turn: Turn, wanted: Instruction) -> str:
    return say("hold.not_held", names=_names(turn, wanted.tags)) if wanted.tags else say("hold.nobody")


def _names(turn: Turn, tags: tuple[str, ...]) -> str:
    return wording.called(turn.animals(tags), most=12)
