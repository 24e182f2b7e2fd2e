"""The round place by place: the four answers for each of them, by one thumb or in words, once and no more."""

from __future__ import annotations

from dataclasses import replace

import pytest

from bot.terms import Kind
from storage import Store
from tests.conversation.given import INVENTED_SHELF, SETTINGS, a_keeper, at, entry_from
from tests.conversation.replay import Player

GIVEN = (
    "2026-04-20 fed A1,A2,A3 prey=cricket count=2",
    "2026-05-01 fed B1,B2,B3,R1,R3,C1 prey=fruit_fly",
    "2026-05-01 sealed R2",
    "2026-05-13 watered A1,A2,A3,B1,B2,B3,R1,R3,C1",
)
#: More than a keyboard has room for.
MANY = 15


def told_before(chat: Player) -> None:
    with chat.store.begin() as work:
        change = work.journal.change(
            chat.keeper.shelf_id, chat.keeper.id, at=at("2026-05-13 12:00"), origin=None
        )
        work.journal.log(change, [entry_from(line) for line in GIVEN], zone=SETTINGS.zone)


@pytest.fixture
def morning(chat) -> Player:
    told_before(chat)
    chat.now = "2026-05-14 08:00"
    chat.shown += chat.play("! round")
    return chat


def labels(reply) -> list[str]:
    return [button.label for row in reply.buttons for button in row]


def data(chat: Player, label: str) -> str:
    """The data of the latest button of that label."""
    return [b.data for reply in chat.shown for row in reply.buttons for b in row if b.label == label][-1]


def states(chat: Player) -> dict[str, str]:
    with chat.store.look() as work:
        tasks = work.rounds.latest(chat.keeper.id).tasks
    return {item["tag"]: item["state"] for item in tasks if item["task"] != "rest"}


def told_today(chat: Player) -> list[tuple[str, Kind]]:
    """Of the shelf that is shared, whoever writes."""
    day = at(chat.now).date()
    keeper = chat.people["keeper"][0] if chat.people else chat.keeper.id
    with chat.store.look() as work:
        rows = work.journal.entries(work.keepers.get(keeper).shelf_id)
    return sorted(
        (tag, row.entry.kind) for row in rows if row.entry.day == day for tag in row.entry.specimens
    )


def test_a_tap_on_a_place_shows_it_alone_in_the_same_message_with_the_four_answers(morning):
    assert morning.press("shelf B …")
    shown = morning.shown[-1]
    assert shown.edits_pressed
    assert labels(shown) == ["Done", "Some refused", "Later", "Skip", "Back"]
    assert "(B3)" in shown.text
    assert "(A1)" not in shown.text


def test_back_shows_the_whole_round_as_it_was(morning):
    morning.press("shelf B …")
    assert morning.press("Back") == morning.shown[0].text
    assert labels(morning.shown[-1]) == labels(morning.shown[0])


#: What a place's button does, and the words that do the same.
WAYS = {"Done": "B done", "Later": "B later", "Skip": "skip B"}


@pytest.mark.parametrize(("button", "words"), WAYS.items())
def test_a_places_button_does_what_the_words_do(button, words):
    found = []
    for by_button in (True, False):
        store = Store.open("sqlite://")
        chat = Player(store)
        chat.settle_in([])
        told_before(chat)
        chat.now = "2026-05-14 08:00"
        chat.shown += chat.play("! round")
        if by_button:
            chat.press("shelf B …")
            chat.press(button)
        else:
            chat.told(words)
        found.append((states(chat), told_today(chat)))
        store.close()
    assert found[0] == found[1]
    touched = {tag for tag, state in found[0][0].items() if state != "open"}
    assert touched == {"B1", "B2", "B3"}


def test_of_those_of_a_place_that_refused_the_others_of_it_alone_are_fed(morning):
    morning.press("shelf B …")
    assert "who refused" in morning.press("Some refused")
    assert labels(morning.shown[-1]) == ["B1", "B2", "Nib (B3)", "Save (0 refused)", "Back"]
    morning.press("B2")
    morning.press("Save (1 refused)")
    assert told_today(morning) == [("B1", Kind.FED), ("B2", Kind.REFUSED), ("B3", Kind.FED)]


@pytest.mark.parametrize(
    "words", ["some of B refused", "on shelf B two refused", "one of shelf B didn't eat"]
)
def test_some_of_a_place_in_words_asks_who_of_it(morning, words):
    assert "who refused" in morning.told(words)
    assert labels(morning.shown[-1]) == ["B1", "B2", "Nib (B3)", "Save (0 refused)", "Back"]
    morning.press("Nib (B3)")
    morning.press("Save (1 refused)")
    assert told_today(morning) == [("B1", Kind.FED), ("B2", Kind.FED), ("B3", Kind.REFUSED)]


@pytest.mark.parametrize("button", ["Done", "Later", "Skip", "Some refused", "Back"])
def test_a_second_tap_does_nothing_more(morning, button):
    morning.press("shelf B …")
    pressed = data(morning, button)
    morning.shown += morning.say(pressed=pressed)
    before = (states(morning), told_today(morning))
    assert "used already" in morning.say(pressed=pressed)[0].text
    assert (states(morning), told_today(morning)) == before


def test_what_was_done_in_words_meanwhile_is_not_done_again_by_a_button_that_waits(morning):
    morning.press("shelf B …")
    done = data(morning, "Done")
    morning.told("B1 ate a cricket")
    morning.say(pressed=done)
    assert told_today(morning) == [("B1", Kind.FED), ("B2", Kind.FED), ("B3", Kind.FED)]


@pytest.mark.parametrize("button", ["Done", "Some refused", "Later", "Skip"])
def test_a_place_of_which_all_is_told_has_nothing_left_for_its_buttons(morning, button):
    morning.press("shelf B …")
    pressed = data(morning, button)
    morning.told("B done")
    before = (states(morning), told_today(morning))
    replies = morning.say(pressed=pressed)
    assert "shelf B …" not in labels(replies[0])
    assert "shelf A …" in labels(replies[0])
    assert (states(morning), told_today(morning)) == before


@pytest.mark.parametrize("button", ["Done", "Some refused", "Later", "Skip", "Back"])
def test_a_places_button_of_an_earlier_round_says_that_it_is_over(morning, button):
    morning.press("shelf B …")
    pressed = data(morning, button)
    morning.now = "2026-05-15 08:00"
    morning.shown += morning.play("! round")
    before = (states(morning), len(morning.entries()))
    assert "is over" in morning.say(pressed=pressed)[0].text
    assert (states(morning), len(morning.entries())) == before


def test_a_place_done_the_morning_after_is_asked_for_its_day(morning):
    morning.press("shelf B …")
    morning.now = "2026-05-15 07:00"
    before = len(morning.entries())
    assert "On which day" in morning.press("Done")
    assert len(morning.entries()) == before


def test_places_put_off_one_after_the_other_come_back_once(morning):
    for place in ("shelf B …", "rack 1 …", "shelf A …"):
        morning.press(place)
        assert "18:00" in morning.press("Later")
    assert {"later"} == set(states(morning).values())
    come = []
    for morning.now in ("2026-05-14 18:00", "2026-05-14 20:00", "2026-05-14 21:00"):
        come += [morning.now[-5:] for _ in morning.play("! reminders")]
    assert come == ["18:00"]


def test_a_place_put_off_is_marked_until_it_comes_back(morning):
    morning.press("shelf B …")
    assert "shelf B – again at 18:00\n" in morning.press("Later")
    assert "shelf A – again" not in morning.shown[-2].text
    morning.now = "2026-05-14 18:00"
    (again,) = morning.play("! reminders")
    morning.shown.append(again)
    assert "again at" not in again.text
    morning.press("rack 1 …")
    assert "again at" not in morning.press("Back")


def test_an_animal_without_a_place_has_the_four_answers_too(store):
    chat = Player(store)
    shelf = [replace(one, place=None) if one.tag == "B1" else one for one in INVENTED_SHELF]
    chat.keeper = a_keeper(store, shelf=shelf)
    told_before(chat)
    chat.now = "2026-05-14 08:00"
    chat.shown += chat.play("! round")
    chat.press("No place noted …")
    chat.press("Done")
    assert told_today(chat) == [("B1", Kind.FED)]


def test_of_many_places_some_have_a_button_and_others_once_those_are_done(store):
    chat = Player(store)
    shelf = [replace(INVENTED_SHELF[0], tag=f"T{n}", name=f"Twin {n}", place=f"box {n}") for n in range(MANY)]
    chat.keeper = a_keeper(store, shelf=shelf)
    chat.now = "2026-05-14 08:00"
    chat.shown += chat.play("! round")
    assert [label for label in labels(chat.shown[-1]) if "box" in label] == [f"box {n} …" for n in range(12)]
    assert max(len(row) for row in chat.shown[-1].buttons) == 3
    chat.press("box 3 …")
    chat.press("Skip")
    assert "box 12 …" in labels(chat.shown[-2])


def test_what_one_partner_did_at_a_place_is_not_done_again_by_the_other(morning):
    morning.play("! invites a partner")
    morning.play("& Robin")
    morning.play("! opens the link")
    morning.shown += morning.play("! round")
    morning.press("shelf B …")
    robins = data(morning, "Done")
    morning.play("& keeper")
    morning.told("B done")
    done = told_today(morning)
    assert len(done) == 3
    morning.play("& Robin")
    morning.say(pressed=robins)
    assert told_today(morning) == done


def test_a_helper_has_the_four_answers_for_each_place(chat):
    chat.now = "2026-08-01 19:30"
    chat.told("away 3 to 14 August, my sister looks after them")
    chat.play("& Anna")
    chat.play("! opens the link")
    chat.now = "2026-08-03 08:00"
    chat.shown += chat.play("! round")
    chat.press("shelf B …")
    assert labels(chat.shown[-1]) == ["Done", "Some refused", "Later", "Skip", "Back"]
    assert "Invented Keeper" in chat.shown[-1].text
    chat.press("Done")
    assert {tag for tag, _ in told_today(chat)} == {"B1", "B2", "B3"}
    chat.press("rack 1 …")
    assert "18:00" in chat.press("Later")
    chat.press("shelf A …")
    assert "Skipped" in chat.press("Skip")


IN_LANGUAGES = {
    "german": (
        ("Erledigt", "Manche verweigert", "Später", "Auslassen", "Zurück"),
        "shelf B – wieder um 18:00",
        ("einige auf shelf B haben verweigert", "auf shelf B haben zwei nicht gefressen"),
    ),
    "spanish": (
        ("Hecho", "Alguna rechazó", "Más tarde", "Omitir", "Atrás"),
        "shelf B – otra vez a las 18:00",
        ("algunas de shelf B no comieron", "en shelf B dos rechazaron"),
    ),
}


@pytest.mark.parametrize("language", IN_LANGUAGES)
def test_a_places_buttons_speak_the_keepers_language(chat, language):
    buttons, put_off, ways = IN_LANGUAGES[language]
    told_before(chat)
    chat.now = "2026-05-14 08:00"
    chat.told(f"language {language}")
    chat.shown += chat.play("! round")
    chat.press("shelf B …")
    assert tuple(labels(chat.shown[-1])) == buttons
    assert put_off in chat.press(buttons[2])
    for words in ways:
        chat.told(words)
        assert labels(chat.shown[-1])[:3] == ["B1", "B2", "Nib (B3)"]


#: Of the round are all but Delve, who is sealed, and gets no more than water.
GROUPS_SAID = (
    ("english", "done with the slings", {"B1", "B2", "B3", "C1"}),
    ("english", "slings done", {"B1", "B2", "B3", "C1"}),
    ("english", "the slings are done except Nib", {"B1", "B2", "C1"}),
    ("english", "finished with the GBBs", {"B1", "B2"}),
    ("english", "brachypelmas done", {"A2", "A3"}),
    ("english", "the females on shelf A are done", {"A1", "A2"}),
    ("english", "juveniles and rack 1 done", {"A3", "R1", "R3", "C1"}),
    ("english", "all done except the adults", {"A3", "B1", "B2", "B3", "R1", "C1"}),
    ("german", "bin fertig mit den Slings", {"B1", "B2", "B3", "C1"}),
    ("german", "die Spiderlinge sind erledigt", {"B1", "B2", "B3", "C1"}),
    ("german", "alles erledigt außer den Adulten", {"A3", "B1", "B2", "B3", "R1", "C1"}),
    ("spanish", "terminé con las crías", {"B1", "B2", "B3", "C1"}),
    ("spanish", "las slings están listas", {"B1", "B2", "B3", "C1"}),
)


@pytest.mark.parametrize(("language", "words", "fed"), GROUPS_SAID)
def test_an_answer_may_be_for_a_group_of_the_round(morning, language, words, fed):
    morning.told(f"language {language}")
    morning.told(words)
    assert {tag for tag, kind in told_today(morning) if kind is Kind.FED} == fed


@pytest.mark.parametrize(("words", "skipped"), [("skip the slings", 4), ("the GBBs can wait", 2)])
def test_a_group_of_the_round_is_put_off_in_words(morning, words, skipped):
    morning.told(words)
    assert list(states(morning).values()).count("skipped") == skipped
    assert told_today(morning) == []


def test_some_refused_of_a_group_asks_for_those_of_it_alone(morning):
    morning.told("two of the slings refused")
    assert labels(morning.shown[-1])[:4] == ["B1", "B2", "Nib (B3)", "the commune (C1)"]
    assert told_today(morning) == []


@pytest.mark.parametrize(
    "words",
    ["done with the crickets", "done with work", "done with it", "finished with the water dishes today"],
)
def test_what_is_no_group_of_the_round_answers_none(morning, words):
    morning.told(words)
    assert told_today(morning) == []


def test_a_group_is_no_answer_where_no_round_was_shown(chat):
    told_before(chat)
    chat.now = "2026-05-14 08:00"
    chat.told("slings done")
    assert told_today(chat) == []


def test_a_group_of_whom_nobody_is_on_the_round_stores_nothing(morning):
    morning.told("slings done")
    before = told_today(morning)
    assert "Nothing of that is open" in morning.told("slings done")
    assert told_today(morning) == before
