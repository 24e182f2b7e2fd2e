"""``picture``: a chart as a PNG file."""

from __future__ import annotations

from datetime import date, datetime
from pathlib import Path
from typing import Any

import click

from bot.commands.errors import Refusal
from bot.commands.options import db_option, debug_option, keeper_option, now_option, on_option
from bot.commands.shelf_view import OutputFile, ShelfView, shelf_view, write_file
from bot.husbandry.forecast import forecasts
from bot.husbandry.species import species_named
from bot.pictures.data import NextMolt, PictureKind
from bot.pictures.drawing import NothingToShowError, ShelfRecords, draw
from bot.pictures.theme import Look


@click.command("picture")
@click.argument("kind", type=click.Choice([kind.value for kind in PictureKind]))
@click.argument("file", type=OutputFile(".png"))
@click.argument("who", required=False)
@click.option("--dark", is_flag=True, help="On a dark ground.")
@db_option
@keeper_option
@on_option
@now_option
@debug_option
def picture_command(
    kind: str,
    file: Path,
    who: str | None,
    *,
    dark: bool,
    db: str | None,
    keeper_name: str | None,
    on: date | None,
    now: datetime | None,
) -> None:
    """Draw a chart as a PNG, as large as a phone shows it.

    WHO is a tag, a name or a species; life, weight and moisture need an animal, molts a species. A long shelf
    takes several files: FILE, FILE-2, and so on. Prints the files, and says on standard error what
    each of them shows.

    \b
    Examples:
      burrowbell picture life ink.png C1
      burrowbell picture shelf shelf.png --dark
      burrowbell picture molts lp.png "Lasiodora parahybana"
    """
    view = shelf_view(db, keeper_name, on, now)
    shelf = ShelfRecords(on=view.on, facts=view.facts, entries=view.entries, next_molts=_next_molts(view))
    try:
        pictures = draw(PictureKind(kind), shelf, Look.of(view.settings, dark=dark), **_about(view, who))
    except NothingToShowError as problem:
        raise Refusal(str(problem)) from problem
    for number, picture in enumerate(pictures, 1):
        place = file if number == 1 else file.with_stem(f"{file.stem}-{number}")
        write_file(place, picture.png)
        click.echo(picture.caption, err=True)


def _next_molts(view: ShelfView) -> dict[str, NextMolt]:
    """The next molt of each animal that will have one, by tag."""
    ahead = forecasts(view.living.records(), view.on)
    return {one.tag: NextMolt.at(one.next_molt, one.basis) for one in ahead if one.next_molt is not None}


def _about(view: ShelfView, who: str | None) -> dict[str, Any]:
    """Whom the picture is about: a species of the shelf or the file, else an animal."""
    if who is None:
        return {}
    kept = {one.species.casefold(): one.species for one in view.specimens}
    if (species := kept.get(who.casefold())) is not None:
        return {"species": species}
    named = [species.scientific_name for species in species_named(who)]
    on_shelf = [name for name in named if name.casefold() in kept]
    if len(on_shelf) == 1:
        return {"species": on_shelf[0]}
    return {"animal": view.called((who,))[0].specimen}
