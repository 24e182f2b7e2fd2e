import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bot.pictures.glyphs import BOX, shown

LATIN = set(range(0x20, 0x250)) | {ord(BOX)}


@given(st.text(st.characters(codec=None), max_size=60))
def test_only_signs_that_the_font_has_are_left_on_one_line(text):
    out = shown(text, LATIN.__contains__)
    assert all(ord(sign) in LATIN for sign in out)
    assert not any(unicodedata.category(sign) in {"Cc", "Cf", "Cs"} for sign in out)
    assert BOX + BOX not in out
    assert out == shown(out, LATIN.__contains__)


@given(st.text(st.characters(min_codepoint=0x21, max_codepoint=0x7E), max_size=40))
def test_plain_words_stay_as_they_are(text):
    assert shown(text, LATIN.__contains__) == text


@pytest.mark.parametrize(
    ("text", "out"),
    [
        ("Ink 🕷️", f"Ink {BOX}"),
        ("👨‍👩‍👧 family", f"{BOX} family"),
        ("👍🏽 ok", f"{BOX} ok"),
        ("漢字", BOX),
        ("a\u202eb\u200bc\x00d\ud83d", "abcd"),
        ("two\n lines\there", "two lines here"),
        ("A\u030angstro\u0308m", "Ångström"),
    ],
)
def test_signs_without_a_shape_become_a_box_and_silent_ones_go(text, out):
    assert shown(text, LATIN.__contains__) == out
