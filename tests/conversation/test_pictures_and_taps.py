"""Charts in the chat, and one tap under an animal's card."""

from __future__ import annotations

import pytest
from PIL import Image


@pytest.fixture
def pictures(monkeypatch, tmp_path):
    """Where pictures go."""
    monkeypatch.setattr("tempfile.tempdir", str(tmp_path))
    return tmp_path


@pytest.mark.parametrize(
    "text",
    ["chart of Pebble", "picture of the shelf", "show me Pebble", "meals chart", "draw A1", "shelf chart"],
)
def test_a_chart_comes_as_a_picture_with_what_it_shows_in_words(chat, pictures, text):
    chat.told("fed Pebble 2 crickets")
    said = chat.told(text)
    (path,) = chat.shown[-1].pictures
    assert said
    with Image.open(path) as image:
        assert image.format == "PNG"
        assert min(image.size) > 400
    assert path.parent.stat().st_mode & 0o077 == 0
    assert "Pebble" not in path.name


def test_where_there_is_nothing_to_draw_that_is_said(chat, pictures):
    assert chat.told("weight chart of Pebble").startswith("No picture: ")
    assert not chat.shown[-1].pictures


@pytest.mark.parametrize(
    ("language", "caption", "nothing"),
    [
        (
            "language german",
            "1 gefressen, 0 verweigert, 0 Häutungen; heute gefressen; ",
            "Kein Bild: kein Gewicht verzeichnet für Pebble (A1).",
        ),
        (
            "language spanish",
            "comió 1, rechazó 0, 0 mudas; comió hoy; ",
            "Sin imagen: no consta ningún peso de Pebble (A1).",
        ),
    ],
)
def test_a_chart_and_what_it_lacks_are_told_in_the_keepers_language(
    chat, pictures, language, caption, nothing
):
    chat.told("fed Pebble 2 crickets")
    chat.told(language)
    assert caption in chat.told("chart of Pebble")
    assert chat.shown[-1].pictures
    assert chat.told("weight chart of Pebble") == nothing


@pytest.mark.parametrize(
    ("language", "title"), [("german", "Haltungsnotizen: Brachy"), ("spanish", "Notas de cuidado: Brachy")]
)
def test_notes_are_of_the_keepers_language(chat, pictures, language, title):
    chat.told(f"language {language}")
    chat.told("notes on B. hamorii")
    assert title in chat.shown[-1].pictures[1].read_text("utf-8")


@pytest.mark.parametrize(
    "text",
    [
        "notes on B. hamorii",
        "write up the hamorii",
        "Brachypelma hamorii notes",
        "husbandry notes for the Brachypelma hamorii",
        "care sheet for hamoriis please",
    ],
)
def test_notes_of_a_species_come_as_pdf_and_web_page_and_say_how_few_animals_they_rest_on(
    chat, pictures, text
):
    chat.told("Clove ate a cricket")
    said = chat.told(text)
    assert "1 animal" in said
    assert "Fewer than 3 animals" in said
    files = chat.shown[-1].pictures
    assert [file.suffix for file in files] == [".pdf", ".html"]
    assert all(file.name.startswith("notes-brachypelma-hamorii-") for file in files)
    assert all(file.parent.stat().st_mode & 0o077 == 0 for file in files)
    assert files[0].read_bytes().startswith(b"%PDF")
    assert "Offers taken: cricket" in files[1].read_text("utf-8")


def test_notes_of_a_species_that_nobody_here_is_are_not_made_up(chat, pictures):
    assert "No animal of Theraphosa apophysis" in chat.told("notes on Theraphosa apophysis")


@pytest.mark.parametrize("text", ["notes on Pebble", "write up Rust", "notes on the weather"])
def test_what_is_no_species_is_not_written_up(chat, pictures, text):
    chat.told(text)
    assert not chat.shown[-1].pictures


@pytest.mark.parametrize(
    ("text", "shows"),
    [
        ("chart of meals", "Meals of the shelf"),
        ("acceptance chart", "No picture"),
        ("chart of the acceptance of B. boehmei", "No picture"),
        ("meals chart for the GBBs", "Meals of Chromatopelma cyaneopubescens"),
        ("graph of feedings for A1", "Meals of Pebble"),
        ("moisture chart of Pebble", "No picture"),
    ],
)
def test_what_a_chart_is_to_show_may_stand_first_or_last(chat, pictures, text, shows):
    chat.told("fed Pebble 2 crickets")
    chat.told("fed B1 a cricket")
    assert chat.told(text).startswith(shows)


def test_a_chart_of_nobody_known_draws_nothing(chat, pictures):
    chat.told("fed Pebble 2 crickets")
    for text in ("chart of nonsense", "shiny chart", "chart of Bogus"):
        chat.told(text)
        assert not chat.shown[-1].pictures


def test_of_two_who_fit_nobody_is_drawn(chat, pictures):
    assert "More than one fits" in chat.told("chart of GBB")


def test_a_chart_can_be_asked_for_under_the_card(chat, pictures):
    chat.told("how is Pebble?")
    chat.press("Chart")
    assert chat.shown[-1].pictures


def test_one_tap_logs_for_today_and_the_card_comes_back_with_its_buttons(chat):
    chat.told("how is Pebble?")
    chat.now = "2026-05-15 09:00"
    chat.press("Took it")
    card, logged = chat.shown[-2:]
    assert card.edits_pressed
    assert [button.label for row in card.buttons for button in row][:2] == ["Took it", "Refused"]
    assert "ate" in logged.text
    chat.press("Watered")
    assert [(e.kind.value, e.day.isoformat()) for e in chat.entries()] == [
        ("watered", "2026-05-15"),
        ("fed", "2026-05-15"),
    ]


def test_a_sealed_animals_card_offers_no_food(chat):
    chat.told("Pebble sealed")
    chat.told("how is Pebble?")
    labels = {button.label for row in chat.shown[-1].buttons for button in row}
    assert "Took it" not in labels
    assert "Opened" in labels


def test_a_tap_meets_the_same_doubts_as_words(chat):
    chat.told("fed Pebble 1 cricket")
    chat.told("how is Pebble?")
    assert "Fed again?" in chat.press("Took it")
    assert len(chat.entries()) == 1


def test_a_photo_is_asked_for_by_name(chat):
    chat.told("how is Pebble?")
    assert "“Pebble (A1)”" in chat.press("Photo")
