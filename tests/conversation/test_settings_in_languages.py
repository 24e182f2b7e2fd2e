"""How the round and the shelf are set up in German and Spanish: the same as by the English words."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime
from zoneinfo import ZoneInfo

import pytest

from bot.reading import ShelfNames
from bot.reading.wanted.instructions import examples, read_instruction
from bot.reading.wanted.moves_said import place_typed
from bot.reading.wanted.newcomer import came_on
from bot.terms import KeeperSettings
from tests.conversation.given import INVENTED_SHELF

NAMES = ShelfNames.of(INVENTED_SHELF)

#: The same wish in English, German and Spanish.
WISHES = [
    ("round at 7:30", "Runde um halb 8", "ronda a las 7 y media"),
    ("round at 8:45", "stell die Runde auf dreiviertel neun", "cambia la ronda a las nueve menos cuarto"),
    ("round at 7 pm", "Runde um 7 abends", "ronda a las 7 de la tarde"),
    ("rounds only on weekends", "Runden nur am Wochenende", "rondas solo los fines de semana"),
    (
        "rounds on mon, wed and fri",
        "Runden montags, mittwochs und freitags",
        "rondas los lunes, miércoles y viernes",
    ),
    ("rounds monday to thursday", "Runden von Montag bis Donnerstag", "rondas de lunes a jueves"),
    ("round at 9 on weekends", "Runde am Wochenende um 9", "ronda los fines de semana a las 9"),
    (
        "round at 9 on weekends and 7 on weekdays",
        "Runde am Wochenende um 9 und werktags um 7",
        "ronda los fines de semana a las 9 y entre semana a las 7",
    ),
    ("no rounds on sundays", "keine Runde am Sonntag", "sin ronda los domingos"),
    ("stop sending rounds", "keine Runden mehr", "no me mandes más rondas"),
    ("quiet from 22 to 7", "Ruhe von 22 bis 7", "silencio de 22 a 7"),
    ("no quiet hours", "keine Ruhezeit", "sin horas de silencio"),
    ("my day starts at 4", "mein Tag beginnt um 4", "mi día empieza a las 4"),
    ("feeders come on Wednesdays", "Grillen kommen mittwochs", "los grillos llegan los miércoles"),
    ("when is the next round?", "wann kommt die nächste Runde?", "¿cuándo viene la próxima ronda?"),
    ("shut up for today", "heute Ruhe", "silencio por hoy"),
    ("list my reminders", "meine Erinnerungen", "mis recordatorios"),
    ("end reminder 3", "beende Erinnerung 3", "termina el recordatorio 3"),
    ("add animal", "neues Tier", "nueva tarántula"),
    ("rename Rust to Ash", "benenne Rust in Ash um", "cambia el nombre de Rust a Ash"),
    ("Rust is now called Ash", "Rust heißt jetzt Ash", "Rust ahora se llama Ash"),
    ("retag Rust to A8", "Rust bekommt das Etikett A8", "la etiqueta de Rust es ahora A8"),
    ("move Rust to shelf B", "stell Rust auf das Regal B", "pon a Rust en la balda B"),
    (
        "moved Rust and Nib to shelf B",
        "hab Rust und Nib auf Regal B gestellt",
        "he puesto a Rust y Nib en la balda B",
    ),
    ("retire Rust", "nimm Rust aus dem Bestand", "quita a Rust de la colección"),
    ("show all my animals", "zeig mir alle meine Tiere", "muéstrame todos mis animales"),
    ("my places", "meine Plätze", "mis sitios"),
    ("restore it", "stell es wieder her", "vuelve a ponerlo"),
    ("units in inches", "Einheiten in Zoll", "unidades en pulgadas"),
    ("set units to metric", "Einheiten metrisch", "unidades métricas"),
    ("date order month first", "Datum mit dem Monat zuerst", "fecha con el mes primero"),
    ("who is on hold", "wer ist in Pause", "quién está en pausa"),
    ("photos", "Fotos", "fotos"),
    ("chart of Rust", "Diagramm von Rust", "gráfico de Rust"),
]

#: An animal to be added, or several, in English, German and Spanish.
NEWCOMERS = [
    (
        "new animal: B. hamorii female called Ruby, 12 cm, on shelf B, since March 2021",
        "neues Tier: B. hamorii Weibchen namens Ruby, 12 cm, auf Regal B, seit März 2021",
        "nueva tarántula: B. hamorii hembra llamada Ruby, 12 cm, en la balda B, desde marzo de 2021",
    ),
    (
        "new animal: GBB sling, tag K9, 1.5 to 2 cm, already here",
        "neues Tier: GBB Spiderling, Etikett K9, 1,5 bis 2 cm, schon länger hier",
        "nueva tarántula: GBB cría, etiqueta K9, 1,5 a 2 cm, ya estaba aquí",
    ),
    (
        "add: 3 GBB slings called Fig, Date and Plum",
        "Tier anlegen: 3 GBB Spiderlinge namens Fig, Date und Plum",
        "tengo: 3 GBB crías llamadas Fig, Date y Plum",
    ),
    (
        "my animals: Sky GBB juvenile, Ziggy OBT adult, all on shelf B",
        "meine Tiere: Sky GBB juvenil, Ziggy OBT adult, alle auf Regal B",
        "mis tarántulas: Sky GBB juvenil, Ziggy OBT adulta, todas en la balda B",
    ),
    (
        "i also have a GBB called Sky",
        "ich habe auch eine GBB namens Sky",
        "también tengo una GBB llamada Sky",
    ),
]


def _animals(text: str, language: str):
    """The newcomers of a message, their places and days as said left out."""
    said = read_instruction(text, NAMES, language)
    assert said is not None
    return [
        replace(one, place=one.place and "some place", came=one.came and "some day") for one in said.newcomers
    ]


@pytest.mark.parametrize(
    ("language", "said", "english"),
    [row for en, de, es in NEWCOMERS for row in (("de", de, en), ("es", es, en))],
)
def test_an_animal_to_be_added_is_the_same_in_each_language(language, said, english):
    assert _animals(said, language) == _animals(english, "en")


@pytest.mark.parametrize(
    ("language", "said", "since"),
    [
        ("en", "March 2021", date(2021, 3, 1)),
        ("en", "2019", date(2019, 1, 1)),
        ("de", "März 2021", date(2021, 3, 1)),
        ("de", "2019", date(2019, 1, 1)),
        ("de", "Mai", date(2026, 5, 1)),
        ("de", "3 Jahren", date(2023, 12, 1)),
        ("es", "marzo de 2021", date(2021, 3, 1)),
        ("es", "marzo 2021", date(2021, 3, 1)),
        ("es", "mayo", date(2026, 5, 1)),
        ("es", "3 años", date(2023, 12, 1)),
    ],
)
def test_a_month_a_year_or_a_number_of_years_says_since_when_it_is_kept(language, said, since):
    now = datetime(2026, 11, 30, 18, 30, tzinfo=ZoneInfo("Europe/Berlin"))
    settings = KeeperSettings(zone="Europe/Berlin", language=language)
    assert came_on(said, NAMES, now, settings) == since


@pytest.mark.parametrize(
    ("language", "said", "place"),
    [
        ("en", "on the kitchen counter", "kitchen counter"),
        ("en", "put Zoe in the office", "office"),
        ("en", "Rust stands on shelf B", "Rust stands on shelf B"),
        ("de", "auf dem Küchentisch", "Küchentisch"),
        ("de", "sie steht im Büro", "Büro"),
        ("es", "en la cocina", "cocina"),
        ("es", "Zoe está en la balda B", "balda B"),
    ],
)
def test_where_it_is_to_stand_is_told_with_or_without_words_that_lead_there(language, said, place):
    assert place_typed(said, "Zoe", language) == place


@pytest.mark.parametrize(
    ("language", "wish", "english"),
    [row for en, de, es in WISHES for row in (("de", de, en), ("es", es, en))],
)
def test_a_wish_is_the_same_in_each_language(language, wish, english):
    said = read_instruction(wish, NAMES, language)
    assert said is not None
    assert replace(said, value=None) == replace(read_instruction(english, NAMES), value=None)


@pytest.mark.parametrize(
    ("language", "action", "example"),
    [(language, action, text) for language in ("de", "es") for action, text in examples(language).items()],
)
def test_the_example_of_an_action_reaches_it_in_its_language(language, action, example):
    found = read_instruction(example, NAMES, language)
    assert found is not None
    assert found.action is action


@pytest.mark.parametrize(
    ("language", "words"),
    [
        ("english", "no rounds until Monday"),
        ("german", "keine Runden bis Montag"),
        ("german", "keine Runden für 3 Tage"),
        ("german", "3 Tage lang keine Runde"),
        ("spanish", "sin rondas hasta el lunes"),
        ("spanish", "sin rondas por 3 días"),
    ],
)
def test_a_pause_of_the_rounds_is_said_in_each_language(chat, language, words):
    chat.told(f"language {language}")
    chat.told(words)
    with chat.store.look() as work:
        settings = work.keepers.get(chat.keeper.id).settings
    assert (f"{settings.rounds_off_from:%m-%d}", f"{settings.rounds_off_until:%m-%d}") == ("05-15", "05-17")


@pytest.mark.parametrize(
    ("language", "words"),
    [("english", "no round today"), ("german", "heute keine Runde"), ("spanish", "hoy sin ronda")],
)
def test_no_round_today_holds_off_one_that_is_yet_to_come(chat, language, words):
    chat.told(f"language {language}")
    chat.now = "2026-05-15 06:30"
    chat.told(words)
    with chat.store.look() as work:
        settings = work.keepers.get(chat.keeper.id).settings
    assert not settings.has_round(settings.rounds_off_from)
    assert f"{settings.rounds_off_from} {settings.rounds_off_until}" == "2026-05-15 2026-05-15"


def test_no_round_today_leaves_a_pause_to_come_as_it_is(chat):
    chat.told("no rounds from 20 to 25 May")
    chat.now = "2026-05-15 06:30"
    chat.told("no round today")
    with chat.store.look() as work:
        settings = work.keepers.get(chat.keeper.id).settings
    assert f"{settings.rounds_off_from} {settings.rounds_off_until}" == "2026-05-20 2026-05-25"
    chat.now = "2026-05-15 08:00"
    assert chat.play("! round") == []


def test_an_hour_for_every_day_is_one_for_every_day(chat):
    chat.told("rounds only on weekends")
    chat.told("round at 9 on weekends")
    assert "07:30" in chat.told("round at 7:30")
    assert chat.told("round at 8 every day") == "Round at 08:00."


@pytest.mark.parametrize(
    ("language", "words"), [("german", "zeig die Runde"), ("spanish", "muéstrame la ronda")]
)
def test_the_round_is_asked_for_in_each_language(chat, language, words):
    chat.told(f"language {language}")
    chat.told(words)
    assert any(len(reply.buttons) > 2 for reply in chat.shown)
