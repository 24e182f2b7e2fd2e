"""Long replies come in pages: the first at once, the rest at "more", by button or by word."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any

from bot.conversation.model import Reply
from bot.conversation.texts import say
from bot.conversation.turn import Choice, Turn
from bot.conversation.wording import LONGEST
from storage.records import Prompt

_PAGE_LINES = 40


def fit(
    turn: Turn,
    text: str,
    rows: Sequence[Sequence[Choice]] = (),
    *,
    change_id: int | None = None,
    in_place: bool = False,
    page_lines: int = _PAGE_LINES,
) -> Reply:
    """A reply that fits a message; what does not fit waits behind a "more" button."""
    first, *rest = pages(text, page_lines)
    reply = turn.reply(first, rows, change_id=change_id, in_place=in_place)
    return reply if not rest else _with_more(turn, reply, rest)


def _with_more(turn: Turn, reply: Reply, rest: list[str]) -> Reply:
    """The reply with a "more" button, which is a prompt of its own: it uses up none of the others."""
    turn.remember(more=rest)
    more = turn.reply("", [[Choice(say("button.more"), {"do": "more", "pages": rest})]])
    return replace(reply, buttons=reply.buttons + more.buttons, number=reply.number or more.number)


def pages(text: str, page_lines: int = _PAGE_LINES) -> list[str]:
    """The text cut at line ends into pages of some lines, none longer than a message may be."""
    found: list[list[str]] = [[]]
    room = LONGEST
    for line in _short_enough(text):
        if len(found[-1]) >= page_lines or len(line) + 1 > room:
            found.append([])
            room = LONGEST
        found[-1].append(line)
        room -= len(line) + 1
    return ["\n".join(lines) for lines in found]


def _short_enough(text: str) -> list[str]:
    """The lines of a text; one longer than a whole message is cut at a blank where it has one."""
    lines: list[str] = []
    for full in text.split("\n"):
        rest = full
        while len(rest) >= LONGEST:
            cut = rest.rfind(" ", LONGEST // 2, LONGEST - 1)
            cut = cut if cut > 0 else LONGEST - 1
            lines.append(rest[:cut])
            rest = rest[cut:].lstrip()
        lines.append(rest)
    return lines


def pressed_more(turn: Turn, _prompt: Prompt, action: Mapping[str, Any]) -> list[Reply]:
    """The next page, and a button for the one after it."""
    return [_next_page(turn, action["pages"])]


def more(turn: Turn) -> list[Reply]:
    """The keeper typed "more"."""
    waiting = turn.dialog.get("more")
    return [_next_page(turn, waiting)] if waiting else [turn.reply(say("pages.no_more"))]


def _next_page(turn: Turn, waiting: Sequence[str]) -> Reply:
    first, *rest = waiting
    turn.remember(more=None)
    reply = turn.reply(first)
    return _with_more(turn, reply, list(rest)) if rest else reply
