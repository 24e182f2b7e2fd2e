"""Text in, reading out: the one door through which a message is understood."""

from __future__ import annotations

import logging
from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime
from typing import Any, Final

from bot.reading.amends import amended
from bot.reading.earlier import of_an_earlier_one
from bot.reading.mending import mended
from bot.reading.model import About, Reading, ReadingKind
from bot.reading.names import ShelfNames
from bot.reading.orders import order_in
from bot.reading.parse import Message
from bot.reading.put_right import put_right
from bot.reading.questions import opens_as_question, question_in, told_and_asked
from bot.reading.told import UNCLEAR, told
from bot.terms import KeeperSettings

_log: Final = logging.getLogger(__name__)


def read(
    text: str, names: ShelfNames, *, now: datetime, settings: KeeperSettings, talked_of: str | None = None
) -> Reading:
    """How a message is to be read.

    ``now`` is the time in the keeper's zone, ``talked_of`` the tag of the animal just talked of, for
    pronouns. Never raises; what cannot be read is ``unclear``.
    """
    try:
        reading = _with_slips_mended(Message(text, names, now, settings, talked_of))
    except Exception:  # a fault of ours must not lose the keeper's message
        _log.exception("a message could not be read")
        reading = UNCLEAR
    return replace(reading, text=text)


def _with_slips_mended(message: Message) -> Reading:
    """The reading of a message with the slips in its words mended; a note keeps the keeper's spelling."""
    better = mended(message)
    if better is None:
        return _reading(message)
    reading = _reading(message.saying(better.text))
    notes = " ".join(entry.note for entry in reading.entries if entry.note).lower()
    return _reading(message) if any(right in notes for _, right in better.words) else reading


def _reading(message: Message) -> Reading:
    if not message.says_anything():
        return UNCLEAR
    change = of_an_earlier_one(message) or put_right(message) or amended(message)
    if change is not None:
        return change
    order = order_in(message)
    everything = range(len(message.tokens))
    if order is None:
        return _beside(message, [everything], None)
    part, reading = order
    return _beside(message, [range(part.start), range(part.stop, everything.stop)], reading)


def _of_nobody_asked(message: Message, sentences: Sequence[range], account: Reading) -> bool:
    """ "Which of them refused twice running?": no account lacking a name, but a question not understood."""
    ask = account.ask
    lacks = ask is not None and ask.about is About.SPECIMEN and not ask.choices
    return lacks and any(opens_as_question(message, sentence) for sentence in sentences)


def _beside(message: Message, rest: Sequence[range], order: Reading | None) -> Reading:
    """What is told and asked in the rest of a message, with the order beside it."""
    sentences: list[range] = []
    question: Reading | None = None
    for sentence in (p for part in rest for s in message.sentences(part) for p in told_and_asked(message, s)):
        asked = question_in(message, sentence)
        if asked is None:
            sentences.append(sentence)
        else:
            question = question or asked
    account = told(message, sentences) if sentences else UNCLEAR
    if account.reading is ReadingKind.UNCLEAR or _of_nobody_asked(message, sentences, account):
        return order or question or replace(UNCLEAR, denies=account.denies)
    if order is not None and account.ask is not None and _only_why(message, sentences, account):
        return order
    return replace(account, **_more(order), **_more(question))


def _more(second: Reading | None) -> dict[str, Any]:
    """What an order or a question adds to what is told beside it."""
    if second is None:
        return {}
    if second.reading is ReadingKind.ASK:
        return {"beside": second}
    said = {key: getattr(second, key) for key in ("reminder", "hold", "question")}
    return {key: value for key, value in said.items() if value is not None}


def _only_why(message: Message, sentences: Sequence[range], account: Reading) -> bool:
    """Whether what stands beside an order only says why: "Ink's fasting, pause her".

    A word that is not understood may tell of something, and is asked about.
    """
    nothing_told = account.ask is not None and account.ask.doubt == "no_kind"
    return nothing_told and all(item.cat != "U" for item in message.items(sentences))
