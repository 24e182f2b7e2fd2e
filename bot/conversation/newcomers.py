"""The draft of an animal to be added: what was said of it, and what is put on the shelf and into the journal.

A draft is plain JSON that travels in the buttons. An animal that has been kept for long is no new arrival:
the journal gets the day since which it is kept, or a note that it was here before, so that it need not
settle in.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal
from typing import Any, Final

from bot.conversation.species_words import name_and_species, species_meant
from bot.conversation.texts import say
from bot.conversation.turn import Turn
from bot.husbandry.species import species_of
from bot.reading.wanted.newcomer import Newcomer, came_on, newcomer_from
from bot.reading.wanted.newcomer_words import is_surely_name
from bot.reading.wanted.newcomers import MOST_AT_ONCE, newcomers_from
from bot.terms import Entry, Habit, Kind, Sex, Specimen, Stage
from storage.records import JournalEntry

Draft = dict[str, Any]

LONGEST_NAME: Final = 40
#: So long after it came an animal is still a new arrival (common practice, no source).
NEW_FOR: Final = timedelta(days=30)


# --- what was said --------------------------------------------------------------------------


def drafted(turn: Turn, newcomer: Newcomer) -> Draft:
    """The draft of what was said, by its keys; what was not said is left out."""
    named, species, left = name_and_species(newcomer.words, turn.shelf.specimens)
    if named and newcomer.name:
        left = [named, *left]
    name = newcomer.name or named
    if newcomer.kind and not species:
        species = species_meant(newcomer.kind, turn.shelf.specimens)
    said = {
        "name": name[:LONGEST_NAME] if name else None,
        "tag": newcomer.tag,
        "place": newcomer.place,
        "span_cm": str(newcomer.span_cm) if newcomer.span_cm is not None else None,
        "stage": newcomer.stage.value if newcomer.stage else None,
        "sex": newcomer.sex.value if newcomer.sex else None,
        "species": species[0] if len(species) == 1 else None,
        "may_be": species if len(species) > 1 else None,
        "source": newcomer.source,
        "unread": [*newcomer.unread, *left] or None,
        **_amount(newcomer),
        **_since(turn, newcomer),
    }
    return {key: value for key, value in said.items() if value is not None}


def _amount(newcomer: Newcomer) -> Draft:
    if newcomer.lot:
        return {"count": newcomer.count, "lot": True}
    return {"count": min(newcomer.count, MOST_AT_ONCE)} if newcomer.count > 1 else {}


def _since(turn: Turn, newcomer: Newcomer) -> Draft:
    """Since when it is kept: the day of coming of a new arrival, else that it was here before."""
    if not (newcomer.came or newcomer.kept or newcomer.new):
        return {}
    day = came_on(newcomer.came, turn.shelf.names, turn.now, turn.settings) if newcomer.came else None
    if day is not None and turn.today - day <= NEW_FOR:
        said: Draft = {"on": day.isoformat(), "kept": False}
    elif day is not None:
        said = {"kept": True, "since": day.isoformat(), "since_as": _as_near_as_said(newcomer.came or "")}
    else:
        said = {"kept": not newcomer.new}
    return {"since": None, **said, "coming_said": True}


def _as_near_as_said(words: str) -> str | None:
    """Whether a year alone was said, "2021", or a month of one, "March 2021"."""
    if _YEAR.search(words) is None:
        return None
    rest = _YEAR.sub("", words).strip()
    return "year" if not rest else "month" if not any(char.isdigit() for char in rest) else None


_YEAR: Final = re.compile(r"\b(?:19|20)\d\d\b")


def begun(turn: Turn, newcomer: Newcomer) -> Draft:
    """A new draft: whether it is a new arrival is as it was for the one before, where nothing is said."""
    kept = {"kept": True} if turn.dialog.get("kept_on") == turn.today.isoformat() else {}
    return {"on": turn.today.isoformat(), "count": 1, **kept, **drafted(turn, newcomer)}


def begun_by_arrival(turn: Turn, row: JournalEntry) -> Draft:
    """The draft for animals that were logged as acquired: by the entry, and by what else the message says."""
    said = newcomers_from(turn.incoming.text, turn.shelf.names, turn.settings.language)
    if len(said) == row.entry.count and len(said) > 1:
        return in_a_row([{**_by_arrival(turn, row, one), "count": 1} for one in said])
    return _by_arrival(turn, row, newcomer_from(turn.incoming.text, turn.shelf.names, turn.settings.language))


def _by_arrival(turn: Turn, row: JournalEntry, newcomer: Newcomer) -> Draft:
    entry = row.entry
    draft = drafted(turn, newcomer)
    surely = [
        w
        for w in newcomer.words
        if w != newcomer.kind and is_surely_name(w, turn.shelf.names, turn.settings.language)
    ]
    if newcomer.name is None:
        draft.pop("name", None)
        if surely and surely[0][0].isupper() and surely[0] not in (entry.source or ""):
            draft["name"] = surely[0]
    for key in ("unread", "source", "kept", "since"):
        draft.pop(key, None)
    if entry.species:
        meant = species_meant(entry.species, turn.shelf.specimens)
        draft["species"] = meant[0] if len(meant) == 1 else entry.species
    if entry.span_cm is not None:
        draft["span_cm"] = str(entry.span_cm)
    count = min(entry.count or 1, MOST_AT_ONCE)
    arrival = {"row": row.id, "change": row.change_id}
    return {**draft, "on": entry.day.isoformat(), "count": count, "arrival": arrival, "kept": False}


# --- several in a row -----------------------------------------------------------------------


def in_a_row(drafts: Sequence[Draft]) -> Draft:
    """Several drafts as one: that of the first animal, with those that come behind it as ``next``.

    What is known of one is settled before the next one's turn, and goes to ``settled``.
    """
    first, *others = drafts
    return {**first, "next": others} if others else first


def following(draft: Draft) -> Draft:
    """The draft of the next animal of several; the one before it is settled."""
    own = {key: value for key, value in draft.items() if key not in ("settled", "next")}
    first, *others = draft["next"]
    return {**first, "settled": [*(draft.get("settled") or []), own], "next": others}


def drafts_of(draft: Draft) -> list[Draft]:
    """Each animal's draft of one that stands for several, in the order in which they were told of."""
    return [*(draft.get("settled") or []), draft, *(draft.get("next") or [])]


def placed(draft: Draft, place: str) -> Draft:
    """The draft at a place, and those behind it of which none was said."""
    others = [
        one if one.get("place") is not None else {**one, "place": place} for one in draft.get("next") or []
    ]
    return {**draft, "place": place} | ({"next": others} if others else {})


def same(one: str | None, other: str) -> bool:
    """Whether two names are the same; case does not matter."""
    return one is not None and one.casefold() == other.casefold()


# --- what becomes of it ---------------------------------------------------------------------


def specimen_of(turn: Turn, draft: Mapping[str, Any], tag: str) -> Specimen:
    """The animal of a draft under a tag."""
    species = species_of(draft["species"]) if draft["species"] else None
    kin = next((animal for animal in turn.shelf.specimens if animal.species == draft["species"]), None)
    span = Decimal(draft["span_cm"]) if draft.get("span_cm") else None
    return Specimen(
        tag=tag,
        species=draft["species"] or say("species.unknown_name"),
        name=draft.get("name"),
        common=kin.common if kin else species.common_names if species else (),
        sex=Sex(draft["sex"]) if draft.get("sex") else Sex.UNKNOWN,
        stage=Stage(draft["stage"]) if draft.get("stage") else _stage(draft["species"], span),
        span_cm=span,
        place=draft["place"] or None,
        lot_size=draft["count"] if draft["lot"] else 1,
        habit=species.habit if species else Habit.TERRESTRIAL,
    )


def _stage(species: str, span: Decimal | None) -> Stage:
    """The stage that goes with a span where the keeper named none: a third and four fifths of the adult span.

    Common practice, no source; without a span a newcomer is taken for a juvenile.
    """
    if span is None:
        return Stage.JUVENILE
    adult = species_of(species).female_span_cm
    if span < min(Decimal(4), adult * Decimal("0.3")):
        return Stage.SLING
    return Stage.ADULT if span >= adult * Decimal("0.8") else Stage.JUVENILE


def log_coming(turn: Turn, change_id: int, draft: Draft) -> None:
    """What the journal is told beside: how the animals came, or that they were here before."""
    each = drafts_of(draft)
    if draft.get("arrival"):
        _log_arrival(turn, change_id, draft, [tag for one in each for tag in one["tags"]])
        return
    for one in each:
        on, tags, source = date.fromisoformat(one["on"]), one["tags"], one.get("source")
        if one.get("kept"):
            since = date.fromisoformat(one["since"]) if one.get("since") else None
            told = here_before(on, tags, since=since, source=source)
        elif source:
            told = Entry(kind=Kind.ACQUIRED, day=on, specimens=tuple(tags), source=source)
        else:
            continue
        turn.work.journal.log(change_id, [told], zone=turn.settings.zone)


def _log_arrival(turn: Turn, change_id: int, draft: Draft, tags: Sequence[str]) -> None:
    journal, arrival = turn.work.journal, draft["arrival"]
    row = next((r for r in journal.entries_of(arrival["change"]) if r.id == arrival["row"]), None)
    if row is not None and (len(tags) == 1 or row.entry.price is None):
        journal.replace(change_id, [row.id], _told_of(row.entry, draft, tags), zone=turn.settings.zone)


def _told_of(entry: Entry, draft: Mapping[str, Any], tags: Sequence[str]) -> list[Entry]:
    """An arrival as logged, now of the animals themselves."""
    each = 1 if len(tags) > 1 else entry.count
    return [replace(entry, specimens=tuple(tags), species=draft["species"] or entry.species, count=each)]


def here_before(
    on: date, tags: Sequence[str], *, since: date | None = None, source: str | None = None
) -> Entry:
    """That animals are no new arrivals: the day since which they are kept, or that they were here before."""
    if since is not None:
        return Entry(kind=Kind.ACQUIRED, day=since, specimens=tuple(tags), source=source)
    before = on - timedelta(days=1)
    return Entry(kind=Kind.NOTE, day=before, specimens=tuple(tags), note=say("add.was_here"))
