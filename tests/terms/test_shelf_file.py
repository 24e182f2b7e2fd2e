"""A shelf written down as JSON."""

import json
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bot.terms import DateOrder, Habit, KeeperSettings, Sex, Specimen, Stage, Units
from bot.terms.shelf_file import ShelfFileError, shelf_from_json, specimen_from_json, specimen_to_json

ONE = {"tag": "K1", "species": "Grammostola pulchra"}


def test_every_key_of_a_specimen_is_taken_up():
    settings, (specimen,) = shelf_from_json(
        {
            "about": "invented",
            "keeper": {"zone": "Europe/Oslo", "units": "us", "date_order": "mdy"},
            "specimens": [
                {
                    "tag": "K1",
                    "name": "Soot",
                    "species": "Grammostola pulchra",
                    "common": ["Brazilian black"],
                    "aka": ["the old one"],
                    "sex": "female",
                    "stage": "adult",
                    "span_cm": 15.5,
                    "habit": "terrestrial",
                    "place": "window board",
                    "lot_size": 1,
                }
            ],
        }
    )
    assert settings == KeeperSettings(zone="Europe/Oslo", units=Units.US, date_order=DateOrder.MDY)
    assert specimen == Specimen(
        tag="K1",
        name="Soot",
        species="Grammostola pulchra",
        common=("Brazilian black",),
        aka=("the old one",),
        sex=Sex.FEMALE,
        stage=Stage.ADULT,
        span_cm=Decimal("15.5"),
        habit=Habit.TERRESTRIAL,
        place="window board",
    )


def test_a_tag_and_a_species_are_enough():
    assert shelf_from_json({"specimens": [ONE]}) == (
        KeeperSettings(),
        (Specimen(tag="K1", species="Grammostola pulchra"),),
    )


@pytest.mark.parametrize(
    ("shelf", "problem"),
    [
        pytest.param([], 'expected a JSON object with the key "specimens"', id="a list"),
        pytest.param({}, 'the key "specimens" must hold a list', id="no specimens"),
        pytest.param({"specimens": "K1"}, 'the key "specimens" must hold a list', id="specimens as text"),
        pytest.param({"specimens": [3]}, "specimen 1: expected an object", id="a number for a specimen"),
        pytest.param({"specimens": [ONE, {"tag": "K2"}]}, "specimen 2: species is missing", id="no species"),
        pytest.param({"specimens": [{"species": "x"}]}, "specimen 1: tag is missing", id="no tag"),
        pytest.param(
            {"specimens": [ONE, {"tag": "k1", "species": "x"}]}, "two specimens have the tag k1", id="twins"
        ),
        pytest.param(
            {"specimens": [ONE | {"sex": "girl"}]},
            "specimen 1, sex: 'girl' is none of female, male, unknown",
            id="a word that is not known",
        ),
        pytest.param(
            {"specimens": [ONE | {"span_cm": "wide"}]},
            "specimen 1, span_cm: 'wide' is not a number",
            id="span",
        ),
        pytest.param(
            {"specimens": [ONE | {"span_cm": -2}]},
            "specimen 1, span_cm: -2 is not a length above 0",
            id="minus",
        ),
        pytest.param(
            {"specimens": [ONE | {"lot_size": 0}]},
            "specimen 1, lot_size: 0 is not a whole number above 0",
            id="empty lot",
        ),
        pytest.param(
            {"specimens": [ONE | {"common": "black"}]},
            "specimen 1, common: expected a list of texts",
            id="common as text",
        ),
        pytest.param(
            {"keeper": {"zone": "Mars/Base"}, "specimens": []},
            "keeper, zone: 'Mars/Base' is no time zone of the IANA data",
            id="zone",
        ),
        pytest.param({"keeper": 1, "specimens": []}, 'the key "keeper" must hold an object', id="keeper"),
    ],
)
def test_what_is_wrong_is_said_with_its_place(shelf, problem):
    with pytest.raises(ShelfFileError) as caught:
        shelf_from_json(shelf)
    assert str(caught.value) == problem


_words = st.text(min_size=1, max_size=12).map(str.strip).filter(bool)


@given(
    st.builds(
        Specimen,
        tag=_words,
        species=_words,
        name=st.none() | _words,
        common=st.lists(_words, max_size=3).map(tuple),
        aka=st.lists(_words, max_size=3).map(tuple),
        sex=st.sampled_from(Sex),
        stage=st.sampled_from(Stage),
        span_cm=st.none() | st.decimals("0.1", "30", places=1),
        habit=st.sampled_from(Habit),
        place=st.none() | _words,
        lot_size=st.integers(1, 300),
    )
)
def test_a_specimen_comes_back_from_its_json(specimen):
    assert specimen_from_json(json.loads(json.dumps(specimen_to_json(specimen))), "here") == specimen
