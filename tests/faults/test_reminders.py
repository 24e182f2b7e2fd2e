"""Faults of programs that remind: the wrong anchor, the wrong day, done things asked for, quiet hours."""

from __future__ import annotations

from datetime import date, time, timedelta


def test_a_meal_told_later_counts_from_its_own_day_and_an_older_one_moves_nothing_back(any_home):
    """source: CodeWithCJ/SparkyFitness#1946; Futsch1/medTimer#551; Futsch1/medTimer#475"""
    house = any_home(now="2026-03-04T09:00")
    house.says("fed Rosie last saturday")
    due = house.next_meal("T12")
    assert due == date(2026, 3, 8)  # 28 February and the eight days of a slow juvenile
    house.says("fed Rosie on 20 February")
    assert house.next_meal("T12") == due


def test_what_was_done_before_the_round_is_not_in_it(any_home):
    """source: manuelernestog/weektodo#184; SimpleMobileTools/Simple-Calendar#1980"""
    house = any_home(now="2026-03-04T07:40")
    house.says("fed Rosie 1 cricket")
    (letter,) = [x for x in house.waits("2026-03-04T08:05") if "to feed" in x]
    feeding = [line for line in letter.split("\n") if line.startswith("Feed")]
    assert feeding
    assert not any("Rosie" in line for line in feeding)


def test_a_round_pressed_twice_is_done_once(any_home):
    """source: python-telegram-bot/python-telegram-bot#2539; cherrytea-dev/la_searcher_bot#917"""
    house = any_home(now="2026-03-04T07:59")
    house.waits("2026-03-04T08:05")
    done = next(b for row in house.box.replies[-1].buttons for b in row if "done" in b.label.lower())
    house.presses_data(done.data)
    once = house.told_of()
    assert once
    house.presses_data(done.data)
    assert house.told_of() == once


def test_a_round_of_the_evening_that_is_done_after_midnight_is_of_its_own_day(any_home):
    """source: iSoron/uhabits#1312; diegopvlk/Dosage#78; Futsch1/medTimer#181; InlitX/streak#189"""
    quiet = {"quiet_from": time(3), "quiet_to": time(4)}
    house = any_home(now="2026-03-03T21:00", round_time=time(22), day_starts=time(4), **quiet)
    (tuesday,) = [x for x in house.waits("2026-03-03T23:00") if "to feed" in x]
    assert tuesday.startswith("03-03 22:00 Tue 3 Mar")
    done = next(b for row in house.box.replies[-1].buttons for b in row if "done" in b.label.lower())
    house.now = "2026-03-04T00:20"
    house.presses_data(done.data)
    assert house.entries()
    wednesday = [x[:11] for x in house.waits("2026-03-04T23:00") if "to water" in x or "to feed" in x]
    assert wednesday in ([], ["03-04 22:00"])
    assert len({(e.specimens, e.kind, e.day) for e in house.entries()}) == len(house.entries())


def test_a_move_to_another_zone_keeps_what_happened_and_sends_no_second_round_that_day(any_home):
    """source: xtreamsrl/clockify-nlp-bot#74; pericles-tpt/notifian#8; anoadragon453/matrix-reminder-bot#33"""
    house = any_home(now="2026-03-04T07:00", zone="Europe/London")
    first = [x for x in house.waits("2026-03-04T12:00") if "to feed" in x]
    house.says("fed Rosie 1 cricket")
    before = house.entries()
    house.says("my time zone is Asia/Tokyo")
    house.now = "2026-03-04T21:05"
    assert house.zone == "Asia/Tokyo"
    assert house.entries() == before
    later = [x for x in house.waits("2026-03-05T09:00") if "to feed" in x or "to water" in x]
    assert len(first) == 1
    assert [x[:11] for x in later] == ["03-05 08:00"]


def test_a_time_that_has_passed_today_is_asked(home):
    """source: anoadragon453/matrix-reminder-bot#33"""
    house = home(now="2026-03-04T20:00")
    assert "passed" in house.says("remind me at 19:50 to check Rosie")


def test_in_the_quiet_hours_nothing_comes_and_nothing_is_lost(any_home):
    """source: tasks/tasks#282; tasks/tasks#370; quarck/CalendarNotification#58;
    thunderbird/thunderbird-android#3303"""
    house = any_home(now="2026-03-04T12:00", round_time=time(12))
    house.says("remind me today at 23:30 to check Rosie")
    house.says("remind me tomorrow at 6:59am to check Sunny")
    house.restart()
    letters = house.waits("2026-03-05T08:00", step=timedelta(minutes=1))
    told = {name: [x[:11] for x in letters if f"check {name}" in x] for name in ("Rosie", "Sunny")}
    assert told == {"Rosie": ["03-05 07:00"], "Sunny": ["03-05 07:00"]}


def test_a_repeated_reminder_that_was_missed_comes_once_and_goes_on(any_home):
    """source: obsidian-tasks-group/obsidian-tasks#261; ahmet-cetinkaya/whph#133; tasks/tasks#3017"""
    house = any_home(now="2026-03-04T09:00")
    house.says("remind me every day at 10 to mist rack A")
    house.restart()
    missed = [x for x in house.waits("2026-03-08T11:00", asleep=True) if "mist" in x and "to feed" not in x]
    assert len(missed) == 1
    on = [x[:11] for x in house.waits("2026-03-09T11:00") if "mist" in x and "to feed" not in x]
    assert on == ["03-09 10:00"]


def test_a_feeding_counts_from_when_it_was_done(any_home):
    """source: tasks/tasks#2031"""
    house = any_home(now="2026-03-09T09:00")
    house.says("fed Rosie 1 cricket")
    first = house.next_meal("T12")
    house.says("fed Rosie 1 cricket", now="2026-03-13T09:00")
    assert house.next_meal("T12") == first + timedelta(days=4)


def test_an_animal_that_is_gone_is_never_asked_for_again_and_its_records_stay(any_home):
    """source: NorthlandPositronics/Cogtrix#2201; pocket-id/pocket-id#863; nstfkc/gemi#91;
    data-for-change/anyway#357"""
    house = any_home(now="2026-03-04T09:00")
    house.says("fed Rosie 1 cricket")
    house.says("remind me tomorrow at 10 to weigh Rosie")
    house.says("Rosie died")
    if "T12" not in {tag for tag, kind, _ in house.told_of() if kind == "died"}:
        house.presses(house.shown[-1].buttons[0][0].label)
    letters = house.waits("2026-03-07T09:00")
    assert not any("Rosie" in letter for letter in letters)
    assert ("T12", "fed", "2026-03-04") in house.told_of()


def test_what_is_told_as_done_ticks_off_the_reminder_that_is_due_and_says_which(any_home):
    """source: home-assistant/core#128565"""
    house = any_home(now="2026-03-04T09:00")
    house.says("remind me on 9 March at 10 to clean box 4")
    house.says("remind me today at 10 to clean box 4")
    assert house.says("cleaned box 4") == "Ticked off: clean box 4, today at 10:00."
    assert house.entries() == []
    letters = [x[:11] for x in house.waits("2026-03-10T11:00") if "clean box 4" in x]
    assert letters == ["03-09 10:00"]
    assert "Ticked off" not in house.says("cleaned box 5")


def test_the_right_one_of_two_reminders_is_told_of(any_home):
    """source: home-assistant/core#128565"""
    house = any_home(now="2026-03-04T09:00")
    house.says("remind me today at 10 to clean box 4")
    house.says("remind me tomorrow at 10 to clean box 5")
    letters = [x for x in house.waits("2026-03-04T11:00") if "clean" in x]
    assert len(letters) == 1
    assert "box 4" in letters[0]


def test_a_shelf_with_nobody_due_is_no_reason_to_write(home):
    """source: theexperiencecompany/gaia#753"""
    house = home(now="2026-03-04T07:00", shelf=())
    assert house.waits("2026-03-05T09:00") == []
