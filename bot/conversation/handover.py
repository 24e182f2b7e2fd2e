"""The keeper will be away and somebody else looks after the animals: what is said of it, and still asked.

What was not said is asked, one thing at a time, and kept in the dialog until it is all there. Whole weeks and
months are shown as days and confirmed. The helper comes in by an invite for the period, and their rights are
those of the invite: nothing here grants or takes any other way.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, datetime, timedelta
from typing import Any, Final

from bot.conversation import wording
from bot.conversation.answers.subject import empty_shelf
from bot.conversation.handover_open import agreed
from bot.conversation.model import Reply
from bot.conversation.texts import say
from bot.conversation.turn import Choice, Turn
from bot.reading.model import ReadingKind
from bot.reading.wanted.away import Away, Days, Wanted, days_ahead, helper_meant, read_away
from storage.records import Prompt, Role

_STEP: Final = "handover"
_TYPED_WITHIN: Final = timedelta(hours=1)
_DAY: Final = timedelta(days=1)
#: Messages that say something by themselves answer no question of a hand-over.
_OWN_MATTER: Final = frozenset({ReadingKind.ENTRIES, ReadingKind.QUESTION, ReadingKind.AMEND})


# --- what is said, and what is still asked ----------------------------------------------------


def said(turn: Turn) -> list[Reply] | None:
    """A message about being away, or about a sheet for a helper; ``None`` for any other."""
    away = read_away(turn.incoming.text, turn.shelf.names, now=turn.now, settings=turn.settings)
    return None if away is None else _go_on(turn, _with_what_was_said(turn, away))


def typed(turn: Turn) -> list[Reply] | None:
    """The answer to what a hand-over still asked; ``None`` where the message is none."""
    step = _open_step(turn)
    if step is None:
        return None
    away = _away_from(step)
    answered = _with_helper(turn, away) if step["asked"] == "helper" else _with_days(turn, away)
    return None if answered is None else _go_on(turn, answered)


def _open_step(turn: Turn) -> Mapping[str, Any] | None:
    """What a hand-over still asks, unless that was asked long ago."""
    step: Mapping[str, Any] = turn.dialog.get("step") or {}
    if step.get("want") != _STEP:
        return None
    asked_at = datetime.fromisoformat(step["at"])
    return None if turn.incoming.sent_at - asked_at > _TYPED_WITHIN else step


def _with_what_was_said(turn: Turn, away: Away) -> Away:
    """A message that says one half of a hand-over goes with the half that was said before."""
    step = _open_step(turn)
    before = _away_from(step) if step else None
    if before is None or before.wanted is not away.wanted:
        return away
    days = before.days if away.days == Days() else away.days
    return Away(away.wanted, away.helper or before.helper, days)


def _with_helper(turn: Turn, away: Away) -> Away | None:
    if turn.reading.reading in _OWN_MATTER:
        return None
    helper = helper_meant(turn.incoming.text, turn.shelf.names, turn.settings.language)
    return Away(away.wanted, helper, away.days) if helper else None


def _with_days(turn: Turn, away: Away) -> Away | None:
    text, first = turn.incoming.text, away.days.first
    days = days_ahead(text, now=turn.now, settings=turn.settings)
    if first is not None and (days is None or days.last is None):
        days = days_ahead(f"{first} to {text}", now=turn.now, settings=turn.settings)
    return None if days is None else Away(away.wanted, away.helper, days)


def _go_on(turn: Turn, away: Away) -> list[Reply]:
    """Asks what is missing or unsure, else does what is wanted."""
    if turn.membership.role is not Role.OWNER:
        return [turn.reply(say("handover.owner_only"))]
    nobody = empty_shelf(turn)
    if nobody:
        return [turn.reply(nobody)]
    if away.wanted is Wanted.SHEET:
        away = _as_open(turn, away)
    question = _question(turn, away)
    if question is not None:
        return [question]
    turn.remember(step=None)
    return agreed(turn, away)


def _as_open(turn: Turn, away: Away) -> Away:
    """A sheet without days is for the open hand-over, where there is one."""
    found = turn.work.handovers.open(turn.shelf_id)
    if away.days != Days() or not found:
        return away
    return Away(away.wanted, away.helper or found[0].called, Days(found[0].first, found[0].last))


def _question(turn: Turn, away: Away) -> Reply | None:
    first, last = away.days.first, away.days.last
    if first is None:
        return _ask(turn, away, "days", say("handover.ask_days"))
    if first < turn.today and not _runs_since(turn, first):
        text = say("handover.past", first=wording.date_of(first, turn.today))
        return _ask(turn, Away(away.wanted, away.helper), "days", text)
    if last is None:
        return _ask(turn, away, "days", say("handover.ask_last", first=wording.date_of(first, turn.today)))
    if last < first:
        return _ask(turn, Away(away.wanted, away.helper), "days", say("handover.backwards"))
    if not away.days.sure:
        return _confirm(turn, away)
    if away.helper is None and away.wanted is Wanted.HANDOVER:
        return _ask(turn, away, "helper", say("handover.ask_helper"))
    return None


def _runs_since(turn: Turn, first: date) -> bool:
    """Whether a hand-over that has begun already is meant."""
    return any(one.first == first for one in turn.work.handovers.open(turn.shelf_id))


def _ask(turn: Turn, away: Away, asked: str, text: str) -> Reply:
    turn.remember(step=_step(turn, away, asked))
    return turn.reply(text)


def _step(turn: Turn, away: Away, asked: str) -> dict[str, Any]:
    return _kept(away) | {"want": _STEP, "asked": asked, "at": turn.incoming.sent_at.isoformat()}


def _kept(away: Away) -> dict[str, Any]:
    days = {"first": away.days.first, "last": away.days.last}
    return {
        "wanted": away.wanted.value,
        "helper": away.helper,
        **{name: day.isoformat() if day else None for name, day in days.items()},
    }


def _away_from(kept: Mapping[str, Any]) -> Away:
    first, last = (date.fromisoformat(kept[n]) if kept.get(n) else None for n in ("first", "last"))
    return Away(Wanted(kept["wanted"]), kept.get("helper"), Days(first, last))


def _confirm(turn: Turn, away: Away) -> Reply:
    assert away.days.first is not None
    assert away.days.last is not None
    turn.remember(step=_step(turn, Away(away.wanted, away.helper), "days"))
    text = say("handover.confirm", days=wording.span_of_days(away.days.first, away.days.last, turn.today))
    rows = [
        [
            Choice(say("button.yes"), {"do": "handover", "word": "yes", **_kept(away)}),
            Choice(
                say("handover.other_days"),
                {"do": "handover", "word": "no", **_kept(Away(away.wanted, away.helper))},
            ),
        ]
    ]
    return turn.reply(text, rows, pending={})


def pressed_days(turn: Turn, _prompt: Prompt, action: Mapping[str, Any]) -> list[Reply]:
    """The days were confirmed, or are to be others."""
    return _go_on(turn, _away_from(action))
