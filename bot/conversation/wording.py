"""Plurals, lists, days, amounts: finished words for the blanks of the texts. Pure."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date, datetime, time
from decimal import ROUND_HALF_UP, Decimal
from typing import Final
from zoneinfo import ZoneInfo

from bot.conversation.texts import has, say, say_of, words
from bot.terms import Entry, KeeperSettings, Kind, SacEvent, Specimen, Units
from bot.terms.keeper import CM_PER_INCH, LITRES_PER_US_GALLON

LONGEST: Final = 4000
"""Characters of one reply: below the 4,096 that a chat message may have."""

_L_PER_UK_GALLON: Final = Decimal("4.54609")
_MEALS: Final = frozenset({Kind.FED, Kind.REFUSED, Kind.OFFERED})


# --- days -----------------------------------------------------------------------------------


def date_of(day: date, today: date) -> str:
    """``Thu 14 May``, with the year where it is not this year's."""
    weekday = words("calendar.weekdays")[day.weekday()]
    month = words("calendar.months")[day.month - 1]
    key = "calendar.date" if day.year == today.year else "calendar.date_and_year"
    if key == "calendar.date":
        return say("calendar.date", weekday=weekday, day=day.day, month=month)
    return say("calendar.date_and_year", weekday=weekday, day=day.day, month=month, year=day.year)


def month_of(day: date) -> str:
    """``May 2028``: as near as a day years ahead can be told."""
    return say("calendar.month_and_year", month=words("calendar.months")[day.month - 1], year=day.year)


def day_of(day: date, today: date) -> str:
    """``today``, ``yesterday``, ``tomorrow``, else the date."""
    near = _near(day, today)
    return near or date_of(day, today)


def about_day(day: date, today: date) -> str:
    """A day that is worked out: ``tomorrow``, else ``about Thu 28 May``."""
    return _near(day, today) or say("calendar.about", date=date_of(day, today))


def day_in_full(day: date, today: date) -> str:
    """``today``, else the weekday and date, with the near word before them: ``yesterday (Wed 13 May)``."""
    if day == today:
        return say("calendar.today")
    near = _near(day, today)
    full = date_of(day, today)
    return say("calendar.near_and_date", near=near, date=full) if near else full


def day_and_ago(day: date, today: date) -> str:
    """The day with how long ago it was: ``Thu 30 Apr, 14 days ago``; ``today``, ``yesterday`` alone."""
    if day >= today or (today - day).days == 1:
        return day_in_full(day, today)
    return say("calendar.date_and_ago", date=date_of(day, today), ago=days((today - day).days))


def _near(day: date, today: date) -> str:
    names = {0: "today", -1: "yesterday", 1: "tomorrow"}
    name = names.get((day - today).days)
    return say_of("calendar.near", name) if name else ""


def capital(text: str) -> str:
    """A text with its first letter as a sentence begins."""
    return text[:1].upper() + text[1:]


def days(n: int) -> str:
    """``1 day``, ``12 days``, ``less than a day``."""
    if n == 0:
        return say("calendar.less_than_a_day")
    return say("calendar.one_day") if n == 1 else say("calendar.days", n=n)


def times(n: int) -> str:
    """ "once", "3 times"."""
    return say("tally.once") if n == 1 else say("tally.times", n=n)


def span_of_days(first: date, last: date, today: date) -> str:
    """``Thu 14 May`` or ``Thu 14 May to Sun 17 May``."""
    if first == last:
        return day_of(first, today)
    return say("calendar.span", first=day_of(first, today), last=day_of(last, today))


def clock(moment: time | datetime) -> str:
    """``19:30``."""
    return moment.strftime("%H:%M")


def local_clock(instant: datetime, zone: str) -> str:
    """The wall time of an instant in a zone: ``19:30``."""
    return clock(instant.astimezone(ZoneInfo(zone)))


# --- lists and plurals ----------------------------------------------------------------------


def listed(names: Sequence[str], most: int | None = None) -> str:
    """``A``, ``A and B``, ``A, B and C``; beyond ``most`` names ``A, B and 5 more``."""
    if most is not None and len(names) > most:
        return say("list.shortened", names=", ".join(names[:most]), n=len(names) - most)
    if len(names) <= 1:
        return "".join(names)
    return say("list.and", names=", ".join(names[:-1]), last=names[-1])


def called(specimens: Iterable[Specimen], most: int | None = None) -> str:
    """Several animals by name and tag, as a list."""
    return listed([specimen.called for specimen in specimens], most)


def counted(n: int, noun: str) -> str:
    """``1 cricket``, ``3 crickets``, ``2 fruit flies``."""
    said = say_of("counted", noun) if has("counted", noun) else noun
    return f"{n} {said if n == 1 else plural(said)}"


def plural(noun: str) -> str:
    """The plural of a thing that is counted: regular, but for the words the texts list."""
    if has("plurals", noun):
        return say_of("plurals", noun)
    head, _, last = noun.rpartition(" ")
    if has("plurals", last):
        last = say_of("plurals", last)
    elif say("plural_rule") != "regular":
        return noun
    elif last.endswith("y") and last[-2:-1] not in "aeiou":
        last = last[:-1] + "ies"
    elif last.endswith(("s", "x", "ch", "sh")):
        last += "es"
    else:
        last += "s"
    return f"{head} {last}".strip()


# --- amounts --------------------------------------------------------------------------------


def number(value: Decimal, places: int = 1) -> str:
    """A figure without needless noughts and with the language's decimal mark: ``12``, ``1.5``, ``1,5``."""
    step = Decimal(1).scaleb(-places)
    text = f"{value.quantize(step, rounding=ROUND_HALF_UP):f}"
    return (text.rstrip("0").rstrip(".") if "." in text else text).replace(".", say("amount.decimal"))


def money(value: Decimal, currency: str) -> str:
    """A sum with its cents, where it has any: ``40 EUR``, ``4.50 GBP``."""
    whole = value == value.to_integral_value()
    cents = f"{value.quantize(Decimal('0.01'), rounding=ROUND_HALF_UP):f}".replace(".", say("amount.decimal"))
    return f"{number(value) if whole else cents} {currency}".rstrip()


def length(cm: Decimal, units: Units) -> str:
    """A length in the keeper's units: ``12.5 cm`` or ``5 in``."""
    if units is Units.US:
        return say("amount.inches", n=number(cm / CM_PER_INCH))
    return say("amount.cm", n=number(cm))


def volume(litres: Decimal, units: Units) -> str:
    """A volume in the keeper's units: ``2 L`` or ``0.5 gal``."""
    if units is Units.US:
        return say("amount.gallons", n=_fine(litres / LITRES_PER_US_GALLON))
    return say("amount.litres", n=_fine(litres))


def volume_in_both(litres: Decimal, units: Units) -> str:
    """A volume in both systems, the keeper's first: ``2.6 L (0.7 US gal)``, ``0.7 US gal (2.6 L)``."""
    metric = say("amount.litres", n=_fine(litres))
    if units is Units.IMPERIAL:
        return say(
            "amount.in_both", one=metric, other=say("amount.uk_gallons", n=_fine(litres / _L_PER_UK_GALLON))
        )
    gallons = say("amount.us_gallons", n=_fine(litres / LITRES_PER_US_GALLON))
    one, other = (gallons, metric) if units is Units.US else (metric, gallons)
    return say("amount.in_both", one=one, other=other)


def _fine(value: Decimal) -> str:
    """A figure with enough places to be worth something, also below 1."""
    return number(value, 1 if value >= 1 else 2)


def fine_length(millimetres: Decimal, units: Units) -> str:
    """A small length in the keeper's units: ``1.5 mm`` or ``0.06 in``."""
    if units is Units.US:
        return say("amount.inches", n=number(millimetres / CM_PER_INCH / 10, 2))
    return say("amount.mm", n=number(millimetres))


def temperature(celsius: Decimal, units: Units) -> str:
    """A temperature in the keeper's units: ``24.5 °C`` or ``76 °F``."""
    if units is Units.US:
        return say("amount.fahrenheit", n=number(celsius * 9 / 5 + 32, 0))
    return say("amount.celsius", n=number(celsius))


def meal_of(entry: Entry) -> str:
    """What an entry says of prey, as :func:`meal` has it."""
    return meal(entry.prey, entry.count, entry.size.value if entry.size else None)


def meal(
    prey: str | None, count: int | None, size: str | None, *, each: bool = False, prekilled: bool = False
) -> str:
    """``2 medium crickets``, ``a cricket`` said as ``1 cricket``; empty where nothing was said."""
    if prey is None and count is None and size is None:
        return ""
    noun = _prey(prey) if prey is not None else say("meal.prey_unknown")
    if count != 1 and (count is not None or prey is None):
        noun = plural(noun)
    if prekilled:
        noun = say("meal.prekilled", noun=noun)
    if size:
        noun = say("meal.sized", size=say_of("sizes", size), noun=noun)
    if count is None:
        return noun
    amount = f"{count} {noun}"
    return say("meal.each", amount=amount) if each else amount


def _prey(word: str) -> str:
    """A feeder by its word in the language spoken; the keeper's own word as it is."""
    return say_of("prey", word) if has("prey", word) else word


# --- entries --------------------------------------------------------------------------------


def told(entry: Entry, settings: KeeperSettings, *, each: bool = False) -> str:
    """What an entry says, without whom and when: ``ate 2 crickets``, ``molted``."""
    details = _details(entry, settings, each=each)
    if entry.kind is Kind.ACQUIRED and entry.specimens:
        return say("log.came_with", details=details) if details else say("log.came")
    if not details:
        return say_of("told", entry.kind.value)
    return say_of("told_with", entry.kind.value, details=details)


def _details(entry: Entry, settings: KeeperSettings, *, each: bool) -> str:
    if entry.kind in _MEALS or entry.kind in (Kind.STOCKED, Kind.COUNTED):
        eaten = meal(entry.prey, entry.count, entry.size, each=each, prekilled=entry.prekilled)
        return _joined([eaten, *_bargain(entry)])
    if entry.kind is Kind.WATERED:
        return _joined([say_of("water", entry.how.value) if entry.how else "", _ml(entry)])
    if entry.kind is Kind.ACQUIRED:
        newcomers = "" if entry.specimens else _newcomers(entry)
        return _joined([newcomers, *_measures(entry, settings), *_bargain(entry)])
    if entry.kind in (Kind.DIED, Kind.LEFT):
        count = say("amount.animals", n=entry.count) if entry.count else ""
        return _joined([count, *_bargain(entry)])
    if entry.kind is Kind.SAC:
        event = say_of("sac", entry.event.value) if entry.event else ""
        return _joined([event, _brood(entry)])
    return _joined([*_measures(entry, settings), *_words(entry)])


def _joined(parts: Iterable[str]) -> str:
    return ", ".join(part for part in parts if part)


def _brood(entry: Entry) -> str:
    if not entry.count:
        return ""
    hatched = entry.event is SacEvent.HATCHED
    return say("amount.young", n=entry.count) if hatched else say("amount.eggs", n=entry.count)


def _ml(entry: Entry) -> str:
    return say("amount.ml", n=number(entry.ml)) if entry.ml is not None else ""


def _newcomers(entry: Entry) -> str:
    species = entry.species or say("species.unknown")
    return say("amount.of_species", n=entry.count or 1, species=species)


def _bargain(entry: Entry) -> list[str]:
    parts = []
    if entry.source:
        parts.append(say("bargain.source", name=entry.source))
    if entry.to:
        parts.append(say("bargain.to", name=entry.to))
    if entry.price is not None:
        parts.append(say("bargain.price", price=money(entry.price, entry.currency or "")))
    return parts


def _measures(entry: Entry, settings: KeeperSettings) -> list[str]:
    units = settings.units
    parts = []
    if entry.span_cm is not None:
        parts.append(say("measure.span", length=length(entry.span_cm, units)))
    if entry.carapace_mm is not None:
        parts.append(say("measure.carapace", n=number(entry.carapace_mm)))
    if entry.weight_g is not None:
        parts.append(say("measure.weight", n=number(entry.weight_g, 2)))
    if entry.volume_l is not None:
        parts.append(volume(entry.volume_l, units))
    if entry.substrate_cm is not None:
        parts.append(say("measure.substrate", length=length(entry.substrate_cm, units)))
    if entry.temp_c is not None:
        parts.append(temperature(entry.temp_c, units))
    if entry.humidity_pct is not None:
        parts.append(say("measure.humidity", n=number(entry.humidity_pct)))
    return parts


def _words(entry: Entry) -> list[str]:
    sex = say_of("sexes", entry.sex) if entry.sex else ""
    return [word for word in (sex, entry.partner, entry.note) if word]
