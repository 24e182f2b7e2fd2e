"""How the fangs of one that molted were found, in words: "Mole's fangs are red", "Duke is still pale"."""

from __future__ import annotations

import re
from datetime import date
from typing import Final

from bot.conversation import log
from bot.conversation.model import Reply
from bot.conversation.turn import Turn
from bot.husbandry.fang_record import fangs_noted
from bot.reading.model import About, Reading, ReadingKind
from bot.reading.names.names_alone import named_in
from bot.reading.short_answers import has_pronoun
from bot.terms import Entry, Kind

_PARTS: Final = re.compile(r",|;|\b(?:and|but|und|aber|y|pero)\b", re.I)
#: "Moss' fangs", and "Rusts fangs" for Rust's.
_OWN_S: Final = re.compile(r"(s)['’](?!\w)", re.I)
_S: Final = re.compile(r"(\w\w)s\b", re.I)


def said(turn: Turn) -> list[Reply] | None:
    """Stores it as a note of those animals; ``None`` where the message tells or asks something else."""
    text = turn.incoming.text
    black = fangs_noted(text)
    if black is None or text.rstrip().endswith("?") or not _is_all_told(turn.reading):
        return None
    tags = _whose(turn)
    parted = len(tags) > 1 and any(
        fangs_noted(f"{part} fangs") not in (None, black) for part in _PARTS.split(text)
    )
    if not tags or parted:
        return None
    note = Entry(kind=Kind.NOTE, day=_day(turn), specimens=tags, note=text.strip())
    reading = Reading(reading=ReadingKind.ENTRIES, text=text, entries=(*turn.reading.entries, note))
    return log.store(turn, reading, log.Storing.of_message(turn))


def _is_all_told(reading: Reading) -> bool:
    """Whether the ordinary reading makes no more of the message than that somebody looked."""
    if reading.reading is ReadingKind.ENTRIES:
        return all(entry.kind is Kind.CHECKED for entry in reading.entries)
    if reading.ask is not None:
        return reading.ask.about is About.KIND
    return reading.reading is ReadingKind.UNCLEAR


def _whose(turn: Turn) -> tuple[str, ...]:
    """Those named, else the one just talked of, as far as their fangs are waited for."""
    text, names = _OWN_S.sub(r"\1", turn.incoming.text), turn.shelf.names
    named = named_in(text, names) | named_in(_S.sub(r"\1's", text), names)
    if not named and has_pronoun(turn.incoming.text):
        named = frozenset({turn.dialog["of"]} if turn.dialog.get("of") else ())
    awaited = tuple(tag for tag in turn.shelf.by_tag if tag in named and _is_awaited(turn, tag))
    return awaited if len(awaited) == len(named) else ()


def _is_awaited(turn: Turn, tag: str) -> bool:
    """Whether an animal has not eaten since it molted or opened its burrow."""
    facts = turn.facts.get(tag)
    if facts is None:
        return False
    opened, fed = facts.state.last_opened, facts.state.last_fed
    return not facts.state.eaten_since_molt or (opened is not None and (fed is None or fed < opened))


def _day(turn: Turn) -> date:
    ask = turn.reading.ask
    told = ask.draft.entries if ask is not None and ask.draft is not None else turn.reading.entries
    days = {entry.day for entry in told}
    return days.pop() if len(days) == 1 else turn.today
