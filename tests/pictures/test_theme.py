"""Colours that can be seen and told apart, by the published rules for both."""

from dataclasses import fields
from itertools import combinations
from math import dist

import pytest

from bot.pictures.theme import BODY, DARK, LIGHT, SIZES, SMALL, WIDTH

THEMES = pytest.mark.parametrize("theme", [LIGHT, DARK], ids=["light", "dark"])
TEXTS = ("ink", "muted", "warn", "sealed")
MARKS = ("taken", "refused", "molt", "sealed", "premolt", "next_molt", "band")

#: Full colour blindness of one cone as matrices over linear RGB: Machado, Oliveira and Fernandes,
#: IEEE Trans. Vis. Comput. Graph. 15(6), 2009, severity 1.0 (from memory).
BLINDNESS = {
    "protanopia": (
        (0.152286, 1.052583, -0.204868),
        (0.114503, 0.786281, 0.099216),
        (-0.003882, -0.048116, 1.051998),
    ),
    "deuteranopia": (
        (0.367322, 0.860646, -0.227968),
        (0.280085, 0.672501, 0.047413),
        (-0.011820, 0.042940, 0.968881),
    ),
    "tritanopia": (
        (1.255528, -0.076749, -0.178779),
        (-0.078411, 0.930809, 0.147602),
        (0.004733, 0.691367, 0.303900),
    ),
}


def linear(color):
    """sRGB to linear light, IEC 61966-2-1."""
    parts = [int(color[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    return [part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts]


def contrast(one, other):
    """The contrast ratio of WCAG 2.2."""
    lights = sorted(0.2126 * r + 0.7152 * g + 0.0722 * b for r, g, b in (linear(one), linear(other)))
    return (lights[1] + 0.05) / (lights[0] + 0.05)


def lab(rgb):
    """CIE 1976 L*a*b* of linear sRGB under D65."""
    r, g, b = (min(1, max(0, part)) for part in rgb)
    xyz = (
        (0.4124 * r + 0.3576 * g + 0.1805 * b) / 0.9505,
        0.2126 * r + 0.7152 * g + 0.0722 * b,
        (0.0193 * r + 0.1192 * g + 0.9505 * b) / 1.089,
    )
    x, y, z = (v ** (1 / 3) if v > 0.008856 else 7.787 * v + 16 / 116 for v in xyz)
    return 116 * y - 16, 500 * (x - y), 200 * (y - z)


def seen(color, blindness):
    rgb = linear(color)
    if blindness is None:
        return lab(rgb)
    return lab([sum(a * b for a, b in zip(row, rgb, strict=True)) for row in BLINDNESS[blindness]])


def test_contrast_is_the_published_one():
    # WCAG 2.2, relative luminance: black on white is 21:1
    assert contrast("#000000", "#ffffff") == pytest.approx(21)
    assert contrast("#777777", "#ffffff") == pytest.approx(4.48, abs=0.01)


@THEMES
@pytest.mark.parametrize("name", TEXTS)
def test_text_stands_out_from_every_ground_it_is_written_on(theme, name):
    # WCAG 2.2, success criterion 1.4.3: 4.5:1
    for ground in (theme.paper, theme.panel):
        assert contrast(getattr(theme, name), ground) >= 4.5, (name, ground)


@THEMES
@pytest.mark.parametrize("name", MARKS)
def test_marks_stand_out_from_their_ground(theme, name):
    # WCAG 2.2, success criterion 1.4.11: 3:1
    for ground in (theme.paper, theme.panel):
        assert contrast(getattr(theme, name), ground) >= 3, (name, ground)


@THEMES
@pytest.mark.parametrize("blindness", [None, *BLINDNESS])
@pytest.mark.parametrize("pair", [("taken", "refused"), ("molt", "refused"), ("taken", "molt")], ids="-".join)
def test_what_stands_in_one_plot_can_be_told_apart_by_colour_too(theme, blindness, pair):
    # a difference of 2.3 is just noticeable (Mahy et al. 1994, from memory); ten of them are asked for
    one, other = (seen(getattr(theme, name), blindness) for name in pair)
    assert dist(one, other) >= 23 or contrast(*(getattr(theme, name) for name in pair)) >= 1.5


@THEMES
def test_every_colour_of_a_theme_is_its_own(theme):
    colors = [
        getattr(theme, field.name) for field in fields(theme) if field.name not in ("next_molt", "molt")
    ]
    assert all(one != other for one, other in combinations(colors, 2))


def test_the_smallest_type_is_as_large_as_a_newspapers_on_a_phone():
    # a phone shows the picture about 65 mm wide; newspapers set text at an x-height of about 1.5 mm,
    # which is type of about 2.7 mm: common practice, no source. No label is below 60 % of that.
    assert min(SIZES.values()) == SMALL
    assert SMALL / WIDTH * 65 >= 0.6 * 2.7
    assert BODY > SMALL
