"""The invented demo shelf on one day, as pictures and paper see it."""

from dataclasses import dataclass, replace
from datetime import date, timedelta

import pytest

from bot.demo.shelf import demo_shelf
from bot.demo.simulator import journal_of
from bot.husbandry.state import SpecimenState, state_of
from bot.pictures import gather
from bot.pictures.data import NextMolt
from bot.pictures.drawing import ShelfRecords
from bot.round.model import SpecimenFacts

TODAY = date(2026, 5, 14)


@dataclass(frozen=True)
class Demo:
    """The shelf with its journal; animals by tag."""

    records: ShelfRecords

    @property
    def entries(self):
        return self.records.entries

    @property
    def facts(self):
        return self.records.facts

    def animal(self, tag):
        return next(one for one in self.records.specimens if one.tag == tag)


def next_molt(on, *, after=20):
    """A made-up forecast."""
    spread = (0.3, 0.7, 1, 1.4, 2)
    early, even_from, middle, even_to, late = (on + timedelta(days=round(after * part)) for part in spread)
    return NextMolt(
        early=early,
        even_from=even_from,
        middle=middle,
        even_to=even_to,
        late=late,
        basis="own record",
    )


def facts_of(shelf, entries):
    """What the round knows of the demo's animals."""
    facts = []
    for resident in shelf.residents:
        specimen = resident.specimen
        state = state_of(gather.of(specimen.tag, entries), SpecimenState(lot_size=specimen.lot_size))
        held = TODAY - timedelta(days=resident.held_days) if resident.held_days else None
        facts.append(SpecimenFacts(specimen=specimen, state=state, held_since=held))
    return tuple(facts)


def demo_records():
    """The demo shelf with its journal and made-up forecasts for three of four animals."""
    shelf = demo_shelf()
    entries = tuple(journal_of(shelf.residents, seed=shelf.seed, end=TODAY))
    facts = facts_of(shelf, entries)
    forecasts = {
        one.specimen.tag: next_molt(TODAY, after=10 + 9 * place)
        for place, one in enumerate(facts)
        if place % 4
    }
    return ShelfRecords(on=TODAY, facts=facts, entries=entries, next_molts=forecasts)


@pytest.fixture(scope="session")
def demo():
    return Demo(demo_records())


#: Names that break layouts, formulas, fonts and directions of writing. Invented.
HOSTILE = (
    "Żaba Ångström-Çelebi",
    "$x^2$ \\frac{1}{2} $",
    "a name that goes on and on until nobody at the shelf can be bothered to read it to its end",
    "Oneverylongwordthatcannotbebrokenanywherebecauseithasnospaceinitatall",
    "🕷️👨‍👩‍👧 ink 漢字",
    "שלום مرحبا",
    "line\nbreak\ttab\x00null\u202eevil\u200b",
    "<b>&amp;</b> {tag} %s",
    "\ud83d",
    "A\u030angstro\u0308m " + "e\u0301" * 8,
)


@pytest.fixture(params=HOSTILE, ids=range(len(HOSTILE)))
def hostile(request):
    """One such name."""
    return request.param


def renamed(records, tag, **changes):
    """The shelf with one animal renamed, its journal and forecast with it."""
    new = changes.get("tag", tag)
    facts = tuple(
        replace(one, specimen=replace(one.specimen, **changes)) if one.specimen.tag == tag else one
        for one in records.facts
    )
    entries = tuple(
        replace(entry, specimens=(new,)) if tag in entry.specimens else entry for entry in records.entries
    )
    forecasts = {new if key == tag else key: value for key, value in records.next_molts.items()}
    return replace(records, facts=facts, entries=entries, next_molts=forecasts)
