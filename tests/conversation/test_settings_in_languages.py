"""How the round is set in German and Spanish: the same settings as by the English words."""

from __future__ import annotations

from dataclasses import replace

import pytest

from bot.reading import ShelfNames
from bot.reading.instructions import examples, read_instruction
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
]


@pytest.mark.parametrize(
    ("language", "wish", "english"),
    [row for en, de, es in WISHES for row in (("de", de, en), ("es", es, en))],
)
def test_a_wish_for_the_round_is_the_same_in_each_language(language, wish, english):
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
