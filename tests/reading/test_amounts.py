"""Amounts: what is found, and exact values. Factors: NIST Handbook 44 App. C and NIST SP 811 App. B."""

from decimal import Decimal

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bot.reading.amounts.amounts import AmountSpan, find_amounts
from bot.reading.words.scan import Words
from bot.terms import Units


def amounts(text: str, units: Units = Units.METRIC) -> list[AmountSpan]:
    return find_amounts(Words(text), units=units)


def only(text: str, units: Units = Units.METRIC) -> AmountSpan:
    found = amounts(text, units)
    assert len(found) == 1, found
    return found[0]


# exact by definition: 1 in = 25.4 mm, 1 US gal = 231 cubic inches, 1 imperial gal = 4.54609 l,
# 1 avoirdupois oz = 28.349523125 g
@pytest.mark.parametrize(
    ("text", "units", "dimension", "value"),
    [
        ("1 in.", "metric", "length", "2.54"),
        ("1/8 inch", "metric", "length", "0.3175"),
        ("1/4 inch", "metric", "length", "0.635"),
        ("3/8 inch", "metric", "length", "0.9525"),
        ("1/2 inch", "metric", "length", "1.27"),
        ("3/4 inch", "metric", "length", "1.905"),
        ("1 ft", "metric", "length", "30.48"),
        ("22 mm", "metric", "length", "2.2"),
        ("1.2 metres", "metric", "length", "120"),
        ("1 gal", "metric", "volume", "3.785411784"),
        ("1 gal", "us", "volume", "3.785411784"),
        ("1 gal", "imperial", "volume", "4.54609"),
        ("2.5 gal", "us", "volume", "9.46352946"),
        ("5 gal", "us", "volume", "18.92705892"),
        ("10 gallons", "us", "volume", "37.85411784"),
        ("20 gal", "us", "volume", "75.70823568"),
        ("1 qt", "us", "volume", "0.946352946"),
        ("1 qt", "imperial", "volume", "1.1365225"),
        ("1 pint", "us", "volume", "0.473176473"),
        ("1 pint", "imperial", "volume", "0.56826125"),
        ("1 fl oz", "us", "volume", "0.0295735295625"),
        ("1 fl oz", "imperial", "volume", "0.0284130625"),
        ("a cup of water", "us", "volume", "0.2365882365"),
        ("2 oz of water", "us", "volume", "0.059147059125"),
        ("32oz deli cup", "us", "volume", "0.946352946"),
        ("0.8 oz", "us", "weight", "22.6796185"),
        ("1 lb", "us", "weight", "453.59237"),
        ("250 mg", "metric", "weight", "0.25"),
        ("12x12x12 in", "metric", "volume", "28.316846592"),
        ("68F", "metric", "temperature", "20"),
        ("77 °F", "metric", "temperature", "25"),
        ("86F", "metric", "temperature", "30"),
    ],
)
def test_units_are_turned_exactly(text, units, dimension, value):
    span = only(text, Units(units))
    assert (span.dimension, span.value) == (dimension, Decimal(value))


_PINT = pint.UnitRegistry(non_int_type=Decimal)


# pint's own table of units is the second opinion
@pytest.mark.parametrize(
    ("word", "unit", "into"),
    [
        ("inches", "inch", "cm"),
        ("feet", "foot", "cm"),
        ("mm", "mm", "cm"),
        ("oz", "oz", "g"),
        ("lbs", "lb", "g"),
        ("kg", "kg", "g"),
        ("ml", "ml", "l"),
        ("gallons", "gallon", "l"),
        ("quarts", "quart", "l"),
        ("pints", "pint", "l"),
        ("fl oz", "fluid_ounce", "l"),
        ("cups", "cup", "l"),
    ],
)
@given(number=st.decimals("0.01", "9999", places=2))
def test_every_factor_agrees_with_pint(word, unit, into, number):
    expected = _PINT.Quantity(number, unit).to(into).magnitude
    assert float(only(f"{number} {word}").value) == pytest.approx(float(expected), rel=1e-12)


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ('Lantern is 7" DLS now', [("length", "17.78")]),
        ("GBB 4: 2.4 cm", [("length", "2.4")]),
        ("weighed T07 – 41.5g", [("weight", "41.5")]),
        ("6.8cm legspan, 5.2g", [("length", "6.8"), ("weight", "5.2")]),
        ("2 L jar with 10cm of sub", [("volume", "2"), ("length", "10")]),
        ("25 litres, 30cm deep sub", [("volume", "25"), ("length", "30")]),
        ("room 24.5C 61%", [("temperature", "24.5"), ("humidity", "61")]),
        ("shelf C 26 degrees", [("temperature", "26")]),
        ("floor rack down to 19c", [("temperature", "19")]),
        ("humidity 55", [("humidity", "55")]),
        ("55% RH", [("humidity", "55")]),
        ("temp 25, rh 60", [("temperature", "25"), ("humidity", "60")]),
        ("room 24 / 61%", [("temperature", "24"), ("humidity", "61")]),
        ("1 1/2 in of sub", [("length", "3.81")]),
        ("two and a half inches", [("length", "6.35")]),
        ("half an inch", [("length", "1.27")]),
        ("an inch and a half", [("length", "3.81")]),
        ("2½ inches", [("length", "6.35")]),
        ("1,200 ml", [("volume", "1.2")]),
        ("2,5 cm", [("length", "2.5")]),
        ("30x30x45 cm", [("volume", "40.5")]),
        ("into a 10x10x15 on friday", [("volume", "1.5")]),
        ("in a 30 x 30 x 30, she was a pain", [("volume", "27")]),
        ("a 2x3x4x5", []),
        ("5-inch", [("length", "12.7")]),
        ("Rehoused 2 slings, 60ml each", [("volume", "0.06")]),
    ],
)
def test_amounts_in_messages(text, expected):
    assert [(span.dimension, span.value) for span in amounts(text)] == [(d, Decimal(v)) for d, v in expected]


def test_three_bare_lengths_are_inches_to_a_keeper_with_inches():
    """source: a cubic foot is 28.316846592 L exactly (NIST SP 811, appendix B)"""
    (span,) = amounts("rehoused Ink into a 12x12x12", units=Units.US)
    assert span.value.quantize(Decimal("0.001")) == Decimal("28.317")
    assert span.doubt is None


def test_a_home_of_thirty_inches_is_rather_one_of_thirty_centimetres():
    (span,) = amounts("rehoused Ink into a 30x30x30", units=Units.US)
    assert span.doubt == "cm_or_inches"


@pytest.mark.parametrize(
    ("text", "value", "currency"),
    [
        ("£45 the lot", "45", "GBP"),
        ("9 quid", "9", "GBP"),
        ("€20", "20", "EUR"),
        ("30 euro", "30", "EUR"),
        ("$35 each", "35", "USD"),
        ("45 GBP", "45", "GBP"),
        ("400 zł", "400", "PLN"),
        ("20,50 €", "20.5", "EUR"),
        ("sold for 30 pounds", "30", "GBP"),
        ("a tenner", "10", "GBP"),
        ("£1,200", "1200", "GBP"),
        ("£4.50", "4.5", "GBP"),
        ("20 bucks", "20", "USD"),
        ("50p", "0.5", "GBP"),
        ("ten dollars", "10", "USD"),
    ],
)
def test_money(text, value, currency):
    span = only(text)
    assert (span.dimension, span.value, span.currency, span.doubt) == (
        "money",
        Decimal(value),
        currency,
        None,
    )


@pytest.mark.parametrize(
    ("text", "units", "doubt"),
    [
        ("30 pounds", "metric", "money_or_weight"),
        ("put 2 in", "metric", "in_or_inches"),
        ("2-3 cm", "metric", "range"),
        ("24-26C", "metric", "range"),
        ("78 degrees", "metric", "celsius_or_fahrenheit"),
        ("26 degrees", "us", "celsius_or_fahrenheit"),
        ('"GBB 2" ate', "metric", "quote_or_inches"),
    ],
)
def test_what_could_be_something_else_is_in_doubt(text, units, doubt):
    assert only(text, Units(units)).doubt == doubt


def test_bare_degrees_are_those_of_the_keepers_units():
    assert only("78 degrees", Units.US).unit == "°F"
    assert only("26 degrees", Units.IMPERIAL).unit == "°C"


@pytest.mark.parametrize(
    "text",
    [
        "lost a leg (L3)",
        "threw 2 in with Anvil",
        "6 in the commune",
        "1m 2f",
        "50% of them",
        "cup 2026",
        "T07",
        "fed A1, 2 C",
        "B3 g",
        "2 crickets",
        "GBB 2",
        "put 3 in my tub",
        "1/0 in",
        "3 males",
        "5 mins",
        "C1 and C2",
        "2 females",
        "x2 c",
    ],
)
def test_other_words_are_no_amounts(text):
    assert amounts(text) == []


_WORDS = [
    "1",
    "7",
    "2.5",
    "1/2",
    "½",
    "cm",
    " in",
    '"',
    " C",
    "°F",
    "%",
    "£",
    "x",
    " ",
    "-",
    "oz",
    "humidity ",
    "temp ",
    "a ",
    "half an ",
    "inch",
    "0",
    "/",
    ",",
    ".",
    "\n",
    "degrees",
    "and ",
]


@given(st.lists(st.sampled_from(_WORDS), max_size=14).map("".join))
def test_spans_are_in_order_apart_and_their_values_are_numbers(text):
    last = 0
    for span in amounts(text):
        assert last <= span.start < span.end <= len(text)
        assert span.value.is_finite()
        last = span.end


@given(st.text(max_size=60))
def test_no_text_is_too_strange(text):
    for units in Units:
        amounts(text, units)
