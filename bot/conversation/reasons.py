"""Why a line stands in the round, as a short sentence in the keeper's units."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from decimal import Decimal
from typing import Any, Final

from bot.conversation import wording
from bot.conversation.texts import say_of
from bot.round.model import Rest, Why
from bot.terms import KeeperSettings

_LENGTHS: Final = frozenset({"span_cm"})
_VOLUMES: Final = frozenset({"volume_l", "needs_l"})
_DAYS: Final = frozenset({"days", "every", "wait"})


def reason(why: Why, today: date, settings: KeeperSettings) -> str:
    """The sentence of a reason, in few words."""
    return say_of("why", why.key, **_worded(why.facts, today, settings))


def rest_sentence(rest: Rest, today: date, settings: KeeperSettings) -> str:
    """That a specimen rests, since when, until about when, and what goes on meanwhile."""
    return say_of(
        "rests", rest.why.key, **_worded(rest.why.facts, today, settings), until_about=_until(rest, today)
    )


def _until(rest: Rest, today: date) -> str:
    return wording.day_of(rest.expected_until, today) if rest.expected_until else ""


def _worded(facts: Mapping[str, Any], today: date, settings: KeeperSettings) -> dict[str, str]:
    return {name: _word(name, value, today, settings) for name, value in facts.items()}


def _word(name: str, value: Any, today: date, settings: KeeperSettings) -> str:
    if isinstance(value, date):
        return wording.day_of(value, today)
    if name in _LENGTHS:
        return wording.length(Decimal(str(value)), settings.units)
    if name in _VOLUMES:
        return wording.volume(Decimal(str(value)), settings.units)
    if name in _DAYS:
        return wording.days(int(value))
    return str(value)
