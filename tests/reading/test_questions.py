"""Questions are read by what they turn on: the same words in another order ask the same."""

from dataclasses import replace
from datetime import datetime
from itertools import permutations
from zoneinfo import ZoneInfo

import pytest

from bot.reading import ShelfNames, read, reading_to_json
from bot.reading.model import ReadingKind, Topic
from bot.terms import Kind, Specimen
from tests.reading.corpus import corpus

SHELF = corpus("contract")
NOW = datetime(2026, 6, 18, 20, tzinfo=ZoneInfo("Europe/Dublin"))


def reading(text: str):
    return read(text, SHELF.names, now=NOW, settings=SHELF.settings)


def asked(text: str) -> dict:
    return reading_to_json(reading(text)).get("question", {})


@pytest.mark.parametrize(
    ("words", "question"),
    [
        (("last meal", "Captain's"), {"topic": "last", "kind": "fed", "specimens": ["T12"]}),
        (("legspan", "Friday's"), {"topic": "size", "specimens": ["C4"]}),
        (("next molt", "Saffron's"), {"topic": "next_molt", "specimens": ["A4"]}),
        (("molt interval", "Ink's"), {"topic": "molt_interval", "specimens": ["A2"]}),
        (("records", "Mole's"), {"topic": "history", "specimens": ["C3"]}),
        (("location", "Dot's"), {"topic": "where", "specimens": ["B5"]}),
    ],
)
def test_a_matter_and_whose_it_is_ask_in_either_order_with_and_without_a_mark(words, question) -> None:
    for order in permutations(words):
        said = " ".join(order)
        assert [asked(said), asked(f"{said}?")] == [question, question], said


@pytest.mark.parametrize("noun", ["molt", "moult", "shed"])
@pytest.mark.parametrize(
    "said", ["Dot's next {}", "next {} for Dot", "predict Dot's next {}", "date of Dot's last {}"]
)
def test_a_molt_that_is_asked_about_is_never_stored(said: str, noun: str) -> None:
    assert reading(said.format(noun)).reading is ReadingKind.QUESTION


@pytest.mark.parametrize(
    "told",
    [
        "new record, Ink ate 4 crickets",
        "did shelf C, one cricket apiece",
        "will pull Anvil's sac next week",
        "need to buy a new lamp",
        "Ink's last meal was a cricket on 3 June",
    ],
)
def test_what_tells_or_plans_asks_nothing(told: str) -> None:
    assert reading(told).reading is not ReadingKind.QUESTION


@pytest.mark.parametrize(
    ("text", "days"),
    [
        ("who's gone 3 weeks without food", 21),
        ("anyone gone a month without eating?", 30),
        ("which ones have I not fed in the past fortnight", 14),
        ("whose last meal was over 3 weeks ago", 21),
    ],
)
def test_a_length_of_time_is_heard_wherever_it_stands(text: str, days: int) -> None:
    assert asked(text) == {"topic": "not_eaten", "days": days}


@pytest.mark.parametrize(
    ("text", "specimens"),
    [
        ("history of hornet", ["H1"]),
        ("how is hornet", ["H1"]),
        ("did hornet eat yesterday", ["H1"]),
        ("how many hornets do I need", []),
    ],
)
def test_prey_that_is_somebodys_name_is_that_animal_where_a_question_is_about_one(text, specimens) -> None:
    hornet = Specimen(tag="H1", name="Hornet", species="Psalmopoeus irminia")
    shelf = ShelfNames.of((hornet, Specimen(tag="H2", name="Ink", species="Grammostola pulchra")))
    question = reading_to_json(read(text, shelf, now=NOW, settings=SHELF.settings))["question"]
    assert question.get("specimens", []) == specimens


@pytest.mark.parametrize(
    ("text", "topic", "tag"),
    [
        ("can I rehouse Ink?", "rehouse_due", "A2"),
        ("could I move Ink to a bigger tub now?", "rehouse_due", "A2"),
        ("is it safe to move Twig now?", "rehouse_due", "D2"),
        ("can Ink be moved?", "rehouse_due", "A2"),
        ("can I feed Mole?", "due", "C3"),
        ("may I feed Mole yet", "due", "C3"),
        ("can I water Mole now?", "due", "C3"),
        ("can Mole be fed", "due", "C3"),
        ("can I open Mole's burrow?", "status", "C3"),
    ],
)
def test_whether_one_may_is_no_question_of_when_it_last_was(text: str, topic: str, tag: str) -> None:
    assert asked(text) == {"topic": topic, "specimens": [tag]}


@pytest.mark.parametrize("text", ["what's first today?", "what is left?", "anyone I forgot?", "who's first"])
def test_what_comes_first_and_what_is_left_is_what_is_due(text: str) -> None:
    assert asked(text) == {"topic": "due"}


@pytest.mark.parametrize(
    "text", ["how long until Ink is adult?", "how long till Ink matures", "when is Ink full grown"]
)
def test_when_an_animal_is_grown_is_asked_in_any_words(text: str) -> None:
    found = reading(text).question
    assert found is not None
    assert (found.topic, found.specimens) == (Topic.MATURITY, ("A2",))


@pytest.mark.parametrize("text", ["when did Captain mature?", "how long has Captain been mature"])
def test_when_an_animal_matured_is_asked_of_the_record(text: str) -> None:
    assert asked(text) == {"topic": "last", "kind": "matured", "specimens": ["T12"]}


@pytest.mark.parametrize(
    ("language", "said", "kind", "specimens", "since", "until"),
    [
        ("en", "is feeding Ink tomorrow ok?", None, ("A2",), "2026-06-19", "2026-06-19"),
        ("en", "who gets water tomorrow", Kind.WATERED, (), "2026-06-19", "2026-06-19"),
        ("en", "what's on at the weekend?", None, (), "2026-06-20", "2026-06-21"),
        ("en", "who is due this weekend", None, (), "2026-06-20", "2026-06-21"),
        ("de", "kann ich Ink morgen füttern?", None, ("A2",), "2026-06-19", "2026-06-19"),
        ("de", "wer bekommt morgen Wasser", None, (), "2026-06-19", "2026-06-19"),
        ("de", "was steht am Wochenende an", None, (), "2026-06-20", "2026-06-21"),
        ("es", "¿puedo alimentar a Ink mañana?", None, ("A2",), "2026-06-19", "2026-06-19"),
        ("es", "qué toca el fin de semana", None, (), "2026-06-20", "2026-06-21"),
    ],
)
def test_what_is_due_on_days_to_come_is_asked_in_many_ways(language, said, kind, specimens, since, until):
    found = read(said, SHELF.names, now=NOW, settings=replace(SHELF.settings, language=language)).question
    assert found is not None
    assert (found.topic, found.kind, found.specimens) == (Topic.DUE, kind, specimens)
    assert (str(found.since), str(found.until)) == (since, until)


@pytest.mark.parametrize(
    ("language", "said"),
    [
        ("en", "what's Friday's legspan"),
        ("en", "feeding Ink at the weekend"),
        ("en", "Ink gets water tomorrow"),
        ("de", "Ink bekommt morgen Wasser"),
        ("de", "Ink soll morgen Wasser bekommen"),
    ],
)
def test_what_only_sounds_like_it_asks_for_nothing_due(language, said):
    found = read(said, SHELF.names, now=NOW, settings=replace(SHELF.settings, language=language))
    assert found.question is None or found.question.topic is not Topic.DUE
    assert not found.entries


@pytest.mark.parametrize(
    ("language", "said", "reading"),
    [
        ("de", "Ink nicht füttern bis 1. Juli", ReadingKind.HOLD),
        ("de", "Ink heute nicht füttern", ReadingKind.UNCLEAR),
        ("de", "Ink konnte ich nicht füttern", ReadingKind.UNCLEAR),
        ("es", "no alimentar a Ink hasta el 1 de julio", ReadingKind.HOLD),
        ("es", "no alimentar a Ink", ReadingKind.UNCLEAR),
    ],
)
def test_that_one_is_not_to_be_fed_is_no_refusal(language, said, reading):
    found = read(said, SHELF.names, now=NOW, settings=replace(SHELF.settings, language=language))
    assert (found.reading, found.entries) == (reading, ())


@pytest.mark.parametrize(
    ("text", "question"),
    [
        ("regué la A. ¿a quién le toca hoy?", {"topic": "due"}),
        ("regué la A ¿a quiénes les toca?", {"topic": "due"}),
        ("comió Ink. ¿cuándo le toca?", {"topic": "due", "specimens": ["A2"]}),
        ("comió Ink ¿y Mole?", {"topic": "status", "specimens": ["C3"]}),
        ("comió Ink, ¿cuándo mudó Mole?", {"topic": "last", "kind": "molted", "specimens": ["C3"]}),
        ("comió Ink, y Mole qué tal", {"topic": "status", "specimens": ["C3"]}),
    ],
)
def test_a_spanish_question_behind_what_is_told_begins_at_its_mark_or_at_whom_it_is_about(
    text: str, question: dict
) -> None:
    shelf = corpus("es/tarde")
    said = reading_to_json(read(text, shelf.names, now=NOW, settings=shelf.settings))
    assert (said["reading"], said["question"]) == ("entries", question)
