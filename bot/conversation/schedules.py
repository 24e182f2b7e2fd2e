"""A keeper's own schedule: "feed Ink every 10 days", "water the slings every 3 days", and back to the rule.

It stands above every rule of thumb, and rest stands above it: a sealed burrow gets no food, whatever was
said.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from bot.conversation import next_up, wording
from bot.conversation.model import Reply
from bot.conversation.texts import say, say_of
from bot.conversation.turn import Turn, undo_row
from bot.reading.instructions import Instruction, scheduled_work
from bot.reading.model import Reminder
from bot.round.worklist import next_for

#: What is altered of an animal, by the word for the work.
_FIELDS: Final = {"feed": "feed_every", "water": "water_every"}
#: Longer than this is no schedule for a spider (common practice, no source); it is asked as a reminder.
LONGEST: Final = 60


def own_schedule(turn: Turn, wanted: Reminder) -> list[Reply] | None:
    """The schedule that a message sets; ``None`` where it asks for a reminder, not for a schedule."""
    work = scheduled_work(turn.incoming.text)
    if work is None or not wanted.specimens or wanted.every_days is None or wanted.time is not None:
        return None
    if not 1 <= wanted.every_days <= LONGEST:
        return None
    every = (
        say("remind.every_day") if wanted.every_days == 1 else say("remind.every_days", n=wanted.every_days)
    )
    return _set(turn, work, wanted.specimens, wanted.every_days, every)


def by_the_rule(turn: Turn, wanted: Instruction) -> list[Reply]:
    """Feeding or watering by the rule of thumb again."""
    if len(wanted.tags) != 1:
        return [turn.reply(say("schedule.which"))]
    return _set(turn, wanted.value or "feed", wanted.tags, None, say("schedule.rule"))


def _set(turn: Turn, work: str, tags: Sequence[str], days: int | None, every: str) -> list[Reply]:
    change_id = turn.open_change()
    for tag in tags:
        turn.work.shelves.alter(change_id, tag, **{_FIELDS[work]: days})
    turn.refresh()
    animals = turn.animals(tags)
    lines = [say_of("schedule.set", work, who=wording.called(animals, most=8), every=every)]
    if len(animals) == 1 and (facts := turn.facts.get(animals[0].tag)) is not None:
        plan = next_for(facts, turn.today)
        rest = next_up.rest_line(turn, animals[0].tag)
        say_next = next_up.meal_sentence if work == "feed" else next_up.water_sentence
        lines.append(rest if rest and work == "feed" else say_next(plan, turn.today))
    text = " ".join(line for line in lines if line)
    turn.note_done(change_id, text)
    return [turn.reply(text, [undo_row(change_id)], change_id=change_id)]
