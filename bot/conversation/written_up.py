"""Husbandry notes in the chat: "notes on B. hamorii", "write up the GBBs"."""

from __future__ import annotations

import re

from bot.conversation import passing, wording
from bot.conversation.model import Reply
from bot.conversation.texts import say
from bot.conversation.turn import Turn
from bot.reading.wanted.wanted import Instruction
from storage.shelf_on_paper import read_shelf


def notes(turn: Turn, wanted: Instruction) -> list[Reply]:
    """The notes as a PDF to print or send, and as a web page to publish."""
    from bot.husbandry.evidence import ENOUGH, by_species  # noqa: PLC0415  numpy costs; few messages need it
    from bot.pictures.notes.husbandry import SpeciesRecords, husbandry_notes  # noqa: PLC0415
    from bot.pictures.notes.pages import to_pdf  # noqa: PLC0415
    from bot.pictures.notes.web_page import to_html  # noqa: PLC0415

    found = by_species(read_shelf(turn.work, turn.shelf_id).records(), wanted.species or "")
    if len(found) != 1:
        return [turn.reply(say("notes.none", species=wanted.species))]
    ((species, own),) = found.items()
    kept = SpeciesRecords(species=species, records=own, on=turn.today)
    document = husbandry_notes(kept, turn.settings)
    stem = "notes-" + re.sub(r"[^a-z]+", "-", species.casefold()).strip("-")
    files = (
        passing.keep(to_pdf(document, turn.settings.units), stem=stem, suffix=".pdf"),
        passing.keep(to_html(document).encode("utf-8"), stem=stem, suffix=".html"),
    )
    animals = wording.counted(len(own), "animal")
    lines = [say("notes.here", species=species, animals=animals)]
    if kept.few:
        lines.append(say("notes.few", n=ENOUGH))
    lines.append(say("notes.look_through"))
    return [Reply(text="\n".join(lines), pictures=files)]
