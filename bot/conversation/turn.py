"""One turn of a conversation: everything a handler may need, gathered once.

A handler takes a :class:`Turn` and gives back replies; what it stores goes through ``turn.work``,
inside the one transaction that the caller opened.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date, datetime
from functools import cached_property
from typing import Any, Final
from zoneinfo import ZoneInfo

from bot.conversation import wording
from bot.conversation.model import Button, Incoming, Reply
from bot.conversation.shelf_view import KnownFacts, Shelf, ShelfCache
from bot.conversation.texts import say
from bot.reading import ShelfNames, read
from bot.reading.model import Reading, ReadingKind
from bot.reading.short_answers import has_pronoun
from bot.terms import Entry, KeeperSettings, Specimen
from storage import Work
from storage.records import JournalEntry, Keeper, Membership, Prompt, Role


@dataclass(frozen=True, slots=True)
class Choice:
    """A button: its label, and what pressing it does, as plain JSON with the key ``do``."""

    label: str
    action: Mapping[str, Any]


@dataclass(kw_only=True)
class Turn:
    """What is at hand while one message is answered.

    ``readings`` and ``presses`` are the tables of handlers, by the kind of a reading and by what a
    button does; handlers that hand over to another go through them. ``link_of`` makes of an invite's code
    what is to be sent on.
    """

    work: Work
    keeper: Keeper
    chat: str
    incoming: Incoming
    cache: ShelfCache
    readings: Mapping[ReadingKind, Callable[[Turn, Reading], list[Reply]]]
    presses: Mapping[str, Callable[[Turn, Prompt, Mapping[str, Any]], list[Reply]]]
    link_of: Callable[[str], str] = str
    turned: list[int] = field(default_factory=list)
    _remembered: dict[str, Any] = field(default_factory=dict)
    _revisions: dict[int, int] = field(default_factory=dict)

    @property
    def settings(self) -> KeeperSettings:
        """The keeper's settings."""
        return self.keeper.settings

    def save_settings(self, **changes: Any) -> None:
        """Keeps settings that the keeper has changed; the rest of this turn goes by them."""
        settings = replace(self.settings, **changes)
        self.work.keepers.save_settings(self.keeper.id, settings)
        self.keeper = replace(self.keeper, settings=settings)
        self.remember(elsewhere="setting")

    @cached_property
    def now(self) -> datetime:
        """When the message was sent, in the keeper's zone."""
        return self.incoming.sent_at.astimezone(ZoneInfo(self.settings.zone))

    @cached_property
    def today(self) -> date:
        """The keeper's date, which begins at the hour the keeper has set."""
        return self.day_of(self.now)

    def day_of(self, moment: datetime) -> date:
        """The keeper's date at a moment."""
        return self.settings.day_of(moment)

    @cached_property
    def membership(self) -> Membership:
        """Whose shelf is talked of, and as what: their own, or the one they share in if theirs is empty."""
        own = Membership(shelf_id=self.keeper.shelf_id, role=Role.OWNER)
        if not self.cache.is_empty(self.work, own.shelf_id, self._revision(own.shelf_id)):
            return own
        memberships = self.work.shelves.of(self.keeper.id, on=self.today)
        return next((m for m in memberships if m.shelf_id != own.shelf_id), own)

    @property
    def shelf_id(self) -> int:
        """The shelf that is talked of."""
        return self.membership.shelf_id

    @property
    def helps(self) -> bool:
        """Whether the one who writes only helps: may answer the round and log, and nothing else."""
        return self.membership.role is Role.HELPER

    @cached_property
    def shelf(self) -> Shelf:
        """The animals of the shelf and their names. See :meth:`refresh`."""
        revision = self._revision(self.shelf_id)
        return self.cache.get(self.work, self.shelf_id, revision, self.facts.living)

    def _revision(self, shelf_id: int) -> int:
        """The number of a shelf's latest revision, asked for once until :meth:`refresh`."""
        if shelf_id not in self._revisions:
            self._revisions[shelf_id] = self.work.shelves.revision(shelf_id)
        return self._revisions[shelf_id]

    @cached_property
    def facts(self) -> KnownFacts:
        """What the journal adds up to for each living animal. See :meth:`refresh`."""
        return KnownFacts(self.work, self.shelf_id)

    def refresh(self, *, surroundings: bool = True) -> None:
        """Forgets shelf and facts after something was stored, so that they are read anew.

        ``surroundings`` is false where nothing was stored of the air or of how often animals are fed.
        """
        known = self.__dict__.pop("facts", None)
        self.__dict__.pop("shelf", None)
        self._revisions.clear()
        if known is not None and not surroundings:
            self.facts = known.renewed()

    def read_anew(self) -> None:
        """Forgets how the message was read too, after what it did was taken back."""
        self.refresh()
        self.__dict__.pop("reading", None)

    @cached_property
    def reading(self) -> Reading:
        """What the message at hand says; of animals gone only where it says nothing of the living."""
        shelf = self.shelf
        reading = self._read(shelf.names)
        unsure = reading.reading in (ReadingKind.ASK, ReadingKind.UNCLEAR)
        if not shelf.gone or not (unsure or (reading.question and not reading.question.specimens)):
            return reading
        wider = self._read(shelf.all_names)
        gone = {stored.specimen.tag for stored in shelf.gone}
        about = {tag for entry in wider.entries for tag in entry.specimens}
        about |= set(wider.question.specimens) if wider.question else set()
        about |= set(wider.amend.of.specimens) if wider.amend and wider.amend.of else set()
        about |= set(wider.denies.specimens) if wider.denies else set()
        if wider.ask and wider.ask.draft:
            about |= {tag for entry in wider.ask.draft.entries for tag in entry.specimens}
        return wider if about & gone else reading

    @property
    def was_read(self) -> ReadingKind | None:
        """How the message was read; ``None`` where it did not come to that."""
        return self.reading.reading if "reading" in self.__dict__ else None

    def _read(self, names: ShelfNames) -> Reading:
        of = self.dialog.get("of")
        meant = of in names.by_tag and has_pronoun(self.incoming.text)
        talked_of = of if meant else None
        return read(self.incoming.text, names, now=self.now, settings=self.settings, talked_of=talked_of)

    def animals(self, tags: Iterable[str]) -> list[Specimen]:
        """The animals with these tags, living or gone, in the order given."""
        by_tag = self.shelf.by_tag
        return [by_tag[tag] for tag in tags if tag in by_tag]

    def called(self, tag: str) -> str:
        """Name and tag of an animal; the tag alone where it is not known any more."""
        specimen = self.shelf.by_tag.get(tag)
        return specimen.called if specimen else tag

    def names_of(self, rows: Iterable[JournalEntry], *, most: int) -> str:
        """The animals that entries are of, each once, and no more than so many by name."""
        tags = dict.fromkeys(tag for row in rows for tag in row.entry.specimens)
        return wording.listed([self.called(tag) for tag in tags], most=most)

    def told(self, entry: Entry, *, each: bool = False) -> str:
        """What an entry says, without whom and when, another animal in it by its name."""
        if entry.partner is not None:
            entry = replace(entry, partner=self.called(entry.partner))
        return wording.told(entry, self.settings, each=each)

    @property
    def origin(self) -> str:
        """The mark under which the change that this message or press makes can be found again."""
        return f"{self.chat}:{self.incoming.reference or self.incoming.pressed or ''}"

    def open_change(self) -> int:
        """Opens the change that groups everything the message at hand does. Gives its number."""
        return self.work.journal.change(
            self.shelf_id, self.keeper.id, at=self.incoming.sent_at, origin=self.origin
        )

    @property
    def example(self) -> str:
        """An animal of the shelf to make examples with, as the keeper would call it."""
        named = [animal.name or animal.tag for animal in self.shelf.specimens]
        return named[0] if named else say("bad.example")

    def note_turned(self, change_id: int) -> None:
        """Notes that a change was taken back or put back, for those who share the shelf."""
        self.turned.append(change_id)

    def note_done(self, change_id: int, text: str) -> None:
        """Keeps in words what a change without entries did, so that an undo can say it."""
        self.remember(did=[*self.dialog.get("did", []), [change_id, text]][-_KEPT_IN_WORDS:])

    def note_before(self, change_id: int, text: str) -> None:
        """Keeps in words what a change replaced, so that an undo can say what stands again."""
        self.remember(before=[*self.dialog.get("before", []), [change_id, text]][-_KEPT_IN_WORDS:])

    def note_corrected(self, change_id: int) -> None:
        """Keeps that the message at hand made a change which counts as that of the message it corrects."""
        corrected = [*self.dialog.get("corrected", []), [self.incoming.reference, change_id]]
        self.remember(corrected=corrected[-_KEPT_IN_WORDS:])

    # --- what the conversation remembers from one message to the next ---

    @cached_property
    def dialog(self) -> dict[str, Any]:
        """What was remembered: ``of`` (a tag), ``step``, ``open``, ``more``; see :meth:`remember`.

        ``elsewhere`` tells what was done since the last entry and was none, or the press that undoes it,
        ``taken`` what was taken back.
        """
        return dict(self.work.dialogs.get(self.keeper.id, self.chat) or {})

    def remember(self, **values: Any) -> None:
        """Keeps values for the next message; ``None`` forgets one."""
        for key, value in values.items():
            if self.dialog.get(key) != value:
                self._remembered[key] = value
                self.dialog[key] = value

    def save_dialog(self) -> None:
        """Stores what was remembered in this turn."""
        if self._remembered:
            kept = {key: value for key, value in self.dialog.items() if value is not None}
            self.work.dialogs.set(self.keeper.id, self.chat, kept)

    def forget(self) -> None:
        """Keeps nothing of this turn, nor of the shelf: there is nobody any more to keep it for."""
        self._remembered.clear()
        self.cache.drop(self.shelf_id)

    # --- replies ---

    def reply(
        self,
        text: str,
        rows: Sequence[Sequence[Choice]] = (),
        *,
        pending: Mapping[str, Any] | None = None,
        change_id: int | None = None,
        in_place: bool = False,
    ) -> Reply:
        """A reply; its buttons, where there are any, are stored as a prompt and get short ids."""
        rows = [row for row in rows if row]
        if not rows and pending is None:
            return Reply(text=text, edits_pressed=in_place)
        actions = [dict(choice.action, label=choice.label) for row in rows for choice in row]
        number = self.work.prompts.put(
            self.keeper.id,
            chat=self.chat,
            actions=actions,
            pending=dict(pending) if pending is not None else None,
            change_id=change_id,
            at=self.incoming.sent_at,
        )
        if pending is not None:
            self.remember(open=number)
        indices = iter(range(len(actions)))
        buttons = tuple(
            tuple(Button(label=choice.label, data=f"{number}:{next(indices)}") for choice in row)
            for row in rows
        )
        return Reply(text=text, buttons=buttons, edits_pressed=in_place, number=number)


_KEPT_IN_WORDS: Final = 8


def undo_row(change_id: int) -> list[Choice]:
    """The button that takes a change back."""
    return [Choice(say("button.undo"), {"do": "undo", "change": change_id})]


def rows_of(choices: Sequence[Choice], width: int = 2) -> list[list[Choice]]:
    """Buttons laid out a few to a row."""
    return [list(choices[start : start + width]) for start in range(0, len(choices), width)]
