"""Two keepers on one shelf, each with a round in private, and one in their group: it is one round for all."""

import pytest

from bot.conversation.texts import say
from bot.terms import Specimen
from tests.apart.test_erasing import ADA, BO, CY, GROUP, share

ME = "@burrow_test_bot"
ALL_DONE = "All done"


def shelf():
    return [
        Specimen(tag=tag, name=name, species="Brachypelma hamorii", place=place)
        for tag, name, place in (
            ("A1", "Quill", "rack A"),
            ("A2", "Rust", "rack A"),
            ("B1", "Moss", "rack B"),
        )
    ]


@pytest.fixture
def two(street):
    """Ada's shelf, which Bo shares, and their group; nobody was fed for long, so that all three are due."""
    street.moves_in(ADA, "Ada", shelf())
    share(street, ADA, BO, "Bo")
    with street.store.begin() as work:
        work.keepers.mark_settled(work.keepers.by_contact("telegram", str(BO)).id)
    street.says(ADA, "/start", where=GROUP)
    street.arrive()
    return street


def round_for(street, person, *, where=None):
    """The round as a person asks for it: its buttons by label, and the number of its message."""
    text = "round" if where is None else f"{ME} round"
    sent = street.says(person, text, where=where)
    (shown,) = [one for one in sent if one.buttons]
    return dict(shown.buttons), street.arrive()[where or person]


def meals(street):
    """Of all entries the meals: whose, and who logged them."""
    with street.store.look() as work:
        shelf_id = work.keepers.by_contact("telegram", str(ADA)).shelf_id
        names = {
            work.keepers.by_contact("telegram", str(one)).id: name for one, name in ((ADA, "Ada"), (BO, "Bo"))
        }
        rows = work.journal.entries(shelf_id)
        return sorted((row.entry.specimens[0], names[row.by]) for row in rows if row.entry.kind == "fed")


def state_of(street, person):
    """The tasks of a person's latest round, and whether it is closed."""
    with street.store.look() as work:
        latest = work.rounds.latest(work.keepers.by_contact("telegram", str(person)).id)
    return [item["state"] for item in latest.tasks if item["task"] == "feed"], latest.closed_at is not None


def test_who_taps_the_others_round_in_the_group_answers_that_round(two):
    buttons, message = round_for(two, ADA, where=GROUP)
    sent = two.presses(BO, buttons[ALL_DONE], where=GROUP, shown=message)
    assert meals(two) == [("A1", "Bo"), ("A2", "Bo"), ("B1", "Bo")]
    assert sent[1].edits == message
    assert sent[1].text == say("round.finished")
    assert state_of(two, ADA) == (["done"] * 3, True)


def test_what_one_taps_in_the_group_is_ticked_off_in_both_private_messages(two):
    _, adas = round_for(two, ADA)
    _, bos = round_for(two, BO)
    buttons, message = round_for(two, ADA, where=GROUP)
    sent = two.presses(BO, buttons[ALL_DONE], where=GROUP, shown=message)
    edits = {one.chat: (one.edits, one.text) for one in sent if one.edits is not None}
    assert edits == {
        GROUP: (message, say("round.finished")),
        ADA: (adas, say("round.finished")),
        BO: (bos, say("round.finished")),
    }
    assert len(meals(two)) == 3
    assert state_of(two, BO)[1]


def test_a_meal_that_is_typed_in_private_is_ticked_off_in_all_messages_of_the_round(two):
    _, adas = round_for(two, ADA)
    _, bos = round_for(two, BO)
    sent = two.says(ADA, "Quill ate 2 crickets")
    edits = {one.chat: one for one in sent if one.edits is not None}
    assert {chat: one.edits for chat, one in edits.items()} == {ADA: adas, BO: bos}
    for one in edits.values():
        assert "Fed: Quill" in one.text.replace("✓ ", "")
        assert ALL_DONE in dict(one.buttons)
    two.arrive()
    two.presses(BO, dict(edits[BO].buttons)[ALL_DONE], shown=bos)
    assert meals(two) == [("A1", "Ada"), ("A2", "Bo"), ("B1", "Bo")]


def test_what_is_taken_back_is_open_again_in_the_others_message(two):
    _, bos = round_for(two, BO)
    two.says(ADA, "Quill ate 2 crickets")
    two.arrive()
    (edit,) = [one for one in two.says(ADA, "undo") if one.edits is not None]
    assert (edit.chat, edit.edits) == (BO, bos)
    assert "Feed Quill (A1), Rust (A2)" in edit.text
    assert meals(two) == []


def test_what_is_no_part_of_the_round_edits_nothing(two):
    round_for(two, BO)
    assert [one for one in two.says(ADA, "Quill weighs 12 g") if one.edits is not None] == []


def test_both_tap_all_done_in_one_group_message_and_nobody_is_fed_twice(two):
    buttons, message = round_for(two, ADA, where=GROUP)
    two.presses(BO, buttons[ALL_DONE], where=GROUP, shown=message)
    late = two.presses(ADA, buttons[ALL_DONE], where=GROUP, shown=message)
    assert [one.text for one in late if one.text] == [say("press.used")]
    assert len(meals(two)) == 3


def test_buttons_behind_the_first_press_stay_those_of_the_round_of_the_message(two):
    """Bo ticks who refused in Ada's round; he has no round of his own that day."""
    buttons, message = round_for(two, ADA, where=GROUP)
    sent = two.presses(BO, buttons[say("round.some_refused")], where=GROUP, shown=message)
    ticked = two.presses(BO, dict(sent[-1].buttons)["Rust (A2)"], where=GROUP, shown=message)
    save = next(data for label, data in ticked[-1].buttons if label.startswith("Save"))
    two.presses(ADA, save, where=GROUP, shown=message)
    assert meals(two) == [("A1", "Ada"), ("B1", "Ada")]
    assert state_of(two, ADA) == (["done", "refused", "done"], False)  # the water is left


def test_while_somebody_ticks_who_refused_the_message_is_left_alone(two):
    buttons, message = round_for(two, ADA, where=GROUP)
    two.presses(BO, buttons[say("round.some_refused")], where=GROUP, shown=message)
    two.arrive()
    assert [one for one in two.says(ADA, "Quill ate 2 crickets") if one.edits is not None] == []


def test_what_is_typed_in_the_group_answers_the_round_shown_there(two):
    """Bo has none of his own: "all took" is said of the one that Ada had shown to both."""
    round_for(two, ADA, where=GROUP)
    two.says(BO, f"{ME} all took except Rust", where=GROUP)
    assert meals(two) == [("A1", "Bo"), ("B1", "Bo")]
    assert state_of(two, ADA)[0] == ["done", "open", "done"]


def test_a_round_shown_to_the_other_alone_is_not_answered_by_words_in_private(two):
    round_for(two, ADA)
    assert say("round.not_shown") in two.told(BO, "all done")
    assert meals(two) == []


def test_later_tapped_by_the_other_comes_back_to_the_one_who_tapped(two):
    two.now = two.now.replace(hour=9)
    buttons, message = round_for(two, ADA, where=GROUP)
    sent = two.presses(BO, buttons[say("round.later")], where=GROUP, shown=message)
    assert any(say("round.comes_back", time="18:00") in one.text for one in sent)
    assert state_of(two, ADA)[0] == ["later"] * 3
    two.arrive()
    two.now = two.now.replace(hour=18, minute=1)
    again = [one for one in two.ticks() if "Quill" in one.text]
    assert [one.chat for one in again] == [BO]


def test_skipped_by_the_other_and_taken_back_is_the_same_round(two):
    buttons, message = round_for(two, ADA, where=GROUP)
    sent = two.presses(BO, buttons[say("round.skip")], where=GROUP, shown=message)
    assert state_of(two, ADA) == (["skipped"] * 3, True)
    undo = dict(sent[-1].buttons)[say("button.undo")]
    two.presses(BO, undo, where=GROUP, shown=message)
    assert state_of(two, ADA) == (["open"] * 3, False)


def test_a_stranger_to_the_shelf_answers_no_round_of_it(two):
    two.moves_in(CY, "Cy", [Specimen(tag="A1", name="Ink", species="Brachypelma hamorii")])
    buttons, message = round_for(two, ADA, where=GROUP)
    two.presses(CY, buttons[ALL_DONE], where=GROUP, shown=message)
    assert meals(two) == []
