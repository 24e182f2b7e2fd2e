"""Ways of saying one thing: each file of ``ways`` has messages by their way, with what each tells."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import datetime
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

import pytest

from bot.reading import read, reading_to_json
from tests.reading.corpus import corpus

NOW = datetime(2026, 5, 14, 19, 30, tzinfo=ZoneInfo("Europe/Dublin"))
FOLDER = Path(__file__).parent / "ways"
#: The shelf that the messages of a folder are about: that of the reading contract, in each language.
SHELVES = {"ways": "contract", "de": "de/abend", "es": "es/tarde"}
#: Fields in the keeper's own words, and those of every entry.
OWN_WORDS = {"note", "to", "from"}
OF_EACH = {"kind", "specimens", "day"}


def _ways() -> Iterator[Any]:
    """Each way with its messages, and what each of them tells."""
    for file in sorted(FOLDER.glob("**/*.txt")):
        ways: dict[str, dict[str, str]] = {}
        said: dict[str, str] = {}
        for line in file.read_text("utf-8").splitlines():
            if line.startswith("## "):
                said = ways.setdefault(line[3:], {})
            elif line and not line.startswith("#"):
                message, _, told = line.partition(" => ")
                said[message.replace("\\n", "\n")] = _in_order(told)
        for way, messages in ways.items():
            yield pytest.param(SHELVES[file.parent.name], messages, id=f"{file.stem}: {way}")


def _entry(entry: Mapping[str, Any]) -> str:
    said = {
        k: "~" if k in OWN_WORDS else str(v).replace(" ", "_") for k, v in entry.items() if k not in OF_EACH
    }
    day = [] if entry["day"] == str(NOW.date()) else [f"@{entry['day'][5:]}"]
    fields = day + [f"{k}={v}" for k, v in said.items()]
    return " ".join([entry["kind"], ",".join(entry["specimens"]) or "-", *sorted(fields)])


def _told(reading: Mapping[str, Any]) -> str:
    if reading["reading"] == "ask":
        return f"ASK {reading['ask']['about']}"
    if reading["reading"] != "entries":
        return str(reading["reading"]).upper()
    return "; ".join(sorted(map(_entry, reading["entries"])))


def _in_order(told: str) -> str:
    """The entries and fields of a line sorted, so that it may be written as it is said."""
    entries = (entry.split() for entry in told.split("; "))
    return "; ".join(sorted(" ".join([*words[:2], *sorted(words[2:])]) for words in entries))


@pytest.mark.parametrize(("shelf", "messages"), list(_ways()))
def test_each_message_of_a_way_is_read_as_its_siblings_are(shelf: str, messages: Mapping[str, str]) -> None:
    of = corpus(shelf)
    told = {
        said: _told(reading_to_json(read(said, of.names, now=NOW, settings=of.settings))) for said in messages
    }
    assert {said: told[said] for said in messages if told[said] != messages[said]} == {}
