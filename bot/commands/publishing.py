"""``notes``: the husbandry notes of a species, to publish or to talk from."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, datetime
from pathlib import Path

import click

from bot.commands.one_species import of_one_species
from bot.commands.options import day_asked, db_option, debug_option, keeper_option, now_option, on_option
from bot.commands.shelf_view import OutputFile, write_file
from bot.commands.store import opened, some_keeper
from bot.pictures.notes.document import Document
from bot.pictures.notes.husbandry import SpeciesRecords, husbandry_notes
from bot.pictures.notes.markdown import to_markdown
from bot.pictures.notes.pages import to_pdf
from bot.pictures.notes.web_page import to_html
from bot.terms import Units
from storage.shelf_on_paper import read_shelf


@click.command("notes")
@click.argument("file", type=OutputFile(".md", ".html", ".pdf"))
@click.argument("species", nargs=-1, required=True, metavar="SPECIES")
@click.option("--by", metavar="NAME", default="", help="Whose notes they are; nobody is named otherwise.")
@db_option
@keeper_option
@on_option
@now_option
@debug_option
def notes_command(
    file: Path,
    species: tuple[str, ...],
    *,
    by: str,
    db: str | None,
    keeper_name: str | None,
    on: date | None,
    now: datetime | None,
) -> None:
    """Write up a species from your own records: what was done, what came of it, and what is opinion.

    FILE ends in .md, .html (one file with its pictures inside) or .pdf; Markdown gets its pictures as
    files beside it. SPECIES is a scientific, former or trade name, or the epithet alone. Animals that
    died or left count as the living do; origins, prices, places and notes stay out.

    \b
    Examples:
      burrowbell notes pulchra.html Grammostola pulchra
      burrowbell notes gbb.pdf GBB --by "A keeper"
    """
    with opened(db) as store, store.look() as work:
        keeper = some_keeper(work, keeper_name)
        records = read_shelf(work, keeper.shelf_id).records()
    name, own = of_one_species(records, species)
    day = day_asked(on, now, keeper.settings)
    kept = SpeciesRecords(species=name, records=own, on=day, by=by)
    for place, content in _files(file, husbandry_notes(kept, keeper.settings), keeper.settings.units):
        write_file(place, content)


def _files(file: Path, document: Document, units: Units) -> Iterator[tuple[Path, bytes]]:
    """The files to write, the document's own first."""
    if file.suffix.lower() == ".pdf":
        yield file, to_pdf(document, units)
    elif file.suffix.lower() == ".html":
        yield file, to_html(document).encode("utf-8")
    else:
        beside = [
            file.with_name(f"{file.stem}-{number}.png") for number in range(1, len(document.images) + 1)
        ]
        yield file, to_markdown(document, [place.name for place in beside]).encode("utf-8")
        yield from zip(beside, (image.png for image in document.images), strict=True)
