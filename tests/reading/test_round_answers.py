"""Answers to the round in German and Spanish; the English ones are in ``test_instructions``."""

from __future__ import annotations

import pytest

from bot.reading.round_answers import RoundAnswer, Said, moment_said, read_round_answer, said_of_them

#: What is said, in German and in Spanish, and what it answers.
SAYINGS = [
    ("alle haben gefressen außer 3 und Moss", "todas comieron menos 3 y Moss", Said.TOOK, ("3", "Moss"), ()),
    ("alle bis auf Rust haben gefressen", "todas menos Rust comieron", Said.TOOK, ("Rust",), ()),
    ("alle gefressen, nur Rust nicht", "comieron todas, pero Rust no", Said.TOOK, ("Rust",), ()),
    ("ich habe alle gefüttert außer Rust", "di de comer a todas menos a Rust", Said.TOOK, ("Rust",), ()),
    ("alle haben gefressen", "todas comieron", Said.FED_ALL, (), ()),
    ("B erledigt", "B hecho", Said.DONE, (), ("B",)),
    ("mit Regal A fertig", "terminé con estante A", Said.DONE, (), ("@A",)),
    ("alles erledigt außer B3", "todo hecho menos B3", Said.DONE, ("B3",), ()),
    ("alles erledigt, danke", "todo listo, gracias", Said.DONE, (), ()),
    ("fertig", "hecho", Said.DONE, (), ()),
    ("der Rest ist erledigt", "las demás ya están hechas", Said.DONE, (), ()),
    ("heute nur Wasser", "hoy solo agua", Said.WATERED, (), ()),
    ("heute nur gefüttert", "hoy solo comida", Said.TOOK, (), ()),
    ("alles außer Wasser", "todo menos el agua", Said.TOOK, (), ()),
    ("nur gewässert", "solo di agua", Said.WATERED, (), ()),
    ("alle gewässert außer Rust", "di agua a todas menos Rust", Said.WATERED_ALL, ("Rust",), ()),
    ("habe alle fälligen gewässert", "di agua a las que tocaban", Said.WATERED_DUE, (), ()),
    ("die fälligen gefüttert", "di de comer a las que tocaban", Said.FED_DUE, (), ()),
    ("keiner hat gefressen", "ninguna comió", Said.REFUSED, (), ()),
    ("zwei wollten nicht", "dos no quisieron", Said.SOME, (), ()),
    ("später", "más tarde", Said.LATER, (), ()),
    ("den Rest mache ich später", "las demás luego", Said.LATER, (), ()),
    ("heute nicht", "hoy no", Said.SKIP, (), ()),
    ("lass B heute aus", "salta B hoy", Said.SKIP, (), ("B",)),
    ("der Rest morgen", "el resto mañana", Said.SKIP, (), ()),
    ("heute keine Runde", "hoy sin ronda", Said.NO_ROUND, (), ()),
]
IN_WORDS = {"de": {"@A": "Regal A"}, "es": {"@A": "estante A"}}


@pytest.mark.parametrize(
    ("language", "text", "said", "out", "only"),
    [
        (language, text, said, out, tuple(IN_WORDS[language].get(place, place) for place in only))
        for german, spanish, said, out, only in SAYINGS
        for language, text in (("de", german), ("es", spanish))
    ],
)
def test_a_round_is_answered_in_the_keepers_language(language, text, said, out, only):
    assert read_round_answer(text, language) == RoundAnswer(said=said, out=out, only=only)


@pytest.mark.parametrize("language", ["de", "es"])
def test_english_answers_a_round_in_every_language(language):
    assert read_round_answer("all took except 3 and Moss", language) == RoundAnswer(
        said=Said.TOOK, out=("3", "Moss")
    )


@pytest.mark.parametrize(
    ("language", "text"),
    [
        ("de", "Rust hat 2 Grillen gefressen"),
        ("de", "alle gefressen?"),
        ("de", "alles gut"),
        ("de", "um 8"),
        ("de", "in 2 Stunden"),
        ("de", "der Rest"),
        ("de", "Rust ist fertig mit der Häutung"),
        ("es", "Rust comió 2 grillos"),
        ("es", "¿comieron todas?"),
        ("es", "todo bien"),
        ("es", "a las 8"),
        ("es", "en 2 horas"),
        ("es", "el resto"),
        ("es", "las que tocaban"),
        ("en", "alle haben gefressen"),
        ("en", "todo hecho"),
    ],
)
def test_what_is_no_answer_to_a_round_is_left_to_the_ordinary_reading(language, text):
    assert read_round_answer(text, language) is None


@pytest.mark.parametrize(
    ("language", "text", "order"),
    [
        ("de", "später um 20 Uhr", "erinnere mich um 20 Uhr zu schauen"),
        ("de", "in 2 Stunden nochmal", "erinnere mich in 2 Stunden zu schauen"),
        ("es", "luego a las 20", "recuérdame a las 20 mirar"),
        ("es", "luego en 2 horas", "recuérdame en 2 horas mirar"),
    ],
)
def test_till_when_a_round_is_put_off_is_said_in_the_keepers_language(language, text, order):
    answer = read_round_answer(text, language)
    assert answer is not None
    assert answer.said is Said.LATER
    assert moment_said(answer, language)[0] == order


def test_what_is_said_of_those_excepted_stands_behind_the_word_for_them():
    assert said_of_them(["Rust", "B3"], "sie haben verweigert", "de") == "Rust und B3 haben verweigert"
    assert said_of_them(["Rust"], "ella rechazó", "es") == "Rust rechazó"


@pytest.mark.parametrize(
    ("language", "text", "by"),
    [("de", "Anna hat Regal B gemacht", "Anna"), ("es", "Ana hizo el estante B", "Ana")],
)
def test_who_did_it_is_named(language, text, by):
    answer = read_round_answer(text, language)
    assert answer is not None
    assert answer.by == by
