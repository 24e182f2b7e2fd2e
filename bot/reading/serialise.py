"""Readings as JSON: the reading contract's for the command line, and a lossless one for the store."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from datetime import date, time
from typing import Any, Final

from bot.reading.model import (
    About,
    Amend,
    Ask,
    Earlier,
    Hold,
    Option,
    Question,
    Reading,
    ReadingKind,
    Reminder,
    Topic,
)
from bot.terms import Entry, Kind, SacEvent
from bot.terms.entry import FIELD_PARSERS, JSON_NAMES, decimal_from, plain_value


def reading_to_json(reading: Reading) -> dict[str, Any]:
    """A reading as the reading contract writes it, with the message's text.

    A correction by a figure of which only the journal can tell what it measures is a question there, and a
    sac that was lost, for which it has no word, a note.
    """
    reading = replace(
        reading, entries=tuple(_as_contracted(entry, reading.text) for entry in reading.entries)
    )
    if reading.amend is not None and "number" in reading.amend.changes:
        return _as_json(Reading(reading=ReadingKind.ASK, text=reading.text, ask=_WHICH_AMOUNT))
    return _as_json(reading)


def _as_contracted(entry: Entry, text: str) -> Entry:
    if entry.event is not SacEvent.LOST:
        return entry
    return Entry(kind=Kind.NOTE, day=entry.day, time=entry.time, specimens=entry.specimens, note=text)


_WHICH_AMOUNT: Final = Ask(about=About.AMOUNT, doubt="two_values")


def _as_json(reading: Reading) -> dict[str, Any]:
    out: dict[str, Any] = {"text": reading.text, "reading": reading.reading.value}
    if reading.reading is ReadingKind.ENTRIES:
        out["entries"] = [e.to_json() for e in reading.entries]
    for name, value in (
        ("question", reading.question),
        ("reminder", reading.reminder),
        ("hold", reading.hold),
        ("amend", reading.amend),
        ("ask", reading.ask),
    ):
        if value is not None:
            out[name] = _TO_JSON[name](value)
    if reading.amend is not None and reading.amend.of is not None:
        # beside the amendment, whose object has by the contract only the action and what is changed
        out["amended_entry"] = _earlier_json(reading.amend.of)
    return out


def reading_from_json(data: Mapping[str, Any]) -> Reading:
    """The reading that the contract's JSON tells. Raises ``ValueError`` or ``KeyError`` on anything else."""
    return Reading(
        reading=ReadingKind(data["reading"]),
        text=data.get("text", ""),
        entries=tuple(Entry.from_json(e) for e in data.get("entries", ())),
        question=_question_from(data["question"]) if "question" in data else None,
        reminder=_reminder_from(data["reminder"]) if "reminder" in data else None,
        hold=_hold_from(data["hold"]) if "hold" in data else None,
        amend=_amend_from(data["amend"], data.get("amended_entry")) if "amend" in data else None,
        ask=Ask(about=About(data["ask"]["about"]), doubt="", choices=tuple(data["ask"].get("choices", ())))
        if "ask" in data
        else None,
    )


def reading_to_store(reading: Reading) -> dict[str, Any]:
    """A reading whole, as plain JSON values: doubts, options and draft with it."""
    out = _as_json(reading)
    if reading.entries:  # the draft of a question that asks on has entries as well
        out["entries"] = [entry.to_json() for entry in reading.entries]
    asked = reading.question
    if asked is not None:  # what the contract has no words for
        more = {
            "topic": asked.topic,
            "kind": asked.kind,
            "prey": asked.prey,
            "since": asked.since,
            "until": asked.until,
        }
        out["question"] |= {k: _plain(v) for k, v in more.items() if v is not None}
        out["question"] |= {"everyone": True} if asked.everyone else {}
    if reading.reminder is not None and reading.reminder.part is not None:
        out["reminder"]["part"] = reading.reminder.part
    if reading.denies is not None:
        out["denies"] = _earlier_json(reading.denies)
    if reading.beside is not None:
        out["beside"] = reading_to_store(reading.beside)
    ask = reading.ask
    if ask is not None:
        out["ask"] |= {
            "doubt": ask.doubt,
            "words": ask.words,
            "holes": list(ask.holes),
            "choices": list(ask.choices),
            "options": [{"value": o.value, "reading": reading_to_store(o.reading)} for o in ask.options],
            "draft": reading_to_store(ask.draft) if ask.draft is not None else None,
        }
    return out


def reading_from_store(data: Mapping[str, Any]) -> Reading:
    """The reading that :func:`reading_to_store` wrote."""
    plain = reading_from_json(data)
    ask = None
    if "ask" in data:
        kept = data["ask"]
        ask = Ask(
            about=About(kept["about"]),
            doubt=kept["doubt"],
            words=kept["words"],
            choices=tuple(kept["choices"]),
            options=tuple(
                Option(value=o["value"], reading=reading_from_store(o["reading"])) for o in kept["options"]
            ),
            draft=reading_from_store(kept["draft"]) if kept["draft"] is not None else None,
            holes=tuple(kept["holes"]),
        )
    return Reading(
        reading=plain.reading,
        text=plain.text,
        entries=plain.entries,
        question=plain.question,
        reminder=plain.reminder,
        hold=plain.hold,
        amend=plain.amend,
        ask=ask,
        denies=_earlier_from(data["denies"]) if "denies" in data else None,
        beside=reading_from_store(data["beside"]) if "beside" in data else None,
    )


#: Topics finer than the reading contract's, and what it calls them.
_AS_CONTRACTED: Final = {
    Topic.GROWTH: Topic.NEXT_MOLT,
    Topic.MATURITY: Topic.NEXT_MOLT,
    Topic.HOME: Topic.REHOUSE_DUE,
    Topic.STOCK: Topic.SHOPPING,
    Topic.CLIMATE: Topic.HISTORY,
    Topic.SPENDING: Topic.HISTORY,
    Topic.MEAL: Topic.DUE,
    Topic.NOT_SINCE: Topic.HISTORY,
}


def _question_json(value: Question) -> dict[str, Any]:
    out: dict[str, Any] = {"topic": _AS_CONTRACTED.get(value.topic, value.topic).value}
    if value.kind is not None and value.topic is Topic.LAST:
        out["kind"] = value.kind.value
    if value.specimens:
        out["specimens"] = list(value.specimens)
    if value.species is not None:
        out["species"] = value.species
    if value.days is not None:
        out["days"] = value.days
    return out


def _reminder_json(value: Reminder) -> dict[str, Any]:
    out: dict[str, Any] = {"what": value.what}
    if value.specimens:
        out["specimens"] = list(value.specimens)
    if value.day is not None:
        out["day"] = value.day.isoformat()
    if value.time is not None:
        out["time"] = value.time.strftime("%H:%M")
    if value.every_days is not None:
        out["every_days"] = value.every_days
    if value.rule is not None:
        out["rule"] = value.rule
    if value.from_done:
        out["from_done"] = True
    return out


def _hold_json(value: Hold) -> dict[str, Any]:
    out: dict[str, Any] = {"specimens": list(value.specimens), "state": value.state}
    if value.until is not None:
        out["until"] = value.until.isoformat()
    return out


def _amend_json(value: Amend) -> dict[str, Any]:
    return {"action": value.action, **changes_to_json(value.changes)}


def _earlier_json(value: Earlier) -> dict[str, Any]:
    return {
        "specimens": list(value.specimens),
        "kinds": [kind.value for kind in value.kinds],
        "days": [day.isoformat() for day in value.days],
        "latest": value.latest,
        "was": changes_to_json(value.was),
    }


def changes_to_json(changes: Mapping[str, Any]) -> dict[str, Any]:
    """The fields of an amendment as plain JSON values."""
    return {JSON_NAMES.get(k, k): _plain(v) for k, v in changes.items()}


def _ask_json(value: Ask) -> dict[str, Any]:
    out: dict[str, Any] = {"about": value.about.value}
    if value.about is About.SPECIMEN:
        out["choices"] = list(value.choices)
    return out


_TO_JSON: dict[str, Any] = {
    "question": _question_json,
    "reminder": _reminder_json,
    "hold": _hold_json,
    "amend": _amend_json,
    "ask": _ask_json,
}


def _plain(value: Any) -> Any:
    if isinstance(value, time):
        return value.strftime("%H:%M")
    if isinstance(value, date):
        return value.isoformat()
    return list(value) if isinstance(value, tuple) else plain_value(value)


def _question_from(data: Mapping[str, Any]) -> Question:
    return Question(
        topic=Topic(data["topic"]),
        kind=Kind(data["kind"]) if "kind" in data else None,
        specimens=tuple(data.get("specimens", ())),
        everyone=data.get("everyone", False),
        species=data.get("species"),
        days=data.get("days"),
        prey=data.get("prey"),
        since=date.fromisoformat(data["since"]) if "since" in data else None,
        until=date.fromisoformat(data["until"]) if "until" in data else None,
    )


def _reminder_from(data: Mapping[str, Any]) -> Reminder:
    return Reminder(
        what=data["what"],
        specimens=tuple(data.get("specimens", ())),
        day=date.fromisoformat(data["day"]) if "day" in data else None,
        time=time.fromisoformat(data["time"]) if "time" in data else None,
        every_days=data.get("every_days"),
        rule=data.get("rule"),
        from_done=data.get("from_done", False),
        part=data.get("part"),
    )


def _hold_from(data: Mapping[str, Any]) -> Hold:
    until = date.fromisoformat(data["until"]) if "until" in data else None
    return Hold(specimens=tuple(data["specimens"]), state=data["state"], until=until)


#: ``number`` is a figure of which it is not said what it counts.
_PARSERS: Final[Mapping[str, Callable[[Any], Any]]] = {**FIELD_PARSERS, "number": decimal_from}


def _amend_from(data: Mapping[str, Any], of: Mapping[str, Any] | None) -> Amend:
    said = {key: value for key, value in data.items() if key != "action"}
    return Amend(
        action=data["action"],
        changes=changes_from(said),
        of=_earlier_from(of) if of is not None else None,
    )


def _earlier_from(data: Mapping[str, Any]) -> Earlier:
    return Earlier(
        specimens=tuple(data["specimens"]),
        kinds=tuple(Kind(kind) for kind in data["kinds"]),
        days=tuple(date.fromisoformat(day) for day in data["days"]),
        latest=data["latest"],
        was=changes_from(data["was"]),
    )


def changes_from(data: Mapping[str, Any]) -> dict[str, Any]:
    """The fields of an amendment that :func:`changes_to_json` wrote."""
    back = {v: k for k, v in JSON_NAMES.items()}
    changes: dict[str, Any] = {}
    for key, value in data.items():
        name = back.get(key, key)
        parse = _PARSERS.get(name)
        changes[name] = parse(value) if parse else value
    return changes
