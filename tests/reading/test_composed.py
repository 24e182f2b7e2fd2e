"""Clauses that stand side by side keep to themselves: what each tells is known, so the whole must be."""

import pytest

from bot.reading import read, reading_to_json
from tests.reading.composed import TAGS, composed
from tests.reading.composed_lists import lists
from tests.reading.corpus import Labelled, Verdict, corpus, judged

SHELF = corpus("contract")
NOW = SHELF.messages[0].now.replace(hour=19, minute=20)


def _read(text: str) -> dict[str, object]:
    return reading_to_json(read(text, SHELF.names, now=NOW, settings=SHELF.settings))


@pytest.mark.parametrize("seed", range(4))
def test_two_clauses_side_by_side_are_never_read_as_something_neither_says(seed: int) -> None:
    verdicts = {
        text: judged(Labelled("composed", text, NOW, (meant,)), _read(text))
        for text, meant in composed(seed, 400, NOW.date().isoformat())
    }
    wrong = [text for text, verdict in verdicts.items() if verdict is Verdict.WRONG]
    exact = sum(verdict is Verdict.EXACT for verdict in verdicts.values())
    assert not wrong
    assert exact > 0.85 * len(verdicts)


@pytest.mark.parametrize("seed", range(2))
def test_a_list_of_several_animals_and_kinds_is_read_row_for_row(seed: int) -> None:
    verdicts = {
        text: judged(Labelled("list", text, NOW, (meant,)), _read(text))
        for text, meant in lists(seed, 200, NOW.date().isoformat())
    }
    assert not [text for text, verdict in verdicts.items() if verdict is Verdict.WRONG]
    assert sum(verdict is Verdict.EXACT for verdict in verdicts.values()) > 0.95 * len(verdicts)


@pytest.mark.parametrize(
    "words", ["either {} or {} ate a roach", "{} or {} took 2 crickets", "either {} or {} molted"]
)
@pytest.mark.parametrize("pair", list(zip(sorted(TAGS), sorted(TAGS)[1:], strict=False))[::3])
def test_of_two_animals_joined_by_or_one_is_asked_for(words: str, pair: tuple[str, str]) -> None:
    got = _read(words.format(*pair))
    assert got["reading"] == "ask"
    assert got["ask"]["choices"] == sorted(TAGS[name] for name in pair)  # type: ignore[index]


@pytest.mark.parametrize(
    "text", ["fed Ink, mole frobbed", "watered Ink and mole borked", "fed Ink, Saffron and mole yonderly"]
)
def test_a_word_not_understood_behind_the_last_of_a_list_is_asked_about(text: str) -> None:
    assert _read(text)["reading"] == "ask"


@pytest.mark.parametrize(
    ("text", "entries"),
    [
        (
            "Rehoused mole, then 30 ml in the soil for her",
            [("rehoused", ["C3"], {}), ("watered", ["C3"], {"how": "substrate", "ml": 30})],
        ),
        (
            "25.5C in the room, watered shelf C",
            [("climate", [], {"temp_c": 25.5}), ("watered", ["C1", "C2", "C3", "C4"], {})],
        ),
        (
            "Anvil cleared all 6 of her small red runners",
            [("fed", ["C1"], {"prey": "red runner roach", "count": 6, "size": "small"})],
        ),
        (
            "misted Dottie but Twig and mole both took a superworm",
            [
                ("watered", ["B6"], {"how": "misted"}),
                ("fed", ["C3", "D2"], {"prey": "superworm", "count": 1}),
            ],
        ),
    ],
)
def test_what_one_clause_says_is_not_lent_to_another(
    text: str, entries: list[tuple[str, list[str], dict[str, object]]]
) -> None:
    day = NOW.date().isoformat()
    want = {
        "reading": "entries",
        "entries": [{"kind": k, "day": day, "specimens": who, **more} for k, who, more in entries],
    }
    assert judged(Labelled("lent", text, NOW, (want,)), _read(text)) is Verdict.EXACT


@pytest.mark.parametrize("meal", ["dubias", "a dubia", "2 crickets", "a small roach each"])
@pytest.mark.parametrize("whom", ["Ink and mole", "Ink, Dot and mole", "Ink & T07", "A2 and C3"])
def test_the_day_behind_a_meal_is_that_of_all_who_are_listed(whom: str, meal: str) -> None:
    for verb in ("fed", "gave"):
        got = _read(f"{verb} {whom} {meal} yesterday")
        assert got["reading"] == "entries"
        assert {entry["day"] for entry in got["entries"]} == {"2026-05-13"}  # type: ignore[attr-defined]


@pytest.mark.parametrize("words", ["no food taken", "no crickets eaten", "no roach taken"])
def test_no_food_taken_is_no_meal(words: str) -> None:
    got = _read(f"Ink: {words}")
    assert got["reading"] != "entries" or {e["kind"] for e in got["entries"]} == {"refused"}  # type: ignore[attr-defined]
