"""What a keeper may want of the bot, as a value: which action, and what was said of it."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from datetime import time
from decimal import Decimal
from enum import StrEnum
from typing import Final

from bot.reading.names.shelf_names import ShelfNames
from bot.reading.wanted.newcomer import Newcomer
from bot.terms import DateOrder, Units
from bot.terms.schedule import Group, SlowMonths


class Action(StrEnum):
    """What is wanted."""

    ADD = "add"
    RENAME = "rename"
    RETAG = "retag"
    MOVE = "move"
    RETIRE = "retire"
    BY_THE_RULE = "by_the_rule"
    SCHEDULE = "schedule"
    SCHEDULE_OF = "schedule_of"
    SCHEDULES = "schedules"
    WORLDS = "worlds"
    SEXES = "sexes"
    TENURE = "tenure"
    AT_REST = "at_rest"
    TRAITS = "traits"
    MOST = "most"
    OFTEN = "often"
    NEGLECTED = "neglected"
    KINDS_KEPT = "kinds_kept"
    ORIGIN = "origin"
    WENT = "went"
    WARMTH = "warmth"
    TASTE = "taste"
    SAY_WHEN = "say_when"
    LOSSES = "losses"
    NOT_KEPT = "not_kept"
    GROWN = "grown"
    IS_IT = "is_it"
    HANDLE = "handle"
    FASTING = "fasting"
    TAKERS = "takers"
    WHAT_IS = "what_is"
    LASTS = "lasts"
    COMPARE = "compare"
    STATS = "stats"
    SUMMED = "summed"
    SACS = "sacs"
    PRICES = "prices"
    FROM_WHOM = "from_whom"
    WHO_DID = "who_did"
    FASTS = "fasts"
    LACKING = "lacking"
    MEAL_OF_SPAN = "meal_of_span"
    FEEDER_SIZE = "feeder_size"
    RULE = "rule"
    HOW_TO = "how_to"
    SLOW_MONTHS = "slow_months"
    NO_SLOW_MONTHS = "no_slow_months"
    ZONE = "zone"
    UNITS = "units"
    DATE_ORDER = "date_order"
    LANGUAGE = "language"
    DAY_STARTS = "day_starts"
    ROUND_TIME = "round_time"
    ROUND_DAYS = "round_days"
    ROUND_WHEN = "round_when"
    HUSH = "hush"
    QUIET = "quiet"
    DELIVERY = "delivery"
    SETTINGS = "settings"
    HELP = "help"
    THANKS = "thanks"
    HELLO = "hello"
    FAREWELL = "farewell"
    WHY = "why"
    MORE = "more"
    CANCEL = "cancel"
    REDO = "redo"
    REMINDERS = "reminders"
    END_REMINDER = "end_reminder"
    SHELF = "shelf"
    PLACES = "places"
    HOLDS = "holds"
    FIRST_AID = "first_aid"
    PICTURE = "picture"
    CONCERN = "concern"
    POSTURE = "posture"
    SIGN = "sign"
    DISTURB = "disturb"
    CARE = "care"
    EXPORT = "export"
    ERASE = "erase"
    BACK = "back"
    END_HANDOVER = "end_handover"
    HANDOVERS = "handovers"
    NEW_LINK = "new_link"
    LABELS = "labels"
    WHO_LOGGED = "who_logged"
    NOTES = "notes"
    PHOTOS = "photos"


#: What asks for what is on record of some or all animals, and changes nothing.
OF_THE_RECORD: Final = frozenset(
    {
        Action.WORLDS,
        Action.SEXES,
        Action.TENURE,
        Action.AT_REST,
        Action.TRAITS,
        Action.MOST,
        Action.OFTEN,
        Action.NEGLECTED,
        Action.KINDS_KEPT,
        Action.ORIGIN,
        Action.WENT,
        Action.WARMTH,
        Action.TASTE,
        Action.SAY_WHEN,
        Action.LOSSES,
        Action.NOT_KEPT,
        Action.GROWN,
        Action.IS_IT,
        Action.HANDLE,
        Action.FASTING,
        Action.TAKERS,
        Action.WHAT_IS,
        Action.LASTS,
        Action.COMPARE,
        Action.STATS,
        Action.SUMMED,
        Action.SACS,
        Action.PRICES,
        Action.FROM_WHOM,
        Action.WHO_DID,
        Action.FASTS,
        Action.LACKING,
        Action.MEAL_OF_SPAN,
        Action.FEEDER_SIZE,
        Action.RULE,
        Action.HOW_TO,
    }
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Instruction:
    """One thing wanted. ``tags`` are the animals it may be about: one, or several of which one is meant.

    Where ``every`` is set all of them are meant. ``rest`` are words beside it that tell of another matter.
    ``newcomers`` are the animals to be added, as far as something was said of them.
    ``species`` is the scientific name where a species was named.
    ``value`` is the new name, tag, place, zone or reminder in the keeper's own words; settings that
    were understood come as ``units``, ``order``, ``at``, ``quiet``, ``weekdays`` and ``weekday``, Monday 0
    (``None`` in ``value`` and there: asked for, or of a delivery day that there is none). ``group`` are
    those for whom work, as in ``value``, is to be done every so many ``days`` (``None``: twice a week), and
    ``groups`` where several are said, with single animals in ``tags``;
    ``pause``: the rounds are to stop for a while only, as long as ``value`` says. ``hours`` are those of the
    round on certain days of the week. ``months`` are the slow ones, ``None`` where they were
    not said as months. ``times`` are how often a thing was done, from and to (``None``: or
    more); ``among`` is the trait or the sex of those alone that are asked about, ``prey`` the feeder.
    ``also`` is what is asked beside ``value``, ``span_cm`` the span of one that is asked about by its size.
    """

    action: Action
    tags: tuple[str, ...] = ()
    value: str | None = None
    species: str | None = None
    newcomers: tuple[Newcomer, ...] = ()
    units: Units | None = None
    order: DateOrder | None = None
    at: time | None = None
    quiet: tuple[time, time] | None = None
    weekday: int | None = None
    every: bool = False
    rest: str | None = None
    weekdays: frozenset[int] | None = None
    hours: tuple[tuple[frozenset[int], time], ...] = ()
    group: Group | None = None
    groups: tuple[Group, ...] = ()
    days: int | None = None
    pause: bool = False
    months: SlowMonths | None = None
    times: tuple[int, int | None] | None = None
    among: str | None = None
    prey: str | None = None
    also: str | None = None
    span_cm: Decimal | None = None


#: What makes an instruction of a phrasing that fits: of its action, the match with its slots, the names of
#: the shelf and the keeper's language; ``None`` where the words in a slot do not fit.
Understand = Callable[[Action, re.Match[str], ShelfNames, str], Instruction | None]
