"""Doubts about the day that a clause tells of."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache
from itertools import pairwise
from typing import Final

from bot.reading.clauses.days_of_another import Whose
from bot.reading.clauses.frames import Frame
from bot.reading.clauses.may_be_a_day import unread_day
from bot.reading.days.words import days_data, short_weekdays
from bot.reading.items.item import Item, words_in
from bot.reading.kinds.drafts import Doubt, Draft, day_choices
from bot.reading.model import FEEDING, About
from bot.reading.words.phrasings import meaning
from bot.reading.words.rule_words import rule_words
from bot.terms import Kind


def yet_to_come(draft: Draft, frame: Frame) -> Doubt | None:
    """ "Ink molts in 3 days": a day that is ahead; "took both within a minute" says how quickly."""
    opened = _stretches_opened_by(frame)
    quickly = draft.kind in FEEDING and opened and _QUICKLY.issuperset(opened)
    ahead = any(
        str(period.kind) == "in" and not (quickly and period.days is None) for period in frame.periods
    )
    return Doubt(About.DAY, "future_day") if ahead and not frame.days else None


def _stretches_opened_by(frame: Frame) -> list[str]:
    """The first word of each stretch of time that a clause says."""
    return [item.text.split()[0] for item in frame.clause.items if item.cat == "P"]


#: "took it within a minute", where "in a minute" may be ahead.
_QUICKLY: Final = rule_words("within_so_long")


def again_and_again(draft: Draft, frame: Frame) -> Doubt | None:
    """ "a roach each tuesday": once, or every week? "has molted since Sunday": on which day?"""
    kinds = {str(period.kind) for period in frame.periods}
    within = not _WITHIN.isdisjoint(_stretches_opened_by(frame))
    lately = "since" in kinds or (within and "for" in kinds)  # "molted over the last 3 days"
    repeated = "every" in kinds or (lately and draft.kind in _ON_ONE_DAY)
    return Doubt(About.DAY, "vague_day") if repeated and not frame.days else None


#: Words before a stretch of days, on some day of which something was.
_WITHIN: Final = rule_words("on_some_day_of")
#: What happens on some day, and lasts no longer.
_ON_ONE_DAY: Final = frozenset({Kind.FED, Kind.MOLTED, Kind.WATERED, Kind.CLEANED, Kind.MEASURED})


def day_of_another(draft: Draft, frame: Frame) -> Doubt | None:
    """ "12.5 cm after her molt on May 3": now, or on the day that is said of the other event?"""
    own = sum(item.cat == "D" for item in frame.clause.items) > len(frame.other_days)
    whose, other = frame.other_days[0] if frame.other_days and not own else (Whose.ITS_OWN, None)
    if other is None or whose is Whose.ITS_OWN or (whose is Whose.EITHER and other.day == draft.day):
        return None
    days = [draft.day, other.day] if whose is Whose.EITHER and other.day is not None else []
    return Doubt(About.DAY, "vague_day", choices=day_choices(*days))


def keeper_was_away(draft: Draft, frame: Frame) -> Doubt | None:
    """ "molted while we were at the cottage": on some day on which nobody was there to see it."""
    return Doubt(About.DAY, "vague_day") if "keeper away" in frame.flags and not frame.days else None


def mark_while_away(frames: Sequence[Frame]) -> None:
    """Flags the frames that tell of the keeper's being away, and those right before them."""
    for place, frame in enumerate(frames):
        said = words_in(frame.clause.items)
        if _AWAY.isdisjoint(said):
            continue
        if not {"self", "did"} <= frame.flags and _TRIPS.isdisjoint(said):
            continue  # "I threw the skin away"
        dated = frame if frame.refs or not place else frames[place - 1]
        dated.flags.add("keeper away")


#: Words for being away, and those that mean nothing else.
_TRIPS: Final = rule_words("trips")
_AWAY: Final = rule_words("away_from_home") | _TRIPS


def day_of_what_was_left(draft: Draft, frame: Frame) -> Doubt | None:
    """ "removed the leftovers from Monday", "… Monday's leftovers": cleaned today, or on that day?"""
    trios = zip(frame.clause.items, frame.clause.items[1:], (*frame.clause.items[2:], None), strict=False)
    of_waste = any(
        (a.cat == "D" and _is_waste(b))
        or (_is_waste(a) and "from" in b.senses and c is not None and c.cat == "D")
        for a, b, c in trios
    )
    return Doubt(About.DAY, "vague_day") if of_waste else None


def _is_waste(item: Item) -> bool:
    return item.senses.part == "waste"


def number_or_day(draft: Draft, frame: Frame) -> Doubt | None:
    """ "Ink fed 12 June, Mole 13": so many, or on the day of the month that comes next?"""
    alone = [item.cat for item in frame.clause.items if item.cat != "M"] == ["S", "N"]
    count = draft.fields.get("count")
    if not (alone and frame.inherited and frame.days and isinstance(count, int)) or "prey" in draft.fields:
        return None
    of_the_month = 0 < count - draft.day.day <= _NEXT_DAYS
    return Doubt(About.DAY, "vague_day", str(count)) if of_the_month else None


#: Feedings noted behind one another are seldom further apart.
_NEXT_DAYS: Final = 7


def day_not_read(draft: Draft, frame: Frame) -> Doubt | None:
    """ "fed Ink tewsday": a word not understood that may be the day."""
    word = unread_day(frame)
    return Doubt(About.DAY, "vague_day", word) if word is not None else None


def loose_day(draft: Draft, frame: Frame) -> Doubt | None:
    """ "Ink molted, 9th", "fed in sun": words that may be a day, and of what."""
    pairs = list(pairwise(frame.clause.items))
    of_a_word = any(
        b.cat == "U" and b.text in meaning("weekdays") and a.text not in _THE for a, b in pairs
    )  # "in sun"
    of_a_word = of_a_word or any(a.cat == "U" and a.text in _months() and b.cat == "N" for a, b in pairs)
    of_a_word = of_a_word or (
        draft.kind not in _OF_PEOPLE
        and any(i.cat == "U" and i.text in short_weekdays() for _, i in frame.unknown)
    )  # "Ink Mo, Mole Di gefüttert"
    which = draft.kind is Kind.MOLTED and any(span.rule == _BY_ITSELF for span in frame.days)
    if which:  # "Ink molted, 9th": on that day, or for the ninth time?
        return Doubt(About.DAY, "vague_day", choices=day_choices(draft.day))
    return Doubt(About.DAY, "vague_day") if "loose day" in frame.flags or of_a_word else None


@cache
def _months() -> frozenset[str]:
    """ "ate April 3 and refused 2": what is said like a date and was not found as one."""
    return frozenset(word for words in days_data("en").words["month"].values() for word in words)


#: Kinds told with people, who may be called so.
_OF_PEOPLE: Final = frozenset({Kind.ACQUIRED, Kind.LEFT, Kind.STOCKED})
#: The rule of days for an ordinal between marks.
_BY_ITSELF: Final = "an nth by itself"
_THE: Final = rule_words("the")
