from itertools import islice

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bot.husbandry.species import VenomCaution, all_species, species_of
from bot.pictures.paper.cautions import Caution, Hazard, cautions_of, species_cautions
from bot.pictures.paper.label_sheets import label_sheets
from bot.pictures.paper.labels import Label, label_of, label_pages
from bot.telegram.deep_link import link, payload_for_tag
from bot.terms import Habit, KeeperSettings, Specimen
from tests.pictures.conftest import HOSTILE, TODAY
from tests.pictures.reading_back import codes, signs, sizes_mm, text_of

SETTINGS = KeeperSettings()
SHEETS = label_sheets()
GRAVE = Caution(Hazard.VENOM, "high")
HAIRS = Caution(Hazard.HAIRS, "certain")


def code_of(specimen):
    return link("an_invented_keepers_bot", payload_for_tag(specimen.tag))


def places_of(sheet):
    """Left and top of each label of a page."""
    return [(left, top) for _, left, top in islice(sheet.places(), sheet.on_a_page)]


def within(sheet, x, y, place, inset=0.0):
    """Whether a point lies on the label whose left and top are ``place``."""
    left, top = place
    width, height = sheet.label
    return left + inset <= x <= left + width - inset and top + inset <= y <= top + height - inset


def neighbours(by_left):
    """All pairs of signs of which one begins before the other ends, from left to right."""
    for number, one in enumerate(by_left):
        for other in islice(by_left, number + 1, None):
            if other.left >= one.right:
                break
            yield one, other


# --- the sheets -------------------------------------------------------------------------------


@given(st.sampled_from(list(SHEETS.values())), st.integers(0, 64), st.integers(1, 200))
def test_every_label_lies_on_its_page_and_on_no_other_label(sheet, start, count):
    start %= sheet.on_a_page
    places = list(islice(sheet.places(start), count))
    width, height = sheet.label
    seen = set()
    for number, (page, left, top) in enumerate(places):
        assert page == (start + number) // sheet.on_a_page
        assert left >= 0
        assert top >= 0
        assert left + width <= sheet.page[0] + 0.01
        assert top + height <= sheet.page[1] + 0.01
        seen.add((page, round(left, 3), round(top, 3)))
    assert len(seen) == count
    assert sheet.step[0] >= width or sheet.grid[0] == 1
    assert sheet.step[1] >= height - 0.01 or sheet.grid[1] == 1


@pytest.mark.parametrize("sheet", SHEETS.values(), ids=SHEETS)
def test_sheets_are_as_wide_and_high_as_their_labels_and_margins_add_up_to(sheet):
    # sheets of the trade have equal margins at both sides: common practice, no source
    for place in (0, 1):
        used = (sheet.grid[place] - 1) * sheet.step[place] + sheet.label[place]
        assert sheet.first[place] == pytest.approx((sheet.page[place] - used) / 2, abs=0.35), place


# --- the codes --------------------------------------------------------------------------------


@pytest.mark.parametrize("sheet", SHEETS.values(), ids=SHEETS)
def test_a_general_reader_reads_every_code_from_150_dots_an_inch(demo, sheet):
    animals = demo.records.specimens
    pdf = label_pages([label_of(one, code_of(one)) for one in animals], sheet, TODAY, SETTINGS)
    wanted = {(code_of(one), *divmod(number, sheet.on_a_page)) for number, one in enumerate(animals)}
    found, places = set(), places_of(sheet)
    for page in range(len(sizes_mm(pdf))):
        for text, x, y in codes(pdf, page):
            on = next(n for n, place in enumerate(places) if within(sheet, x, y, place))
            found.add((text, page, on))
    assert found == wanted


@pytest.mark.parametrize("length", [1, 20, 47])
def test_the_code_of_the_longest_tag_is_read_from_the_smallest_label(length):
    # 47 bytes is the longest tag that fits a deep link (Bot API: 64 characters)
    tag = "W" * length
    pdf = label_pages(
        [Label(tag=tag, species="x", link=link("b" * 32, payload_for_tag(tag)))],
        SHEETS["a4-65"],
        TODAY,
        SETTINGS,
    )
    assert [text for text, _, _ in codes(pdf)] == [link("b" * 32, payload_for_tag(tag))]


@settings(max_examples=15, deadline=None)
@given(
    st.text(
        st.characters(codec="utf-8", exclude_categories=["Cc", "Cs", "Zs", "Zl", "Zp"]),
        min_size=1,
        max_size=60,
    )
)
def test_any_text_comes_back_from_its_code(text):
    pdf = label_pages([Label(tag="T", species="x", link=text)], SHEETS["a4-8"], TODAY, SETTINGS)
    assert [found for found, _, _ in codes(pdf)] == [text]


def test_without_a_link_there_is_no_code():
    assert codes(label_pages([Label(tag="T1", species="x")], SHEETS["a4-21"], TODAY, SETTINGS)) == []


def test_a_text_too_long_for_any_code_is_refused_in_one_line():
    with pytest.raises(ValueError, match="too long for a QR code") as caught:
        label_pages([Label(tag="T1", species="x", link="ä" * 4000)], SHEETS["a4-21"], TODAY, SETTINGS)
    assert "\n" not in str(caught.value)


# --- the words --------------------------------------------------------------------------------


@pytest.mark.parametrize("key", ["a4-21", "a4-65", "a4-8", "letter-30"])
@pytest.mark.parametrize("coded", [True, False], ids=["code", "no-code"])
def test_no_sign_of_a_label_leaves_it_or_lies_on_its_code(key, coded):
    sheet = SHEETS[key]
    link_text = "https://t.me/b?start=t" if coded else ""
    labels = [
        Label(tag=tag, name=name, species=name, cautions=cautions, link=link_text)
        for name in HOSTILE
        for tag in ("T47", name)
        for cautions in ((), (GRAVE, HAIRS))
    ][: sheet.on_a_page]
    pdf = label_pages(labels, sheet, TODAY, SETTINGS)
    side = min(sheet.label[1] - 1, 42, sheet.label[0] * 0.5)
    places = places_of(sheet)
    for sign in signs(pdf):
        place = next(one for one in places if within(sheet, sign.left, sign.top, one))
        assert within(sheet, sign.right, sign.bottom, place, inset=0.3), sign
        assert sign.left >= place[0] + (side * 0.85 if coded else 1), sign


@pytest.mark.parametrize("sheet", SHEETS.values(), ids=SHEETS)
def test_lines_of_a_label_do_not_run_into_each_other(demo, sheet):
    found = signs(label_pages([label_of(one, "x") for one in demo.records.specimens], sheet, TODAY, SETTINGS))
    by_left = sorted((sign for sign in found if sign.char.isalnum()), key=lambda sign: sign.left)
    for one, other in neighbours(by_left):
        # slanted neighbours in a line may share a third of a millimetre
        across = min(one.right, other.right) - max(one.left, other.left)
        down = min(one.bottom, other.bottom) - max(one.top, other.top)
        assert across <= 0.35 or down <= 0.1, (one, other)


@pytest.mark.parametrize("sheet", SHEETS.values(), ids=SHEETS)
def test_tag_name_species_and_cautions_of_every_animal_are_there_in_full(demo, sheet):
    words = text_of(
        label_pages([label_of(one, "x") for one in demo.records.specimens], sheet, TODAY, SETTINGS)
    )
    for one in demo.records.specimens:
        for part in (one.tag, one.name or "", *one.species.split()):
            assert part in words
    assert words.count("strong venom") == sum(
        caution.words == "strong venom" for one in demo.records.specimens for caution in cautions_of(one)
    )


# --- the cautions -----------------------------------------------------------------------------


@pytest.mark.parametrize("species", all_species(), ids=lambda one: one.scientific_name)
def test_every_species_that_kicks_hairs_or_bites_hard_is_marked(species):
    found = {caution.hazard: caution for caution in species_cautions(species)}
    assert (Hazard.HAIRS in found) == (species.urticating is not False)
    assert (Hazard.VENOM in found) == (species.venom_caution is not VenomCaution.LOW)
    if species.venom_caution is VenomCaution.HIGH:
        assert found[Hazard.VENOM].grave
        assert found[Hazard.VENOM].words == "strong venom"


def test_what_is_not_known_counts_as_grave():
    unknown = Specimen(tag="X", species="Nobodyknows thisone", habit=Habit.ARBOREAL)
    assert species_of(unknown.species, unknown.habit).venom_caution is VenomCaution.UNKNOWN
    venom, hairs = cautions_of(unknown)
    assert (venom.hazard, venom.grave, hairs.hazard) == (Hazard.VENOM, True, Hazard.HAIRS)


# --- whole documents --------------------------------------------------------------------------


@pytest.mark.parametrize(("count", "start", "pages"), [(21, 0, 1), (22, 0, 2), (1, 20, 1), (2, 20, 2)])
def test_used_up_places_are_left_free_and_pages_follow(count, start, pages):
    sheet = SHEETS["a4-21"]
    pdf = label_pages(
        [Label(tag=f"T{n}", species="x", link=f"c{n}") for n in range(count)],
        sheet,
        TODAY,
        SETTINGS,
        start=start,
    )
    assert sizes_mm(pdf) == [pytest.approx(sheet.page, abs=0.05)] * pages
    (_, x, y), *_ = [code for code in codes(pdf) if code[0] == "c0"]
    assert within(sheet, x, y, places_of(sheet)[start])


@pytest.mark.parametrize("start", [-1, 21])
def test_a_start_beyond_the_sheet_is_refused(start):
    with pytest.raises(ValueError, match="21 places"):
        label_pages([Label(tag="T", species="x")], SHEETS["a4-21"], TODAY, SETTINGS, start=start)


def test_nobody_to_label_is_refused():
    with pytest.raises(ValueError, match="nobody"):
        label_pages([], SHEETS["a4-21"], TODAY, SETTINGS)
