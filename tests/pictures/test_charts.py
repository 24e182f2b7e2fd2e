"""Pictures judged by what can be measured: size, type, room, colours, words, and small references."""

from dataclasses import replace
from datetime import timedelta
from decimal import Decimal
from io import BytesIO
from itertools import combinations
from threading import Thread

import numpy as np
import pytest
from PIL import Image

from bot.pictures import gather
from bot.pictures.charts import climate_charts, life_chart, shelf_charts
from bot.pictures.charts.acceptance import wilson
from bot.pictures.data import PictureKind
from bot.pictures.drawing import NothingToShowError, ShelfRecords, draw
from bot.pictures.theme import DARK, LIGHT, MARGIN, SMALL, WIDTH, Look
from bot.terms import DateOrder, Entry, KeeperSettings, Kind, Units
from tests.pictures.conftest import TODAY, next_molt, renamed
from tests.pictures.references import LIKENESS, REFERENCES, likeness, thumbnail

LOOKS = {
    "light": Look(),
    "dark-us": Look(theme=DARK, settings=KeeperSettings(units=Units.US, date_order=DateOrder.MDY)),
}
#: A phone's chat scales a photo down whose sides sum to more than 10,000 (Bot API, sendPhoto).
MOST_SIDES = 10_000
WEIGHED = "S2"


@pytest.fixture(scope="module")
def shelf(demo):
    """The demo's records, and made-up weights for one animal."""
    weights = tuple(
        Entry(
            kind=Kind.MEASURED,
            day=TODAY - timedelta(days=160 - 9 * number),
            specimens=(WEIGHED,),
            weight_g=Decimal(30 + 7 * number) / 100,
        )
        for number in range(17)
    )
    return replace(demo.records, entries=(*demo.records.entries, *weights))


def everything(shelf, look):
    """Every picture that the demo shelf can give."""
    for kind in (PictureKind.SHELF, PictureKind.MEALS, PictureKind.ACCEPTANCE, PictureKind.CLIMATE):
        yield from draw(kind, shelf, look)
    yield from draw(PictureKind.MOLTS, shelf, look, species="Lasiodora parahybana")
    for animal in shelf.specimens:
        yield from draw(PictureKind.LIFE, shelf, look, animal=animal)
        yield from draw(PictureKind.MOISTURE, shelf, look, animal=animal)
        if animal.tag == WEIGHED:
            yield from draw(PictureKind.MEALS, shelf, look, animal=animal)
            yield from draw(PictureKind.WEIGHT, shelf, look, animal=animal)


@pytest.fixture(scope="module", params=LOOKS)
def pictures(request, shelf):
    return LOOKS[request.param], list(everything(shelf, LOOKS[request.param]))


def rgb(color):
    """A theme's ``#rrggbb`` as numbers."""
    return tuple(bytes.fromhex(color.removeprefix("#")))


def image_of(picture):
    return Image.open(BytesIO(picture.png))


def assert_laid_out(picture):
    """Every text lies in the picture, is large enough, and covers no other."""
    for text in picture.texts:
        assert text.left >= 0, text
        assert text.right <= picture.width, text
        assert text.top >= 0, text
        assert text.bottom <= picture.height, text
        assert text.size >= SMALL, text
    for one, other in combinations(picture.texts, 2):
        across = min(one.right, other.right) - max(one.left, other.left)
        # the box of a line reaches from the highest accent to the lowest tail: lines may share a fifth
        down = min(one.bottom, other.bottom) - max(one.top, other.top)
        assert across <= 1 or down <= 0.2 * min(one.bottom - one.top, other.bottom - other.top), (one, other)


def test_every_picture_of_the_demo_shelf_is_laid_out_without_a_clash(pictures):
    for picture in pictures[1]:
        assert_laid_out(picture)


def test_every_picture_is_a_png_as_wide_as_a_phone_wants_it(pictures):
    for picture in pictures[1]:
        image = image_of(picture)
        assert (image.format, image.size) == ("PNG", (picture.width, picture.height))
        assert picture.width == WIDTH
        assert picture.width + picture.height <= MOST_SIDES


def test_the_ground_is_the_themes_and_something_is_drawn_on_it(pictures):
    look, drawn = pictures
    for picture in drawn:
        image = image_of(picture)
        assert image.getpixel((2, 2)) == rgb(look.theme.paper)
        for color in (look.theme.ink, look.theme.muted):
            assert (np.asarray(image) == rgb(color)).all(axis=-1).any()


def test_lengths_and_temperatures_stand_in_the_keepers_units(pictures):
    look, drawn = pictures
    words = " ".join(text.words for picture in drawn for text in picture.texts)
    ours, others = ("°F", "°C") if look.settings.units is Units.US else ("°C", "°F")
    assert ours in words
    assert others not in words
    assert ("Leg span, in" in words) == (look.settings.units is Units.US)
    assert ("Leg span, cm" in words) == (look.settings.units is not Units.US)


def test_dates_stand_in_the_keepers_order(pictures):
    look, drawn = pictures
    words = " ".join(text.words for picture in drawn for text in picture.texts)
    assert ("May 14, 2026" if look.settings.date_order is DateOrder.MDY else "14 May 2026") in words


@pytest.mark.parametrize("kind", [kind for kind in PictureKind if kind is not PictureKind.MOLTS])
def test_no_name_breaks_a_picture(shelf, kind, hostile):
    odd = renamed(shelf, WEIGHED, name=hostile, species=hostile, place=hostile)
    animal = next(one for one in odd.specimens if one.tag == WEIGHED)
    of_one = (PictureKind.LIFE, PictureKind.WEIGHT, PictureKind.MEALS, PictureKind.MOISTURE)
    named = animal if kind in of_one else None
    for picture in draw(kind, odd, Look(), animal=named):
        assert_laid_out(picture)


def test_no_name_breaks_the_picture_of_intervals(shelf, hostile):
    odd = renamed(shelf, WEIGHED, name=hostile, species=hostile)
    for picture in draw(PictureKind.MOLTS, odd, Look(), species=hostile):
        assert_laid_out(picture)


def test_the_same_records_give_the_same_bytes(shelf):
    look = Look()
    animal = shelf.specimens[0]
    once, twice = (draw(PictureKind.LIFE, shelf, look, animal=animal)[0].png for _ in range(2))
    assert once == twice


def test_threads_that_draw_at_once_get_their_own_pictures(shelf):
    alone = {one.tag: draw(PictureKind.LIFE, shelf, Look(), animal=one)[0].png for one in shelf.specimens[:4]}
    drawn = {}

    def work(animal):
        drawn[animal.tag] = draw(PictureKind.LIFE, shelf, Look(), animal=animal)[0].png

    threads = [Thread(target=work, args=(animal,)) for animal in shelf.specimens[:4]]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert drawn == alone


@pytest.mark.parametrize("name", REFERENCES)
def test_pictures_look_like_their_references(demo, name):
    picture = REFERENCES[name].draw(demo.records)
    assert likeness(thumbnail(picture.png), REFERENCES[name].stored()) <= LIKENESS


def test_a_reference_tells_a_picture_from_another_one(demo):
    drawn = {name: thumbnail(one.draw(demo.records).png) for name, one in REFERENCES.items()}
    for one, other in combinations(drawn, 2):
        if drawn[one].size == drawn[other].size:
            assert likeness(drawn[one], drawn[other]) > 3 * LIKENESS


# --- what single charts show ------------------------------------------------------------------


def words_of(picture):
    return " | ".join(text.words for text in picture.texts)


def test_a_life_tells_its_counts_and_the_next_molts_likely_range(demo):
    life = gather.life_of(demo.animal("S2"), demo.entries, TODAY, next_molt(TODAY))
    picture = life_chart(life, Look())
    taken = sum(e.kind is Kind.FED and "S2" in e.specimens for e in demo.entries)
    assert f"{taken} taken" in picture.caption
    assert "next molt likely 20 May 2026 to 23 Jun 2026" in words_of(picture)


@pytest.mark.parametrize(
    ("after", "words"), [(20, "next molt: likely"), (4000, "next molt: likely")], ids=["soon", "in years"]
)
def test_a_next_molt_in_years_does_not_press_the_life_into_a_corner(demo, after, words):
    life = gather.life_of(demo.animal("K1"), demo.entries, TODAY, next_molt(TODAY, after=after))
    picture = life_chart(life, Look())
    today = next(text for text in picture.texts if text.words == "today")
    assert today.left > WIDTH * 0.5
    assert words in words_of(picture)


@pytest.mark.parametrize("tag", ["S2", "K1", "M5"])
def test_an_animal_with_nothing_on_record_has_a_picture_too(demo, tag):
    bare = replace(demo.animal(tag), span_cm=None)
    picture = life_chart(gather.life_of(bare, [], TODAY), Look())
    assert_laid_out(picture)
    assert "no meal taken on record" in words_of(picture)
    assert "No leg span on record" in words_of(picture)


def test_a_life_of_three_thousand_entries_is_laid_out(demo):
    entries = [
        Entry(kind=kind, day=TODAY - timedelta(days=number), specimens=("K1",))
        for number in range(1500)
        for kind in (Kind.FED, Kind.REFUSED)
    ]
    assert_laid_out(life_chart(gather.life_of(demo.animal("K1"), entries, TODAY), Look()))


def test_a_resting_animal_is_named_as_such_and_never_as_waiting_for_food(demo):
    glance = gather.glance_of(demo.facts, TODAY, {})
    resting = replace(glance, rows=tuple(row for row in glance.rows if row.rest))
    (picture,) = shelf_charts(resting, Look())
    assert "0 past the usual wait" in picture.caption
    colors = {
        color
        for _, color in image_of(picture).crop((0, 236, WIDTH, 236 + 60 * len(resting.rows))).getcolors(2**24)
    }
    late = tuple(int(LIGHT.refused[i : i + 2], 16) for i in (1, 3, 5))
    assert late not in colors


def test_a_long_shelf_takes_several_pictures_and_leaves_nobody_out(demo):
    rows = tuple(
        replace(row, specimen=replace(row.specimen, tag=f"T{number}", name=None))
        for number, row in enumerate(gather.glance_of(demo.facts * 3, TODAY, {}).rows)
    )
    pages = shelf_charts(replace(gather.glance_of((), TODAY, {}), rows=rows), Look())
    assert len(pages) == 3
    told = {text.words for page in pages for text in page.texts}
    assert {row.specimen.tag for row in rows} <= told


def test_readings_outside_the_band_are_counted(demo):
    reading = Entry(kind=Kind.CLIMATE, day=TODAY, place="floor", temp_c=Decimal(12))
    climate = gather.climate_of(demo.records.specimens, [reading], TODAY - timedelta(days=30), TODAY)
    (picture,) = climate_charts(climate, Look())
    assert "1 reading outside" in picture.caption


@pytest.mark.parametrize(
    ("taken", "offered", "low", "high"),
    [
        # statsmodels.stats.proportion.proportion_confint(method="wilson"), from memory: 8 of 10, 0 of 10
        (8, 10, 0.4902, 0.9433),
        (0, 10, 0.0, 0.2775),
        (10, 10, 0.7225, 1.0),
    ],
)
def test_ranges_are_wilsons(taken, offered, low, high):
    assert wilson(taken, offered) == pytest.approx((low, high), abs=5e-4)


@pytest.mark.parametrize("kind", PictureKind)
def test_where_nothing_is_on_record_it_is_said(kind):
    with pytest.raises(NothingToShowError):
        draw(kind, ShelfRecords(on=TODAY, facts=(), entries=()), Look())


def test_margins_are_kept(pictures):
    for picture in pictures[1]:
        assert min(text.left for text in picture.texts) >= MARGIN / 2


def test_a_name_too_long_is_cut_but_never_the_tag(demo):
    animal = replace(demo.animal("K3"), name="long " * 30)
    assert "(K3)" in words_of(life_chart(gather.life_of(animal, demo.entries, TODAY), Look()))
