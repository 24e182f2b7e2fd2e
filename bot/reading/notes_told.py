"""What was seen at an animal and fits no other kind, kept as a note in the keeper's words."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date

from bot.reading.account import Account
from bot.reading.drafts import Draft
from bot.reading.note_heads import note_in
from bot.reading.parse import Message
from bot.terms import Kind


def notes_of_what_was_seen(message: Message, account: Account) -> list[Draft]:
    """What was seen at an animal and fits no kind, in the keeper's words."""
    seen = any("seen" in frame.flags for frame in account.unknown)
    seen = seen or (bool(account.unknown) and shows_signs(message, range(len(message.tokens))))
    for frame in account.unknown:
        refs = [r for r in frame.refs if r.sure and r.how != "talked" and len(r.tags) == 1]
        if not refs or not seen:
            continue
        tags = message.names.in_order(t for r in refs for t in r.tags)
        draft = Draft(Kind.NOTE, tags, message.today, fields={"note": note_in(message, refs)})
        if frame.days and frame.days[0].day is not None and not frame.days[0].doubt:
            draft.day = _past(frame.days[0].day, message.today)
        return [draft]
    return []


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
