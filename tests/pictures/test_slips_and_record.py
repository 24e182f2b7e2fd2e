from dataclasses import replace
from datetime import timedelta
from decimal import Decimal

import pytest

from bot.pictures import gather, measures
from bot.pictures.paper.label_sheets import label_sheets
from bot.pictures.paper.record import AnimalRecord, record_pages
from bot.pictures.paper.slips import slip_pages, slips_of
from bot.round.model import RestReason
from bot.round.rests import rest_of
from bot.terms import Entry, KeeperSettings, Kind, Specimen, Units
from tests.pictures.conftest import HOSTILE, TODAY
from tests.pictures.reading_back import signs, sizes_mm, text_of

SETTINGS = KeeperSettings()
DISTURBED = {RestReason.SEALED, RestReason.PREMOLT, RestReason.FRESH_MOLT}


def record_of(specimen, entries, settings=SETTINGS):
    record = AnimalRecord(specimen=specimen, entries=tuple(entries), keeper="Robin", on=TODAY)
    return record_pages(record, settings)


# --- slips ------------------------------------------------------------------------------------


def test_everyone_who_must_not_be_disturbed_gets_a_slip_and_nobody_else(demo):
    wanted = {
        one.specimen.tag
        for one in demo.facts
        if (rest := rest_of(one, TODAY)) is not None and rest.reason in DISTURBED
    }
    assert {slip.specimen.tag for slip in slips_of(demo.facts, TODAY)} == wanted
    assert wanted


def test_one_who_died_gets_no_slip(demo):
    gone = [replace(one, state=replace(one.state, gone_on=TODAY)) for one in demo.facts]
    assert slips_of(gone, TODAY) == ()


def test_each_slip_forbids_food_and_goes_on_with_water(demo):
    for slip in slips_of(demo.facts, TODAY):
        words = text_of(slip_pages([slip], label_sheets()["a4-8"], TODAY, SETTINGS))
        assert "DO NOT DISTURB" in words
        assert "No food" in words
        assert "Water goes on" in words
        assert measures.day(slip.since, SETTINGS.date_order) in words


@pytest.mark.parametrize("name", HOSTILE, ids=range(len(HOSTILE)))
def test_no_sign_of_a_slip_leaves_it(demo, name):
    sheet = label_sheets()["letter-10"]
    slip = replace(slips_of(demo.facts, TODAY)[0], specimen=Specimen(tag=name[:40], name=name, species=name))
    _, left, top = next(sheet.places())
    for sign in signs(slip_pages([slip], sheet, TODAY, SETTINGS)):
        assert left <= sign.left <= sign.right <= left + sheet.label[0]
        assert top <= sign.top <= sign.bottom <= top + sheet.label[1]


def test_labels_too_small_for_a_slip_are_refused(demo):
    with pytest.raises(ValueError, match="at least 50 mm"):
        slip_pages(slips_of(demo.facts, TODAY), label_sheets()["a4-65"], TODAY, SETTINGS)


def test_nobody_at_rest_is_told():
    with pytest.raises(ValueError, match="nobody"):
        slip_pages([], label_sheets()["a4-8"], TODAY, SETTINGS)


# --- records ----------------------------------------------------------------------------------


@pytest.mark.parametrize("tag", ["S2", "H3", "M5", "H2"])
def test_a_record_tells_molts_meals_and_sizes_of_that_animal_alone(demo, tag):
    animal = demo.animal(tag)
    words = text_of(record_of(animal, demo.entries))
    own = gather.of(tag, demo.entries)
    taken = sum(entry.kind is Kind.FED for entry in own)
    assert f"{taken} meals taken and" in words
    for molt in gather.molts_in(own):
        assert measures.day(molt, SETTINGS.date_order) in words
    assert all(f"({other.tag})" not in words for other in demo.records.specimens if other.tag != tag)


@pytest.mark.parametrize(
    ("species", "line"),
    [
        ("Brachypelma hamorii", "CITES Appendix II"),
        ("Lasiodora parahybana", "no CITES listing"),
        ("Nobody known", "not known here"),
    ],
)
def test_a_record_says_what_the_species_file_has_of_cites_and_who_decides(species, line):
    words = text_of(record_of(Specimen(tag="Q", species=species), []))
    assert line in words
    assert "national authority" in words


def test_what_is_on_record_of_origin_and_sex_is_filled_in():
    entries = [
        Entry(
            kind=Kind.ACQUIRED, day=TODAY - timedelta(days=90), specimens=("Q",), source="an invented fair"
        ),
        Entry(kind=Kind.SEXED, day=TODAY - timedelta(days=30), specimens=("Q",), sex="female"),
    ]
    words = text_of(record_of(Specimen(tag="Q", species="Brachypelma hamorii"), entries))
    assert "an invented fair" in words
    assert "female" in words
    assert "14 Apr 2026" in words


def test_a_record_is_in_the_keepers_units():
    entries = [Entry(kind=Kind.MEASURED, day=TODAY, specimens=("Q",), span_cm=Decimal("12.7"))]
    animal = Specimen(tag="Q", species="Brachypelma hamorii")
    metric = text_of(record_of(animal, entries)).replace("\N{NO-BREAK SPACE}", " ")
    inches = text_of(record_of(animal, entries, KeeperSettings(units=Units.US))).replace(
        "\N{NO-BREAK SPACE}", " "
    )
    assert "12.7 cm" in metric
    assert "20 °C to 28 °C" in metric
    assert "5 in" in inches
    assert "68 °F to 82 °F" in inches


def test_an_animal_with_nothing_on_record_has_a_record_of_blanks():
    words = text_of(record_of(Specimen(tag="Q", species="Nobody known"), []))
    for line in ("No molt on record", "No size on record", "No meal on record", "venom not known"):
        assert line in words


@pytest.mark.parametrize("name", HOSTILE, ids=range(len(HOSTILE)))
def test_no_sign_of_a_record_leaves_the_page(name):
    entries = [
        Entry(kind=Kind.NOTE, day=TODAY - timedelta(days=n), specimens=("Q",), note=f"{name} " * 20)
        for n in range(20)
    ]
    pdf = record_of(Specimen(tag="Q", name=name, species=name), entries)
    for page, (width, height) in enumerate(sizes_mm(pdf)):
        for sign in signs(pdf, page):
            assert 0 < sign.left <= sign.right < width
            assert 0 < sign.top <= sign.bottom < height - 5
