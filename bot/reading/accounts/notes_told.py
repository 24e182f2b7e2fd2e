"""What was seen at an animal and fits no other kind, kept as a note in the keeper's words."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date

from bot.reading.accounts.note_heads import headed_note, named_before
from bot.reading.doubts.account_model import Account
from bot.reading.kinds.drafts import Draft
from bot.reading.message.parse import Message
from bot.terms import Kind


def notes_of_what_was_seen(message: Message, account: Account) -> list[Draft]:
    """What was seen at an animal and fits no kind, in the keeper's words; or whatever is told as a note."""
    headed = _headed(message, account)
    if headed is not None:
        return [headed]
    seen = any("seen" in frame.flags for frame in account.unknown)
    seen = seen or (bool(account.unknown) and shows_signs(message, range(len(message.tokens))))
    for frame in account.unknown:
        refs = [r for r in frame.refs if r.sure and r.how != "talked" and len(r.tags) == 1]
        if not refs or not seen:
            continue
        tags = message.names.in_order(t for r in refs for t in r.tags)
        draft = Draft(Kind.NOTE, tags, message.today, fields={"note": message.source.plain.strip()})
        if frame.days and frame.days[0].day is not None and not frame.days[0].doubt:
            draft.day = _past(frame.days[0].day, message.today)
        return [draft]
    return []


def _headed(message: Message, account: Account) -> Draft | None:
    """ "note for Pebble: looks like Sprig": of those before the colon, whoever is named behind it."""
    refs = [r for frame in account.unknown for r in frame.refs if r.sure and len(r.tags) == 1]
    before = named_before(message, refs)
    note = headed_note(message, before)
    of = before or refs  # "note: Pebble has new cork bark"
    if not note or not of:
        return None
    tags = message.names.in_order(t for r in of for t in r.tags)
    return Draft(Kind.NOTE, tags, message.today, fields={"note": note})


def notes_beside(message: Message, account: Account, drafts: Sequence[Draft]) -> list[Draft]:
    """ "Pebble ate, Rust is limping": what was seen at another animal than the one that the rest is about."""
    told_of = {tag for draft in drafts for tag in draft.tags}
    out = []
    for frame in account.unknown:
        refs = [r for r in frame.refs if r.sure and r.how != "talked" and len(r.tags) == 1]
        items = frame.clause.items
        if len(refs) != 1 or told_of == set(refs[0].tags) or frame.days or not frame.signs:
            continue
        start, end = message.tokens[items[0].i].start, message.tokens[items[-1].j - 1].end
        said = message.source.plain[start:end].strip(" ,.;")
        out.append(Draft(Kind.NOTE, refs[0].tags, message.today, fields={"note": said}))
    return out


def shows_signs(message: Message, tokens: Iterable[int]) -> bool:
    """Whether a word for what is seen of an animal begins at one of the tokens."""
    return any(message.lexicon.signs.find(message.tokens, message.keys, at) for at in tokens)


def _past(day: date, today: date) -> date:
    return min(day, today)
