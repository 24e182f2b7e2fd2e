"""What a keeper may rely on, whatever they type or tap."""

from __future__ import annotations

import ast
from dataclasses import replace
from datetime import date, time
from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

import bot.conversation
from bot.conversation import Conversation
from bot.conversation.answers import ANSWERS
from bot.conversation.model import Incoming, Photo
from bot.conversation.respond import INSTRUCTIONS, PRESSES, READINGS
from bot.reading.instructions import Action
from bot.reading.model import ReadingKind, Topic
from bot.terms import KeeperSettings, Kind, Specimen, Units
from storage import Store
from tests.conversation.given import CHAT, SETTINGS, a_keeper, at, entry_from
from tests.conversation.replay import Player

ROOM = Path(bot.conversation.__file__).parent


# --- the tables are whole -------------------------------------------------------------------


def test_every_kind_of_reading_topic_and_instruction_has_a_handler():
    assert set(READINGS) == set(ReadingKind)
    assert set(ANSWERS) == set(Topic)
    assert set(INSTRUCTIONS) == set(Action)


def test_every_button_that_is_made_has_a_handler_and_every_handler_a_button():
    made = set()
    for path in ROOM.rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Dict):
                made |= {
                    str(value.value)
                    for key, value in zip(node.keys, node.values, strict=True)
                    if isinstance(key, ast.Constant) and key.value == "do" and isinstance(value, ast.Constant)
                }
    assert made == set(PRESSES)


# --- buttons --------------------------------------------------------------------------------


def test_a_button_acts_once_however_often_it_is_pressed(chat):
    chat.told("GBB ate a fruit fly")
    chat.press("B2")
    assert [entry.specimens for entry in chat.entries()] == [("B2",)]
    assert "already" in chat.press("B2")
    assert len(chat.entries()) == 1


def test_only_the_first_of_several_choices_counts(chat):
    chat.told("GBB ate a fruit fly")
    chat.press("B2")
    assert "already" in chat.press("B1")
    assert [entry.specimens for entry in chat.entries()] == [("B2",)]


def test_button_data_is_short_and_holds_no_name(chat):
    chat.told("GBB ate a fruit fly")
    data = [button.data for reply in chat.shown for row in reply.buttons for button in row]
    assert data
    for each in data:
        assert len(each.encode()) <= 64
        assert set(each) <= set("0123456789:")


@pytest.mark.parametrize(
    "data", ["", ":", "1", "99:0", "0:0", "-1:0", "1:99", "1:-1", "x:y", "1:0:0", "9" * 60 + ":0"]
)
def test_a_button_that_nobody_made_does_nothing_and_says_so(chat, data):
    chat.told("fed Pebble 2 crickets")
    replies = chat.say(pressed=data)
    assert len(replies) == 1
    assert len(chat.entries()) == 1


def test_another_keepers_button_does_nothing(store, chat):
    chat.told("fed Pebble 2 crickets")
    other = Player(store)
    with store.begin() as work:
        other.keeper = work.keepers.create("Another Invented Keeper", SETTINGS, at=at("2026-05-01 12:00"))
    undo = chat.shown[-1].buttons[0][0].data
    assert "do not know" in other.say(pressed=undo)[0].text
    assert len(chat.entries()) == 1


def test_undo_by_button_takes_back_its_own_entry_and_undo_in_words_the_latest(chat):
    chat.told("fed Pebble 2 crickets")
    chat.told("fed Rust 1 roach")
    first_undo = chat.shown[-2].buttons[0][0].data
    chat.say(pressed=first_undo)
    assert [entry.specimens for entry in chat.entries()] == [("A2",)]
    chat.told("undo")
    assert chat.entries() == []
    assert "nothing to take back" in chat.told("undo") or "Taken back" in chat.shown[-1].text


# --- questions before storing ---------------------------------------------------------------


def test_an_open_question_outlives_a_restart_and_can_be_answered_in_words(chat):
    chat.told("GBB ate a fruit fly")
    chat.talk = Conversation()
    chat.told("GBB 2")
    assert [entry.specimens for entry in chat.entries()] == [("B2",)]


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


def test_nothing_is_stored_of_an_animal_after_its_death(chat):
    chat.told("Duke died yesterday")
    assert "died" in chat.told("fed Duke a roach")
    assert [entry.kind for entry in chat.entries()] == [Kind.DIED]


def test_the_day_of_a_death_can_be_put_right(chat):
    chat.told("Duke died")
    chat.told("that was yesterday")
    assert [(entry.kind, entry.day) for entry in chat.entries()] == [(Kind.DIED, date(2026, 5, 13))]


# --- amending and editing -------------------------------------------------------------------


def test_an_edit_that_says_the_same_is_silent(chat):
    chat.told("fed Pebble 2 crickets")
    assert chat.play("~ fed Pebble 2 crickets") == []
    assert len(chat.entries()) == 1


def test_an_edit_replaces_what_its_message_stored(chat):
    chat.told("fed Pebble 2 crickets")
    chat.play("~ fed Rust 3 crickets")
    assert [(entry.specimens, entry.count) for entry in chat.entries()] == [(("A2",), 3)]


def test_an_edit_of_a_message_that_was_asked_about_answers_it(chat):
    chat.told("GBB ate a fruit fly")
    chat.play("~ GBB 2 ate a fruit fly")
    assert [entry.specimens for entry in chat.entries()] == [("B2",)]
    assert "already" in chat.press("B1")
    assert len(chat.entries()) == 1


def test_an_edit_that_cannot_be_read_leaves_the_entry_and_says_so(chat):
    chat.told("fed Pebble 2 crickets")
    replies = chat.play("~ qwertz")
    assert "still stands" in replies[0].text
    assert len(chat.entries()) == 1


def test_a_change_of_many_entries_is_not_guessed_at(chat):
    chat.told("fed shelf A a cricket each")
    before = chat.entries()
    chat.told("no, Moss")
    assert chat.entries() == before


def test_an_undone_amendment_brings_back_what_it_replaced(chat):
    chat.told("fed Pebble 2 crickets")
    chat.told("make it 3")
    chat.told("undo")
    assert [entry.count for entry in chat.entries()] == [2]


# --- the shelf and the settings -------------------------------------------------------------


def test_nothing_is_added_before_the_preview_is_confirmed(store, chat):
    def tags():
        with store.look() as work:
            return {one.specimen.tag for one in work.shelves.specimens(chat.keeper.shelf_id)}

    before = tags()
    chat.told("add animal Zoe, B. hamorii, to shelf A")
    assert tags() == before
    chat.press("Add")
    assert tags() - before == {"A4"}
    assert "already" in chat.press("Add")
    chat.told("undo")
    assert tags() == before


def test_an_added_animal_is_known_by_its_name_at_once(chat):
    chat.told("add animal Zoe, B. hamorii, to shelf A")
    chat.press("Add")
    chat.told("fed Zoe a roach")
    assert [entry.specimens for entry in chat.entries()] == [("A4",)]


def test_logging_goes_on_in_the_middle_of_a_guided_step(chat):
    chat.told("add animal Zoe")
    chat.told("fed Pebble 2 crickets")
    assert [entry.specimens for entry in chat.entries()] == [("A1",)]
    chat.told("B. hamorii")
    assert "To be added: Zoe, Brachypelma hamorii" in chat.press("A4 · shelf A")


def test_the_cautions_of_a_species_are_told_with_its_first_animal_only(chat):
    first = chat.told("add animal Vex, Pterinochilus murinus, to rack 1") + chat.press("Add")
    second = chat.told("add animal Hex, Pterinochilus murinus, to rack 1") + chat.press("Add")
    assert "Strong venom" in first
    assert "local law" in first
    assert "Strong venom" not in second


def test_settings_said_in_words_are_kept(store, chat):
    for text in (
        "use inches",
        "dates are month first",
        "round at 7:30",
        "quiet from 23 to 6",
        "my time zone is Dublin",
    ):
        chat.told(text)
    with store.look() as work:
        kept = work.keepers.get(chat.keeper.id).settings
    assert kept.units is Units.US
    assert (kept.round_time, kept.quiet_from, kept.quiet_to) == (time(7, 30), time(23), time(6))
    assert kept.zone == "Europe/Dublin"
    assert kept.date_order == "mdy"


def test_now_is_when_the_message_was_sent_in_the_keepers_zone(store):
    player = Player(store)
    player.keeper = a_keeper(store, settings=KeeperSettings(zone="Pacific/Auckland"))
    player.now = "2026-05-14 19:30"  # in Prague; the next morning in Auckland
    player.told("fed Pebble 2 crickets")
    assert player.entries()[0].day == date(2026, 5, 15)


def test_a_partner_with_no_animals_talks_of_the_shared_shelf(store, chat):
    moment = at("2026-05-01 12:00")
    with store.begin() as work:
        work.keepers.invite(
            chat.keeper.shelf_id,
            role="partner",
            code_hash="h",
            by=chat.keeper.id,
            expires_at=at("2027-01-01 00:00"),
            at=moment,
        )
        partner = work.keepers.redeem(
            "h", name="Invented Partner", front_end="tests", address="78", settings=SETTINGS, at=moment
        )
    other = Player(store)
    other.keeper = partner
    other.message = 500
    other.told("fed Pebble 2 crickets")
    assert [entry.specimens for entry in chat.entries()] == [("A1",)]
    assert "Fed again?" in chat.told("fed Pebble 2 crickets")


# --- anything at all ------------------------------------------------------------------------

SAID = (
    "fed Pebble Rust GBB B2 B 3 A1 shelf all but 2 crickets roach refused sealed molted yesterday undo no",
    "why ? more when did last eat who is due make it that was remind me in days add animal",
    "done except later skip Friday 30 Feb <b> 170 cm died hold until June every and not",
)
WORDS = st.sampled_from(" ".join(SAID).split())
ANYTHING = st.one_of(st.text(max_size=120), st.lists(WORDS, max_size=9).map(" ".join))


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(st.lists(st.one_of(ANYTHING, st.integers(0, 7)), min_size=1, max_size=6))
def test_whatever_comes_in_gets_a_short_reply_and_breaks_nothing(said):
    store = Store.open("sqlite://")
    player = Player(store)
    player.settle_in([])
    try:
        for each in said:
            if isinstance(each, int):
                buttons = [b for reply in player.shown for row in reply.buttons for b in row]
                replies = player.say(pressed=buttons[each % len(buttons)].data if buttons else "1:0")
            else:
                player.message += 1
                replies = player.say(text=each)
            player.shown += replies
            assert replies
            for reply in replies:
                assert 1 <= len(reply.text) <= 4000
                assert reply.text.strip()
                assert all(button.label.strip() for row in reply.buttons for button in row)
        today = date(2026, 5, 14)
        assert all(entry.day <= today for entry in player.entries())
    finally:
        store.close()


@pytest.mark.parametrize(
    "text",
    [
        "x" * 5000,
        "fed Pebble " * 500,
        "<b>Hello</b> & <script>alert(1)</script>",
        "\x00\x07\x1b[31mPebble\x1b[0m",
        "\u202efed\u202c",
        "   ",
        "🕷️🕷️🕷️",
        "DROP TABLE entry; --",
        "fed Pebble on 30 Feb",
        "fed Pebble tomorrow",
        "fed Nobodaddy a roach",
        "{who} {0} %s",
    ],
)
def test_bad_input_gets_one_clear_line_and_stores_nothing(chat, text):
    chat.message += 1
    replies = chat.say(text=text)
    assert len(replies) == 1
    assert chat.entries() == []
    assert "{" not in replies[0].text or "{" in text


@pytest.mark.parametrize("what", ["sticker", "voice message", "location"])
def test_what_is_no_text_gets_one_line_that_names_it(chat, what):
    replies = chat.play(f"> [{what}]")
    assert len(replies) == 1
    assert what in replies[0].text


def test_a_photo_without_a_caption_asks_for_one(chat):
    chat.message += 1
    with chat.store.begin() as work:
        replies = chat.talk.respond(
            work,
            work.keepers.get(chat.keeper.id),
            CHAT,
            Incoming(sent_at=at(chat.now), photos=(Photo(reference="p"),)),
        )
    assert "caption" in replies[0].text


def test_an_amount_that_cannot_be_kept_is_refused_and_nothing_is_stored(chat):
    """The store keeps thousandths within limits; a reading may still hand it more."""
    chat.told("measured Clove 999999999999999999999 cm")
    assert chat.entries() == []


# --- long lists -----------------------------------------------------------------------------


def crowd(n: int) -> list[Specimen]:
    return [
        Specimen(
            tag=f"Q{i}",
            name=f"Invented {i} of a long name",
            species="Grammostola pulchra",
            place=f"rack {i % 9}",
        )
        for i in range(1, n + 1)
    ]


def test_long_lists_come_in_pages_by_button_and_by_word(store):
    player = Player(store)
    player.keeper = a_keeper(store, shelf=crowd(300))
    first = player.told("what is due today?")
    assert len(first) <= 4000
    pages = [first]
    while any(button.label == "More" for row in player.shown[-1].buttons for button in row):
        pages.append(player.told("more") if len(pages) % 2 else player.press("More"))
        assert len(pages[-1]) <= 4000
    everything = "\n".join(pages)
    assert all(f"(Q{i})" in everything for i in range(1, 301))


def test_a_group_is_told_in_few_lines(store):
    player = Player(store)
    player.keeper = a_keeper(store, shelf=crowd(200))
    said = player.told("everyone ate a cricket")
    assert len(player.entries()) == 200
    assert len(said) <= 4000
    assert said.count("\n") < 12


def test_a_page_is_never_empty_and_loses_no_line():
    from bot.conversation.pages import pages

    text = "\n".join(f"line {n} " + "x" * (n % 700) for n in range(400))
    found = pages(text)
    assert all(0 < len(page) <= 4000 for page in found)
    assert "\n".join(found) == text
    assert all(len(page) <= 4000 for page in pages("y" * 30_000))


# --- the round ------------------------------------------------------------------------------

GIVEN = (
    "2026-04-20 fed A1,A2,A3 prey=cricket count=2",
    "2026-05-01 fed B1,B2,B3 prey=fruit_fly",
    "2026-05-01 sealed R2",
    "2026-05-12 molted R1",
)


@pytest.fixture
def morning(chat) -> Player:
    with chat.store.begin() as work:
        change = work.journal.change(
            chat.keeper.shelf_id, chat.keeper.id, at=at("2026-05-12 12:00"), origin=None
        )
        work.journal.log(change, [entry_from(line) for line in GIVEN], zone=SETTINGS.zone)
    chat.now = "2026-05-14 08:00"
    chat.shown += chat.play("! round")
    return chat


def test_the_round_of_a_day_is_opened_once(morning):
    assert len(morning.shown) == 1
    assert morning.play("! round") == []


def test_a_round_never_asks_to_feed_one_that_rests(morning):
    asked = [line for line in morning.shown[0].text.split("\n") if line.startswith("Feed")]
    assert asked
    assert not any("(R1)" in line or "(R2)" in line for line in asked)
    assert "(R2): Sealed" in morning.shown[0].text


def test_all_done_stores_what_was_listed_and_no_meal_of_one_that_rests(morning):
    morning.press("All done")
    fed = {
        tag
        for entry in morning.entries()
        if entry.kind is Kind.FED and entry.day == date(2026, 5, 14)
        for tag in entry.specimens
    }
    assert fed
    assert not fed & {"R1", "R2"}
    watered = {tag for entry in morning.entries() if entry.kind is Kind.WATERED for tag in entry.specimens}
    assert {"R1", "R2"} <= watered


def test_what_is_logged_in_words_ticks_itself_off(morning):
    morning.told("fed Pebble 2 crickets")
    left = morning.told("only water today")
    assert not any("Pebble" in line for line in left.split("\n") if line.startswith("Feed"))
    assert any("Rust" in line for line in left.split("\n") if line.startswith("Feed"))


def test_one_excepted_gets_no_entry_and_stays_open(morning):
    left = morning.told("all took except Rust and B3")
    today = [entry for entry in morning.entries() if entry.day == date(2026, 5, 14)]
    assert not {tag for entry in today for tag in entry.specimens} & {"A2", "B3"}
    assert "Rust (A2)" in left.split("Take out")[1]


def test_an_undone_round_entry_is_open_again(morning):
    morning.press("shelf A done")
    morning.told("undo")
    left = morning.told("only water today")
    assert any("Pebble" in line for line in left.split("\n") if line.startswith("Feed"))


def test_a_bare_number_that_two_tags_end_with_is_asked_about(morning):
    before = len(morning.entries())
    assert "Who is “1”" in morning.told("all done except 1")
    assert len(morning.entries()) == before


def test_an_old_rounds_button_says_that_it_is_over(morning):
    old = {button.label: button.data for row in morning.shown[0].buttons for button in row}
    morning.now = "2026-05-15 08:00"
    morning.shown += morning.play("! round")
    before = len(morning.entries())
    assert "over" in morning.say(pressed=old["All done"])[0].text
    assert len(morning.entries()) == before


def test_a_refusal_by_button_is_stored_as_one(morning):
    morning.press("Some refused")
    morning.press("Rust (A2)")
    morning.press("Save (1 refused)")
    kinds = {
        entry.kind
        for entry in morning.entries()
        if entry.specimens == ("A2",) and entry.day == date(2026, 5, 14)
    }
    assert Kind.REFUSED in kinds
    assert Kind.FED not in kinds


def test_later_comes_back_in_the_evening_with_what_is_left_and_only_once(morning):
    assert "18:00" in morning.told("later")
    assert "stays open" in morning.told("later")
    morning.told("fed Pebble 2 crickets")
    morning.now = "2026-05-14 18:00"
    replies = morning.play("! reminders")
    assert len(replies) == 1
    feed = [line for line in replies[0].text.split("\n") if line.startswith("Feed")]
    assert any("Rust" in line for line in feed)
    assert not any("Pebble" in line for line in feed)
    assert morning.play("! reminders") == []


def test_a_round_with_nothing_due_is_not_sent(store):
    player = Player(store)
    player.keeper = a_keeper(store, shelf=())
    assert player.play("! round") == []


def test_answers_to_a_round_with_none_open_store_nothing(chat):
    for text in ("all done", "later", "skip", "only water today", "B done"):
        chat.told(text)
    assert chat.entries() == []


def test_the_size_of_a_lot_goes_down_by_the_ones_that_died(store, chat):
    chat.told("one of the commune died")
    with store.look() as work:
        assert (
            next(f for f in work.shelves.facts(chat.keeper.shelf_id) if f.specimen.tag == "C1").state.lot_size
            == 5
        )


def test_lengths_are_told_in_the_keepers_units(chat):
    chat.told("use inches")
    assert "2.5 in" in chat.told("measured Clove 6.35 cm")
    assert chat.entries()[0].span_cm == Decimal("6.35")


def test_nothing_is_remembered_outside_of_the_store(chat):
    """A fresh conversation object knows the animal talked of, the question, the step."""
    chat.told("when did Pebble last eat?")
    chat.talk = Conversation()
    chat.told("and Rust?")
    chat.talk = Conversation()
    assert "Rust (A2)" in chat.shown[-1].text


def test_a_replaced_settings_object_is_what_the_next_reply_uses(chat):
    kept = replace(SETTINGS, units=Units.US)
    with chat.store.begin() as work:
        work.keepers.save_settings(chat.keeper.id, kept)
    assert " in" in chat.told("how big is Pebble?")
