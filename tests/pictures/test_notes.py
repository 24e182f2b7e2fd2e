"""Husbandry notes of a species, written in three ways and read back by what had no part in writing them."""

from __future__ import annotations

import re
from base64 import b64decode
from collections import Counter
from dataclasses import replace
from datetime import timedelta
from decimal import Decimal
from html.parser import HTMLParser
from io import BytesIO

import pytest
from markdown_it import MarkdownIt
from PIL import Image as PillowImage
from pypdf import PdfReader

from bot.husbandry.evidence import findings
from bot.pictures.notes.document import Document, Heading, Image, Points, Table, Text
from bot.pictures.notes.husbandry import SpeciesRecords, husbandry_notes
from bot.pictures.notes.markdown import to_markdown
from bot.pictures.notes.pages import to_pdf
from bot.pictures.notes.web_page import to_html
from bot.terms import Entry, KeeperSettings, Kind, Specimen, Units
from tests.commands.conftest import _demo_file, burrowbell, demo_db  # noqa: F401  fixtures
from tests.husbandry.given import record_of, records_of
from tests.pictures.conftest import HOSTILE, TODAY
from tests.pictures.reading_back import text_of

METRIC, US = KeeperSettings(), KeeperSettings(units=Units.US)
LASIODORA, GBB = "Lasiodora parahybana", "Chromatopelma cyaneopubescens"
_FEW = "claims nothing about the species"


def kept_of(demo, species):
    records = records_of(demo.records.specimens, demo.entries)
    return SpeciesRecords(
        species=species, records=[one for one in records if one.specimen.species == species], on=TODAY
    )


@pytest.fixture(scope="module")
def notes(demo):
    return husbandry_notes(kept_of(demo, LASIODORA), METRIC)


def rows_of(document):
    return [row for part in document.parts if isinstance(part, Table) for row in part.rows]


def words_of(document):
    """Everything the document says, a text for each cell, paragraph, point and caption."""
    out = [document.title, document.under]
    for part in document.parts:
        match part:
            case Heading() | Text():
                out.append(part.words)
            case Points():
                out += part.lines
            case Table():
                out += [cell for row in (part.columns, *part.rows) for cell in row]
            case Image():
                out.append(part.caption)
    return out


# --- what they say --------------------------------------------------------------------------------


def test_every_figure_of_the_evidence_stands_there_with_its_animals(demo, notes):
    kept = kept_of(demo, LASIODORA)
    rows = Counter(row[3] for row in rows_of(notes) if len(row) == 4)
    for finding in findings(kept.records, TODAY):
        animals = "1 animal" if finding.n_specimens == 1 else f"{finding.n_specimens} animals"
        assert any(basis.startswith(animals) for basis in rows), finding
    assert rows.total() == len(findings(kept.records, TODAY))


def test_a_share_and_a_count_agree_with_the_entries_themselves(demo, notes):
    tags = {one.tag for one in demo.records.specimens if one.species == LASIODORA}
    own = [entry for entry in demo.entries if tags.intersection(entry.specimens)]
    offers = [e for e in own if e.kind in (Kind.FED, Kind.REFUSED) and e.prey == "cricket"]
    taken = sum(e.kind is Kind.FED for e in offers)
    row = next(row for row in rows_of(notes) if row[0] == "Offers taken: cricket")
    assert row[1] == f"{round(100 * taken / len(offers))} %"
    assert row[3] == f"3 animals, {len(offers)} offers"
    for tag in tags:
        meals = [e for e in own if tag in e.specimens and e.kind in (Kind.FED, Kind.REFUSED)]
        row = next(row for row in rows_of(notes) if row[0] == tag)
        assert row[4] == f"{sum(e.kind is Kind.FED for e in meals)} of {len(meals)}"


def test_figures_of_fewer_than_three_animals_say_that_they_claim_nothing(demo, notes):
    for finding, row in zip(
        findings(kept_of(demo, LASIODORA).records, TODAY),
        sorted((row for row in rows_of(notes) if len(row) == 4), key=lambda row: row[0]),
        strict=True,
    ):
        del finding
        few = int(re.match(r"(\d+) animal", row[3])[1]) < 3
        assert ("too few animals for a claim" in row[3]) == few
    assert not any(_FEW in words for words in words_of(notes))
    alone = husbandry_notes(kept_of(demo, GBB), METRIC)
    assert any(_FEW in words for words in words_of(alone))
    assert all("too few animals for a claim" in row[3] for row in rows_of(alone) if len(row) == 4)
    assert all(
        "no claim about the species" in one.caption or "One animal" in one.caption for one in alone.images
    )


def test_all_that_comes_of_the_species_file_is_marked_as_opinion(notes):
    heads = [n for n, part in enumerate(notes.parts) if isinstance(part, Heading)]
    opinion = next(n for n in heads if notes.parts[n].words == "What remains opinion")
    points = next(part for part in notes.parts[opinion:] if isinstance(part, Points))
    assert points.lines
    assert all(line.startswith("Opinion: ") for line in points.lines)
    assert any("no source" in part.words for part in notes.parts[opinion:] if isinstance(part, Text))


@pytest.mark.parametrize(
    ("species", "warned"),
    [
        (LASIODORA, "eye doctor the same day"),
        ("Pterinochilus murinus", "never handled"),
        ("Brachypelma emilia", "CITES Appendix II"),
        ("An Unknown", "treat it as strong"),
    ],
)
def test_the_cautions_fit_the_species_and_children_pets_law_and_vet_are_always_there(species, warned):
    record = records_of([Specimen(tag="A1", species=species)], [])
    told = " ".join(
        words_of(husbandry_notes(SpeciesRecords(species=species, records=record, on=TODAY), METRIC))
    )
    assert warned in told
    for always in (
        "Children and pets",
        "a vet",
        "Local law",
        "emergency number",
    ):
        assert always in told


def test_origins_prices_places_and_notes_stay_out(demo):
    kept = kept_of(demo, GBB)
    secret = Entry(
        kind=Kind.ACQUIRED,
        specimens=("S4",),
        day=TODAY,
        source="a seller of mine",
        price=Decimal("61.40"),
        currency="EUR",
    )
    told = Entry(kind=Kind.NOTE, specimens=("S4",), day=TODAY, note="stands in my bedroom")
    record = kept.records[0]
    fuller = replace(kept, records=[record_of(record.specimen, [*record.entries, secret, told])])
    said = " ".join(words_of(husbandry_notes(fuller, METRIC, pictures=False)))
    for private in ("a seller of mine", "61.40", "bedroom", "Pebble"):
        assert private not in said


def test_the_room_before_an_animal_came_is_none_of_its_climate(demo):
    before = Entry(kind=Kind.CLIMATE, day=TODAY - timedelta(days=900), temp_c=Decimal("3.0"))
    records = records_of(demo.records.specimens, [before, *demo.entries])
    own = [one for one in records if one.specimen.species == LASIODORA]
    with_it = [f for f in findings(own, TODAY) if f.figure == "temperature"]
    assert with_it == [
        f for f in findings(kept_of(demo, LASIODORA).records, TODAY) if f.figure == "temperature"
    ]


def test_us_units_reach_every_figure(demo):
    cells = [
        cell for row in rows_of(husbandry_notes(kept_of(demo, LASIODORA), US, pictures=False)) for cell in row
    ]
    assert any(cell.endswith("°F") for cell in cells)
    assert any("gal" in cell for cell in cells)
    assert not any(re.search(r"\d\s(cm|L|°C)\b", cell) for cell in cells)


# --- how they are written -------------------------------------------------------------------------


class _Page(HTMLParser):
    """What a browser would see: words, pictures, and whatever might fetch or run."""

    def __init__(self):
        super().__init__()
        self.words, self.images, self.fetched, self.tags = [], [], [], Counter()

    def handle_starttag(self, tag, attrs):
        self.tags[tag] += 1
        for name, value in attrs:
            if name in ("src", "href", "srcset", "action") and not value.startswith("data:image/png;base64,"):
                self.fetched.append(value)
            if name.startswith("on"):
                self.fetched.append(name)
        if tag == "img":
            self.images.append(dict(attrs))

    def handle_data(self, data):
        self.words.append(data)


def page_of(document):
    page = _Page()
    page.feed(to_html(document))
    page.close()
    return page


def test_the_web_page_is_one_file_with_its_pictures_inside(notes):
    page = page_of(notes)
    assert page.fetched == []
    assert page.tags["script"] == page.tags["link"] == 0
    assert len(page.images) == len(notes.images) >= 3
    for found, image in zip(page.images, notes.images, strict=True):
        png = b64decode(found["src"].partition(",")[2], validate=True)
        assert PillowImage.open(BytesIO(png)).size == (image.width, image.height)
        assert found["alt"] == image.caption


def test_markdown_is_read_back_as_the_same_words_and_pictures(notes):
    names = [f"n-{n}.png" for n in range(len(notes.images))]
    tokens = MarkdownIt("commonmark").enable("table").parse(to_markdown(notes, names))
    inline = [token for token in tokens if token.type == "inline"]
    said = {
        "".join(part.content for part in token.children if part.type in ("text", "text_special"))
        for token in inline
    }
    for words in words_of(notes):
        assert words.replace("\N{NO-BREAK SPACE}", " ") in said or words in said, words
    shown = [part.attrs["src"] for token in inline for part in token.children if part.type == "image"]
    assert shown == names
    assert sum(token.type == "tr_open" for token in tokens) == len(rows_of(notes)) + 3


def test_the_pdf_has_the_same_words_selectable_and_the_same_pictures(notes):
    pdf = to_pdf(notes, Units.METRIC)
    text = text_of(pdf)
    for words in words_of(notes):
        assert " ".join(words.split()[:4]) in text, words
    assert sum(len(page.images) for page in PdfReader(BytesIO(pdf)).pages) == len(notes.images)


def test_a_caption_stands_on_the_page_of_its_picture(notes):
    pages = PdfReader(BytesIO(to_pdf(notes, Units.METRIC))).pages
    told = [image.caption for image in notes.images]
    for page in pages:
        text = " ".join(page.extract_text().split())
        assert sum(" ".join(caption.split())[:60] in text for caption in told) == len(page.images)


@pytest.mark.parametrize("name", HOSTILE, ids=range(len(HOSTILE)))
def test_no_name_becomes_markup(name):
    document = Document(
        title=name,
        under=name,
        foot=name,
        on=TODAY,
        language="en",
        parts=(Heading(name), Text(name), Points((name,)), Table((name,), (1.0,), ((name,),))),
    )
    page = page_of(document)
    assert (
        page.tags.total()
        == page_of(
            replace(
                document,
                title="x",
                under="x",
                foot="x",
                parts=(Heading("x"), Text("x"), Points(("x",)), Table(("x",), (1.0,), (("x",),))),
            )
        ).tags.total()
    )
    tokens = MarkdownIt("commonmark", {"html": True}).enable("table").parse(to_markdown(document, ()))
    children = [part for token in tokens if token.type == "inline" for part in token.children]
    assert {part.type for part in children} <= {"text", "text_special", "em_open", "em_close", "softbreak"}
    assert not any(token.type == "html_block" for token in tokens)
    assert to_pdf(document, Units.METRIC).startswith(b"%PDF")


# --- the command ----------------------------------------------------------------------------------

_NOW = ("--now", "2026-05-14T19:30")


def test_the_command_writes_each_form_and_pictures_beside_markdown(burrowbell, demo_db, tmp_path):  # noqa: F811
    for name in ("lp.pdf", "lp.html", "lp.md"):
        outcome = burrowbell("notes", name, "parahybana", "--db", demo_db, *_NOW)
        assert outcome.status == 0
        assert outcome.out.splitlines()[0] == name
    beside = sorted(file.name for file in tmp_path.glob("lp-*.png"))
    assert beside == outcome.out.splitlines()[1:]
    assert all(f"({name})" in (tmp_path / "lp.md").read_text("utf-8") for name in beside)


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (("x.doc", "GBB"), "ends in .md, .html or .pdf"),
        (("x.pdf", "Latrodectus", "mactans"), "no animal on record is of that species"),
    ],
)
def test_what_cannot_be_written_up_is_one_line(burrowbell, demo_db, tmp_path, arguments, words):  # noqa: F811
    outcome = burrowbell("notes", *arguments, "--db", demo_db, *_NOW)
    assert (outcome.status, outcome.out) == (2, "")
    assert words in outcome.err
    assert not list(tmp_path.glob("x.*"))


def test_a_lot_that_lost_some_is_told_by_its_animals():
    lot = Specimen(tag="A1", species=GBB, lot_size=6)
    told = [
        Entry(kind=Kind.WATERED, specimens=("A1",), day=TODAY - timedelta(days=40)),
        Entry(kind=Kind.DIED, specimens=("A1",), day=TODAY - timedelta(days=20), count=2),
        Entry(kind=Kind.LEFT, specimens=("A1",), day=TODAY - timedelta(days=10), count=1),
    ]
    kept = SpeciesRecords(species=GBB, records=[record_of(lot, told)], on=TODAY)
    said = words_of(husbandry_notes(kept, METRIC, pictures=False))
    assert any("6 animals on record: 3 kept now, 2 died, 1 left" in words for words in said)
    assert "3 of 6 kept" in [
        cell for row in rows_of(husbandry_notes(kept, METRIC, pictures=False)) for cell in row
    ]
