"""How a repetition is told: an RFC 5545 rule in words. Pure."""

from __future__ import annotations

from bot.conversation import wording
from bot.conversation.texts import say, words
from bot.terms.recurrence import WEEKDAYS, days_of, parts_of


def spoken(rule: str) -> str:
    """``every 3 days``, ``on the first Sunday of each month``, ``every year on 3 Jun``."""
    days = days_of(rule)
    if days is not None:
        return say("remind.every_day") if days == 1 else say("remind.every_days", n=days)
    parts = parts_of(rule)
    return {"WEEKLY": _weekly, "MONTHLY": _monthly, "YEARLY": _yearly}[parts["FREQ"]](parts)


def _weekly(parts: dict[str, str]) -> str:
    days = wording.listed([_weekday(day) for day in parts["BYDAY"].split(",")])
    return (
        say("remind.weekly", days=days)
        if parts.get("INTERVAL", "1") == "1"
        else say("remind.fortnightly", days=days)
    )


def _monthly(parts: dict[str, str]) -> str:
    if "BYDAY" in parts:
        nth, day = int(parts["BYDAY"][:-2]), parts["BYDAY"][-2:]
        named = words("remind.nths")[nth - 1] if nth > 0 else say("remind.last")
        return say("remind.monthly_nth", nth=named, weekday=_weekday(day))
    days = [int(day) for day in parts["BYMONTHDAY"].split(",")]
    if days == [-1]:
        return say("remind.monthly_last")
    return say("remind.monthly", days=wording.listed([words("remind.ordinals")[day - 1] for day in days]))


def _weekday(day: str) -> str:
    return words("calendar.weekdays_in_full")[WEEKDAYS.index(day)]


def _yearly(parts: dict[str, str]) -> str:
    month = words("calendar.months")[int(parts["BYMONTH"]) - 1]
    return say("remind.yearly", day=parts["BYMONTHDAY"], month=month)
