"""The price paid for an animal of the shelf, or whom it is from, is put on record as it came.

What is on record of its coming is amended; where nothing is, it is noted on the first day of its record.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from decimal import Decimal
from typing import Any

from bot.conversation.answers.origin import here_since
from bot.conversation.log import Storing, store, told
from bot.conversation.model import Reply
from bot.conversation.texts import say
from bot.conversation.turn import Choice, Turn, rows_of
from bot.reading.model import Reading, ReadingKind
from bot.reading.wanted.provenance import Provenance, read_provenance
from bot.reading.woven.fields import LIKELY_MONEY
from bot.terms import Entry, Kind
from storage.records import JournalEntry, Prompt


def said(turn: Turn) -> list[Reply] | None:
    """A message that tells what was paid for animals of the shelf, or from whom they are; else ``None``."""
    if turn.helps:
        return None
    found = read_provenance(turn.incoming.text, turn.shelf.names, now=turn.now, settings=turn.settings)
    if found is None:
        return None
    if not found.tags:
        talked_of = turn.dialog.get("of")
        if talked_of not in turn.shelf.names.by_tag:
            return None
        found = replace(found, tags=(talked_of,))
    return _put_down(turn, found)


def _put_down(turn: Turn, found: Provenance) -> list[Reply]:
    """Stores what is wholly known; asks for what is not, one thing after the other."""
    if found.one_of:
        ways = [(turn.called(tag), replace(found, tags=(tag,), one_of=False)) for tag in found.tags]
        return [_asked(turn, say("provenance.which"), ways)]
    if found.price is not None and len(found.tags) > 1:
        return [turn.reply(say("provenance.each", who=turn.called(found.tags[0])))]
    if not found.sure and found.source:
        text = say("provenance.is_it", source=found.source, who=turn.called(found.tags[0]))
        return [_asked(turn, text, [(say("button.yes"), replace(found, sure=True))])]
    if found.price is not None and found.currency is None:
        ways = [(f"{found.price} {money}", replace(found, currency=money)) for money in LIKELY_MONEY]
        return [_asked(turn, say("provenance.what_money", price=found.price), ways)]
    return _stored(turn, found)


def _asked(turn: Turn, text: str, ways: Sequence[tuple[str, Provenance]]) -> Reply:
    choices = [Choice(label, {"do": "provenance", **_to_store(found)}) for label, found in ways]
    choices.append(Choice(say("button.none_of_these"), {"do": "none"}))
    return turn.reply(text, rows_of(choices), pending={})


def pressed(turn: Turn, _prompt: Prompt, action: Mapping[str, Any]) -> list[Reply]:
    """What was asked has been answered."""
    found = _from_store(action)
    if any(tag not in turn.shelf.names.by_tag for tag in found.tags):
        return [turn.reply(say("bad.tag_changed"))]
    return _put_down(turn, found)


def _stored(turn: Turn, found: Provenance) -> list[Reply]:
    entries: list[Entry] = []
    before: list[JournalEntry] = []
    turn.facts.fetch(found.tags)
    for tag in found.tags:
        row = turn.work.journal.last(turn.shelf_id, tag, (Kind.ACQUIRED,))
        if row is not None:
            before.append(row)
            entries.append(_with(row.entry, found))
        else:
            entries.append(_with(_came(turn, tag), found))
    if [row.entry for row in before] == entries:
        lines = [line for entry in entries for line in told(turn, entry)]
        return [turn.reply("\n".join([say("provenance.so_already"), *lines]))]
    reading = Reading(reading=ReadingKind.ENTRIES, text=turn.incoming.text, entries=tuple(entries))
    how = Storing(
        origin=turn.origin,
        replaces=tuple(row.id for row in before),
        amended=bool(before),
        was="\n".join(line for row in before for line in told(turn, row.entry)),
    )
    made = len(turn.work.journal.made)
    echo, *others = store(turn, reading, how)
    if len(turn.work.journal.made) > made and len(before) < len(entries):
        echo = replace(echo, text=f"{echo.text}\n{say('provenance.day_unknown')}")
    return [echo, *others]


def _came(turn: Turn, tag: str) -> Entry:
    """Of an animal whose coming is not on record: that it came, on the first day of its record."""
    facts = turn.facts.get(tag)
    first = here_since(facts) if facts is not None else None
    return Entry(kind=Kind.ACQUIRED, day=min(first or turn.today, turn.today), specimens=(tag,))


def _with(entry: Entry, found: Provenance) -> Entry:
    if found.price is not None:
        entry = replace(entry, price=found.price, currency=found.currency)
    return replace(entry, source=found.source) if found.source else entry


def _to_store(found: Provenance) -> dict[str, Any]:
    return {
        "tags": list(found.tags),
        "one_of": found.one_of,
        "price": None if found.price is None else str(found.price),
        "currency": found.currency,
        "source": found.source,
        "sure": found.sure,
    }


def _from_store(data: Mapping[str, Any]) -> Provenance:
    return Provenance(
        tags=tuple(data["tags"]),
        one_of=data["one_of"],
        price=None if data["price"] is None else Decimal(data["price"]),
        currency=data["currency"],
        source=data["source"],
        sure=data["sure"],
    )
