"""Whose dollars, pesos and crowns are meant where a keeper lives, as data: ``coins.yaml``."""

from __future__ import annotations

from functools import cache
from typing import Any

from bot.terms.data_file import data_of


@cache
def coin_of(sort: str, zone: str) -> str | None:
    """The currency (ISO 4217) of a "dollar", "peso" or "crown" in a zone of the tz database, if sure."""
    rows = dict(_table()[sort])
    elsewhere: str | None = rows.pop("elsewhere", None)
    for code, zones in rows.items():
        if any(zone == said or (said.endswith("/") and zone.startswith(said)) for said in zones):
            return str(code)
    return elsewhere


@cache
def _table() -> Any:
    return data_of("bot.terms", "coins.yaml")
