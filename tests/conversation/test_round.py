"""The round as a conversation: it never asks for what would harm, and ticks what is on record."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from bot.round.worklist import rest_of
from bot.terms import Entry, Kind
from storage import Store
from tests.conversation.given import SETTINGS, a_keeper, at, entry_from
from tests.conversation.replay import Player

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
    morning.press("shelf A …")
    assert "Fed: Pebble (A1)" in morning.press("Done")
    morning.told("undo")
    left = morning.told("only water today")
    assert any("Pebble" in line for line in left.split("\n") if line.startswith("Feed"))


def test_a_bare_number_that_two_tags_end_with_is_asked_about(morning):
    before = len(morning.entries())
    assert "Who is “1”" in morning.told("all done except 1 and Pebble")
    assert len(morning.entries()) == before


@pytest.mark.parametrize("said", ["all took but 3", "all but 3", "everything done except 3"])
def test_a_bare_number_may_be_a_tag_or_how_many_and_is_asked(morning, said):
    before = len(morning.entries())
    assert "the tag of one" in morning.told(said)
    assert "say who" in morning.press("3 of them")
    assert len(morning.entries()) == before
    morning.told(said)
    morning.told("B3")
    added = morning.entries()[:-before]
    assert added
    assert "B3" not in {tag for entry in added for tag in entry.specimens}


def test_a_number_greater_than_those_due_is_a_tag(chat):
    chat.told("round")
    assert "Who is “30”" in chat.told("all but 30")


@pytest.mark.parametrize("day", ["Yesterday (Thu 14 May)", "Today"])
def test_an_answer_to_the_round_of_the_day_before_is_dated_when_it_was_done(morning, day):
    morning.now = "2026-05-15 07:00"
    before = len(morning.entries())
    assert "On which day" in morning.told("all took")
    assert len(morning.entries()) == before
    morning.told(day)
    days = {entry.day for entry in morning.entries()[: len(morning.entries()) - before]}
    assert days == {date(2026, 5, 15 if day == "Today" else 14)}


def test_a_full_sentence_is_no_answer_to_the_question_before(morning):
    morning.told("rack 1 took, only duke refused")
    before = len(morning.entries())
    morning.told("B done except Nib")
    fed = {t for e in morning.entries()[: len(morning.entries()) - before] for t in e.specimens}
    assert fed == {"B1", "B2"}


def test_a_meal_of_a_place_of_which_the_round_asks_for_some_is_asked_about(morning):
    morning.told("Rust ate 2 crickets on tuesday")
    assert "Not due today: Rust (A2)" in morning.told("shelf A took")
    morning.press("Those due (2)")
    today = {t for e in morning.entries() if e.day == date(2026, 5, 14) for t in e.specimens}
    assert today == {"A1", "A3"}


def test_who_did_a_part_of_the_round_is_known_or_it_is_not_taken(morning):
    before = len(morning.entries())
    morning.told("nobody did the shelf A ones")
    assert len(morning.entries()) == before
    morning.told("i did the shelf A ones")
    assert len(morning.entries()) > before


def test_everyone_ate_may_be_the_round_or_the_shelf_and_is_asked(morning):
    before = len(morning.entries())
    assert "the whole shelf" in morning.told("everyone ate")
    assert len(morning.entries()) == before
    morning.press(next(b.label for row in morning.shown[-1].buttons for b in row if "round" in b.label))
    fed = {tag for entry in morning.entries()[: len(morning.entries()) - before] for tag in entry.specimens}
    assert fed
    assert not fed & {"R1", "R2"}


AT_REST = ("2026-05-01 sealed R2", "2026-05-08 premolt A3", "2026-05-12 molted R1")


@pytest.fixture
def some_rest(chat) -> Player:
    with chat.store.begin() as work:
        change = work.journal.change(
            chat.keeper.shelf_id, chat.keeper.id, at=at("2026-05-12 12:00"), origin=None
        )
        fed = "2026-05-13 fed R3 prey=roach count=1"
        watered = "2026-05-13 watered A1,A2,A3,B1,B2,B3,R1,R2,R3,C1"
        lines = [*AT_REST, fed, watered]
        work.journal.log(change, [entry_from(line) for line in lines], zone=SETTINGS.zone)
    return chat


def _told_of(chat: Player, kind: Kind, day: date = date(2026, 5, 14)) -> set[str]:
    return {
        tag for entry in chat.entries() if entry.kind is kind and entry.day == day for tag in entry.specimens
    }


@pytest.mark.parametrize(
    ("said", "kind"),
    [
        ("all took", Kind.FED),
        ("everyone ate", Kind.FED),
        ("fed everyone a cricket each", Kind.FED),
        ("offered everyone a roach", Kind.OFFERED),
        ("all refused", Kind.REFUSED),
        ("all took except B1", Kind.FED),
        ("rack 1 ate", Kind.FED),
        ("watered everyone", Kind.WATERED),
        ("watered all", Kind.WATERED),
    ],
)
def test_without_a_round_what_is_said_of_many_is_not_stored_of_those_who_rest(some_rest, said, kind):
    watered = kind is Kind.WATERED
    asked = {Kind.WATERED: "Sealed: Delve (R2).", Kind.REFUSED: "those that are due today"}
    assert asked.get(kind, "At rest") in some_rest.told(said)
    assert not _told_of(some_rest, kind)
    some_rest.press(some_rest.shown[-1].buttons[0][0].label)
    told = _told_of(some_rest, kind)
    assert told
    assert not told & ({"R2"} if watered else {"A3", "R1", "R2"})


def test_those_due_are_offered_first_and_can_be_typed(some_rest):
    some_rest.told("everyone ate")
    assert some_rest.shown[-1].buttons[0][0].label.startswith("Those due")
    some_rest.told("those due")
    assert "R3" not in _told_of(some_rest, Kind.FED)
    assert "A1" in _told_of(some_rest, Kind.FED)


def test_all_of_them_may_be_meant_and_a_sealed_one_is_asked_about_by_itself(some_rest):
    some_rest.told("everyone ate")
    assert "sealed" in some_rest.told("all of them")


@pytest.mark.parametrize("said", ["fed Pebble and Clove", "fed A1 and A3", "Moss and Clove ate"])
def test_one_at_rest_that_is_named_is_meant(some_rest, said):
    assert "At rest" not in some_rest.told(said)
    assert _told_of(some_rest, Kind.FED) & {"A3"}


def test_water_of_a_place_is_for_those_who_rest_as_well(some_rest):
    assert "At rest" not in some_rest.told("watered rack 1")
    assert {"R1", "R2"} <= _told_of(some_rest, Kind.WATERED)


@pytest.mark.parametrize(
    "said", ["fed everyone thats due", "fed all who were due", "those due ate", "the due ones have all eaten"]
)
def test_those_due_can_be_told_of_without_a_round(some_rest, said):
    some_rest.told(said)
    assert _told_of(some_rest, Kind.FED) == {"A1", "A2", "B1", "B2", "B3", "C1"}


def test_everyone_ate_without_a_round_is_said_of_the_shelf(chat):
    chat.told("everyone ate")
    assert len({tag for entry in chat.entries() for tag in entry.specimens}) == 10


def test_a_late_round_says_so(chat):
    with chat.store.begin() as work:
        keeper = work.keepers.get(chat.keeper.id)
        replies = chat.talk.round_message(
            work, keeper, chat.chat, date(2026, 5, 14), at("2026-05-14 15:00"), late=True
        )
    assert "late" in replies[0].text.split("\n")[0]


def test_who_asks_what_is_due_sees_the_open_round_with_its_buttons(morning):
    morning.told("fed Pebble 2 crickets")
    said = morning.told("what is due today?")
    assert "Fed: Pebble (A1)" in said
    assert any(button.label == "All done" for row in morning.shown[-1].buttons for button in row)


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
    assert "18:00" in morning.told("later")
    morning.told("fed Pebble 2 crickets")
    morning.now = "2026-05-14 18:00"
    replies = morning.play("! reminders")
    assert len(replies) == 1
    feed = [line for line in replies[0].text.split("\n") if line.startswith("Feed")]
    assert any("Rust" in line for line in feed)
    assert not any("Pebble" in line for line in feed)
    assert morning.play("! reminders") == []


def test_the_second_look_is_no_reminder_of_the_keepers(morning):
    morning.told("remind me to mist the sac on Friday")
    morning.told("later")
    listed = morning.told("reminders")
    assert "mist the sac" in listed
    assert "round" not in listed
    assert "mist the sac" in morning.told("cancel reminder 1")
    morning.now = "2026-05-14 18:00"
    assert len(morning.play("! reminders")) == 1


def test_of_several_words_on_when_the_round_comes_again_the_latest_holds(morning):
    for said in ("later", "later til 8", "later til 7"):
        morning.told(said)
    come = []
    for morning.now in ("2026-05-14 18:00", "2026-05-14 19:00", "2026-05-14 20:00"):
        come += [morning.now[-5:] for _ in morning.play("! reminders")]
    assert come == ["19:00"]


def test_after_later_the_rounds_buttons_still_act(morning):
    morning.press("Later")
    before = len(morning.entries())
    morning.press("All done")
    assert len(morning.entries()) > before


def test_a_round_with_nothing_due_is_not_sent(store):
    player = Player(store)
    player.keeper = a_keeper(store, shelf=())
    assert player.play("! round") == []


@pytest.mark.parametrize(
    "said", ["all done", "later", "skip", "only water today", "B done", "all but Pebble"]
)
def test_answers_to_a_round_with_none_open_store_nothing(chat, said):
    chat.told(said)
    assert chat.entries() == []


# --- by property ----------------------------------------------------------------------------

HAPPENED = st.tuples(
    st.sampled_from(("A1", "A2", "B1", "B2", "R1", "R2", "C1")),
    st.sampled_from(
        (
            Kind.FED,
            Kind.REFUSED,
            Kind.OFFERED,
            Kind.SEALED,
            Kind.OPENED,
            Kind.PREMOLT,
            Kind.MOLTED,
            Kind.WATERED,
        )
    ),
    st.integers(min_value=0, max_value=40),
)


@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(st.lists(HAPPENED, max_size=25), st.sets(st.sampled_from(("A1", "B1", "C1")), max_size=2))
def test_whatever_happened_no_round_asks_or_logs_a_meal_against_rest(happened, held):
    today = date(2026, 5, 14)
    store = Store.open("sqlite://")
    chat = Player(store)
    chat.settle_in([])
    try:
        with store.begin() as work:
            change = work.journal.change(
                chat.keeper.shelf_id, chat.keeper.id, at=at("2026-05-13 12:00"), origin=None
            )
            entries = [
                Entry(kind=kind, day=today - timedelta(days=ago), specimens=(tag,))
                for tag, kind, ago in happened
            ]
            work.journal.log(change, entries, zone=SETTINGS.zone)
            if held:
                work.holds.set(change, sorted(held), since=today - timedelta(days=3), until=None)
            facts = work.shelves.facts(chat.keeper.shelf_id)
        resting = {one.specimen.tag for one in facts if rest_of(one, today) is not None}
        assert held <= resting
        chat.now = "2026-05-14 08:00"
        before = len(chat.entries())
        chat.shown += chat.play("! round")
        if chat.shown:
            fed_lines = [line for line in chat.shown[0].text.split("\n") if line.startswith("Feed")]
            assert not any(f"({tag})" in line or f" {tag}" in line for tag in resting for line in fed_lines)
            chat.told("all done")
        logged = chat.entries()[: len(chat.entries()) - before]
        fed = {tag for entry in logged if entry.kind is Kind.FED for tag in entry.specimens}
        assert not fed & resting
        assert all(entry.day == today for entry in logged)
    finally:
        store.close()


def _comes_at(chat: Player, moment: str) -> None:
    with chat.store.begin() as work:
        work.keepers.set_next_round(chat.keeper.id, at(moment))


def test_a_round_asked_for_before_its_time_still_comes_once_with_what_is_left(chat):
    chat.now = "2026-05-14 06:30"
    _comes_at(chat, "2026-05-14 08:00")
    asked = chat.told("round")
    chat.told("fed everyone thats due except Pebble")
    chat.now = "2026-05-14 08:00"
    came = chat.play("! round")
    assert len(came) == 1
    fed = [line for line in came[0].text.split("\n") if line.startswith("Feed")]
    assert len(fed) == 1
    assert "Pebble" in fed[0]
    assert "Rust" in asked
    assert chat.play("! round") == []


@pytest.mark.parametrize("said", ["later", "skip the round"])
def test_a_round_asked_for_and_put_off_before_its_time_does_not_come_at_it(chat, said):
    chat.now = "2026-05-14 06:30"
    _comes_at(chat, "2026-05-14 08:00")
    chat.told("round")
    chat.told(said)
    chat.now = "2026-05-14 08:00"
    assert chat.play("! round") == []


def test_a_round_asked_for_after_its_time_does_not_come_again(chat):
    chat.now = "2026-05-14 09:00"
    _comes_at(chat, "2026-05-15 08:00")
    chat.told("who is due?")
    assert chat.play("! round") == []


@pytest.mark.parametrize(
    "said",
    [
        "all done except rust, he refused",
        "all took but Rust (refused)",
        "rust refused, everyone else ate",
        "round done except Rust who refused",
        "everyone took except rust, refused",
    ],
)
def test_what_is_said_of_those_excepted_is_stored_beside_the_others(chat, said):
    chat.told("round")
    chat.told(said)
    kinds = {entry.kind for entry in chat.entries() if "A2" in entry.specimens}
    assert kinds == {Kind.REFUSED}
    assert any(entry.kind is Kind.FED and "A1" in entry.specimens for entry in chat.entries())


def test_an_exception_of_which_something_unread_is_said_is_asked_about(chat):
    chat.told("round")
    assert "Who is" in chat.told("all done except rust, he zorbled")
    assert chat.entries() == []


def test_a_round_asked_for_again_shows_who_rests_and_who_is_due_by_then(morning):
    assert "(R2): Sealed" in morning.told("round")
    morning.told("hold Pebble until 20 May")
    morning.told("Delve opened up")
    shown = morning.told("round")
    assert "(R2): Sealed" not in shown
    assert "Pebble (A1): Held" in shown
    assert "Feed Pebble" not in shown
    morning.told("resume feeding Pebble")
    assert "Feed Pebble" in morning.told("round")


def test_asked_when_the_round_comes_the_day_hour_and_days_are_told(chat):
    chat.told("round at 7:30")
    chat.told("rounds only on weekends")
    told = chat.told("when is the next round?")
    assert "07:30" in told
    assert "Saturday and Sunday" in told
    chat.told("stop sending rounds")
    assert "No round comes by itself" in chat.told("when do I get the round")


@pytest.mark.parametrize(
    ("wanted", "told"),
    [
        ("round at 9 on weekends", "at 08:00 on Monday, Tuesday, Wednesday, Thursday and Friday"),
        ("round at 9 on weekends", "at 09:00 on Saturday and Sunday"),
        ("rounds only on Saturdays at 9:30", "Round at 09:30 on Saturday."),
        ("round at 9 on weekends and 7 on weekdays", "at 09:00 on Saturday and Sunday"),
        ("round at 10 on Sundays, 6:30 on Mondays", "at 06:30 on Monday"),
    ],
)
def test_a_round_may_come_at_another_hour_on_some_days(chat, wanted, told):
    chat.told("quiet from 22 to 5")
    said = chat.told(wanted)
    assert told in said
    assert said in chat.told("settings")
    assert chat.told("round at 8 every day") == "Round at 08:00." or "only" in wanted


@pytest.mark.parametrize(
    ("wanted", "first", "last"),
    [
        ("no rounds until Monday", 15, 17),
        ("no round tomorrow", 15, 15),
        ("skip tomorrow's round", 15, 15),
        ("pause rounds for 3 days", 15, 17),
        ("no rounds this weekend", 16, 17),
        ("no rounds from Friday to Sunday", 15, 17),
        ("stop the rounds for a week", 15, 21),
        ("no rounds until 20 May", 15, 19),
    ],
)
def test_no_round_comes_on_the_days_of_a_pause_and_then_again_by_itself(chat, wanted, first, last):
    """It is the evening of the 14th: the round of that day has come."""
    chat.told(wanted)
    with chat.store.look() as work:
        settings = work.keepers.get(chat.keeper.id).settings
    paused = [day for day in range(15, 29) if not settings.has_round(date(2026, 5, day))]
    assert paused == list(range(first, last + 1))
    chat.now = f"2026-05-{first} 08:00"
    assert chat.play("! round") == []
    chat.now = f"2026-05-{last + 1} 08:00"
    assert len(chat.play("! round")) == 1


def test_a_pause_is_ended_early_and_the_days_and_hours_of_the_round_stay(chat):
    chat.told("rounds only on weekends")
    before = chat.told("settings")
    chat.told("no rounds until Monday")
    assert "The pause is over" in chat.told("start rounds again")
    assert chat.told("settings") == before


def test_a_pause_without_an_end_is_asked_about_and_changes_nothing(chat):
    before = chat.told("settings")
    assert "for how long" in chat.told("no rounds for a while")
    assert chat.told("settings") == before


def test_on_days_without_a_round_none_comes_by_itself_but_it_can_be_asked_for(chat):
    assert "Saturday and Sunday" in chat.told("rounds only on weekends")
    chat.now = "2026-05-15 08:00"
    assert chat.play("! round") == []
    assert "to feed" in chat.told("round")
    chat.now = "2026-05-16 08:00"
    assert len(chat.play("! round")) == 1


def test_rounds_that_were_stopped_come_again_when_started_again(chat):
    chat.told("stop sending rounds")
    assert "No round comes" in chat.told("settings")
    chat.now = "2026-05-15 08:00"
    assert chat.play("! round") == []
    chat.told("start rounds again")
    assert len(chat.play("! round")) == 1


def test_quiet_for_today_lasts_until_the_keepers_next_day_and_can_be_ended(chat):
    chat.told("my day starts at 4am")
    chat.told("shut up for today")
    with chat.store.look() as work:
        assert work.keepers.get(chat.keeper.id).settings.quiet_until == at("2026-05-15 04:00")
    chat.told("speak up")
    with chat.store.look() as work:
        assert work.keepers.get(chat.keeper.id).settings.quiet_until is None


@pytest.mark.parametrize(
    ("said", "skipped"), [("skip", 10), ("skip the rest", 10), ("skip Rust today", 1), ("skip shelf B", 3)]
)
def test_a_skip_is_taken_back_and_no_meal_before_it(morning, said, skipped):
    morning.told("all done except Rust and B")
    stored = morning.entries()
    shown = morning.told("round")
    assert "kipped" in morning.told(said)
    assert morning.told("round") != shown or skipped == 10
    assert "open again" in morning.told("undo")
    assert morning.entries() == stored
    assert "Rust (A2)" in morning.told("round")


def test_a_round_that_was_done_is_open_again_once_its_end_is_taken_back(morning):
    morning.told("all done")
    morning.told("undo")
    before = len(morning.entries())
    morning.told("fed the rest")
    assert len(morning.entries()) > before


def test_one_refused_asks_who(morning):
    before = len(morning.entries())
    assert "Tap who refused" in morning.told("one refused, the others ate")
    assert len(morning.entries()) == before


@pytest.mark.parametrize(
    ("said", "at_"), [("later til 8", "20:00"), ("snooze 2 hours", "10:00"), ("not now", "18:00")]
)
def test_a_round_is_put_off_till_the_hour_that_was_said(morning, said, at_):
    assert at_ in morning.told(said)


def test_a_bare_number_presses_the_button_of_that_place(morning):
    morning.told("Rust ate 2 crickets on tuesday")
    morning.told("shelf A took")
    morning.told("1")
    today = {t for e in morning.entries() if e.day == date(2026, 5, 14) for t in e.specimens}
    assert today == {"A1", "A3"}


def test_a_bare_number_is_the_amount_that_was_asked_for(morning):
    before = len(morning.entries())
    morning.told("Rust ate 300 crickets")
    morning.told("3")
    added = morning.entries()[: len(morning.entries()) - before]
    assert [entry.count for entry in added] == [3]


def test_one_place_is_put_off_and_the_others_stay_as_they_are(morning):
    assert "bring back what is left" in morning.told("B later")
    latest = latest_round(morning)
    later = {item["tag"] for item in latest.tasks if item["state"] == "later"}
    assert later == {"B1", "B2", "B3"}


def test_what_is_no_place_or_animal_of_the_round_is_not_put_off(morning):
    for words in ("water shelf B later", "stuff later", "dinner tonight"):
        assert "bring back" not in morning.told(words)
    assert not any(item["state"] == "later" for item in latest_round(morning).tasks)


def test_a_place_that_is_done_twice_is_done_once(morning):
    morning.told("the rack done")
    logged = len(morning.entries())
    assert morning.told("rack 1 done") == "Nothing of that is open in this round."
    assert len(morning.entries()) == logged


def latest_round(chat):
    with chat.store.look() as work:
        return work.rounds.latest(chat.keeper.id)


def test_what_other_seals_of_its_kind_took_is_told_of_one_that_is_sealed(chat):
    for day, what in (
        ("1 Feb", "sealed"),
        ("12 March", "opened"),
        ("1 April", "sealed"),
        ("26 April", "opened"),
    ):
        chat.told(f"Delve {what} on {day}")
    assert "Sealed before, of its kind here: 2 on record, 25 to 39 days." in chat.told("Delve sealed")
    for words in ("how is Delve", "can I feed Delve?"):
        assert "25 to 39 days" in chat.told(words)
    chat.told("feed Delve tomorrow")
    chat.now = "2026-05-15 08:00"
    (reply,) = chat.play("! reminders")
    assert "25 to 39 days" in reply.text
