"""What is in doubt is asked, outlives a restart, and stores nothing before it is answered."""

from __future__ import annotations

import re
from datetime import date

import pytest

from bot.conversation import Conversation
from bot.conversation.texts import say
from bot.terms import Kind


def test_an_open_question_outlives_a_restart_and_can_be_answered_in_words(chat):
    chat.told("GBB ate a fruit fly")
    chat.talk = Conversation()
    chat.told("GBB 2")
    assert [entry.specimens for entry in chat.entries()] == [("B2",)]


def test_the_animal_just_talked_of_is_meant_by_a_pronoun_only(chat):
    """Words without name and pronoun are no statement about whoever came up last."""
    chat.told("how is Pebble?")
    chat.told("fed T14")
    assert chat.entries() == []
    chat.told("cancel")
    chat.told("she ate 2 crickets")
    assert [entry.specimens for entry in chat.entries()] == [("A1",)]


def test_an_instruction_or_an_undo_is_no_answer_to_the_open_question(chat):
    chat.told("fed Pebble 2 crickets")
    chat.told("GBB ate a fruit fly")
    chat.told("rename B2 to Azure")
    assert [entry.specimens for entry in chat.entries()] == [("A1",)]
    chat.told("undo")
    chat.told("undo")
    assert chat.entries() == []
    chat.told("B1")
    assert [entry.specimens for entry in chat.entries()] == [("B1",)]


def test_undo_drops_the_question_just_asked_and_touches_nothing_older(chat):
    chat.told("fed Pebble 2 crickets")
    chat.told("GBB ate a fruit fly")
    assert "question is dropped" in chat.told("undo")
    assert [entry.specimens for entry in chat.entries()] == [("A1",)]
    chat.told("undo")
    assert chat.entries() == []


@pytest.mark.parametrize(
    "later", ["B2 only once a week", "found B1 behind the shelf", "B1 was about, I think"]
)
def test_a_sentence_said_after_another_matter_is_no_answer_to_an_older_question(chat, later):
    chat.told("GBB ate a fruit fly")
    chat.told("watered Pebble")
    chat.told(later)
    assert not [entry for entry in chat.entries() if entry.kind is Kind.FED]


def test_a_name_alone_still_answers_a_question_after_another_matter(chat):
    chat.told("GBB ate a fruit fly")
    chat.told("watered Pebble")
    chat.told("B1")
    assert [entry.specimens for entry in chat.entries() if entry.kind is Kind.FED] == [("B1",)]


def test_an_animal_about_to_be_added_is_not_fed_yet(chat):
    chat.told("new animal Zoe, B. hamorii, to shelf A")
    assert "not on the shelf yet" in chat.told("fed Zoe a roach")
    chat.press("Add, new today")
    assert chat.entries() == []
    chat.told("fed Zoe a roach")
    assert [entry.specimens for entry in chat.entries()] == [("A4",)]


def test_another_message_leaves_the_question_open(chat):
    chat.told("GBB ate a fruit fly")
    chat.told("fed Pebble 2 crickets")
    assert [entry.specimens for entry in chat.entries()] == [("A1",)]
    chat.told("B2")
    assert {entry.specimens for entry in chat.entries()} == {("A1",), ("B2",)}


def test_a_question_asked_meanwhile_is_answered_and_stores_nothing(chat):
    chat.told("GBB ate a fruit fly")
    for asked in ("history of Pebble", "when did Pebble last eat?", "is Delve sealed?", "who is due?"):
        chat.told(asked)
    assert chat.entries() == []


def test_none_of_the_choices_stores_nothing_and_closes_the_question(chat):
    chat.told("GBB ate a fruit fly")
    chat.press("Something else")
    assert chat.entries() == []
    chat.told("B2")
    assert chat.entries() == []


def test_cancel_drops_the_open_question(chat):
    chat.told("GBB ate a fruit fly")
    chat.told("cancel")
    chat.told("B2")
    assert chat.entries() == []


def test_a_photo_is_kept_through_a_question(store, chat):
    chat.told("[photo] GBB molted")
    chat.press("B2")
    with store.look() as work:
        assert [photo.reference for photo in work.photos.of(chat.keeper.shelf_id, "B2")] == ["photo-1"]


def test_a_second_meal_on_one_day_told_by_another_message_is_asked_about(chat):
    chat.told("fed Pebble 2 crickets")
    assert "Fed again?" in chat.told("fed Pebble 2 crickets")
    assert len(chat.entries()) == 1
    chat.told("no")
    assert len(chat.entries()) == 1
    chat.told("fed Pebble 2 crickets")
    chat.told("yes")
    assert len(chat.entries()) == 2


def test_the_doubled_ones_of_a_group_are_left_out_at_a_tap(chat):
    chat.told("fed Pebble 2 crickets")
    chat.told("fed shelf A a cricket each")
    chat.press("All but Pebble (A1)")
    assert sorted(entry.specimens for entry in chat.entries()) == [("A1",), ("A2",), ("A3",)]


def test_a_meal_of_a_sealed_animal_is_never_stored_unasked(chat):
    chat.told("Delve sealed on 1 May")
    chat.told("fed Delve a roach")
    assert [entry.kind for entry in chat.entries()] == [Kind.SEALED]
    chat.press("Opened and ate")
    assert {entry.kind for entry in chat.entries()} == {Kind.SEALED, Kind.OPENED, Kind.FED}


def test_an_offer_to_one_at_rest_tells_to_take_the_prey_out_and_never_to_dig(chat):
    chat.told("Delve sealed on 1 May")
    chat.told("Moss molted yesterday")
    assert "nobody digs" in chat.told("offered Delve a roach")
    assert "Take live prey out" in chat.told("offered Moss a roach")


def test_nothing_is_stored_of_an_animal_after_its_death(chat):
    chat.told("Duke died yesterday")
    assert "died" in chat.told("fed Duke a roach")
    assert [entry.kind for entry in chat.entries()] == [Kind.DIED]


def test_the_day_of_a_death_can_be_put_right(chat):
    chat.told("Duke died")
    chat.told("that was yesterday")
    assert [(entry.kind, entry.day) for entry in chat.entries()] == [(Kind.DIED, date(2026, 5, 13))]


def test_what_stands_out_is_told_calmly_with_the_signs_that_call_for_a_vet(chat):
    chat.told("Pebble weighs 30 g")
    chat.now = "2026-06-14 19:30"
    chat.told("Pebble weighs 22 g")
    told = chat.told("anything to worry about?")
    assert "Pebble (A1): lost 27% since" in told
    assert "vet who sees invertebrates" in told
    assert "Lost 27% since" in chat.told("how is Pebble?")
    assert "dig" not in told


def test_where_nothing_stands_out_that_is_said(chat):
    assert chat.told("any concerns?") == "Nothing stands out in the records. Go by what you see."


def test_a_question_about_a_tag_that_nobody_bears_is_not_answered_with_another_animal(chat):
    chat.told("Pebble molted")
    assert "Nobody here is called “D2”" in chat.told("when did D2 last molt?")
    assert "Pebble" in chat.told("when did A1 last molt?")


def test_an_order_that_names_an_animal_is_no_answer_to_the_question_open_before(chat):
    chat.told("GBB ate a fruit fly")
    chat.told("feed B2 again")
    assert chat.entries() == []


def test_what_happened_in_a_stretch_is_counted_and_asked_on(chat):
    for text in (
        "Pebble ate 2 crickets on 2 May",
        "Pebble ate 3 crickets on 9 May",
        "Pebble refused on 11 May",
        "Rust ate a roach on 10 May",
        "Pebble ate 4 crickets on 20 April",
    ):
        chat.told(text)
    said = chat.told("what did Pebble eat in May?")
    assert "ate 2 times, 5 crickets in all. Refused once." in said
    assert "ate 3 times, 9 crickets in all" in chat.told("and since April?")
    assert "ate once, 1 roach in all" in chat.told("and Rust?")
    everybody = chat.told("who ate this month?")
    assert "Pebble (A1): 2 times" in everybody
    assert "Rust (A2): ate 1 roach" in everybody
    assert "nobody on record" in chat.told("who molted this month?")


def test_the_others_are_those_whom_the_question_before_was_not_about(chat):
    chat.told("Rust molted on 3 May")
    assert "Pebble" in chat.told("when did Pebble last molt?")
    others = chat.told("and the others?")
    assert "Rust (A2)" in others
    assert "Pebble" not in others


def test_how_often_an_animal_eats_is_not_answered_with_its_molts(chat):
    assert "As a rule every" in chat.told("how often do I feed Pebble?")
    assert "between molts" in chat.told("how often does Pebble molt?") or "molts" in chat.told(
        "how often does Pebble molt?"
    )


def test_what_is_due_on_a_day_to_come_is_told_for_that_day(chat):
    chat.told("Pebble ate 2 crickets on 10 May")
    due_on = re.search(r"Next meal about \w+ (\d+ \w+)", chat.told("is Pebble due?"))[1]
    assert "feed Pebble (A1)" in chat.told(f"who is due on {due_on}?").split("Due before")[0]
    assert "Pebble" not in chat.told("who is due tomorrow?").split("Due before")[0]


def test_the_round_of_a_day_to_come_names_who_is_due_then_and_who_before(chat):
    chat.told("Pebble ate 2 crickets on 1 May")
    told = chat.told("give me tomorrow's round")
    assert told == chat.told("who is due tomorrow?")
    assert "feed" in told.split("Due before that")[1]


def test_a_day_alone_asks_who_is_due_then(chat):
    assert chat.told("today") == chat.told("who is due today?")
    assert chat.told("tomorrow?") == chat.told("who is due tomorrow?")
    assert chat.told("next week") == chat.told("who is due next week?")


def test_a_day_that_is_past_goes_on_with_the_question_before_and_a_day_to_come_does_not(chat):
    chat.told("fed Pebble 2 crickets")
    chat.told("what did Pebble eat this month?")
    assert "2 crickets" in chat.told("today?")
    assert chat.told("tomorrow?") == chat.told("who is due tomorrow?")


@pytest.mark.parametrize(
    "asked",
    ["can I dig up Delve?", "should I wake Delve", "is it ok to open up Delve's burrow?", "dig out Delve?"],
)
def test_a_burrow_is_never_to_be_dug_up(chat, asked):
    chat.told("Delve sealed")
    said = chat.told(asked)
    assert said.startswith("No: leave Delve (R2) closed.")
    assert "keep water there" in said
    assert "Sealed since" in said


@pytest.mark.parametrize(
    "asked",
    [
        "what temperature does Delve need?",
        "how humid should Delve be kept",
        "care of Delve",
        "what do GBBs need",
        "how are GBBs kept?",
        "how do you keep a Poecilotheria metallica",
        "GBB care",
    ],
)
def test_what_an_animal_needs_is_told_of_its_species_with_the_basis(chat, asked):
    said = chat.told(asked)
    assert "°C" in said
    assert "Basis: " in said


@pytest.mark.parametrize(
    ("text", "answer"),
    [
        ("who sealed in April?", "Sealed, Wed 1 Apr to Thu 30 Apr: 1"),
        ("who is sealed?", "Nobody is sealed"),
        ("what did I do yesterday?", "Shelf, yesterday, newest first:"),
        ("who is the biggest?", "Pebble (A1): span 15 cm"),
        ("which animals refused twice in a row?", "I did not understand that, so nothing is stored."),
    ],
)
def test_a_question_about_a_time_or_a_rank_is_not_taken_for_another(chat, text, answer):
    chat.now = "2026-04-10 19:00"
    chat.told("Pebble sealed")
    chat.now = "2026-04-20 19:00"
    chat.told("Pebble opened up")
    chat.now = "2026-05-13 19:00"
    chat.told("Rust ate 2 crickets")
    chat.now = "2026-05-14 19:00"
    assert answer in chat.told(text)


def test_the_dead_are_told_of_in_answers_about_everybody(chat):
    chat.told("Pebble died")
    assert "Pebble (A1)" in chat.told("who died this year?")
    chat.told("T14 ate 2 crickets")
    for question in ("how long since everyone ate", "who died", "where is Pebble", "how big is Pebble"):
        assert chat.told(question)


def test_those_without_a_meal_on_record_come_first_among_those_not_fed(chat):
    told = chat.told("who hasn't eaten in two weeks?")
    assert "no meal on record" in told
    assert "Everybody has eaten" not in told
    chat.told("Pebble ate 2 crickets 20 days ago")
    lines = chat.told("who hasn't eaten in two weeks?").splitlines()
    of_pebble = next(at for at, line in enumerate(lines) if "Pebble" in line)
    assert all("no meal on record" not in line for line in lines[of_pebble:])


def test_where_everybody_has_eaten_the_longest_ago_are_told(chat):
    chat.told("everybody ate a cricket 3 days ago")
    assert "The longest ago: Pebble (A1): " in chat.told("who hasn't eaten in two weeks?")


def test_how_warm_and_humid_it_is_is_told_of_the_room_and_each_place(chat):
    assert chat.told("how warm is it?").startswith("No temperature or humidity on record")
    for day, room in (("10", "22 C"), ("11", "24.5 C and 60 %"), ("12", "23 C and 70 %")):
        chat.now = f"2026-05-{day} 19:00"
        chat.told(room)
    chat.told("rack 1 27 C")
    chat.now = "2026-05-14 19:00"
    room = (
        "Room: 23 °C, 70 % RH, Tue 12 May, 2 days ago. Tue 14 Apr to today: 22 °C to 24.5 °C, "
        "60 % RH to 70 % RH (3 readings)."
    )
    rack = "Rack 1: 27 °C, Tue 12 May, 2 days ago."
    assert chat.told("what is the temperature").splitlines() == [room, rack]
    assert chat.told("how humid is it on shelf A").splitlines() == [room]
    assert "Tue 12 May Rack 1: 27 °C" in chat.told("history of the shelf this month")


def test_what_was_spent_is_summed_by_currency_and_the_unpriced_are_counted(chat):
    assert chat.told("what did I spend this year").startswith("No price on record")
    chat.told("bought 100 crickets for 4.50 euros")
    chat.told("bought 50 dubias for 12 euros")
    chat.told("bought 20 superworms for 3 dollars")
    chat.told("bought 30 crickets")
    said = chat.told("what did I spend this year").splitlines()
    assert said[0] == "By the prices on record, Thu 1 Jan to today:"
    assert said[1:] == ["Feeders bought: 16.50 EUR and 3 USD (3)", "Bought with no price noted: 1."]
    assert "No price on record" in chat.told("how much did I pay for Pebble?")


@pytest.mark.parametrize("asked", ["when do I rehouse Pebble", "when should we rehouse Pebble?"])
def test_when_to_rehouse_is_about_the_next_home(chat, asked):
    assert chat.told(asked) == chat.told("is Pebble due for rehousing?")


def test_what_to_mind_before_an_enclosure_is_opened_is_told_with_the_next_home(chat):
    """Hair-kicking of New World species and strong venom of Old World ones: common practice, no source."""
    told = chat.told("can I rehouse Rust?")
    assert say("caution.hairs") in told
    assert say("caution.cites") not in told  # which is of papers, and asked with "care"


def test_whoever_of_several_has_to_be_minded_is_named_with_the_caution(chat):
    told = chat.told("what size tub for Rust and Pebble?")
    assert told.count(say("caution.hairs")) == 1
