"""``labels`` and ``sheet``: pages to print, as PDF."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import date, datetime
from pathlib import Path
from typing import Any, Final

import click

from bot.commands.errors import Refusal
from bot.commands.options import db_option, debug_option, keeper_option, now_option, on_option
from bot.commands.shelf_view import OutputFile, ShelfView, shelf_view, write_file
from bot.pictures.gather import life_of
from bot.pictures.paper.helper_sheet import HelperSheet, helper_pages
from bot.pictures.paper.label_sheets import label_sheets
from bot.pictures.paper.labels import label_of, label_pages
from bot.pictures.paper.record import AnimalRecord, record_pages
from bot.pictures.paper.slips import slip_pages, slips_of
from bot.pictures.theme import Look
from bot.telegram.deep_link import link, payload_for_tag

_LABELS: Final = "a4-21"
_SLIPS: Final = "a4-8"
_TAG_BLANK: Final = "{tag}"
_PDF: Final = OutputFile(".pdf")
_DAY: Final = click.DateTime(["%Y-%m-%d"])


def _sheet_option(default: str) -> Callable[[Any], Any]:
    return click.option(
        "--sheet",
        "sheet_key",
        type=click.Choice(list(label_sheets())),
        default=default,
        show_default=True,
        help="The sheet it is printed on; --sheets tells them all.",
    )


def _tell_sheets(ctx: click.Context, _param: click.Parameter, asked: bool) -> None:
    if asked:
        for sheet in label_sheets().values():
            click.echo(f"{sheet.key:<10} {sheet.about}")
        ctx.exit()


_sheets_option = click.option(
    "--sheets",
    is_flag=True,
    is_eager=True,
    expose_value=False,
    callback=_tell_sheets,
    help="Tell the sheets of labels that are known, and leave.",
)


@click.command("labels")
@click.argument("file", type=_PDF)
@click.argument("who", nargs=-1)
@_sheet_option(_LABELS)
@_sheets_option
@click.option("--bot", metavar="NAME", help="The bot's user name: a QR code opens the chat on the animal.")
@click.option("--link", "template", metavar="TEXT", help='Another text for the code; "{tag}" is the tag.')
@click.option("--start", metavar="N", default=0, help="How many labels of the first sheet are used up.")
@click.option("--outlines", is_flag=True, help="Draw the labels' edges, for a trial on plain paper.")
@db_option
@keeper_option
@on_option
@now_option
@debug_option
def labels_command(
    file: Path,
    who: tuple[str, ...],
    *,
    sheet_key: str,
    bot: str | None,
    template: str | None,
    start: int,
    outlines: bool,
    db: str | None,
    keeper_name: str | None,
    on: date | None,
    now: datetime | None,
) -> None:
    """Write enclosure labels as a PDF: tag, name, species, cautions, and a QR code where asked for.

    WHO are tags or names; nobody named means everyone on the shelf. Print at 100 %, without fitting to
    the page, and try one sheet with --outlines on plain paper before the labels.

    \b
    Examples:
      burrowbell labels labels.pdf --bot my_shelf_bot
      burrowbell labels new.pdf C7 C8 --sheet a4-65 --start 12
    """
    view = shelf_view(db, keeper_name, on, now)
    animals = [one.specimen for one in view.called(who)]
    with _refused_plainly():
        labels = [label_of(one, _code(one.tag, bot, template)) for one in animals]
        sheet = label_sheets()[sheet_key]
        write_file(file, label_pages(labels, sheet, view.on, view.settings, start=start, outlines=outlines))


def _code(tag: str, bot: str | None, template: str | None) -> str:
    """The text of a label's code; empty for none."""
    if template is not None:
        return template.replace(_TAG_BLANK, tag)
    return link(bot.removeprefix("@"), payload_for_tag(tag)) if bot else ""


@click.group("sheet")
def sheet_command() -> None:
    """Write a sheet as a PDF: for a helper, for animals left in peace, for a buyer or a vet."""


@sheet_command.command("helper")
@click.argument("file", type=_PDF)
@click.option("--from", "first", type=_DAY, required=True, help="The first day.")
@click.option("--to", "last", type=_DAY, required=True, help="The last day.")
@db_option
@keeper_option
@now_option
@debug_option
def _helper(
    file: Path,
    *,
    first: datetime,
    last: datetime,
    db: str | None,
    keeper_name: str | None,
    now: datetime | None,
) -> None:
    """Who gets what on each day of a period, what to leave alone, and what to do if something happens.

    \b
    Example:
      burrowbell sheet helper august.pdf --from 2026-08-03 --to 2026-08-14
    """
    view = shelf_view(db, keeper_name, None, now)
    sheet = HelperSheet(
        keeper=view.keeper, facts=view.facts, today=view.on, first=first.date(), last=last.date()
    )
    with _refused_plainly():
        write_file(file, helper_pages(sheet, view.settings))


@sheet_command.command("slips")
@click.argument("file", type=_PDF)
@_sheet_option(_SLIPS)
@_sheets_option
@db_option
@keeper_option
@on_option
@now_option
@debug_option
def _slips(
    file: Path,
    *,
    sheet_key: str,
    db: str | None,
    keeper_name: str | None,
    on: date | None,
    now: datetime | None,
) -> None:
    """A "do not disturb" slip for everyone who is sealed, in premolt or freshly molted.

    \b
    Example:
      burrowbell sheet slips slips.pdf
    """
    view = shelf_view(db, keeper_name, on, now)
    with _refused_plainly():
        slips = slips_of(view.facts, view.on)
        write_file(file, slip_pages(slips, label_sheets()[sheet_key], view.on, view.settings))


@sheet_command.command("record")
@click.argument("file", type=_PDF)
@click.argument("who")
@click.option("--picture", is_flag=True, help="With the picture of its life.")
@db_option
@keeper_option
@on_option
@now_option
@debug_option
def _record(
    file: Path,
    who: str,
    *,
    picture: bool,
    db: str | None,
    keeper_name: str | None,
    on: date | None,
    now: datetime | None,
) -> None:
    """An animal's own record for a buyer or a vet, with blanks for what is not on record.

    WHO is a tag or a name.

    \b
    Example:
      burrowbell sheet record ink.pdf C1 --picture
    """
    view = shelf_view(db, keeper_name, on, now)
    specimen = view.called((who,))[0].specimen
    record = AnimalRecord(
        specimen=specimen,
        entries=view.entries,
        keeper=view.keeper,
        on=view.on,
        picture=_life(view, who) if picture else None,
    )
    write_file(file, record_pages(record, view.settings))


def _life(view: ShelfView, who: str) -> tuple[bytes, tuple[int, int]]:
    from bot.pictures.charts import life_chart  # noqa: PLC0415  only --picture needs matplotlib

    specimen = view.called((who,))[0].specimen
    drawn = life_chart(life_of(specimen, view.entries, view.on), Look.of(view.settings))
    return drawn.png, (drawn.width, drawn.height)


@contextmanager
def _refused_plainly() -> Iterator[None]:
    """What a page cannot be made of becomes the command's one line."""
    try:
        yield
    except ValueError as problem:
        raise Refusal(str(problem)) from problem
