"""``round``: the tasks of a day, and who rests and why."""

from __future__ import annotations

from datetime import date, datetime
from typing import Any

import click

from bot.commands.options import (
    day_asked,
    db_option,
    debug_option,
    json_option,
    keeper_option,
    now_option,
    on_option,
    print_json,
)
from bot.commands.store import opened, some_keeper
from bot.conversation.reasons import reason, rest_sentence
from bot.round.model import Rest, Task, Worklist
from bot.round.worklist import worklist
from bot.terms import KeeperSettings


@click.command("round")
@db_option
@keeper_option
@on_option
@now_option
@json_option
@debug_option
def round_command(
    db: str | None, keeper_name: str | None, on: date | None, now: datetime | None, as_json: bool
) -> None:
    """Show what is to be done on a day, in the order of the shelf, and who is left in peace.

    \b
    Example:
      burrowbell round --on 2026-05-14
    """
    with opened(db) as store, store.look() as work:
        keeper = some_keeper(work, keeper_name)
        facts = work.shelves.facts(keeper.shelf_id)
    day = day_asked(on, now, keeper.settings)
    today = worklist(facts, day)
    called = {one.specimen.tag: one.specimen.called for one in facts}
    lines: list[Task | Rest] = [*today.tasks, *today.rests]
    for line in lines:
        if as_json:
            print_json(_as_json(line, today, keeper.settings))
        else:
            click.echo(f"{called[line.tag]}: {_as_text(line, today, keeper.settings)}")


def _as_json(line: Task | Rest, today: Worklist, settings: KeeperSettings) -> dict[str, Any]:
    if isinstance(line, Rest):
        return {
            "tag": line.tag,
            "task": "rest",
            "reason": line.reason.value,
            "since": line.since.isoformat(),
            "expected_until": line.expected_until.isoformat() if line.expected_until else None,
        }
    return {
        "tag": line.tag,
        "task": line.task.value,
        "why": reason(line.why, today.on, settings),
        "prey": line.prey,
        "size": line.size,
        "count": line.count,
        "overdue_days": line.overdue_days,
    }


def _as_text(line: Task | Rest, today: Worklist, settings: KeeperSettings) -> str:
    if isinstance(line, Rest):
        return rest_sentence(line, today.on, settings)
    what = " ".join(str(word) for word in (line.count, line.size, line.prey) if word is not None)
    return f"{line.task.value}{f' {what}' if what else ''}: {reason(line.why, today.on, settings)}"
