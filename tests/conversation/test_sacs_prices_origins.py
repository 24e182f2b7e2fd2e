"""Questions of egg sacs, prices and origins, in German and Spanish: siblings, traps, what is said back."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime
from zoneinfo import ZoneInfo

import pytest

from bot.reading import read
from bot.reading.model import ReadingKind, Topic
from bot.reading.wanted.instructions import read_instruction
from tests.conversation.given import SETTINGS, ZONE
from tests.conversation.test_settings_in_languages import NAMES

NOW = datetime(2026, 5, 14, 19, 30, tzinfo=ZoneInfo(ZONE))

#: What is asked, as "action value tags", or the topic of a question, and the ways of asking it.
ASKED = {
    "sacs laid A2": {
        "de": (
            "wann hat Rust ihren Kokon gebaut?",
            "wann hat Rust zuletzt einen Kokon gebaut?",
            "Wann hat Rust das letzte Mal Eier gelegt?",
            "wann wurde Rusts letzter Kokon gebaut?",
            "hat Rust schon mal einen Kokon gebaut?",
            "wie viele Kokons hat Rust bisher gebaut?",
        ),
        "es": (
            "¿cuándo hizo Rust su saco?",
            "¿cuándo puso huevos Rust?",
            "cuándo puso Rust los huevos",
            "¿cuándo fue la última vez que Rust puso huevos?",
            "¿cuándo puso su último saco Rust?",
            "¿ha hecho Rust algún saco?",
        ),
    },
    "sacs hatched A2": {
        "de": (
            "wann ist Rusts Kokon geschlüpft?",
            "wann ist der Kokon von Rust geschlüpft?",
            "wie viele Junge hatte Rust?",
            "wie viele Spiderlinge sind aus dem Kokon von Rust geschlüpft?",
        ),
        "es": (
            "¿cuándo eclosionó el saco de Rust?",
            "¿cuándo nacieron las crías de Rust?",
            "¿cuántas crías tuvo Rust?",
        ),
    },
    "sacs hatched -": {
        "de": ("wie viele Spiderlinge sind geschlüpft?", "wieviele Nymphen sind im April geschlüpft?"),
        "es": ("¿cuántas crías nacieron?", "¿cuántas ninfas nacieron en abril?"),
    },
    "sacs pulled A2": {
        "de": ("wann habe ich Rust den Kokon weggenommen?", "wann hab ich bei Rust den Kokon gezogen?"),
        "es": ("¿cuándo le quité el saco a Rust?",),
    },
    "sacs lost A2": {"de": ("hat Rust ihren Kokon gefressen?",), "es": ("¿cuándo perdió Rust el saco?",)},
    "origin - A2": {
        "de": (
            "von wem ist Rust?",
            "von wem habe ich Rust?",
            "woher kommt Rust?",
            "woher stammt die Rust?",
            "wo kommt Rust her?",
            "wo hab ich Rust gekauft?",
            "von welchem Züchter stammt Rust?",
            "wer hat mir Rust verkauft?",
            "seit wann habe ich Rust?",
            "wie lange ist Rust schon hier?",
            "wann habe ich Rust gekauft?",
            "wann kam Rust zu mir?",
        ),
        "es": (
            "¿de quién es Rust?",
            "¿de dónde viene Rust?",
            "¿dónde compré a Rust?",
            "¿a quién le compré Rust?",
            "¿de qué criador es Rust?",
            "¿quién me vendió a Rust?",
            "¿desde cuándo tengo a Rust?",
            "¿cuánto hace que tengo a Rust?",
            "¿cuánto tiempo lleva Rust conmigo?",
            "¿cuándo llegó Rust?",
        ),
    },
    "origin age B1,B2": {"de": ("wie alt sind die GBBs?",), "es": ()},
    "origin age A2": {"de": ("wie alt ist Rust?",), "es": ("¿qué edad tiene Rust?",)},
    "prices dearest -": {
        "de": (
            "wer war am teuersten?",
            "welche Spinne war die teuerste?",
            "für wen habe ich am meisten bezahlt?",
            "mein teuerstes Tier",
            "wer war dieses Jahr am teuersten?",
        ),
        "es": ("¿cuál fue la más cara?", "¿quién costó más?", "¿por cuál pagué más?"),
    },
    "prices cheapest -": {
        "de": ("was war das billigste?", "für wen hab ich am wenigsten bezahlt?"),
        "es": ("¿cuál fue la más barata?",),
    },
    "from_whom Petko -": {
        "de": ("wer kam von Petko?", "welche sind von Petko?", "was habe ich bei Petko gekauft?"),
        "es": ("¿quién vino de Petko?", "¿qué le compré a Petko?", "¿qué arañas son de Petko?"),
    },
    "spending A2": {
        "de": ("was habe ich für Rust bezahlt?", "wie viel hat mich Rust gekostet?", "was kostete Rust?"),
        "es": ("¿cuánto pagué por Rust?", "¿cuánto me costó Rust?", "¿qué pagamos por Rust?"),
    },
    "spending -": {
        "de": ("was habe ich dieses Jahr ausgegeben?",),
        "es": ("¿cuánto he gastado este año?", "¿cuánto gasté el mes pasado?"),
    },
}

#: What only looks like such a question.
TRAPS = {
    "de": (
        "wann hat Rust zuletzt gefressen?",
        "wo ist Rust?",
        "wie lange habe ich Rust nicht gefüttert?",
        "wann habe ich Rust Wasser gegeben?",
        "wen habe ich von den Slings gefüttert?",
        "wer ist von meinen Tieren fällig?",
        "welche sind von der Runde übrig?",
        "wie viele Spiderlinge habe ich?",
        "Rust hat einen Kokon gebaut",
        "Rust hat ihren Kokon gefressen",
        "100 Heimchen für 5 Euro gekauft",
        "Rust an Petko für 50 Euro verkauft",
    ),
    "es": (
        "¿cuándo comió Rust?",
        "¿dónde está Rust?",
        "¿cuándo le di agua a Rust?",
        "¿quién es de los slings?",
        "¿cuántas crías tengo?",
        "Rust hizo un saco",
        "Rust se comió el saco",
        "compré 100 grillos por 5 euros",
        "vendí a Rust a Petko por 50 euros",
    ),
}


def asked(text: str, language: str) -> str:
    """What a message asks: an action with its value, or the topic of a question, and of whom."""
    wanted = read_instruction(text, NAMES, language)
    if wanted is not None:
        return f"{wanted.action.value} {wanted.value or '-'} {','.join(wanted.tags) or '-'}"
    reading = read(text, NAMES, now=NOW, settings=replace(SETTINGS, language=language))
    if reading.question is None:
        return reading.reading.value
    return f"{reading.question.topic.value} {','.join(reading.question.specimens) or '-'}"


@pytest.mark.parametrize(
    ("meant", "language", "text"),
    [(meant, lang, text) for meant, ways in ASKED.items() for lang, texts in ways.items() for text in texts],
)
def test_what_is_asked_of_sacs_prices_and_origins_is_understood_in_each_language(meant, language, text):
    assert asked(text, language) == meant


@pytest.mark.parametrize(
    ("language", "text"), [(lang, text) for lang, said in TRAPS.items() for text in said]
)
def test_what_only_looks_like_such_a_question_is_none(language, text):
    matters = ("sacs", "prices", "origin", "from_whom", Topic.SPENDING.value)
    assert not asked(text, language).startswith(matters)


@pytest.mark.parametrize(
    ("language", "text"),
    [
        ("en", "bought crickets?"),
        ("en", "have I bought a Nhandu chromatus?"),
        ("de", "Heimchen gekauft?"),
        ("es", "¿cuándo compré grillos?"),
        ("es", "¿he comprado una Nhandu chromatus?"),
    ],
)
def test_what_is_asked_of_a_purchase_stores_none(language, text):
    reading = read(text, NAMES, now=NOW, settings=replace(SETTINGS, language=language))
    assert reading.reading is not ReadingKind.ENTRIES


SAID_BACK = {
    "german": (
        ("eine B. hamorii von Petko für 30 Euro gekauft", "Petko"),
        ("Pebble hat einen Kokon gebaut", "Pebble (A1)"),
        (
            "wann hat Pebble ihren Kokon gebaut?",
            "Pebble (A1): Kokon gebaut, heute. Laut Journal bewacht sie ihn",
        ),
        ("wann ist Rusts Kokon geschlüpft?", "Rust (A2): kein geschlüpfter Kokon verzeichnet."),
        ("wer war am teuersten?", "Die höchsten Preise für Tiere, seit Do 14. Mai:"),
        ("wer kam von Petko?", "Von Petko: 1"),
        ("wer kam von Ben?", "Von Ben ist niemand verzeichnet. Verzeichnet sind: Petko."),
        ("von wem ist Rust?", "Rust (A2): keine Ankunft aufgezeichnet, spätestens hier seit"),
        ("wie alt ist Rust?", "Das Alter steht nirgends"),
        ("was habe ich dieses Jahr ausgegeben?", "Tiere gekauft: 30 EUR (1)"),
    ),
    "spanish": (
        ("compré una B. hamorii de parte de Petko por 30 euros", "Petko"),
        ("Pebble hizo un saco", "Pebble (A1)"),
        ("¿cuándo hizo Pebble su saco?", "Pebble (A1): "),
        ("¿cuándo eclosionó el saco de Rust?", "Rust (A2): "),
        ("¿cuál fue la más cara?", "30 EUR"),
        ("¿quién vino de Petko?", "De Petko: 1"),
        ("¿de quién es Rust?", "Rust (A2): "),
        ("¿cuánto he gastado este año?", "30 EUR (1)"),
    ),
}


@pytest.mark.parametrize("language", SAID_BACK)
def test_the_answers_are_in_the_keepers_language(chat, language):
    chat.told(f"language {language}")
    for text, part in SAID_BACK[language]:
        told = chat.told(text)
        assert part in told
        assert "on record" not in told
