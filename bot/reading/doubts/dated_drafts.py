"""The days and times that clauses say of entries. Pure."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from typing import Final

from bot.reading.clauses.frames import Frame
from bot.reading.kinds.drafts import Doubt, Draft, day_choices
from bot.reading.model import About
from bot.terms import Kind

#: What lasts from a day on: "sealed since Monday", "mature since Monday", "in the new tub since Monday".
LASTING: Final = frozenset(
    {Kind.SEALED, Kind.OPENED, Kind.PREMOLT, Kind.MATURED, Kind.DIED, Kind.LEFT, Kind.REHOUSED, Kind.SAC}
)
#: The doubt about a weekday that is today's, too.
_WHICH_OF_TWO: Final = "same_weekday"


def date_draft(draft: Draft, frame: Frame, today: date) -> None:
    """Sets the day and time that a clause says of an entry, with what is in doubt about them."""
    if draft.kind in LASTING and not frame.days:
        _date_what_lasts(draft, frame, today)
    draft.dated = bool(frame.days) or draft.day != today
    if not frame.days:
        return
    days = {(d.day, d.time) for d in frame.days}
    if len({d for d, _ in days if d is not None}) > 1 and "days listed" not in frame.flags:
        draft.doubts.append(Doubt(About.DAY, "two_days"))
        return
    if "day of another" in frame.flags and days != {(today, None)}:
        draft.doubts.append(_that_day_or_today(frame, today))
        draft.day = today
        return
    for span in frame.days[:1] if "days listed" in frame.flags else frame.days:
        if span.day is not None:
            draft.day = span.day
        if span.time is not None:
            draft.time = span.time
        if span.doubt:
            draft.doubts.append(Doubt(About.DAY, str(span.doubt), choices=day_choices(*span.options)))
            return
    if draft.day > today:
        draft.doubts.append(Doubt(About.DAY, "future_day"))
        draft.day = today


def _that_day_or_today(frame: Frame, today: date) -> Doubt:
    """ "Ink molted on Monday, Mole ate": on that day as well, or today; so, too, before it with "and"."""
    words = " ".join(item.text for item in frame.clause.items)
    days = dict.fromkeys(
        [*(span.day for span in frame.days if span.day is not None and not span.doubt), today]
    )
    return Doubt(About.DAY, "day_of_both", words, day_choices(*days))


def _date_what_lasts(draft: Draft, frame: Frame, today: date) -> None:
    """ "sealed since Monday", "sealed for two weeks"."""
    since = next((p for p in frame.periods if str(p.kind) == "since" and p.day is not None), None)
    lasted = [p.days for p in frame.periods if str(p.kind) == "for" and p.days and not p.doubt]
    draft.lasted = lasted[0] if lasted else None
    if since is None:
        signs = draft.kind is Kind.PREMOLT  # "has been dark for a week" are signs of today as well
        draft.day = today - timedelta(days=0 if signs else draft.lasted or 0)
    else:
        draft.day = since.day
        if since.doubt == _WHICH_OF_TWO:  # "sealed since Wednesday", on a Wednesday
            draft.doubts.append(Doubt(About.DAY, since.doubt, choices=day_choices(*since.options)))
    if any(str(p.kind) == "for" and p.doubt for p in frame.periods):
        draft.doubts.append(Doubt(About.DAY, "vague_day"))  # "sealed for a month"


def on_each_day(draft: Draft, frame: Frame, today: date) -> list[Draft]:
    """ "fed Twig on Monday and Tuesday", "… this morning and tonight": once more, each further time."""
    if "days listed" not in frame.flags or draft.doubts:
        return []
    told = [(d.day, d.part if draft.kind in _OFTEN_A_DAY else None) for d in frame.days]
    more = [d for n, d in enumerate(frame.days) if told[n] not in told[:n]][1:]
    if any(d.doubt or d.day is None or d.day > today for d in more):
        draft.doubts.append(Doubt(About.DAY, "two_days"))
        return []
    return [replace(draft, day=d.day, time=d.time, fields=dict(draft.fields), doubts=[]) for d in more]


#: What may well be done twice on one day.
_OFTEN_A_DAY: Final = frozenset({Kind.FED, Kind.REFUSED, Kind.OFFERED, Kind.WATERED})
