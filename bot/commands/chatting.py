"""``chat``: the conversation at a keyboard."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from datetime import UTC, datetime
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

import click
import tzlocal
from platformdirs import user_state_path

from bot.commands.errors import Refusal
from bot.commands.lines import lines_of
from bot.commands.options import (
    db_option,
    debug_option,
    in_zone,
    json_option,
    keeper_option,
    now_option,
    print_json,
)
from bot.commands.store import KEYBOARD, all_keepers, keeper_here, opened
from bot.conversation import Conversation
from bot.conversation.model import Reply
from bot.telegram.deep_link import payload_for_invite
from bot.terminal import words
from bot.terminal.render import as_json as reply_as_json
from bot.terminal.render import as_text
from bot.terminal.talk import Talk
from bot.terms import KeeperSettings
from storage import Store
from storage.records import Keeper

_IN_MEMORY = "sqlite://"


@click.command("chat")
@click.option(
    "--demo", is_flag=True, help="Start from an invented shelf, in a store that is thrown away unless --db."
)
@db_option
@keeper_option
@now_option
@json_option
@debug_option
def chat_command(
    *, demo: bool, db: str | None, keeper_name: str | None, now: datetime | None, as_json: bool
) -> None:
    """Talk to the bot: a prompt with history in a terminal, one message a line from a pipe.

    A line "#2" presses the second button of the last reply. Ctrl-D ends.

    \b
    Examples:
      burrowbell chat --demo
      echo 'who is sealed?' | burrowbell chat --demo --json
    """
    with opened(_IN_MEMORY if demo and db is None else db, makes=True) as store:
        keeper = _demo_keeper(store, now) if demo else _own_keeper(store, keeper_name)
        talk = Talk(
            store,
            keeper.id,
            Conversation(link_of=_start_line),
            chat=KEYBOARD[1],
            now=_clock(now, keeper.settings.zone),
        )
        if sys.stdin.isatty() and not as_json:
            _at_a_terminal(talk, demo=demo, kept=db is not None)
        else:
            _from_a_pipe(talk, as_json)


def _start_line(code: str) -> str:
    """What is to be written to the bot on Telegram, whose name is not known here."""
    return f"/start {payload_for_invite(code)}"


def _from_a_pipe(talk: Talk, as_json: bool) -> None:
    for line in lines_of(sys.stdin.buffer):
        if not line.strip():
            continue
        for reply in talk.say(line):
            if as_json:
                print_json(reply_as_json(reply))
            else:
                click.echo(as_text(reply) + "\n")


def _at_a_terminal(talk: Talk, *, demo: bool, kept: bool) -> None:
    from bot.terminal.screen import converse, history_in  # noqa: PLC0415  a pipe needs no line editor

    def opening() -> Iterator[Reply]:
        if demo:
            yield Reply(text=words.DEMO_KEPT if kept else words.DEMO)
            yield from talk.morning_round()
            yield Reply(text=words.TRY)
        yield from talk.greeting()

    history = history_in(None if demo else user_state_path("burrowbell") / "history")
    converse(talk, opening, history=history)


def _clock(now: datetime | None, zone: str) -> Callable[[], datetime]:
    """The keeper's clock: the real one, or one that stands at ``--now``."""
    if now is None:
        return lambda: datetime.now(UTC)
    fixed = in_zone(now, zone).astimezone(UTC)
    return lambda: fixed


def _zone_here() -> str:
    """The name of this computer's time zone, UTC where it cannot be told."""
    try:
        return ZoneInfo(tzlocal.get_localzone_name() or "UTC").key
    except (ZoneInfoNotFoundError, ValueError, OSError):
        return "UTC"


def _own_keeper(store: Store, name: str | None) -> Keeper:
    """The keeper at this keyboard, made on the first day."""
    with store.begin() as work:
        keeper = keeper_here(work, name)
        if keeper is None:
            settings = KeeperSettings(zone=_zone_here())
            keeper = work.keepers.create("keeper", settings, at=datetime.now(UTC))
        if work.keepers.by_contact(*KEYBOARD) is None:
            work.keepers.link(keeper.id, *KEYBOARD)
        return keeper


def _demo_keeper(store: Store, now: datetime | None) -> Keeper:
    """The invented keeper, put up with their shelf where the store is empty."""
    from bot.demo.fill import put_up  # noqa: PLC0415  only the demo needs the simulator
    from bot.demo.shelf import demo_shelf  # noqa: PLC0415

    shelf = demo_shelf()
    with store.look() as work:
        here = work.keepers.by_contact(*KEYBOARD)
        others = bool(all_keepers(work))
    if here is not None and here.name == shelf.keeper:
        return here
    if others:
        raise Refusal("--demo: this store has a keeper already; the demo wants a store of its own")
    zone = _zone_here()
    return put_up(store, shelf, now=in_zone(now, zone).astimezone(UTC), zone=zone, contact=KEYBOARD)
