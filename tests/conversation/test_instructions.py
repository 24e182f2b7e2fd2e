from __future__ import annotations

from datetime import time
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bot.reading import ShelfNames
from bot.reading.days.wall_times import wall_time
from bot.reading.round_answers import RoundAnswer, Said, read_round_answer
from bot.reading.short_answers import is_no, is_nobody, is_yes
from bot.reading.wanted.instructions import examples, read_instruction
from bot.reading.wanted.newcomer import Newcomer
from bot.reading.wanted.wanted import Action, Instruction
from bot.terms import DateOrder, Sex, Stage, Units
from tests.conversation.given import INVENTED_SHELF

NAMES = ShelfNames.of(INVENTED_SHELF)


def said(text: str) -> Instruction | None:
    return read_instruction(text, NAMES)


@pytest.mark.parametrize(("action", "example"), examples().items())
def test_the_example_of_an_action_reaches_it(action, example):
    found = said(example)
    assert found is not None
    assert found.action is action


def test_every_action_has_its_phrasings():
    assert set(examples()) == set(Action)


@pytest.mark.parametrize(
    ("text", "newcomer"),
    [
        ("add animal Zoe to rack b please", Newcomer(words=("Zoe",), place="rack b")),
        ("new animal Zoe ", Newcomer(words=("Zoe",))),
        ("new Zoe ", Newcomer(words=("Zoe",))),
        ("add a new tarantula called Zoe", Newcomer(words=("Zoe",))),
        (
            "new sling: B. hamorii, tag A8, 1.5 cm on shelf A",
            Newcomer(
                words=("B. hamorii",),
                kind="B. hamorii",
                tag="A8",
                span_cm=Decimal("1.5"),
                place="shelf A",
                stage=Stage.SLING,
            ),
        ),
        (
            "add animal Zoe, Brachypelma hamorii, female, 5 in",
            Newcomer(
                words=("Zoe", "Brachypelma hamorii"),
                kind="Brachypelma hamorii",
                sex=Sex.FEMALE,
                span_cm=Decimal("12.70"),
            ),
        ),
        (
            "add 3 GBB slings on rack B",
            Newcomer(words=("GBB",), kind="GBB", count=3, stage=Stage.SLING, place="rack B"),
        ),
        (
            "another GBB sling to rack B, call it Comet",
            Newcomer(words=("GBB",), kind="GBB", name="Comet", stage=Stage.SLING, place="rack B"),
        ),
        (
            "i have a juvenile cyriopagopus lividus, Mole, rack A bottom",
            Newcomer(
                words=("cyriopagopus lividus", "Mole"),
                kind="cyriopagopus lividus",
                stage=Stage.JUVENILE,
                place="rack A bottom",
                kept=True,
            ),
        ),
        (
            "i also have an adult female grammostola pulchra called Duchess, had her since 2021",
            Newcomer(
                words=("grammostola pulchra",),
                kind="grammostola pulchra",
                name="Duchess",
                stage=Stage.ADULT,
                sex=Sex.FEMALE,
                came="2021",
            ),
        ),
        (
            "add animal Baron, mature male, B. hamorii",
            Newcomer(words=("Baron", "B. hamorii"), kind="B. hamorii", stage=Stage.MATURE_MALE, sex=Sex.MALE),
        ),
        (
            "add Aphonopelma sp. New River called River",
            Newcomer(words=("Aphonopelma sp. New River",), kind="Aphonopelma sp. New River", name="River"),
        ),
        ("add animal yes add mole", Newcomer(unread=("add mole",))),
        (
            "add animal Monocentropus balfouri, lot of 6",
            Newcomer(words=("Monocentropus balfouri",), kind="Monocentropus balfouri", count=6, lot=True),
        ),
        ("add animal", Newcomer()),
    ],
)
def test_what_is_said_of_a_newcomer(text, newcomer):
    found = said(text)
    assert found is not None
    assert found.action is Action.ADD
    assert found.newcomers == ((newcomer,) if newcomer != Newcomer() else ())


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("add Sky GBB; Ziggy OBT", [("GBB", None), ("OBT", None)]),
        ("add Sky, a 5 cm GBB on rack B, and Ziggy, OBT sling about 2 cm", [("GBB", None), ("OBT", None)]),
        ("add:\n1) Sky GBB\n2) Ziggy the OBT", [("GBB", None), ("OBT", None)]),
        (
            "add Sky the GBB, Ziggy the OBT and Mo the G. pulchra",
            [("GBB", None), ("OBT", None), ("G. pulchra", None)],
        ),
        ("add a GBB called Sky and an OBT called Ziggy", [("GBB", "Sky"), ("OBT", "Ziggy")]),
        (
            "i keep 2 GBBs, Sky and Blue, and an OBT called Ziggy",
            [("GBBs", "Sky"), ("GBBs", "Blue"), ("OBT", "Ziggy")],
        ),
        ("add 3 GBB slings: Fig, Date, Plum", [("GBB", "Fig"), ("GBB", "Date"), ("GBB", "Plum")]),
        (
            "add 3 GBB slings, call them Fig, Date and Plum",
            [("GBB", "Fig"), ("GBB", "Date"), ("GBB", "Plum")],
        ),
        ("I have three GBBs, Fig Date and Plum", [("GBBs", "Fig"), ("GBBs", "Date"), ("GBBs", "Plum")]),
        ("add Fig and Date, two GBBs", [("GBBs", "Fig"), ("GBBs", "Date")]),
        ("add two GBBs called fig and date", [("GBBs", "fig"), ("GBBs", "date")]),
        ("add a GBB called Salt and Pepper", [("GBB", "Salt and Pepper")]),
        ("add 4 GBB slings: Fig, Date", [("GBB", None)]),
        ("add animal Zoe, Brachypelma hamorii, female", [("Brachypelma hamorii", None)]),
        ("add Coal (G. pulchra, female, 14 cm), Sky (GBB, 5 cm)", [("G. pulchra", None), ("GBB", None)]),
    ],
)
def test_several_animals_are_told_of_in_one_message(text, told):
    found = said(text)
    assert found is not None
    assert [(one.kind, one.name) for one in found.newcomers] == told


@pytest.mark.parametrize(
    ("text", "tags"),
    [
        ("add 3 B. hamorii slings, tags H1 to H3", ["H1", "H2", "H3"]),
        ("add B. hamorii x3, H09-H11", ["H09", "H10", "H11"]),
        ("add two GBBs, tags B7 and B9", ["B7", "B9"]),
        ("add 3 GBB, 2 to 3 cm", [None]),
    ],
)
def test_several_animals_have_a_tag_each_where_there_is_one_for_each(text, tags):
    found = said(text)
    assert found is not None
    assert [one.tag for one in found.newcomers] == tags


def test_what_is_said_of_all_goes_to_each_that_lacks_it():
    found = said("add Sky GBB, 5 cm; Ziggy OBT, rack B; all slings on shelf A")
    assert found is not None
    assert [(one.place, one.stage, one.span_cm) for one in found.newcomers] == [
        ("shelf A", Stage.SLING, Decimal(5)),
        ("rack B", Stage.SLING, None),
    ]


@pytest.mark.parametrize(
    "text",
    [
        "add a note to Ink",
        "add water to the GBB dish",
        "add 2 crickets to the sling tub",
        "i have a GBB in premolt",
        "i have 2 slings refusing food",
        "another GBB died",
        "another GBB molt",
    ],
)
def test_what_is_no_animal_to_be_added_is_not_taken_for_one(text):
    found = said(text)
    assert found is None or found.action is not Action.ADD


@pytest.mark.parametrize(
    ("text", "action", "tags", "value"),
    [
        ("rename Pebble to Boulder", Action.RENAME, ("A1",), "Boulder"),
        ("Rename A1 as Boulder!", Action.RENAME, ("A1",), "Boulder"),
        ("change the name of Pebble to Boulder", Action.RENAME, ("A1",), "Boulder"),
        ("retag the commune to E1", Action.RETAG, ("C1",), "E1"),
        ("change Pebble's name to Boulder", Action.RENAME, ("A1",), "Boulder"),
        ("call Pebble Boulder", Action.RENAME, ("A1",), "Boulder"),
        ("Pebble's tag is P9", Action.RETAG, ("A1",), "P9"),
        ("give Pebble the tag P9", Action.RETAG, ("A1",), "P9"),
        ("move GBB to shelf A", Action.MOVE, ("B1", "B2"), "shelf A"),
        ("retire Duke", Action.RETIRE, ("R3",), None),
        ("delete Duke please", Action.RETIRE, ("R3",), None),
    ],
)
def test_animals_are_renamed_moved_and_retired(text, action, tags, value):
    assert said(text) == Instruction(action=action, tags=tags, value=value)


@pytest.mark.parametrize(
    ("text", "tags", "place", "rest"),
    [
        ("move Pebble to shelf B", ("A1",), "shelf B", None),
        ("moved Pebble to shelf B", ("A1",), "shelf B", None),
        ("move Pebble to the drawer 3", ("A1",), "drawer 3", None),
        ("moved Rust n Pebble to the shelf above the desk", ("A1", "A2"), "shelf above the desk", None),
        ("move Pebble, Rust and B1 to the cabinet today", ("A1", "A2", "B1"), "cabinet", None),
        ("Pebble and Rust go back to the desk shelf", ("A1", "A2"), "desk shelf", None),
        ("Pebble is on shelf B actually", ("A1",), "shelf B", None),
        (
            "moved Pebble to cabinet and gave her fresh substrate",
            ("A1",),
            "cabinet",
            "gave her fresh substrate",
        ),
        ("moved Pebble to shelf B, watered her", ("A1",), "shelf B", "watered her"),
    ],
)
def test_animals_are_moved_and_what_is_said_beside_is_another_matter(text, tags, place, rest):
    assert said(text) == Instruction(action=Action.MOVE, tags=tags, value=place, every=True, rest=rest)


@pytest.mark.parametrize(
    "text",
    [
        "moved Pebble to a bigger tub",
        "Pebble is on the wall",
        "Pebble is in the burrow",
        "Pebble is on the shelf above the desk",  # where nobody stands yet
        "call Pebble tomorrow",
    ],
)
def test_what_is_no_place_on_the_shelf_is_left_to_the_ordinary_reading(text):
    assert said(text) is None


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("use inches", Instruction(action=Action.UNITS, units=Units.US)),
        ("units: cm", Instruction(action=Action.UNITS, units=Units.METRIC)),
        ("dates are day first", Instruction(action=Action.DATE_ORDER, order=DateOrder.DMY)),
        ("round at 7:30", Instruction(action=Action.ROUND_TIME, at=time(7, 30), value="7:30")),
        ("send me the round at 7 pm", Instruction(action=Action.ROUND_TIME, at=time(19), value="7 pm")),
        ("quiet from 22 to 7", Instruction(action=Action.QUIET, quiet=(time(22), time(7)))),
        ("no quiet hours", Instruction(action=Action.QUIET, quiet=(time(0), time(0)))),
        ("feeders come on Wednesdays", Instruction(action=Action.DELIVERY, weekday=2)),
        ("my feeder order arrives every fri", Instruction(action=Action.DELIVERY, weekday=4)),
        ("the delivery day is a Monday", Instruction(action=Action.DELIVERY, weekday=0)),
        ("no delivery day any more", Instruction(action=Action.DELIVERY)),
        ("my time zone is GMT+2", Instruction(action=Action.ZONE, value="GMT+2")),
        ("end reminder 2", Instruction(action=Action.END_REMINDER, value="2")),
        ("help", Instruction(action=Action.HELP)),
        ("?", Instruction(action=Action.HELP)),
        ("why?", Instruction(action=Action.WHY)),
        ("never mind", Instruction(action=Action.CANCEL)),
        ("Can you delete all the data you have on me?", Instruction(action=Action.ERASE)),
        ("lösche alles, was du über mich hast", Instruction(action=Action.ERASE)),
        ("borra todos mis datos", Instruction(action=Action.ERASE)),
        ("what do you know about me?", Instruction(action=Action.EXPORT)),
        ("a copy of my data please", Instruction(action=Action.EXPORT)),
        ("exporta mis datos", Instruction(action=Action.EXPORT)),
    ],
)
def test_settings_and_small_words(text, found):
    assert said(text) == found


@pytest.mark.parametrize(
    "text",
    [
        "fed Pebble 2 crickets",
        "moved Pebble into a 2 L jar",
        "moved Pebble to a bigger enclosure",
        "rehoused Pebble",
        "delete the last one pls",
        "remove Nobody",
        "rename Nobody to Somebody",
        "move to shelf B",
        "add water to Pebble",
        "delete all that was wrong",
        "delete everything I told you today",
        "forever blowing bubbles",
        "new Pebble",
        "new molt",
        "new substrate",
        "new B. hamorii sling from Brno expo, 20 EUR",
        "is Pebble now on shelf B?",
        "more crickets for Pebble",
        "why did Pebble refuse?",
        "quiet evening at the shelf",
        "round 2 of feeding Pebble",
        "help, Pebble is stuck in her molt",
        "stop feeding prompts for Pebble",
        "what is due today?",
        "retag Pebble to a very long thing that is no tag",
        "",
        "🕷️",
    ],
)
def test_what_is_no_instruction_is_left_to_the_ordinary_reading(text):
    assert said(text) is None


@given(st.text(max_size=200))
def test_any_text_at_all_is_read_without_a_failure(text):
    said(text)
    read_round_answer(text)
    assert not (is_yes(text) and is_no(text))


@pytest.mark.parametrize(
    ("words", "moment"),
    [
        ("8", time(8)),
        ("8:05", time(8, 5)),
        ("20.15", time(20, 15)),
        ("8 pm", time(20)),
        ("12 am", time(0)),
        ("12pm", time(12)),
        ("noon", time(12)),
        ("24", None),
        ("8:61", None),
        ("13 pm", None),
        ("soon", None),
    ],
)
def test_a_time_of_day(words, moment):
    assert wall_time(words) == moment


@pytest.mark.parametrize(
    ("words", "moment"),
    [
        ("half 7", time(7, 30)),
        ("half past seven", time(7, 30)),
        ("quarter to 8", time(7, 45)),
        ("a quarter past nine", time(9, 15)),
        ("seven", time(7)),
        ("7 in the evening", time(19)),
        ("half 7 in the evening", time(18 + 1, 30)),
        ("half", None),
        ("half 7:10", None),
        ("13 in the evening", None),
    ],
)
def test_a_spoken_time_of_day(words, moment):
    assert wall_time(words) == moment


@pytest.mark.parametrize(
    ("text", "days"),
    [
        ("stop sending rounds", ""),
        ("no more rounds", ""),
        ("i don't want rounds anymore", ""),
        ("turn off the morning round", ""),
        ("start rounds again", "0123456"),
        ("start sending me the round again", "0123456"),
        ("rounds only on weekends", "56"),
        ("rounds on Mon, Wed and Fri", "024"),
        ("only send the round on mondays", "0"),
        ("send the round Friday to Monday", "0456"),
        ("no rounds on sundays", "012345"),
        ("round every day except Sunday", "012345"),
        ("rounds every day", "0123456"),
    ],
)
def test_on_which_days_the_round_comes_is_said_in_words(text, days):
    found = said(text)
    assert found is not None
    assert found.action is Action.ROUND_DAYS
    assert found.weekdays == frozenset(map(int, days))


def test_days_of_the_round_that_no_week_has_are_not_guessed():
    assert said("rounds every 3 days") == Instruction(action=Action.ROUND_DAYS)


@pytest.mark.parametrize("text", ["round", "no round", "no round today", "stop the round", "start the round"])
def test_a_word_on_todays_round_alters_no_setting(text):
    assert said(text) is None


@pytest.mark.parametrize(
    "text",
    ["shut up for today", "be quiet today", "leave me alone for the day", "no messages today"],
)
def test_quiet_for_today_is_said_in_words(text):
    assert said(text) == Instruction(action=Action.HUSH)


def test_yes_no_and_nobody():
    assert is_yes("Yes!")
    assert is_yes("ok")
    assert is_no("nope.")
    assert not is_yes("yesterday")
    assert is_nobody("no name")


@pytest.mark.parametrize(
    ("text", "answer"),
    [
        ("all done", RoundAnswer(said=Said.DONE)),
        ("Done!", RoundAnswer(said=Said.DONE)),
        ("all done except B3", RoundAnswer(said=Said.DONE, out=("B3",))),
        ("all took except 3 and Moss", RoundAnswer(said=Said.TOOK, out=("3", "Moss"))),
        ("everyone ate", RoundAnswer(said=Said.FED_ALL)),
        ("fed everyone", RoundAnswer(said=Said.FED_ALL)),
        ("feeding done", RoundAnswer(said=Said.TOOK)),
        ("water done", RoundAnswer(said=Said.WATERED)),
        ("everyone ate but Rust, Nib & B1", RoundAnswer(said=Said.TOOK, out=("Rust", "Nib", "B1"))),
        ("only water today", RoundAnswer(said=Said.WATERED)),
        ("B done", RoundAnswer(said=Said.DONE, only=("B",))),
        ("shelf B is done", RoundAnswer(said=Said.DONE, only=("shelf B",))),
        ("nobody ate", RoundAnswer(said=Said.REFUSED)),
        ("later", RoundAnswer(said=Said.LATER)),
        ("skip", RoundAnswer(said=Said.SKIP)),
        ("not now", RoundAnswer(said=Said.LATER)),
        ("not now pls", RoundAnswer(said=Said.LATER)),
        ("later til 8", RoundAnswer(said=Said.LATER, at="8")),
        ("snooze 2 hours", RoundAnswer(said=Said.LATER, after="2 hours")),
        ("the rest later", RoundAnswer(said=Said.LATER)),
        ("skip the rest pls", RoundAnswer(said=Said.SKIP)),
        ("the rest tomorrow", RoundAnswer(said=Said.SKIP)),
        ("skip Rust today", RoundAnswer(said=Said.SKIP, only=("Rust",))),
        ("fed the rest", RoundAnswer(said=Said.TOOK)),
        ("rest done", RoundAnswer(said=Said.DONE)),
        (
            "Rust ate but Nib refused, rest done",
            RoundAnswer(said=Said.DONE, aside="Rust ate but Nib refused"),
        ),
        ("one refused, the others ate", RoundAnswer(said=Said.SOME)),
        ("all took but one", RoundAnswer(said=Said.SOME)),
        ("B all done except Nib", RoundAnswer(said=Said.DONE, only=("B",), out=("Nib",))),
        ("Anna did the rack 1 ones", RoundAnswer(said=Said.DONE, only=("rack 1",), by="Anna")),
        ("water is done everywhere", RoundAnswer(said=Said.WATERED)),
        ("water everyone but Rust", RoundAnswer(said=Said.WATERED_ALL, out=("Rust",))),
        ("all done?", None),
        ("fed all of shelf B", None),
        ("Pebble ate", None),
        ("did the rack", RoundAnswer(said=Said.DONE, only=("rack",))),
        ("did the feeding", RoundAnswer(said=Said.TOOK)),
        ("only fed today", RoundAnswer(said=Said.TOOK)),
        ("fed but didn't water", RoundAnswer(said=Said.TOOK)),
        ("all but the water", RoundAnswer(said=Said.TOOK)),
        ("everything but the feeding", RoundAnswer(said=Said.WATERED)),
        ("the rest is for tomorrow", RoundAnswer(said=Said.SKIP)),
        ("no round today", RoundAnswer(said=Said.NO_ROUND)),
        ("skip today's round", RoundAnswer(said=Said.NO_ROUND)),
        ("B later", RoundAnswer(said=Said.LATER, only=("B",))),
    ],
)
def test_an_answer_to_the_round(text, answer):
    assert read_round_answer(text) == answer
