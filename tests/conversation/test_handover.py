"""Somebody else looks after the animals: what they may do, until when, and what the keeper hears of it."""

from __future__ import annotations

from datetime import date

import pytest

from bot.conversation.handlers import INSTRUCTIONS, PRESSES
from bot.conversation.rights import HELPERS_KINDS, HELPERS_PRESSES
from bot.reading import reading_to_store
from bot.reading.model import Reading, ReadingKind
from bot.reading.wanted.instructions import examples
from bot.reading.wanted.wanted import Action
from bot.terms import Entry, Kind
from tests.conversation.given import at
from tests.conversation.replay import Player
from tests.pictures.reading_back import text_of

NOW = at("2026-07-20 12:00")


@pytest.fixture
def helped(chat: Player) -> Player:
    """The invented shelf, handed over to Anna from 3 to 14 August; she has opened the link, and writes."""
    chat.now = "2026-08-01 19:30"
    chat.told("away 3 to 14 August, my sister looks after them")
    chat.play("& Anna")
    chat.play("! opens the link")
    chat.now = "2026-08-03 08:00"
    return chat


def standing(chat: Player) -> object:
    """All that a keeper has set up: who stands on the shelf, how often, reminders, hand-overs."""
    with chat.store.look() as work:
        shelf = work.keepers.get(chat.people["keeper"][0]).shelf_id
        return (
            work.shelves.specimens(shelf),
            work.schedules.current(shelf),
            work.reminders.open(shelf),
            work.handovers.open(shelf),
        )


def rows_by(chat: Player) -> list[tuple[str, str]]:
    names = {number: name for name, (number, _) in chat.people.items()}
    with chat.store.look() as work:
        shelf = work.keepers.get(chat.people["keeper"][0]).shelf_id
        return [(names[row.by], row.entry.kind.value) for row in work.journal.entries(shelf)]


def test_a_helper_gets_the_zone_units_and_hours_of_the_keeper(helped):
    helper, keeper = (helped.people[name][0] for name in ("Anna", "keeper"))
    with helped.store.look() as work:
        assert work.keepers.get(helper).settings == work.keepers.get(keeper).settings


def test_what_a_helper_logs_stands_on_the_keepers_shelf_under_the_helpers_name(helped):
    helped.told("Pebble ate 2 crickets")
    helped.told("watered Rust")
    assert rows_by(helped) == [("Anna", "watered"), ("Anna", "fed")]


@pytest.mark.parametrize("day", ["2026-08-02", "2026-08-15", "2027-08-05"])
def test_before_and_after_the_period_nothing_that_a_helper_says_is_stored(helped, day):
    helped.now = f"{day} 08:00"
    for text in ("Pebble ate 2 crickets", "watered all", "all done", "add animal Zoe to rack b", "undo"):
        assert "stored" in helped.told(text) or "nothing to do" in helped.told(text)
    assert rows_by(helped) == []


def test_a_button_of_the_period_does_nothing_once_it_is_over(helped):
    helped.told("Pebble ate 2 crickets")
    helped.now = "2026-08-15 08:00"
    helped.press("Undo")
    assert rows_by(helped) == [("Anna", "fed")]


def test_first_aid_is_told_to_a_helper_at_any_time(helped):
    helped.now = "2026-08-20 08:00"
    assert "emergency number" in helped.told("first aid")
    assert "emergency number" in helped.told("I was bitten by Delve")


#: Of the keeper alone: what alters the shelf, its reminders, or who looks after it; what is to be published.
OF_THE_KEEPER = {
    Action.ADD,
    Action.RENAME,
    Action.RETAG,
    Action.MOVE,
    Action.RETIRE,
    Action.BY_THE_RULE,
    Action.SCHEDULE,
    Action.SLOW_MONTHS,
    Action.NO_SLOW_MONTHS,
    Action.REMINDERS,
    Action.END_REMINDER,
    Action.BACK,
    Action.END_HANDOVER,
    Action.HANDOVERS,
    Action.NEW_LINK,
    Action.NOTES,
    Action.LABELS,
    Action.DELIVERY,
    Action.ROUND_DAYS,
    Action.HUSH,
}


@pytest.mark.parametrize("action", sorted(INSTRUCTIONS))
def test_a_helper_may_instruct_nothing_that_is_the_keepers(helped, action):
    """Every instruction there is, by its example, so that a new one has to be put on a side."""
    before = standing(helped)
    told = helped.told(examples()[action])
    assert ("is Invented Keeper’s to do" in told) == (action in OF_THE_KEEPER)
    assert standing(helped) == before


@pytest.mark.parametrize("kind", sorted(set(Kind) - HELPERS_KINDS))
def test_kinds_that_are_the_keepers_are_refused_even_by_a_button(helped, kind):
    entry = Entry(kind=kind, day=date(2026, 8, 3), specimens=("A1",))
    reading = Reading(reading=ReadingKind.ENTRIES, text="", entries=(entry,))
    with helped.store.begin() as work:
        number = work.prompts.put(
            helped.keeper.id,
            chat=helped.chat,
            actions=[{"do": "take", "label": "x", "reading": reading_to_store(reading)}],
            pending=None,
            change_id=None,
            at=NOW,
        )
    (reply,) = helped.say(pressed=f"{number}:0")
    assert "othing was stored" in reply.text
    assert rows_by(helped) == []


def test_a_helper_is_never_asked_to_feed_one_at_rest_or_one_that_waits_for_its_keeper(chat):
    with chat.store.begin() as work:
        change = work.journal.change(chat.keeper.shelf_id, chat.keeper.id, at=NOW, origin=None)
        work.journal.log(
            change,
            [
                Entry(kind=Kind.SEALED, day=date(2026, 7, 20), specimens=("R2",)),
                Entry(kind=Kind.MOLTED, day=date(2026, 7, 20), specimens=("A3",)),
                Entry(kind=Kind.PREMOLT, day=date(2026, 7, 20), specimens=("R1",)),
            ],
            zone="Europe/Prague",
        )
    chat.now = "2026-08-01 19:30"
    chat.told("away 3 to 14 August, my sister looks after them")
    chat.play("& Anna")
    chat.play("! opens the link")
    for day in range(3, 15):
        chat.now = f"2026-08-{day:02} 08:00"
        (round_,) = chat.play("! round")
        fed = [line for line in round_.text.split("\n") if line.startswith("Feed ")]
        assert not any(tag in line for line in fed for tag in ("(R2)", "(A3)", "(R1)"))
        assert not any(line.startswith(("Rehouse", "Look at", "Clear")) for line in round_.text.split("\n"))
        chat.shown.append(round_)
        chat.told("all done")


def test_a_link_lets_one_person_in_and_is_void_once_the_hand_over_is_called_off(chat):
    chat.now = "2026-08-01 19:30"
    chat.told("away 3 to 14 August, my sister looks after them")
    first = chat.code
    chat.told("new link")
    assert chat.code != first
    chat.told("cancel the hand-over")
    for code in (first, chat.code):
        chat.code = code
        chat.play("& Eve")
        (reply,) = chat.play("! opens the link")
        assert reply.text == "(the link does not hold)"


def test_the_keeper_is_sent_the_round_as_long_as_nobody_has_opened_the_link(chat):
    chat.now = "2026-08-03 07:00"
    chat.told("away from today to Friday, my sister looks after them")
    chat.now = "2026-08-03 08:00"
    told, round_ = chat.play("! round")
    assert "has not opened the link yet" in told.text
    assert "to feed" in round_.text


def test_a_partner_or_helper_cannot_hand_the_shelf_over(helped):
    assert "Only the keeper" in helped.told("away 5 to 6 August, Tom looks after them")


def test_the_sheet_is_a_pdf_for_the_days_of_the_hand_over(chat):
    chat.now = "2026-08-01 19:30"
    chat.told("away 3 to 4 August, my sister looks after them")
    (reply,) = chat.play("> print a sheet for my sister")
    (file,) = reply.pictures
    assert file.suffix == ".pdf"
    assert file.read_bytes().startswith(b"%PDF")


@pytest.mark.parametrize(
    ("language", "away", "sheet", "title"),
    [
        (
            "german",
            "weg vom 3. bis 4. August, meine Schwester passt auf",
            "drucke ein Blatt für meine Schwester",
            "Blatt für die Vertretung: Vogelspinnen von",
        ),
        (
            "spanish",
            "fuera del 3 al 4 de agosto, mi hermana las cuida",
            "imprime una hoja para mi hermana",
            "Hoja para quien ayuda: las tarántulas de",
        ),
    ],
)
def test_the_sheet_is_of_the_keepers_language(chat, language, away, sheet, title):
    chat.now = "2026-08-01 19:30"
    chat.told(f"language {language}")
    chat.told(away)
    (reply,) = chat.play(f"> {sheet}")
    assert title in text_of(reply.pictures[0].read_bytes())


def test_every_button_there_is_was_put_on_a_side(helped):
    """A new button has to be thought of: what is not a helper's is refused."""
    of_the_keeper = {name for name in PRESSES if name not in HELPERS_PRESSES}
    for name in of_the_keeper:
        with helped.store.begin() as work:
            number = work.prompts.put(
                helped.keeper.id,
                chat=helped.chat,
                actions=[{"do": name, "label": "x"}],
                pending=None,
                change_id=None,
                at=NOW,
            )
        (reply,) = helped.say(pressed=f"{number}:0")
        assert "is Invented Keeper’s to do" in reply.text


def test_a_helper_takes_back_in_words_what_they_logged_and_nothing_of_the_keepers(chat):
    chat.told("watered Clove")
    chat.told("away from today to monday, Anna feeds them")
    chat.play("& Anna")
    chat.play("! opens the link")
    chat.told("fed Rust a roach")
    assert chat.told("delete Clove's water from today").startswith("Nothing of that kind is on record")
    assert chat.told("delete Rust's meal from today").startswith("Taken back:")


@pytest.fixture
def asked(helped: Player) -> Player:
    """The keeper, the evening of a day on which Anna has fed two and watered one."""
    helped.told("fed Pebble and Rust a cricket each")
    helped.told("watered Clove")
    helped.now = "2026-08-04 19:00"
    helped.play("& keeper")
    helped.told("Moss ate 1 cricket")
    return helped


@pytest.mark.parametrize(
    "words",
    [
        "what did Anna do",
        "what did anna do yesterday?",
        "what has my sister logged",
        "what did my sister do this week?",
        "show me what anna did",
        "did my sister do anything yesterday?",
    ],
)
def test_what_a_helper_did_is_told_and_nothing_of_the_keepers(asked, words):
    told = asked.told(words)
    assert told == ("Mon 3 Aug, your sister: 2 fed: Pebble (A1) and Rust (A2); 1 watered: Clove (A3).")


@pytest.mark.parametrize(
    ("language", "words"),
    [("german", "was hat Anna gestern gemacht?"), ("spanish", "¿qué hizo Anna ayer?")],
)
def test_what_a_helper_did_is_asked_in_other_languages(asked, language, words):
    asked.told(f"language {language}")
    told = asked.told(words)
    assert "Pebble (A1)" in told
    assert "Moss" not in told


def test_a_day_of_which_a_helper_logged_nothing_is_told_as_such(asked):
    assert "Nothing by your sister" in asked.told("what did Anna do today?")


def test_what_an_animal_did_is_told_of_the_animal_and_of_nobody_else(asked):
    assert "your sister: " not in asked.told("what did Pebble do yesterday")
    assert "Nobody here is called" in asked.told("what did Bess do yesterday")


def test_one_who_was_called_my_sister_is_given_a_name(asked):
    assert asked.told("my sister is called Eva") == "Your sister is called Eva from now on."
    assert "Eva: 2 fed" in asked.told("what did eva do yesterday")
    assert asked.told("Pebble is called Grub") != ""  # an animal is renamed as ever
    assert "Grub" in asked.told("list my animals")


@pytest.mark.parametrize("words", ["im away?", "am I away?", "are we away now?"])
def test_whether_one_is_away_is_answered_by_the_hand_over(asked, words):
    assert "your sister" in asked.told(words).lower()


def test_a_helper_who_fed_one_that_waits_for_its_keeper_is_told_so(helped):
    helped.play("& keeper")
    helped.told("Clove sealed on 1 July")
    helped.told("Clove opened yesterday")
    helped.play("& Anna")
    assert "Waits for Invented Keeper" in helped.told("Clove ate 1 cricket")
