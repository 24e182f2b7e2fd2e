"""Things that happened go into the journal, and come back as one line for each animal.

What was stored, with weekday and date where not today; then what comes next for it. Animals that
share one thing are told together. Every reply that stored something carries a button that takes it back.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any, Final

from bot.conversation import checks, guided, holds, next_up, open_offers, reminders, rights, wording
from bot.conversation.answers import answer
from bot.conversation.doubts import Doubt
from bot.conversation.ill_beside import with_illness
from bot.conversation.model import Reply
from bot.conversation.pages import fit
from bot.conversation.texts import say
from bot.conversation.turn import Choice, Turn, rows_of
from bot.reading import reading_to_store
from bot.reading.model import Reading
from bot.terms import Entry, Kind, Specimen
from storage.errors import StoreError
from storage.records import JournalEntry

_TOLD_SINGLY: Final = 4
"""Up to this many animals of one entry are told on a line each, more of them together."""

_NAMES_IN_A_GROUP: Final = 40
_MOST_REMARKS: Final = 4


@dataclass(frozen=True, slots=True, kw_only=True)
class Storing:
    """How a reading is to be stored: doubts already answered, entries it replaces, the message it is of.

    ``was`` tells the entries that are replaced. ``brief`` leaves out what comes next, where the reply
    stands beside a round that shows it.
    """

    passed: tuple[str, ...] = ()
    replaces: tuple[int, ...] = ()
    origin: str | None = None
    photos: tuple[str, ...] = ()
    amended: bool = False
    brief: bool = False
    was: str = ""

    @classmethod
    def of_message(cls, turn: Turn) -> Storing:
        """As the message at hand says it, with the photos that came with it."""
        return cls(origin=turn.origin, photos=tuple(photo.reference for photo in turn.incoming.photos))

    def to_store(self) -> dict[str, Any]:
        """Plain JSON for a prompt."""
        return {
            "passed": list(self.passed),
            "replaces": list(self.replaces),
            "origin": self.origin,
            "photos": list(self.photos),
            "amended": self.amended,
            "was": self.was,
        }

    @classmethod
    def from_store(cls, data: Mapping[str, Any]) -> Storing:
        """What :meth:`to_store` wrote; missing keys are as if nothing was said."""
        return cls(
            passed=tuple(data.get("passed", ())),
            replaces=tuple(data.get("replaces", ())),
            origin=data.get("origin"),
            photos=tuple(data.get("photos", ())),
            amended=bool(data.get("amended")),
            was=data.get("was", ""),
        )


def log_message(turn: Turn, reading: Reading) -> list[Reply]:
    """Stores what a message says happened, or asks where it is in doubt."""
    return store(turn, reading, Storing.of_message(turn))


def store(turn: Turn, reading: Reading, how: Storing, *, in_place: bool = False) -> list[Reply]:
    """Stores a reading's entries and whatever goes with them, or asks first. ``in_place`` edits the ask."""
    refusal = rights.refused_reading(turn, reading)
    if refusal:
        return refusal
    turn.facts.fetch(tag for entry in reading.entries for tag in entry.specimens)
    reading = open_offers.completed(turn, reading)
    if not (how.amended or how.replaces):
        reading = with_illness(reading)
    doubt = checks.first_doubt(turn, reading, how.passed, how.replaces)
    if doubt is not None:
        way = None if how.amended else checks.said_instead(turn, doubt)
        if way is not None:
            after = replace(how, passed=(*how.passed, doubt.key))
            return store(turn, way.reading, _instead(turn, after, way.instead), in_place=in_place)
        return [_ask(turn, doubt, how, in_place=in_place)]
    if not reading.entries and not how.replaces:
        return [turn.reply(say("log.nothing_stored"), in_place=in_place), *beside(turn, reading, None)]
    change_id = turn.work.journal.change(
        turn.shelf_id, turn.keeper.id, at=turn.incoming.sent_at, origin=how.origin
    )
    before = _remarks(turn, reading.entries)
    _write(turn, change_id, reading.entries, how.replaces)
    if how.was:
        turn.note_before(change_id, how.was)
    if how.amended and how.origin != turn.origin:
        turn.note_corrected(change_id)
    _attach_photos(turn, change_id, how.photos, reading.entries)
    turn.refresh(surroundings=bool(how.replaces) or any(e.kind is Kind.CLIMATE for e in reading.entries))
    turn.facts.fetch(tag for entry in reading.entries for tag in entry.specimens)
    _talk_of(turn, reading.entries)
    echo = _echo(turn, reading, change_id, how, before, in_place=in_place)
    return [echo, *beside(turn, reading, change_id)]


def _write(turn: Turn, change_id: int, entries: Sequence[Entry], replaces: Sequence[int]) -> None:
    """Puts the entries into the journal; where it refuses them, no empty change is left to be undone."""
    try:
        if replaces:
            turn.work.journal.replace(change_id, replaces, entries, zone=turn.settings.zone)
        else:
            turn.work.journal.log(change_id, entries, zone=turn.settings.zone)
    except StoreError:
        turn.work.journal.undo(change_id, at=turn.incoming.sent_at)
        raise


def _ask(turn: Turn, doubt: Doubt, how: Storing, *, in_place: bool) -> Reply:
    after = replace(how, passed=(*how.passed, doubt.key))
    choices = [
        Choice(
            way.label,
            {
                "do": "take",
                "reading": reading_to_store(way.reading),
                "word": way.word,
                **_instead(turn, after, way.instead).to_store(),
            },
        )
        for way in doubt.ways
    ]
    pending = {"origin": how.origin} if choices else None
    if doubt.wrong is not None:
        taken = {"rows": [[doubt.wrong.change_id, doubt.wrong.id]], "changes": {}}
        choices.append(Choice(say("checks.take_that_back"), {"do": "on_record", **taken}))
    return turn.reply(doubt.text, rows_of(choices, 1), pending=pending, in_place=in_place)


def _instead(turn: Turn, how: Storing, rows: Sequence[JournalEntry]) -> Storing:
    """How a reading is stored in the place of entries on record."""
    if not rows:
        return how
    was = "\n".join(line for row in rows for line in told(turn, row.entry))
    return replace(how, replaces=(*how.replaces, *(row.id for row in rows)), amended=True, was=was)


def beside(turn: Turn, reading: Reading, change_id: int | None) -> list[Reply]:
    """What a message says beside its entries: a reminder, a hold, a question, an order to be asked about."""
    replies: list[Reply] = []
    if change_id is not None:
        stored = turn.work.journal.entries_of(change_id) if any(map(_is_arrival, reading.entries)) else ()
        replies += [guided.offer(turn, row) for row in stored if _is_arrival(row.entry)]
    if reading.reminder is not None:
        replies += reminders.set_reminder(turn, reading.reminder, change_id=change_id)
    if reading.hold is not None:
        replies += holds.set_hold(turn, reading.hold, change_id=change_id)
    if reading.question is not None:
        replies += answer(turn, reading.question)
    lacking = reading.beside.ask if reading.beside is not None else None
    if lacking is not None and not (lacking.options or lacking.draft):
        replies.append(turn.reply(say("ask.again_beside")))
    elif reading.beside is not None:
        replies += turn.readings[reading.beside.reading](turn, reading.beside)
    return replies


def _is_arrival(entry: Entry) -> bool:
    """Whether an entry tells of animals that came and are not on the shelf yet."""
    return entry.kind is Kind.ACQUIRED and not entry.specimens


def _attach_photos(turn: Turn, change_id: int, photos: Sequence[str], entries: Sequence[Entry]) -> None:
    tags = sorted({tag for entry in entries for tag in entry.specimens})
    tag = tags[0] if len(tags) == 1 else None
    for reference in photos:
        turn.work.photos.add(change_id, tag, reference=reference, path=None, at=turn.incoming.sent_at)


def _talk_of(turn: Turn, entries: Sequence[Entry]) -> None:
    tags = {tag for entry in entries for tag in entry.specimens}
    if len(tags) == 1:
        turn.remember(of=tags.pop())


# --- the echo -------------------------------------------------------------------------------


def _remarks(turn: Turn, entries: Sequence[Entry]) -> list[str]:
    """What has to be said of the animals as they stood before the entries were stored.

    That a day lies before an animal came is said once a day: who fills in what was is told it once.
    """
    lines: dict[str, None] = {}
    rested: dict[str, list[str]] = {}
    told_today = turn.dialog.get("before_added") == turn.today.isoformat()
    for entry in entries:
        for tag in entry.specimens:
            facts = turn.facts.get(tag)
            if facts is None:
                continue
            earlier = facts.arrived_on is not None and entry.day < min(facts.arrived_on, turn.today)
            if facts.arrived_on and earlier and entry.kind is not Kind.ACQUIRED and not told_today:
                day = wording.date_of(facts.arrived_on, turn.today)
                lines[say("log.before_added", who=turn.called(tag), day=day)] = None
                turn.remember(before_added=turn.today.isoformat())
            if entry.kind is Kind.FED and (why := next_up.rest_on(turn, facts, entry.day)):
                rested.setdefault(why, []).append(tag)
    return [*lines, *(_at_rest(turn, tags, why) for why, tags in rested.items())][:_MOST_REMARKS]


def _at_rest(turn: Turn, tags: Sequence[str], why: str) -> str:
    """That animals that ate were at rest for one and the same reason."""
    if len(set(tags)) == 1:
        return say("log.was_at_rest", who=turn.called(tags[0]), why=why)
    animals = [animal for animal in turn.shelf.specimens if animal.tag in tags]
    return say("log.were_at_rest", who=wording.called(animals, most=12), why=why)


def _lines(turn: Turn, entries: Sequence[Entry], *, brief: bool) -> list[str]:
    """All entries told; what comes next for an animal stands under its last one."""
    lines: list[str] = []
    for at, entry in enumerate(entries):
        later = {
            tag
            for following in entries[at + 1 :]
            if next_up.same_matter(entry, following)
            for tag in following.specimens
        }
        lines += told(turn, entry, with_next=not brief and not later & set(entry.specimens))
    return lines


def _echo(
    turn: Turn,
    reading: Reading,
    change_id: int,
    how: Storing,
    before: list[str],
    *,
    in_place: bool,
) -> Reply:
    lines = _lines(turn, reading.entries, brief=how.brief) + before
    if how.photos:
        lines.append(say("log.photos", n=len(how.photos)))
    if how.amended:
        lines.insert(0, say("log.amended") if reading.entries else say("log.only_taken_back"))
    rows = [_buttons(turn, reading.entries, change_id)]
    return fit(turn, "\n".join(lines), rows, change_id=change_id, in_place=in_place)


def _buttons(turn: Turn, entries: Sequence[Entry], change_id: int) -> list[Choice]:
    choices = [Choice(say("button.undo"), {"do": "undo", "change": change_id})]
    if len(entries) == 1 and entries[0].kind in (Kind.FED, Kind.OFFERED) and len(entries[0].specimens) == 1:
        choices.append(
            Choice(say("button.refused"), {"do": "instead", "change": change_id, "kind": "refused"})
        )
        if entries[0].kind is Kind.OFFERED:
            choices.append(Choice(say("button.ate"), {"do": "instead", "change": change_id, "kind": "fed"}))
    return choices


def told(turn: Turn, entry: Entry, *, with_next: bool = False) -> list[str]:
    """The lines that tell an entry; ``with_next`` adds what comes next for its animals."""
    animals = turn.animals(entry.specimens)
    if len(animals) > _TOLD_SINGLY:
        return _told_together(turn, entry, animals, with_next=with_next)
    when = when_of(turn, entry)
    what = turn.told(entry)
    if not animals:
        who = entry.place or say("log.room") if entry.kind is Kind.CLIMATE else ""
        line = (
            say("log.line", who=who, what=what, when=when) if who else say("log.bare", what=what, when=when)
        )
        return [wording.capital(line)]
    lines = []
    for animal in animals:
        line = say("log.line", who=animal.called, what=what, when=when)
        after = next_up.after(turn, entry, animal) if with_next else ""
        lines.append(f"{line} {after}".rstrip())
    return lines


def _told_together(turn: Turn, entry: Entry, animals: Sequence[Specimen], *, with_next: bool) -> list[str]:
    what = turn.told(entry, each=True)
    places = {animal.place for animal in animals}
    place = places.pop() if len(places) == 1 else None
    key = say("log.group_at", n=len(animals), place=place) if place else say("log.group", n=len(animals))
    lines = [
        say("log.line", who=key, what=what, when=when_of(turn, entry)),
        wording.called(animals, most=_NAMES_IN_A_GROUP),
    ]
    if with_next:
        lines += next_up.after_all(turn, entry, animals)
    return lines


def when_of(turn: Turn, entry: Entry) -> str:
    """``, yesterday (Wed 13 May)``, with the clock time where one was said; nothing for today."""
    parts = []
    if entry.day != turn.today:
        parts.append(wording.day_in_full(entry.day, turn.today))
    if entry.time is not None:
        parts.append(say("log.at", time=wording.clock(entry.time)))
    return "".join(say("log.when", when=part) for part in [" ".join(parts)] if part)
