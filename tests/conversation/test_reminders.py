"""Reminders come when they were asked for, say how they are counted, and are put off and ended in words."""

from __future__ import annotations

from datetime import date, time

import pytest

from bot.conversation.texts import say
from bot.reading.wanted.work_done import asks_to_feed
from bot.terms.walltime import instant_of
from storage.records import StoredReminder
from tests.conversation.given import CHAT, ZONE, at


def open_reminders(chat) -> tuple[StoredReminder, ...]:
    with chat.store.look() as work:
        return work.reminders.open(chat.keeper.shelf_id)


def test_a_reminder_without_a_time_comes_at_the_time_of_the_round(chat):
    said = chat.told("remind me in 3 days to check Nib")
    assert "Sun 17 May at 08:00" in said
    assert [(r.next_at, r.tags) for r in open_reminders(chat)] == [(at("2026-05-17 08:00"), ("B3",))]


def test_a_repeated_reminder_says_that_it_counts_from_its_day(chat):
    said = chat.told("remind me to mist rack 1 every 3 days")
    assert "every 3 days" in said
    assert "Counted from that day, done or not" in said


def test_an_undone_reminder_is_not_told(chat):
    chat.told("remind me in 3 days to check Nib")
    chat.told("undo")
    assert open_reminders(chat) == ()


def test_a_reminder_is_ended_by_its_number_or_its_words(chat):
    chat.told("remind me in 3 days to check Nib")
    chat.told("remind me to mist rack 1 every 3 days")
    chat.told("stop reminding me to mist")
    assert [r.what for r in open_reminders(chat)] == ["check Nib"]
    chat.told("end reminder 1")
    assert open_reminders(chat) == ()


def test_ending_one_of_a_list_leaves_the_others_their_buttons(chat):
    chat.told("remind me in 3 days to check Nib")
    chat.told("remind me to mist rack 1 every 3 days")
    chat.told("list my reminders")
    assert "Ended: check Nib" in chat.press("End: check Nib")
    chat.press("End: mist rack 1")
    assert open_reminders(chat) == ()


def told(chat) -> None:
    chat.told("remind me in 3 days to check Nib")
    chat.now = "2026-05-17 08:00"
    chat.shown += chat.play("! reminders")


@pytest.mark.parametrize(
    ("answer", "day"), [("not today", "2026-05-18"), ("tomorrow", "2026-05-18"), ("next week", "2026-05-24")]
)
def test_a_reminder_just_told_is_put_off_in_words(chat, answer, day):
    told(chat)
    chat.told(answer)
    assert [(r.what, r.next_at) for r in open_reminders(chat)] == [("check Nib", at(f"{day} 08:00"))]


def test_words_for_putting_off_mean_nothing_hours_later(chat):
    told(chat)
    chat.now = "2026-05-17 20:00"
    chat.told("tomorrow")
    assert open_reminders(chat) == ()


def test_a_reminder_about_one_at_rest_says_that_it_rests(chat):
    chat.told("Nib sealed")
    told(chat)
    assert "Sealed since" in chat.shown[-1].text


@pytest.mark.parametrize(
    ("day", "wall", "utc"),
    [
        # Prague: 29 March 2026 at 02:00 the clock goes to 03:00 (EU summer time, directive 2000/84/EC);
        # a wall time in the gap is read with the offset before it (RFC 5545, 3.3.5).
        (date(2026, 3, 29), time(2, 30), "2026-03-29T01:30:00+00:00"),
        (date(2026, 3, 29), time(8), "2026-03-29T06:00:00+00:00"),
        # 25 October 2026: 02:30 comes twice, the first is meant.
        (date(2026, 10, 25), time(2, 30), "2026-10-25T00:30:00+00:00"),
    ],
)
def test_a_wall_time_is_one_instant_on_the_days_the_clock_changes(day, wall, utc):
    assert instant_of(day, wall, ZONE).isoformat() == utc


def test_a_moment_that_has_passed_is_asked_about(chat):
    """The reading may hand over a past moment; it is never stored silently for another day."""
    said = chat.told("remind me today at 7 in the morning to weigh Moss")
    assert open_reminders(chat) == ()
    assert "?" in said or "passed" in said


def test_a_reminder_is_told_in_the_keepers_own_chat(chat):
    told(chat)
    number = chat.shown[-1].number
    with chat.store.look() as work:
        assert work.prompts.get(number).chat == CHAT


def test_work_to_come_is_a_reminder_also_where_nobody_is_asked_to_remind(chat):
    assert "I will remind you Wed 3 Jun at 08:00: check the sac." in chat.told("check the sac on 3 June at 8")
    assert "every 3 days, first Sun 17 May" in chat.told("weigh shelf A every 3 days")
    assert "I will remind" not in chat.told("mist shelf A every 3 days")
    assert "tomorrow (Fri 15 May)" in chat.told("feed Pebble tomorrow")
    assert "I will remind" not in chat.told("fed Pebble yesterday")
    assert "I will remind" not in chat.told("feed Pebble?")


def test_what_is_done_before_its_reminder_is_stored_and_ticked_off(chat):
    chat.told("mist shelf A tomorrow")
    told = chat.told("misted shelf A")
    assert "watered (misted)" in told
    assert "Ticked off: mist shelf A, tomorrow (Fri 15 May) at 08:00." in told
    assert chat.told("reminders") == "No reminders are open."


def test_a_reminder_to_water_is_ticked_off_once_all_of_its_animals_have_got_the_water(chat):
    chat.told("mist Pebble and Rust every 2 days at 9")
    chat.now = "2026-05-16 08:00"
    assert "Ticked off" not in chat.told("refilled the dish of Pebble and Rust")
    assert "Ticked off" not in chat.told("misted Pebble")
    assert "Next: Mon 18 May at 09:00." in chat.told("sprayed Rust and Pebble")


def test_a_repeated_reminder_that_is_done_goes_on_to_its_next_day(chat):
    chat.told("weigh Pebble every 3 days")
    assert "Ticked off" not in chat.told("Pebble weighs 20 g")
    chat.now = "2026-05-16 20:00"
    assert "Next: Wed 20 May at 08:00." in chat.told("weighed Pebble")


def test_a_keepers_own_schedule_stands_above_the_rule_until_it_is_taken_back(chat):
    chat.told("fed Pebble 1 cricket")
    by_the_rule = chat.told("when is Pebble due?")
    assert "fed every 20 days from now on. Next meal about Wed 3 Jun." in chat.told(
        "feed Pebble every 20 days"
    )
    assert chat.told("when is Pebble due?") != by_the_rule
    assert "by the rule of thumb" in chat.told("feed Pebble as usual")
    assert chat.told("when is Pebble due?") == by_the_rule
    chat.told("undo")
    assert chat.told("when is Pebble due?") != by_the_rule


def test_a_schedule_is_for_several_at_once_and_rest_stands_above_it(chat):
    assert "fed every 5 days" in chat.told("feed shelf A every 5 days")
    chat.told("Pebble sealed")
    told = chat.told("feed Pebble every day")
    assert "fed every day" in told
    assert "Sealed since today" in told
    assert "Next meal" not in told


def test_a_reminder_by_the_calendar_says_its_days_and_is_listed_with_them(chat):
    said = chat.told("weigh shelf A on the first Sunday")
    weekday = "on the first Sunday of each month"
    assert f"{weekday}, first Sun 7 Jun at 08:00: weigh shelf A. By the calendar" in said
    assert f"{weekday}, next Sun 7 Jun" in chat.told("my reminders")


def test_a_day_that_never_comes_is_not_stored(chat):
    assert "no such day" in chat.told("renew the permit every year on 30 February")
    assert open_reminders(chat) == ()


def reminded_of_the_scale(chat, words):
    chat.told(f"check the scale {words}")
    chat.now = "2026-05-20 10:00"


def test_done_begins_a_count_from_done_anew_and_says_when_it_comes_next(chat):
    reminded_of_the_scale(chat, "every 5 days, counted from when it is done")
    chat.shown += chat.play("! reminders")
    assert "Next: Mon 25 May at 08:00" in chat.press("Done")
    assert [(r.day, r.next_at) for r in open_reminders(chat)] == [(date(2026, 5, 20), at("2026-05-25 08:00"))]


def test_done_leaves_a_count_by_its_own_days_as_it_is(chat):
    reminded_of_the_scale(chat, "every 5 days")
    chat.shown += chat.play("! reminders")
    chat.press("Done")
    assert [(r.day, r.next_at) for r in open_reminders(chat)] == [(date(2026, 5, 19), at("2026-05-24 08:00"))]


@pytest.mark.parametrize(
    ("words", "following"),
    [
        ("every 7 days, counted from when it is done", "2026-05-28 08:00"),
        ("every Thursday", "2026-05-28 08:00"),
    ],
)
def test_what_is_done_a_day_early_is_ticked_off_for_that_day(chat, words, following):
    chat.told(f"check the scale {words}")
    chat.now = "2026-05-21 07:00"
    assert "Ticked off" in chat.told("checked the scale")
    assert [r.next_at for r in open_reminders(chat)] == [at(following)]


def test_a_reminder_whose_time_has_passed_untold_is_listed_as_such(chat):
    chat.told("remind me tomorrow at 9 to order crickets")
    assert "was due" not in chat.told("list my reminders")
    chat.now = "2026-05-20 08:00"
    assert "order crickets: was due" in chat.told("list my reminders")


#: When it is said, and when the reminder comes next: what was told this morning is this morning's.
@pytest.mark.parametrize(
    ("rhythm", "told_on", "done_at", "following"),
    [
        ("every day", "2026-05-15 08:00", "2026-05-15 09:00", "2026-05-16 08:00"),
        ("every day", "2026-05-15 08:00", "2026-05-15 23:30", "2026-05-16 08:00"),
        ("every day", "2026-05-15 08:00", "2026-05-16 07:30", "2026-05-17 08:00"),
        ("every 2 days", "2026-05-16 08:00", "2026-05-17 12:00", "2026-05-18 08:00"),
        ("every 3 days", "2026-05-17 08:00", "2026-05-19 20:00", "2026-05-23 08:00"),
        ("every weekday", "2026-05-15 08:00", "2026-05-15 20:00", "2026-05-18 08:00"),
        ("every Friday", "2026-05-15 08:00", "2026-05-16 20:00", "2026-05-22 08:00"),
    ],
)
def test_what_is_done_after_it_was_told_passes_no_other_day_over(chat, rhythm, told_on, done_at, following):
    chat.told(f"clean the scale {rhythm}")
    chat.now = told_on
    chat.shown += chat.play("! reminders")
    chat.now = done_at
    assert "clean the scale" in chat.told("cleaned the scale")
    assert [r.next_at for r in open_reminders(chat)] == [at(following)]


def test_what_was_told_once_and_is_done_later_is_heard(chat):
    chat.told("remind me tomorrow at 9 to sweep the rack")
    chat.now = "2026-05-15 09:00"
    chat.shown += chat.play("! reminders")
    chat.now = "2026-05-16 20:00"
    assert chat.told("swept the rack") == "Good: sweep the rack."
    assert chat.told("swept the floor") != "Good: sweep the rack."


def test_a_count_from_done_begins_anew_whenever_it_is_done(chat):
    chat.told("check the thermostat every 10 days, counted from when it is done")
    chat.now = "2026-05-18 20:00"
    assert "Next: Thu 28 May at 08:00" in chat.told("checked the thermostat")
    assert [r.next_at for r in open_reminders(chat)] == [at("2026-05-28 08:00")]


@pytest.mark.parametrize(
    ("language", "order", "done"),
    [
        ("german", "erinnere mich jeden Tag um 8, die Waage zu putzen", "Waage geputzt"),
        (
            "german",
            "erinnere mich jeden Tag um 8 Uhr, den Befeuchter aufzufüllen",
            "hab den Befeuchter aufgefüllt",
        ),
        ("spanish", "recuérdame cada día a las 8, limpiar la báscula", "ya limpié la báscula"),
        ("spanish", "recuérdame cada día a las 8 comprar grillos", "he comprado grillos"),
    ],
)
def test_a_reminder_is_ticked_off_in_the_keepers_language(chat, language, order, done):
    chat.told(f"language {language}")
    chat.told(order)
    chat.now = "2026-05-15 07:00"
    chat.told(done)
    assert [r.next_at for r in open_reminders(chat)] == [at("2026-05-16 08:00")]


def test_done_in_a_word_answers_what_was_just_told(chat):
    reminded_of_the_scale(chat, "every 5 days, counted from when it is done")
    chat.shown += chat.play("! reminders")
    assert "Next: Mon 25 May at 08:00" in chat.told("done")


def test_done_in_a_word_is_asked_about_where_a_round_is_open_too(chat):
    chat.told("remind me tomorrow to check the scale")
    chat.now = "2026-05-15 08:00"
    chat.shown += [*chat.play("! round"), *chat.play("! reminders")]
    before = len(chat.entries())
    assert "the round, or what I reminded you of?" in chat.told("done")
    assert len(chat.entries()) == before
    assert "Good" in chat.press("check the scale")
    assert len(chat.entries()) == before


def test_what_comes_again_by_itself_is_put_off_to_no_moment_at_which_it_comes_anyway(chat):
    chat.told("clean the scale every day at 8")
    chat.now = "2026-05-15 08:00"
    chat.shown += chat.play("! reminders")
    assert "comes again tomorrow" in chat.told("not today")
    assert len(open_reminders(chat)) == 1


def test_without_a_time_a_reminder_comes_with_the_round_of_its_day(chat):
    chat.told("round at 9:30 on weekends")
    assert "Sat 16 May at 09:30" in chat.told("remind me on saturday to order substrate")
    assert "Sun 17 May at 09:30" in chat.told("remind me on sunday morning to air the room")
    assert "Mon 18 May at 08:00" in chat.told("remind me on monday to weigh Moss")
    chat.told("check the thermostat every day")
    chat.now = "2026-05-15 08:00"
    chat.shown += chat.play("! reminders")
    daily = next(r for r in open_reminders(chat) if r.repeats)
    assert daily.next_at == at("2026-05-16 09:30")


@pytest.mark.parametrize(
    ("before", "words", "why"),
    [
        ("Delve sealed", "feed Delve tomorrow", "Sealed since"),
        ("hold Rust", "remind me tomorrow to give Rust a cricket", "Held by you"),
        ("Moss molted today", "remind me tomorrow to offer Moss a dubia", "Fresh molt"),
        ("Clove in premolt", "remind me tomorrow about Clove's meal", "In premolt"),
        ("Delve sealed yesterday. Delve opened today", "feed Delve tomorrow", "First a look"),
    ],
)
def test_a_reminder_to_feed_one_that_gets_no_food_now_asks_for_no_food(chat, before, words, why):
    for said in before.split(". "):
        chat.told(said)
    assert why in chat.told(words)
    chat.now = "2026-05-15 08:00"
    (reply,) = chat.play("! reminders")
    assert reply.text.startswith("Reminder: left for now")
    assert why in reply.text


def test_a_reminder_to_feed_several_leaves_out_those_that_get_no_food_now(chat):
    chat.told("hold Rust")
    chat.told("feed shelf A tomorrow")
    chat.told("remind me tomorrow to buy crickets")
    chat.now = "2026-05-15 08:00"
    (reply,) = chat.play("! reminders")
    assert "feed shelf A, but not Rust (A2)." in reply.text
    assert "2. buy crickets\n" in f"{reply.text}\n"


@pytest.mark.parametrize(
    ("language", "what", "feeds"),
    [
        ("en", "feed Rust", True),
        ("en", "a dubia for Rust", True),
        ("en", "Rust's feeding day", True),
        ("en", "buy crickets for Rust", False),
        ("en", "check whether Rust took the cricket", False),
        ("en", "weigh Rust", False),
        ("de", "Rust zu füttern", True),
        ("de", "Rust eine Grille zu geben", True),
        ("de", "Grillen zu kaufen", False),
        ("es", "dar de comer a Rust", True),
        ("es", "un grillo para Rust", True),
        ("es", "comprar grillos", False),
    ],
)
def test_whether_work_is_to_give_food_is_told_by_its_words(language, what, feeds):
    assert asks_to_feed(what, language) is feeds


@pytest.mark.parametrize(
    "words",
    ["after it's done", "from when it's done", "once it is done", "counted from done", "after the last time"],
)
def test_a_reminder_says_that_it_counts_from_when_it_was_done(chat, words):
    told = chat.told(f"remind me to clean the dishes every 10 days {words}")
    assert "clean the dishes." in told
    assert "Counted from when you say that it is done." in told


def test_a_word_that_takes_back_an_entry_of_a_kind_takes_back_no_reminder_that_was_moved(chat):
    chat.told("remind me to weigh shelf A on 20 May")
    assert "Mon 25 May" in chat.told("move the weighing to 25 May")
    assert say("undo.no_entry") in chat.told("forget the misting")
    assert "Mon 25 May" in chat.told("my reminders")
