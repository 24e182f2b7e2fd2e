"""The tree of commands. Exit statuses: 0 done, 2 wrong use or bad input, 1 anything else."""

from __future__ import annotations

import gc
import importlib
import logging
import sys
from collections.abc import Mapping, Sequence
from types import MappingProxyType
from typing import Any, Final, NoReturn

import click

log = logging.getLogger(__name__)

#: Every command: the module of bot.commands that holds it under its name, and one line for ``--help``.
#: The modules are imported when their command is called, so that ``--help`` and ``read`` start fast.
COMMANDS: Final[Mapping[str, tuple[str, str]]] = MappingProxyType(
    {
        "chat": ("chatting", "Talk to the bot at the keyboard; --demo on an invented shelf."),
        "serve": ("serving", "Answer on Telegram."),
        "round": ("rounds", "Show what is to be done on a day, and who is left in peace."),
        "forecast": ("forecasting", "Show each specimen's next molt, growth and rehousing."),
        "evidence": ("evidence", "Tell what your own records say of a species, and on how much it rests."),
        "notes": ("publishing", "Write up a species from your own records, as Markdown, HTML or PDF."),
        "read": ("reading", "Show how each line of standard input would be read; stores nothing."),
        "import": ("importing", "Take in specimens, a journal or a shelf, all or nothing."),
        "export": ("exporting", "Write the whole shelf in open formats."),
        "picture": ("picturing", "Draw a chart of an animal or the shelf as a PNG."),
        "labels": ("papers", "Write enclosure labels with QR codes as a PDF."),
        "sheet": ("papers", "Write a helper's sheet, slips, or an animal's record as a PDF."),
        "backup": ("upkeep", "Copy the store to one file, while the bot runs."),
        "restore": ("upkeep", "Make the store what a backup holds."),
        "key": ("upkeep", "Make a pair of keys for sealed copies."),
        "migrate": ("upkeep", "Bring a store to the tables of this version."),
        "doctor": ("checkup", "Check store, settings, clock, zone data and connection."),
        "erase": ("erasing", "Delete all that is kept of a keeper, for good."),
        "invite": ("inviting", "Make a one-time code that lets a person in."),
    }
)


#: When garbage is collected: seldom, and all of it hardly ever, since nearly all that a start makes
#: (modules, tables, the lexicon) stays, and each look through it takes a good part of the start.
SELDOM: Final = (5_000, 20, 100)


class CommandTree(click.Group):
    """A group whose commands are loaded late, and whose errors are one line each."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """The names, in the order of the table."""
        return list(COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """The command, its module imported now; ``None`` if there is none of that name."""
        if cmd_name not in COMMANDS:
            return None
        module, summary = COMMANDS[cmd_name]
        command: click.Command = getattr(
            importlib.import_module(f"bot.commands.{module}"), f"{cmd_name}_command"
        )
        command.short_help = summary
        return command

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """The list under ``--help``, without importing a command."""
        with formatter.section("Commands"):
            formatter.write_dl([(name, summary) for name, (_, summary) in COMMANDS.items()])

    def main(self, args: Sequence[str] | None = None, *rest: Any, **extra: Any) -> NoReturn:
        """Runs the command line and leaves with its exit status."""
        extra["standalone_mode"] = False
        gc.set_threshold(*SELDOM)
        try:
            result = super().main(args, *rest, **extra)
        except click.ClickException as error:
            _say(error.format_message())
            status = error.exit_code
        except (click.Abort, KeyboardInterrupt):
            _say("stopped")
            status = 1
        except Exception as error:
            log.debug("the command failed", exc_info=True)
            _say(f"this went wrong: {type(error).__name__}: {error} (--debug shows where)")
            status = 1
        else:
            status = result if isinstance(result, int) else 0
        sys.exit(status)


def _say(message: str) -> None:
    """One line on standard error, whatever the message holds."""
    click.echo(f"burrowbell: {' '.join(message.split())}", err=True)


@click.group(cls=CommandTree, no_args_is_help=True, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(package_name="burrowbell", prog_name="burrowbell")
def main() -> None:
    """Keep tarantulas with a journal that talks back."""
