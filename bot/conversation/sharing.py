"""A shelf for two: what one keeper of it logs, the other hears of, quietly and some at a time.

Nothing is told in a group, where all read along, and nothing of what a helper logs: of that the keeper has a
line each day. What is taken back before it was told is never told.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import timedelta
from itertools import groupby
from typing import Final

from bot.conversation.amend import joined
from bot.conversation.log import told
from bot.conversation.model import Reply
from bot.conversation.pages import fit
from bot.conversation.people import others_of, who_logged
from bot.conversation.texts import say
from bot.conversation.turn import Turn
from storage.records import Change, JournalEntry, Prompt, StoredNews

#: So long what is logged is gathered before the others hear of it in one message.
GATHERED: Final = timedelta(minutes=5)
#: What is older than this is no news: it stands in the journal.
_NEWS_FOR: Final = timedelta(days=2)


def pass_on(turn: Turn, others: Sequence[int], changes: Sequence[int]) -> None:
    """Keeps for the others what this message changed."""
    if turn.helps or not turn.incoming.private:
        return
    at = turn.incoming.sent_at
    numbers = list(dict.fromkeys([*changes, *turn.turned]))
    turn.work.news.add(others, turn.shelf_id, numbers, at=at, due_at=at + GATHERED)


def tell_news(turn: Turn, rows: Sequence[StoredNews]) -> list[Reply]:
    """What the others did, by person; nothing where nothing of it stands, or it is old."""
    lines: list[str] = []
    recent = [
        row for row in rows if row.shelf_id == turn.shelf_id and turn.incoming.sent_at - row.at <= _NEWS_FOR
    ]
    changes = [turn.work.journal.get_change(number) for number in dict.fromkeys(r.change_id for r in recent)]
    for by, of_one in groupby(changes, key=lambda change: change.keeper_id):
        told_of = [line for change in of_one for line in _lines(turn, change)]
        lines += [say("sharing.by", who=who_logged(turn, by)), *told_of] if told_of else []
    if not lines:
        return []
    reply = fit(turn, "\n".join(lines))
    return [Reply(text=reply.text, buttons=reply.buttons, number=reply.number, quiet=True)]


def _lines(turn: Turn, change: Change) -> list[str]:
    """What a change did or, once it is taken back, that it did not; and what of others it replaced."""
    journal, heard = turn.work.journal, turn.work.news.was_told
    rows, replaced = journal.entries_of(change.id), journal.replaced_by(change.id)
    if change.undone_at is None:
        gone = [row for row in replaced if heard(turn.keeper.id, row.change_id)]
        return [*_taken_back(_told(turn, gone)), *_told(turn, [row for row in rows if row.live])]
    if not heard(turn.keeper.id, change.id):
        return []
    return [*_taken_back(_told(turn, rows)), *_told(turn, [row for row in replaced if row.live])]


def _told(turn: Turn, rows: Sequence[JournalEntry]) -> list[str]:
    return [line for entry in joined([row.entry for row in rows]) for line in told(turn, entry)]


def _taken_back(lines: Sequence[str]) -> list[str]:
    return [say("sharing.taken_back", what=line) for line in lines]


def may_press(turn: Turn, prompt: Prompt) -> bool:
    """Whether a button is for the one who pressed it: their own, or their shelf's in its keepers' group."""
    if prompt.keeper_id == turn.keeper.id:
        return True
    if prompt.chat != turn.chat or turn.incoming.private or turn.helps:
        return False
    return prompt.keeper_id in others_of(turn)
