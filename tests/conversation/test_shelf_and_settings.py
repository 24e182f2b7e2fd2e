"""Animals added, settings kept, shelves shared."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, time
from decimal import Decimal

import pytest

from bot.conversation import Conversation
from bot.terms import KeeperSettings, Specimen, Units
from tests.conversation.given import SETTINGS, a_keeper, at
from tests.conversation.replay import Player


def on_the_shelf(chat: Player) -> list[Specimen]:
    with chat.store.look() as work:
        return [one.specimen for one in work.shelves.specimens(chat.keeper.shelf_id)]


def test_nothing_is_added_before_the_preview_is_confirmed(chat):
    def tags():
        return {animal.tag for animal in on_the_shelf(chat)}

    before = tags()
    chat.told("add animal Zoe, B. hamorii, to shelf A")
    assert tags() == before
    chat.press("Add, new today")
    assert tags() - before == {"A4"}
    assert "already" in chat.press("Add, new today")
    chat.told("undo")
    assert tags() == before


def test_several_animals_of_one_message_come_with_one_yes_and_go_with_one_undo(chat):
    def shelf():
        return {animal.name for animal in on_the_shelf(chat)}

    before = shelf()
    chat.told("add Zoe B. hamorii; Vex OBT; all on rack 9")
    chat.press("Add, new today")
    assert shelf() - before == {"Zoe", "Vex"}
    chat.told("undo")
    assert shelf() == before


def test_more_animals_than_can_be_looked_over_are_not_added_at_once(chat):
    assert "burrowbell import" in chat.told("add " + "; ".join(f"Zoe{'x' * n} OBT" for n in range(51)))


def test_an_added_animal_is_known_by_its_name_at_once(chat):
    chat.told("add animal Zoe, B. hamorii, to shelf A")
    chat.press("Add, new today")
    chat.told("fed Zoe a roach")
    assert [entry.specimens for entry in chat.entries()] == [("A4",)]


def test_logging_goes_on_in_the_middle_of_a_guided_step(chat):
    chat.told("add animal Zoe")
    chat.told("fed Pebble 2 crickets")
    assert [entry.specimens for entry in chat.entries()] == [("A1",)]
    chat.told("B. hamorii")
    assert "To be added: Zoe, Brachypelma hamorii" in chat.press("A4 · shelf A")


def test_a_list_of_named_animals_in_lines_is_of_animals_to_be_added(chat):
    assert "Where do they stand?" in chat.told("1) Sky GBB\n2) Ziggy OBT")
    shown = chat.press("A4 · shelf A")
    assert "Sky, Chromatopelma cyaneopubescens, tag A4" in shown
    assert "Ziggy, Pterinochilus murinus, tag A5" in shown
    chat.told("cancel")
    assert "stand?" not in chat.told("GBB\nOBT")  # kinds alone may be of those that are here
    assert not chat.entries()


@pytest.mark.parametrize(
    ("text", "each"),
    [
        ("add GBB, OBT", 2),
        ("new spiders: GBB, OBT, Lasiodora parahybana", 3),
        ("add Brachypelma hamorii, Grammostola pulchra", 2),
        ("add Zed, GBB", 1),
    ],
)
def test_kinds_alone_between_commas_are_an_animal_each_where_they_are_different_species(chat, text, each):
    chat.told(text)
    shown = chat.press("A4 · shelf A")
    assert (f"{each} animals:" in shown) == (each > 1)
    assert not chat.entries()


def test_the_cautions_of_a_species_are_told_with_its_first_animal_only(chat):
    first = chat.told("add animal Vex, Pterinochilus murinus, to rack 1") + chat.press("Add, new today")
    second = chat.told("add animal Hex, Pterinochilus murinus, to rack 1") + chat.press("Add, new today")
    assert "Strong venom" in first
    assert "local law" in first
    assert "Strong venom" not in second


def test_the_animals_are_listed_place_by_place(chat):
    said = chat.told("list my animals").split("\n")
    assert said[0] == "shelf A: Pebble (A1), Rust (A2), Clove (A3)."
    assert len(said) == 3


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
    said = chat.told("fed Pebble 2 crickets")
    assert "Fed again?" in said
    assert "by Invented Partner" in said


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


def test_a_tag_typed_where_a_name_may_be_is_its_tag(chat):
    chat.told("add animal B. hamorii to rack 1")
    assert "tag D9" in chat.told("D9")


def test_an_instruction_about_nobody_does_not_become_the_name_of_a_newcomer(chat):
    chat.told("add animal B. hamorii to rack 1")
    assert "To be added" not in chat.told("rename Roja to Flama")
    assert "Flame" in chat.told("Flame")


def test_what_tells_of_another_animal_does_not_become_the_name_of_a_newcomer(chat):
    chat.told("add animal B. hamorii to rack 1")
    assert "To be added" not in chat.told("Pebble's leg is bent").split("Not added yet")[0]


@pytest.mark.parametrize(
    "words", ["chart of Vex", "photos of Vex", "tell me about Vex", "print labels for shelf A"]
)
def test_what_is_wanted_of_a_newcomer_before_it_is_added_becomes_neither_its_name_nor_its_tag(chat, words):
    chat.told("add animal Vex, B. hamorii, to shelf A")
    assert "To be added" not in chat.told(words).split("Not added yet")[0]
    assert "female" in chat.told("female")


def test_a_place_may_be_said_as_an_order(chat):
    chat.told("add animal Vex, B. hamorii")
    told = chat.told("put Vex on shelf A")
    assert ("shelf A" in told, "new place" in told) == (True, False)


def test_a_place_that_the_shelf_does_not_have_yet_is_told_apart_before_it_is_made(chat):
    assert "new place “rack 9”" in chat.told("add animal Vex, B. hamorii, to rack 9")
    assert "new place" not in chat.told("add animal Hex, B. hamorii, to shelf A")


@pytest.mark.parametrize("words", ["how old is Bluebell?", "Blau = female", "Blau: female"])
def test_a_question_or_a_statement_does_not_become_the_name_of_a_newcomer(chat, words):
    chat.told("add animal B. hamorii to rack 1")
    assert f"To be added: {words}" not in chat.told(words)
