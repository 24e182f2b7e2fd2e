"""The first words to a keeper, and the settings: zone, units and date order in two taps; hours in words."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import time
from typing import Any, Final

from bot.conversation import reminders_changed, schedules_told, wording, zones
from bot.conversation.feeder_box import delivery_text
from bot.conversation.model import Reply
from bot.conversation.people import name_of
from bot.conversation.round_settings import days_text, hours_set, in_digits
from bot.conversation.texts import say, say_of
from bot.conversation.turn import Choice, Turn, rows_of
from bot.reading.model import ReadingKind
from bot.reading.wanted.wanted import Instruction
from bot.reading.words.phrasings import bare
from bot.terms import DateOrder, KeeperSettings, Units
from bot.terms.language import speaking
from storage.records import Prompt, Role

_MOST_CITIES: Final = 12
_MOST_WORDS_OF_CITY: Final = 4
#: A day may start so late for people who are up at night; later would put an evening into the day before.
_LATEST_START: Final = time(12)

#: What is offered in one tap: units with the date order that usually goes with them.
_WAYS: Final = (
    (Units.METRIC, DateOrder.DMY),
    (Units.US, DateOrder.MDY),
    (Units.IMPERIAL, DateOrder.DMY),
    (Units.METRIC, DateOrder.YMD),
)
_ROUND_TIMES: Final = (time(6), time(7), time(8), time(9), time(17), time(18), time(19), time(20))


def greet(turn: Turn) -> list[Reply]:
    """Who the bot is and what it asks care for; then the settings, where they were not asked yet."""
    helped = helpers_greeting(turn)
    if helped:
        return [Reply(text=helped)]
    if turn.keeper.settled:
        return [Reply(text=say("greet.again"))]
    return [Reply(text=say("greet.hello")), _ask_zone(turn)]


def helpers_greeting(turn: Turn) -> str:
    """The first words to a helper, before and within their period; empty for everybody else."""
    if turn.membership.role is Role.OWNER and turn.shelf.specimens:
        return ""
    handed = next(iter(turn.work.handovers.of_helper(turn.keeper.id)), None)
    if handed is None or handed.last < max(turn.today, handed.first):
        return ""
    return say(
        "handover.greeting",
        first=wording.date_of(handed.first, turn.today),
        last=wording.date_of(handed.last, turn.today),
        keeper=name_of(turn, handed.by),
        time=wording.clock(turn.settings.round_time),
    )


# --- zone -----------------------------------------------------------------------------------


def _ask_zone(turn: Turn, *, in_place: bool = False) -> Reply:
    turn.remember(step={"want": "zone"})
    rows = rows_of([_zone_button(turn, zone) for zone in zones.FIRST_CITIES])
    return turn.reply(say("settings.which_zone"), rows, in_place=in_place)


def _zone_button(turn: Turn, zone: str) -> Choice:
    local = wording.clock(zones.clock_in(zone, turn.incoming.sent_at))
    return Choice(say("settings.city", city=zones.city(zone), time=local), {"do": "set_zone", "zone": zone})


def zone(turn: Turn, wanted: Instruction) -> list[Reply]:
    """The keeper names a zone, or wants to choose one."""
    return [_ask_zone(turn)] if wanted.value is None else [_zone_said(turn, wanted.value)]


def typed_zone(turn: Turn) -> list[Reply] | None:
    """A city or the time, typed while the zone is asked; ``None`` where it is neither."""
    step = turn.dialog.get("step") or {}
    if step.get("want") != "zone":
        return None
    said = bare(turn.incoming.text)
    if zones.zones_meant(said, turn.incoming.sent_at, turn.settings.language):
        return [_zone_said(turn, said)]
    return [_zone_said(turn, said)] if _may_be_city(turn, said) else None


def _may_be_city(turn: Turn, said: str) -> bool:
    """Whether words that mean nothing else may be a city that is not known, while one is asked for."""
    unread = turn.reading.reading is ReadingKind.UNCLEAR and not turn.incoming.text.rstrip().endswith("?")
    return unread and len(said.split()) <= _MOST_WORDS_OF_CITY and any(char.isalpha() for char in said)


def hello(turn: Turn) -> list[Reply]:
    """A greeting is answered; who was not asked for a zone and units yet, or gave none, is asked again."""
    if turn.keeper.settled or turn.helps:
        return [turn.reply(say("hello"))]
    return [turn.reply(say("hello")), _ask_zone(turn)]


def _zone_said(turn: Turn, said: str) -> Reply:
    found = zones.zones_meant(said, turn.incoming.sent_at, turn.settings.language)
    if not found:
        turn.remember(step={"want": "zone"})
        return turn.reply(say("settings.zone_unknown", words=said[:40]))
    if len(found) == 1:
        return _zone_set(turn, found[0], in_place=False)
    rows = rows_of([_zone_button(turn, zone) for zone in found[:_MOST_CITIES]])
    return turn.reply(say("settings.zone_choose"), rows)


def pressed_zone(turn: Turn, _prompt: Prompt, action: Mapping[str, Any]) -> list[Reply]:
    """A city was chosen."""
    return [_zone_set(turn, action["zone"], in_place=True)]


def _zone_set(turn: Turn, zone: str, *, in_place: bool) -> Reply:
    turn.save_settings(zone=zone)
    turn.remember(step=None)
    local = wording.clock(zones.clock_in(zone, turn.incoming.sent_at))
    text = say("settings.zone_set", zone=zone, time=local)
    kept = reminders_changed.in_another_zone(turn, zone)
    if kept:
        text = f"{text}\n{say('remind.keep_time', n=kept)}"
    if turn.keeper.settled:
        return turn.reply(text, in_place=in_place)
    return _ask_units(turn, f"{text}\n{say('settings.which_units')}", in_place=in_place)


# --- units and dates ------------------------------------------------------------------------


def _ask_units(turn: Turn, text: str, *, in_place: bool) -> Reply:
    choices = [
        Choice(
            say("settings.way", units=say_of("units", units.value), order=say_of("orders", order.value)),
            {"do": "set_units", "units": units.value, "order": order.value},
        )
        for units, order in _WAYS
    ]
    return turn.reply(text, rows_of(choices, 1), in_place=in_place)


def pressed_units(turn: Turn, _prompt: Prompt, action: Mapping[str, Any]) -> list[Reply]:
    """Units and date order were chosen in one tap; a newcomer is settled with that."""
    turn.save_settings(units=Units(action["units"]), date_order=DateOrder(action["order"]))
    text = _units_text(turn)
    if not turn.keeper.settled:
        turn.work.keepers.mark_settled(turn.keeper.id)
        turn.keeper = replace(turn.keeper, settled=True)
        at = wording.clock(turn.settings.round_time)
        begin = say("greet.begin_shared", time=at) if turn.shelf.specimens else say("greet.begin", time=at)
        text = f"{text}\n\n{begin}"
    return [turn.reply(text, in_place=True)]


def units_and_dates(turn: Turn, wanted: Instruction) -> list[Reply]:
    """Units or date order in words; what was not said is asked."""
    if wanted.units is not None:
        turn.save_settings(units=wanted.units)
    elif wanted.order is not None:
        turn.save_settings(date_order=wanted.order)
    else:
        return [_ask_units(turn, say("settings.which_units"), in_place=False)]
    return [turn.reply(_units_text(turn))]


def _units_text(turn: Turn) -> str:
    settings = turn.settings
    return say(
        "settings.units_set",
        units=say_of("units", settings.units.value),
        order=say_of("orders", settings.date_order.value),
    )


def language(turn: Turn, wanted: Instruction) -> list[Reply]:
    """In which language the keeper writes, and is answered from now on."""
    if wanted.value is None:
        return [turn.reply(say("settings.language_how"))]
    turn.save_settings(language=wanted.value)
    return [turn.reply(_language_text(turn))]


def _language_text(turn: Turn) -> str:
    with speaking(turn.settings.language):
        return say("settings.language_set", language=say_of("languages", turn.settings.language))


# --- hours ----------------------------------------------------------------------------------


def round_time(turn: Turn, wanted: Instruction) -> list[Reply]:
    """When the morning's round comes, on all its days or on some of them."""
    if wanted.hours:
        hours_set(turn, wanted)
        return [_round_time_told(turn, in_place=False)]
    if wanted.at is None:
        return [_ask_round_time(turn, in_place=False)]
    if wanted.weekdays is not None:  # every day
        turn.save_settings(round_hours="", round_days=in_digits(wanted.weekdays))
    elif set(turn.settings.round_days) <= set(map(str, turn.settings.other_hours)):
        turn.save_settings(round_hours="")  # no day had the usual hour
    return [_round_time_set(turn, wanted.at, in_place=False)]


def _ask_round_time(turn: Turn, *, in_place: bool) -> Reply:
    choices = [Choice(wording.clock(at), {"do": "set_round", "time": at.isoformat()}) for at in _ROUND_TIMES]
    return turn.reply(say("settings.which_round_time"), rows_of(choices, 4), in_place=in_place)


def pressed_round_time(turn: Turn, _prompt: Prompt, action: Mapping[str, Any]) -> list[Reply]:
    """A time for the round was chosen."""
    return [_round_time_set(turn, time.fromisoformat(action["time"]), in_place=True)]


def _round_time_set(turn: Turn, at: time, *, in_place: bool) -> Reply:
    turn.save_settings(round_time=at)
    return _round_time_told(turn, in_place=in_place)


def _round_time_told(turn: Turn, *, in_place: bool) -> Reply:
    """The hours of the round, and that one of them lies in the quiet hours."""
    text = days_text(turn)
    hours = [turn.settings.round_at(int(day)) for day in turn.settings.round_days]
    if any(_is_quiet(turn.settings, at) for at in hours):
        text += " " + say("settings.round_in_quiet", time=wording.clock(turn.settings.quiet_to))
    return turn.reply(text, in_place=in_place)


def _is_quiet(settings: KeeperSettings, at: time) -> bool:
    start, end = settings.quiet_from, settings.quiet_to
    if start <= end:
        return start <= at < end
    return at >= start or at < end


def day_starts(turn: Turn, wanted: Instruction) -> list[Reply]:
    """From which hour on what is logged is of the new day."""
    if wanted.at is None:
        return [turn.reply(say("settings.day_how"))]
    if wanted.at > _LATEST_START:
        return [turn.reply(say("settings.day_too_late", time=wording.clock(_LATEST_START)))]
    turn.save_settings(day_starts=wanted.at)
    return [turn.reply(_day_text(turn.settings))]


def _day_text(settings: KeeperSettings) -> str:
    return say("settings.day_set", time=wording.clock(settings.day_starts))


def quiet(turn: Turn, wanted: Instruction) -> list[Reply]:
    """Between which hours the bot sends nothing of its own accord."""
    if wanted.quiet is None:
        return [turn.reply(say("settings.quiet_how"))]
    start, end = wanted.quiet
    turn.save_settings(quiet_from=start, quiet_to=end)
    return [turn.reply(_quiet_text(turn.settings))]


def _quiet_text(settings: KeeperSettings) -> str:
    if settings.quiet_from == settings.quiet_to:
        return say("settings.quiet_none")
    start, end = wording.clock(settings.quiet_from), wording.clock(settings.quiet_to)
    return say("settings.quiet_set", start=start, end=end)


# --- all of them ----------------------------------------------------------------------------


def settings(turn: Turn, _wanted: Instruction) -> list[Reply]:
    """The settings as they are, with buttons to change them."""
    local = wording.clock(turn.now)
    lines = [
        say("settings.zone_set", zone=turn.settings.zone, time=local),
        _units_text(turn),
        days_text(turn),
        _quiet_text(turn.settings),
        _day_text(turn.settings),
        _language_text(turn),
        *([delivery_text(turn)] if turn.settings.delivery_weekday is not None else []),
        *schedules_told.lines_said(turn),
        say("settings.in_words"),
    ]
    rows = [
        [
            Choice(say("settings.change_zone"), {"do": "ask", "what": "zone"}),
            Choice(say("settings.change_units"), {"do": "ask", "what": "units"}),
            Choice(say("settings.change_round"), {"do": "ask", "what": "round"}),
        ]
    ]
    return [turn.reply("\n".join(lines), rows)]


def pressed_ask(turn: Turn, _prompt: Prompt, action: Mapping[str, Any]) -> list[Reply]:
    """One of the settings is to be changed: it is asked as on the first day."""
    if action["what"] == "zone":
        return [_ask_zone(turn, in_place=True)]
    if action["what"] == "units":
        return [_ask_units(turn, say("settings.which_units"), in_place=True)]
    return [_ask_round_time(turn, in_place=True)]
