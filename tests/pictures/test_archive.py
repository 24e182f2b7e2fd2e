"""What every PDF of the room has to be: PDF/A-2u as far as it can be read back without a validator."""

import logging
from datetime import timedelta
from io import BytesIO

import pytest
from pypdf import PdfReader

from bot.pictures.paper import page
from bot.pictures.paper.helper_sheet import HelperSheet, helper_pages
from bot.pictures.paper.label_sheets import label_sheets
from bot.pictures.paper.labels import Label, label_of, label_pages
from bot.pictures.paper.record import AnimalRecord, record_pages
from bot.pictures.paper.slips import slip_pages, slips_of
from bot.terms import KeeperSettings, Units
from tests.pictures.conftest import HOSTILE, TODAY, renamed
from tests.pictures.reading_back import fonts, sizes_mm, text_of

SETTINGS = KeeperSettings()
US = KeeperSettings(units=Units.US)


def labels(records, _settings):
    everyone = [label_of(one, f"https://t.me/invented_bot?start={one.tag}") for one in records.specimens]
    return label_pages(everyone, label_sheets()["a4-21"], TODAY, KeeperSettings())


def slips(records, settings):
    return slip_pages(slips_of(records.facts, TODAY), label_sheets()["a4-8"], TODAY, settings)


def helper(records, settings):
    last = TODAY + timedelta(days=5)
    facts = tuple(records.facts)
    return helper_pages(
        HelperSheet(keeper="Robin", facts=facts, today=TODAY, first=TODAY, last=last), settings
    )


def record(records, settings):
    specimen = records.specimens[0]
    return record_pages(
        AnimalRecord(specimen=specimen, entries=tuple(records.entries), keeper="Robin", on=TODAY), settings
    )


PAPERS = {"labels": labels, "slips": slips, "helper": helper, "record": record}


@pytest.fixture(scope="module", params=PAPERS)
def paper(request, demo):
    return PAPERS[request.param](demo.records, SETTINGS)


def test_metadata_says_which_profile_it_is(paper):
    # ISO 19005-2, 6.6.4: part and conformance as pdfaid properties of the XMP metadata
    xmp = PdfReader(BytesIO(paper)).trailer["/Root"]["/Metadata"].get_object().get_data().decode()
    assert "<pdfaid:part>2</pdfaid:part>" in xmp
    assert "<pdfaid:conformance>U</pdfaid:conformance>" in xmp
    assert 'xmp:CreateDate="2026-05-14T00:00:00+00:00"' in xmp


def test_there_is_an_output_intent_with_a_colour_profile_an_id_and_no_encryption(paper):
    # ISO 19005-2, 6.2.3 and 6.1.3
    reader = PdfReader(BytesIO(paper))
    (intent,) = reader.trailer["/Root"]["/OutputIntents"]
    assert intent.get_object()["/S"] == "/GTS_PDFA1"
    assert intent.get_object()["/DestOutputProfile"].get_object().get_data()[36:40] == b"acsp"
    assert len(reader.trailer["/ID"]) == 2
    assert not reader.is_encrypted


def test_every_font_is_embedded(paper):
    # ISO 19005-2, 6.2.11.4
    assert fonts(paper)
    assert all(fonts(paper).values())


def test_title_and_language_are_told(paper):
    reader = PdfReader(BytesIO(paper))
    assert reader.xmp_metadata.dc_title["x-default"]
    assert reader.trailer["/Root"]["/Lang"] == "en"


@pytest.mark.parametrize("name", PAPERS)
def test_no_shape_is_missing_from_a_font(demo, name, caplog):
    # ISO 19005-2, 6.2.11.8: no reference to the glyph .notdef; the library warns where it writes one
    odd = demo.records
    for specimen, words in zip(demo.records.specimens, HOSTILE, strict=False):
        odd = renamed(odd, specimen.tag, name=words, species=words, place=words)
    PAPERS[name](odd, SETTINGS)
    assert [record for record in caplog.records if record.levelno >= logging.WARNING] == []


def test_a_missing_shape_would_be_seen(caplog, monkeypatch):
    monkeypatch.setattr(page, "shown", lambda words, _has: words)
    label_pages([Label(tag="漢字", species="x")], label_sheets()["a4-21"], TODAY, KeeperSettings())
    assert any("missing" in record.message for record in caplog.records)


@pytest.mark.parametrize("name", PAPERS)
def test_the_same_content_on_the_same_day_gives_the_same_bytes(demo, name):
    assert PAPERS[name](demo.records, SETTINGS) == PAPERS[name](demo.records, SETTINGS)


def test_a_reader_finds_the_text_with_letters_of_many_languages(demo):
    odd = renamed(demo.records, "K1", name="Żaba Ångström", species="Ğenus ŝpecies")
    for make in (labels, helper, record):
        words = text_of(make(odd, SETTINGS))
        assert "Żaba" in words
        assert "Ångström" in words
        assert "Ğenus" in words


@pytest.mark.parametrize("name", ["helper", "record"])
@pytest.mark.parametrize(
    ("settings", "size"), [(SETTINGS, (210, 297)), (US, (215.9, 279.4))], ids=["a4", "letter"]
)
def test_the_paper_is_the_keepers(demo, name, settings, size):
    for width, height in sizes_mm(PAPERS[name](demo.records, settings)):
        assert (width, height) == pytest.approx(size, abs=0.05)
