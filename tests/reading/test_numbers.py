"""Whole numbers in what keepers write."""

import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from num2words import num2words

from bot.reading.words.numbers import find_numbers
from bot.reading.words.scan import Words


def values(text: str) -> list[tuple[int | None, int | None]]:
    return [(span.value, span.high) for span in find_numbers(Words(text)) if not span.article]


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("fed 2 crickets", [(2, None)]),
        ("x2", [(2, None)]),
        ("2x crickets", [(2, None)]),
        ("x 3", [(3, None)]),
        ("two hundred and five", [(205, None)]),
        ("one hundred twenty", [(120, None)]),
        ("a hundred", [(100, None)]),
        ("twenty-five", [(25, None)]),
        ("twenty five", [(25, None)]),
        ("two thousand", [(2000, None)]),
        ("1,000 flies", [(1000, None)]),
        ("2-3", [(2, 3)]),
        ("10–12 flies", [(10, 12)]),
        ("2 or 3", [(2, 3)]),
        ("two or three", [(2, 3)]),
        ("2 to 3", [(2, 3)]),
        ("half a dozen", [(6, None)]),
        ("a dozen", [(12, None)]),
        ("both genics", [(2, None)]),
        ("a pair of crix", [(2, None)]),
        ("one two three", [(1, None), (2, None), (3, None)]),
        ("2 of 3 ate", [(2, None), (3, None)]),
        ("GBBs 1 & 3", [(1, None), (3, None)]),
        ("2,3 and 4", [(2, None), (3, None), (4, None)]),
        ("Ink 2, Bess 1 cricket", [(2, None), (1, None)]),
    ],
)
def test_numbers_in_figures_and_words(text, expected):
    assert values(text) == expected


@pytest.mark.parametrize(
    "text",
    [
        "T07",
        "B3 and C1",
        "#12",
        "2.4 cm",
        "1/2",
        "B-3",
        "12:30",
        "L3",
        "5.5",
        "£20",
        "3/5",
        "2026-03-04",
        "R2-04",
        "6½",
    ],
)
def test_tags_decimals_fractions_dates_and_prices_are_no_whole_numbers(text):
    assert values(text) == []


def test_a_bare_article_is_one_and_says_so():
    (span,) = find_numbers(Words("a cricket"))
    assert (span.value, span.article, span.doubt) == (1, True, None)


def test_a_couple_and_about_are_not_sure():
    for text, value in (("a couple of crickets", 2), ("about 5 crickets", 5), ("a few crickets", None)):
        (span,) = find_numbers(Words(text))
        assert (span.value, span.doubt) == (value, "approx")


def test_ordinals_say_so():
    assert [(s.value, s.ordinal) for s in find_numbers(Words("3rd molt, first meal"))] == [
        (3, True),
        (1, True),
    ]


_ONES = (
    "",
    "one",
    "two",
    "three",
    "four",
    "five",
    "six",
    "seven",
    "eight",
    "nine",
    "ten",
    "eleven",
    "twelve",
    "thirteen",
    "fourteen",
    "fifteen",
    "sixteen",
    "seventeen",
    "eighteen",
    "nineteen",
)
_TENS = ("", "", "twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety")


def in_words(number: int) -> str:
    """English number words, by the rules of any school grammar (from memory)."""
    if number >= 1000:
        rest = in_words(number % 1000) if number % 1000 else ""
        return (
            f"{in_words(number // 1000)} thousand {'and ' if 0 < number % 1000 < 100 else ''}{rest}".strip()
        )
    if number >= 100:
        return f"{_ONES[number // 100]} hundred{' and ' + in_words(number % 100) if number % 100 else ''}"
    if number < 20:
        return _ONES[number]
    return f"{_TENS[number // 10]}{'-' + _ONES[number % 10] if number % 10 else ''}"


@given(st.integers(1, 9999))
def test_every_number_up_to_9999_is_read_from_its_words(number):
    assert values(in_words(number)) == [(number, None)]


@given(st.integers(0, 9_999_999))
def test_every_number_is_read_from_its_figures(number):
    assert values(f"fed {number} crickets") == [(number, None)]
    assert values(f"fed {number:,} crickets") == [(number, None)]


_PIECES = (*"0123456789 .,-–/x#aT½'°%\n", "two", " and ", "hundred", " or ", "a ")


@given(st.lists(st.sampled_from(_PIECES), max_size=40).map("".join))
def test_spans_are_in_order_apart_and_within_the_text(text):
    last = 0
    for span in find_numbers(Words(text)):
        assert last <= span.start < span.end <= len(text)
        last = span.end


# num2words (PyPI) writes numbers in words, in each of our languages, and knows nothing of how they are read.
@pytest.mark.parametrize("language", ["en", "de", "es"])
@given(number=st.one_of(st.integers(1, 999), st.integers(10, 99).map(lambda hundreds: hundreds * 100)))
@example(number=200)
@example(number=121)
@example(number=1200)
def test_a_number_in_words_is_read_as_what_a_reference_library_writes_so(language, number):
    words = num2words(number, lang=language).replace(",", "")
    assert [span.value for span in find_numbers(Words(words), language)] == [number]
