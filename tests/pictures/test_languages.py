"""Pictures and paper in each language: the same texts, nothing left in English, every sign drawn."""

import re
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from datetime import timedelta
from decimal import Decimal
from string import Formatter

import pytest

from bot.conversation.texts import written_in as said_in
from bot.husbandry.animal import GENERAL_RULE, KEEPERS_SETTING, OWN_RECORD, SPECIES_FILE
from bot.husbandry.evidence import findings
from bot.husbandry.species import Moisture, Pace
from bot.pictures.data import PictureKind
from bot.pictures.drawing import NothingToShowError, draw
from bot.pictures.glyphs import BOX
from bot.pictures.measures import day, length, plain, weekday
from bot.pictures.naming import kind_of, prey_told
from bot.pictures.notes.figures_told import cells_of
from bot.pictures.notes.husbandry import SpeciesRecords, husbandry_notes
from bot.pictures.notes.pages import to_pdf
from bot.pictures.notes.web_page import to_html
from bot.pictures.paper.helper_sheet import HelperSheet, helper_pages
from bot.pictures.paper.label_sheets import label_sheets
from bot.pictures.paper.labels import label_of, label_pages
from bot.pictures.paper.record import AnimalRecord, record_pages
from bot.pictures.paper.slips import slip_pages, slips_of
from bot.pictures.theme import Look
from bot.pictures.words import has, say, words, written_in
from bot.round.model import RestReason
from bot.terms import DateOrder, Entry, Habit, KeeperSettings, Kind, SacEvent, Sex, Specimen, Stage, Units
from bot.terms.language import LANGUAGES, speaking
from tests.husbandry.given import records_of
from tests.pictures.conftest import TODAY
from tests.pictures.reading_back import text_of
from tests.pictures.test_charts import assert_laid_out

TEXTS = written_in("en")
OTHERS = [language for language in LANGUAGES if language != "en"]
LASIODORA, WEIGHED = "Lasiodora parahybana", "S2"
#: Words of the English texts that are none in German or Spanish.
_ENGLISH = """
    the of and to with last next molt molts molted since day days food taken took refused meal meals likely
    watered watering record keeper feed water fill dish corner damp female male unsexed sealed fresh settling
    held missing strong venom hairs cricket crickets roach small medium large weight reading readings outside
    suits own rule species file kept died left what who
"""
ENGLISH = frozenset(_ENGLISH.split())


def look_of(language):
    return Look.of(KeeperSettings(language=language))


def lines_of(text):
    return (text,) if isinstance(text, str) else text


def blanks_of(text):
    return [{name for _, name, _, _ in Formatter().parse(line) if name} for line in lines_of(text)]


def without_blanks(text):
    return re.sub(r"\{\w+\}", " ", " ".join(lines_of(text)))


def in_english(told, keepers_own=()):
    """The English words in what was told, beside the keeper's own names."""
    for name in sorted(keepers_own, key=len, reverse=True):
        told = told.replace(name, " ")
    return ENGLISH.intersection(re.findall(r"\w+", told.casefold()))


@pytest.fixture(scope="module")
def shelf(demo):
    """The demo's records, with a weight for one animal."""
    weight = Entry(kind=Kind.MEASURED, day=TODAY, specimens=(WEIGHED,), weight_g=Decimal("1.42"))
    return replace(demo.records, entries=(*demo.records.entries, weight))


def drawn_in(language, shelf):
    """A picture of every kind, and of everyone."""
    look = look_of(language)
    weighed = next(one for one in shelf.specimens if one.tag == WEIGHED)
    for kind in (PictureKind.SHELF, PictureKind.MEALS, PictureKind.ACCEPTANCE, PictureKind.CLIMATE):
        yield from draw(kind, shelf, look)
    yield from draw(PictureKind.MOLTS, shelf, look, species=LASIODORA)
    for kind in (PictureKind.WEIGHT, PictureKind.MEALS):
        yield from draw(kind, shelf, look, animal=weighed)
    for place, animal in enumerate(shelf.specimens):
        kind = PictureKind.LIFE if place % 4 else PictureKind.MOISTURE
        yield from draw(kind, shelf, look, animal=animal)


@pytest.fixture(scope="module", params=OTHERS)
def pictures(request, shelf):
    return list(drawn_in(request.param, shelf))


@pytest.fixture(scope="module")
def keepers_own(shelf):
    """What the keeper calls animals and places."""
    return {name for one in shelf.specimens for name in (one.name, one.place, one.species) if name}


# --- the texts --------------------------------------------------------------------------------


@pytest.mark.parametrize("language", OTHERS)
def test_every_language_has_the_same_texts_with_the_same_blanks(language):
    own = written_in(language)
    assert set(own) == set(TEXTS)
    for key, text in own.items():
        assert type(text) is type(TEXTS[key]), key
        assert blanks_of(text) == blanks_of(TEXTS[key]), key


@pytest.mark.parametrize("language", OTHERS)
def test_no_text_is_left_in_english(language):
    own = written_in(language)
    assert not {key: found for key in own if (found := in_english(without_blanks(own[key])))}
    for key, text in own.items():
        for line, english in zip(lines_of(text), lines_of(TEXTS[key]), strict=True):
            assert line != english or len(without_blanks(line).split()) < 4, key


@pytest.mark.parametrize("language", LANGUAGES)
@pytest.mark.parametrize(
    ("here", "there"),
    [("prey.", "prey."), ("size.", "sizes."), ("record.event.", "sac."), ("unit.litres", "amount.litres")],
)
def test_prey_sizes_and_sacs_have_the_words_of_the_conversation(language, here, there):
    said = said_in(language)
    for key, text in written_in(language).items():
        if key.startswith(here):
            assert str(said[key.replace(here, there, 1)]).replace("{n} ", "") == text, key


@pytest.mark.parametrize("language", LANGUAGES)
def test_days_months_and_decimal_marks_are_those_of_the_conversation(language):
    said = said_in(language)
    with speaking(language):
        assert words("date.months") == said["calendar.months"]
        assert words("date.weekdays") == said["calendar.weekdays"]
        assert say("decimal") == said["amount.decimal"]


@pytest.mark.parametrize(
    ("family", "members"),
    [
        ("kind.sling", Sex),
        ("kind.juvenile", Sex),
        ("kind.adult", Sex),
        ("stage", Stage),
        ("rest", RestReason),
        ("shelf.at_rest", RestReason),
        ("helper.water", Moisture),
        ("record.moisture", Moisture),
        ("record.event", SacEvent),
        ("notes.habit", Habit),
        ("notes.pace", Pace),
        ("basis", (OWN_RECORD, SPECIES_FILE, GENERAL_RULE, KEEPERS_SETTING)),
    ],
)
def test_a_family_has_a_text_for_every_member(family, members):
    missing = [str(one) for one in members if not has(f"{family}.{one}")]
    assert not missing


# --- figures, days and names ------------------------------------------------------------------


@pytest.mark.parametrize(
    ("language", "figure", "metric", "us"),
    [
        ("en", "1.5", "12.5 cm", "5 in"),
        ("de", "1,5", "12,5 cm", "5 Zoll"),
        ("es", "1,5", "12,5 cm", "5 pulgadas"),
    ],
)
def test_figures_have_the_marks_and_units_of_the_language(language, figure, metric, us):
    with speaking(language):
        assert plain(1.5) == figure
        assert length(Units.METRIC).told(12.5).replace("\N{NO-BREAK SPACE}", " ") == metric
        assert length(Units.US).told(12.7).replace("\N{NO-BREAK SPACE}", " ") == us


@pytest.mark.parametrize(
    ("language", "order", "told"),
    [
        ("de", DateOrder.DMY, "Do 14. Mai 2026"),
        ("de", DateOrder.MDY, "Do 14. Mai 2026"),
        ("de", DateOrder.YMD, "Do 2026-05-14"),
        ("es", DateOrder.DMY, "jue 14 may 2026"),
        ("es", DateOrder.MDY, "jue 14 may 2026"),
        ("es", DateOrder.YMD, "jue 2026-05-14"),
    ],
)
def test_a_day_with_its_month_in_words_stands_as_the_language_has_it(language, order, told):
    with speaking(language):
        assert f"{weekday(TODAY)} {day(TODAY, order)}" == told


@pytest.mark.parametrize(
    ("language", "prey", "count", "size", "told"),
    [
        ("en", "cricket", 2, "medium", "2 × medium cricket"),
        ("de", "cricket", 2, "medium", "2 × Grille (mittel)"),
        ("es", "cricket", 2, "medium", "2 × grillo (talla mediana)"),
        ("de", "Kellerassel", 1, None, "1 × Kellerassel"),
        ("de", None, None, "large", "groß"),
        ("es", None, 3, None, ""),
    ],
)
def test_prey_is_told_in_the_language_and_a_keepers_own_word_as_it_is(language, prey, count, size, told):
    with speaking(language):
        assert prey_told(prey, count, size) == told


@pytest.mark.parametrize(
    ("stage", "sex", "german", "spanish"),
    [
        (Stage.ADULT, Sex.FEMALE, "adult, weiblich", "hembra adulta"),
        (Stage.ADULT, Sex.MALE, "adult, männlich", "macho adulto"),
        (Stage.SLING, Sex.UNKNOWN, "Spiderling", "cría sin sexar"),
        (Stage.MATURE_MALE, Sex.MALE, "adulter Bock", "macho maduro"),
    ],
)
def test_stage_and_sex_agree(stage, sex, german, spanish):
    animal = Specimen(tag="Q1", species="x", stage=stage, sex=sex)
    for language, told in (("de", german), ("es", spanish)):
        with speaking(language):
            assert kind_of(animal) == told


# --- pictures ---------------------------------------------------------------------------------


def test_longer_words_neither_clash_nor_are_cut_nor_lack_a_sign(pictures):
    for picture in pictures:
        assert_laid_out(picture)
        for text in picture.texts:
            assert not text.words.endswith("…"), text
            assert BOX not in text.words, text


def test_nothing_on_a_picture_or_in_its_caption_is_english(pictures, keepers_own):
    for picture in pictures:
        told = "\n".join([picture.caption, *(text.words for text in picture.texts)])
        assert not in_english(told, keepers_own), told


@pytest.mark.parametrize(
    ("language", "caption"),
    [
        (
            "de",
            "Paprika (K2), Brachypelma emilia, 14. Nov 2024 bis 14. Mai 2026: 31 gefressen, 5 verweigert, "
            "1 Häutung; zuletzt gefressen: 10 Tage her; nächste Häutung wohl 20. Mai 2026 bis 21. Juni 2026.",
        ),
        (
            "es",
            "Paprika (K2), Brachypelma emilia, de 14 nov 2024 a 14 may 2026: comió 31, rechazó 5, 1 muda; "
            "comió por última vez hace 10 días; próxima muda, probable de 20 may 2026 a 21 jun 2026.",
        ),
    ],
)
def test_the_caption_of_a_life_reads_as_a_keeper_would_say_it(demo, language, caption):
    (picture,) = draw(PictureKind.LIFE, demo.records, look_of(language), animal=demo.animal("K2"))
    assert picture.caption == caption


@pytest.mark.parametrize(
    "kind", [PictureKind.WEIGHT, PictureKind.MOISTURE, PictureKind.MEALS, PictureKind.LIFE]
)
@pytest.mark.parametrize("language", OTHERS)
def test_what_is_missing_is_told_in_the_language(shelf, kind, language):
    bare = replace(shelf, entries=())
    animal = None if kind is PictureKind.LIFE else bare.specimens[0]
    with pytest.raises(NothingToShowError) as caught:
        draw(kind, bare, look_of(language), animal=animal)
    assert not in_english(str(caught.value))


def test_pictures_drawn_side_by_side_in_threads_are_each_of_their_own_keepers_language(demo):
    animal = demo.animal("K2")

    def caption(language):
        return draw(PictureKind.LIFE, demo.records, look_of(language), animal=animal)[0].caption

    alone = {language: caption(language) for language in LANGUAGES}
    assert len(set(alone.values())) == len(LANGUAGES)
    asked = [*LANGUAGES] * 4
    with speaking("es"), ThreadPoolExecutor(4) as pool:
        assert list(pool.map(caption, asked)) == [alone[language] for language in asked]
        assert say("life.today") == "hoy"


# --- paper ------------------------------------------------------------------------------------


def _helper(demo, settings):
    last = TODAY + timedelta(days=6)
    return helper_pages(
        HelperSheet(keeper="Robin", facts=demo.facts, today=TODAY, first=TODAY, last=last), settings
    )


def _labels(demo, settings):
    return label_pages(
        [label_of(one) for one in demo.records.specimens], label_sheets()["a4-21"], TODAY, settings
    )


def _slips(demo, settings):
    return slip_pages(slips_of(demo.facts, TODAY), label_sheets()["a4-8"], TODAY, settings)


def _record(demo, settings):
    sac = Entry(kind=Kind.SAC, day=TODAY, specimens=("H3",), event=SacEvent.LAID)
    entries = (*(entry for entry in demo.entries if entry.kind is not Kind.NOTE), sac)
    record = AnimalRecord(specimen=demo.animal("H3"), entries=entries, keeper="Robin", on=TODAY)
    return record_pages(record, settings)


@pytest.mark.parametrize(
    ("pages", "german", "spanish"),
    [
        (_helper, "Haare im Auge: nicht reiben, mit viel Wasser spülen", "Pelos en un ojo: no frotar"),
        (_labels, "starkes Gift", "veneno fuerte"),
        (_slips, "NICHT STÖREN", "NO MOLESTAR"),
        (_record, "Größen", "Caparazón"),
    ],
    ids=["helper", "labels", "slips", "record"],
)
def test_paper_is_of_the_keepers_language_and_of_that_alone(demo, keepers_own, pages, german, spanish):
    trade_names = {"Indian ornamental"}
    for language, words_there in (("de", german), ("es", spanish)):
        text = text_of(pages(demo, KeeperSettings(language=language)))
        assert words_there in text
        assert BOX not in text
        assert not in_english(text, keepers_own | trade_names)


@pytest.mark.parametrize("language", OTHERS)
def test_husbandry_notes_are_of_the_keepers_language_beside_the_sources(demo, language):
    species = [one for one in demo.records.specimens if one.species == LASIODORA]
    kept = SpeciesRecords(species=LASIODORA, records=records_of(species, demo.entries), on=TODAY)
    document = husbandry_notes(kept, KeeperSettings(language=language))
    page = to_html(document)
    assert f'<html lang="{language}">' in page
    with speaking(language):
        sources = say("notes.basis", basis="").rstrip(".")
    told = re.sub(r"<[^>]+>|data:[^\"]+", " ", page.partition("<body>")[2])
    told = re.sub(rf"{re.escape(sources)}[^<\n]*", " ", told)
    assert not in_english(told)
    assert document.title in text_of(to_pdf(document, Units.METRIC))


@pytest.mark.parametrize("language", OTHERS)
def test_every_figure_of_a_species_is_told_in_the_language(demo, language):
    found = findings(records_of(demo.records.specimens, demo.entries), TODAY)
    with speaking(language):
        for finding in found:
            assert not in_english(" ".join(cells_of(finding, Units.METRIC))), finding
