"""What did not happen: denied, planned, wished, asked or only thought of, in three languages."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import datetime
from pathlib import Path
from typing import Any, Final
from zoneinfo import ZoneInfo

import pytest
import yaml

from bot.reading import read
from bot.terms import Kind
from tests.reading.corpus import corpus

_SAID: Final = yaml.safe_load((Path(__file__).parent / "nothing_happened.yaml").read_text("utf-8"))
_SHELVES: Final = {"en": "contract", "de": "de/abend", "es": "es/tarde"}
_NOW: Final = datetime(2026, 5, 14, 19, 30, tzinfo=ZoneInfo("Europe/Dublin"))
#: What a denial may tell: a meal that was left, a molt to come, and what the keeper's words say of it.
_MAY_BE: Final = {Kind.REFUSED, Kind.PREMOLT, Kind.NOTE}


def _ways() -> Iterator[Any]:
    for language, sorts in _SAID.items():
        for sort in sorts.values():
            for say in sort["say"]:
                yield pytest.param(language, say, sort["verbs"], id=f"{language}: {say}")


@pytest.mark.parametrize(("language", "say", "verbs"), list(_ways()))
def test_what_did_not_happen_is_no_entry(language: str, say: str, verbs: Mapping[str, str]) -> None:
    shelf = corpus(_SHELVES[language])
    messages = [say.format(base=base, done=done) for base, done in verbs.items()]
    stored = {
        message: kinds
        for message in messages
        if (
            kinds := {e.kind for e in read(message, shelf.names, now=_NOW, settings=shelf.settings).entries}
            - _MAY_BE
        )
    }
    assert stored == {}
