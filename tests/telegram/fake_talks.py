"""A conversation that works and is small: it logs notes, counts, and asks one question with buttons."""

from __future__ import annotations

from bot.conversation.model import Button, Reply
from bot.terms import Entry, Kind


class FakeTalks:
    """Words are stored as a note and echoed; ``ask`` offers a button, ``slip`` raises an error.

    ``learned?`` is answered with the languages that it was told to learn.
    """

    learned = ()

    def learn(self, languages):
        self.learned = (*self.learned, *languages)

    def respond(self, work, keeper, chat, incoming):
        if incoming.pressed is not None:
            number = int(incoming.pressed.removeprefix("p").split(":")[0])
            if not work.prompts.answered(number, at=incoming.sent_at):
                return [Reply(text="already done", edits_pressed=True)]
            self._log(work, keeper, chat, incoming, f"pressed {number}")
            return [Reply(text="pressed", edits_pressed=True)]
        if incoming.unsupported:
            return [Reply(text=f"I cannot read a {incoming.unsupported}.")]
        if incoming.text == "learned?":
            return [Reply(text=" ".join(self.learned))]
        if incoming.text == "slip":
            raise ZeroDivisionError("a slip that quotes: slip")
        if incoming.text == "ask":
            number = work.prompts.put(
                keeper.id, chat=chat, actions=[{}], pending=None, change_id=None, at=incoming.sent_at
            )
            return [
                Reply(text="Which?", buttons=((Button(label="This", data=f"p{number}:0"),),), number=number)
            ]
        if not incoming.text:
            return [Reply(text="a photo needs words")]
        change = self._log(work, keeper, chat, incoming, incoming.text)
        for photo in incoming.photos:
            work.photos.add(change, None, reference=photo.reference, path=None, at=incoming.sent_at)
        return [Reply(text=("changed " if incoming.edits else "stored ") + incoming.text)]

    def greet(self, work, keeper, chat, at):
        return [Reply(text=f"Hello {keeper.name}")]

    def round_message(self, work, keeper, chat, day, at, late=False):
        if not work.rounds.open_(keeper.id, keeper.shelf_id, day, due_at=at, tasks=[], at=at):
            return []
        return [Reply(text=f"Round of {day}" + (", late" if late else ""))]

    def remind(self, work, keeper, chat, reminders, at):
        return [Reply(text=f"Remember: {', '.join(one.what for one in reminders)}")]

    def _log(self, work, keeper, chat, incoming, words):
        change = work.journal.change(
            keeper.shelf_id, keeper.id, at=incoming.sent_at, origin=f"{chat}:{incoming.reference}"
        )
        entry = Entry(kind=Kind.NOTE, day=incoming.sent_at.date(), note=words)
        work.journal.log(change, [entry], zone=keeper.settings.zone)
        return change
