"""The Darwin Core archive, read back by python-dwca-reader, with the terms of the TDWG vocabulary."""

from __future__ import annotations

import zipfile
from dataclasses import replace
from datetime import date, time
from decimal import Decimal
from xml.etree import ElementTree as ET

import pytest
from dwca.read import DwCAReader

from bot.exchange.darwin_core import archive
from bot.terms import Entry, Kind, Sex, Specimen, Stage
from bot.terms.as_of import AsOf

#: Of http://rs.tdwg.org/dwc/terms/ (TDWG, dwc repository, vocabulary/term_versions.csv).
TERMS = {
    *("eventID", "eventDate", "eventTime", "eventType", "eventRemarks"),
    *("occurrenceID", "basisOfRecord", "organismID", "organismName", "catalogNumber", "scientificName"),
    *("vernacularName", "sex", "lifeStage", "individualCount", "vitality", "behavior", "occurrenceStatus"),
    *("occurrenceRemarks", "measurementID", "measurementType", "measurementValue", "measurementUnit"),
    *("measurementDeterminedDate", "Event", "Occurrence", "MeasurementOrFact"),
}
INK = Specimen(
    tag="C1",
    name='Ink, "the quick"',
    species="Grammostola pulchra",
    common=("Brazilian black",),
    sex=Sex.FEMALE,
    stage=Stage.ADULT,
)
LOT = Specimen(tag="L1", species="Neoholothele incei", stage=Stage.SLING, lot_size=12)
ENTRIES = (
    Entry(kind=Kind.MOLTED, day=date(2026, 3, 1), time=time(21, 5), specimens=("C1",)),
    Entry(
        kind=Kind.MEASURED,
        day=date(2026, 3, 9),
        specimens=("C1",),
        span_cm=Decimal("14.50"),
        weight_g=Decimal("31.2"),
    ),
    Entry(kind=Kind.NOTE, day=date(2026, 3, 10), specimens=("L1",), note="line one\nline two; ümlaut 🕷"),
    Entry(kind=Kind.CLIMATE, day=date(2026, 3, 11), temp_c=Decimal("24.5")),
    Entry(kind=Kind.DIED, day=date(2026, 3, 12), specimens=("L1",), count=1),
    Entry(kind=Kind.DIED, day=date(2026, 3, 13), specimens=("L1",)),
    Entry(kind=Kind.NOTE, day=date(2026, 3, 14), specimens=("L1",), note="all gone"),
)
SLING = AsOf(sex=Sex.UNKNOWN, stage=Stage.SLING, count=1)
GROWN = AsOf(sex=Sex.FEMALE, stage=Stage.ADULT, count=1)
MANY = AsOf(sex=Sex.UNKNOWN, stage=None, count=12)
ARRIVED = [(INK, date(2025, 1, 2), SLING), (LOT, None, MANY)]
LEFT, NOBODY = replace(MANY, count=11), replace(MANY, count=0)
TOLD = list(zip(ENTRIES, (GROWN, GROWN, MANY, None, MANY, LEFT, NOBODY), strict=True))


def qn(term: str) -> str:
    """The whole name of a term; the reader's own table is of an older vocabulary."""
    return f"http://rs.tdwg.org/dwc/terms/{term}"


@pytest.fixture
def packed(tmp_path):
    path = tmp_path / "shelf.zip"
    path.write_bytes(archive(ARRIVED, TOLD, title="Invented shelf"))
    return path


def test_every_entry_is_an_event_with_its_specimen_and_what_was_measured(packed):
    with DwCAReader(str(packed)) as read:
        rows = list(read)
        assert len(rows) == len(ENTRIES) + 1  # and Ink's coming to the shelf
        molt, measured, note, climate, died, _, _ = rows[1:]
        assert molt.data[qn("eventDate")] == "2026-03-01"
        assert molt.data[qn("eventTime")] == "21:05"
        assert molt.data[qn("eventType")] == "molted"
        who = next(e for e in molt.extensions if e.rowtype == qn("Occurrence"))
        assert who.data[qn("organismName")] == 'Ink, "the quick"'
        assert who.data[qn("basisOfRecord")] == "LivingSpecimen"
        assert (who.data[qn("sex")], who.data[qn("lifeStage")]) == ("female", "adult")
        sizes = {
            e.data[qn("measurementType")]: (e.data[qn("measurementValue")], e.data[qn("measurementUnit")])
            for e in measured.extensions
            if e.rowtype == qn("MeasurementOrFact")
        }
        assert sizes == {"leg span": ("14.5", "cm"), "body mass": ("31.2", "g")}
        assert note.data[qn("eventRemarks")] == "line one\nline two; ümlaut 🕷"
        assert [e.rowtype for e in climate.extensions] == [qn("MeasurementOrFact")]
        lost = next(e for e in died.extensions if e.rowtype == qn("Occurrence"))
        assert lost.data[qn("vitality")] == "mixedLot"
        assert lost.data[qn("sex")] == ""


#: The words for vitality are examples of http://rs.tdwg.org/dwc/terms/vitality (TDWG; from memory).
WAS = [
    # sex, lifeStage, individualCount, vitality
    ("", "spiderling", "1", "alive"),
    ("female", "adult", "1", "alive"),
    ("female", "adult", "1", "alive"),
    ("", "", "12", "alive"),
    ("", "", "12", "mixedLot"),
    ("", "", "11", "dead"),
    ("", "", "", ""),
]


def test_an_occurrence_tells_what_the_specimen_was_then_and_nothing_that_was_not_known(packed):
    terms = ("sex", "lifeStage", "individualCount", "vitality")
    with DwCAReader(str(packed)) as read:
        seen = [e.data for row in read for e in row.extensions if e.rowtype == qn("Occurrence")]
    assert [tuple(one[qn(term)] for term in terms) for one in seen] == WAS


def test_only_terms_of_the_vocabulary_are_used(packed):
    with zipfile.ZipFile(packed) as files:
        meta = ET.fromstring(files.read("meta.xml"))
    used = {part.get("rowType") for part in meta} | {
        field.get("term") for field in meta.iter() if field.get("term")
    }
    assert {term.rpartition("/")[2] for term in used} <= TERMS
    assert all(term.startswith("http://rs.tdwg.org/dwc/terms/") for term in used)


def test_the_same_shelf_is_the_same_file(packed):
    again = archive(ARRIVED, TOLD, title="Invented shelf")
    assert packed.read_bytes() == again


def test_an_empty_shelf_is_an_archive_too(tmp_path):
    path = tmp_path / "empty.zip"
    path.write_bytes(archive([], [], title="Invented shelf"))
    with DwCAReader(str(path)) as read:
        assert list(read) == []
