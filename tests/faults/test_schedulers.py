"""Faults of schedulers, replayed on rounds and reminders: lost, doubled, drifted, flooded.

Processes that are killed, share a database or are woken late as processes are in tests/telegram
(test_serve_killed, test_several_processes, test_jobs); here the clock's own reckoning is replayed.
"""

from __future__ import annotations

import os
import subprocess
import sys
from datetime import UTC, datetime, time, timedelta

import pytest

from bot.clock import Clock
from bot.conversation import Conversation
from bot.telegram.jobs import Jobs
from tests.faults.house import named


def rounds(letters):
    """When rounds came, without what they say."""
    return [letter[:11] for letter in letters if "to feed" in letter or "to water" in letter]


def test_a_tick_that_was_late_still_sends_the_round_once(any_home):
    """source: agronholm/apscheduler#146; agronholm/apscheduler#292; rfsbraz/deleterr#292"""
    house = any_home(now="2026-03-04T07:59:55")
    assert rounds(house.waits("2026-03-04T08:00:02", asleep=True)) == ["03-04 08:00"]
    assert rounds(house.waits("2026-03-04T12:00")) == []


async def test_the_jobs_of_the_scheduler_have_a_grace_without_end_and_run_once_for_many_misses():
    """source: agronholm/apscheduler#146; pyouroboros/ouroboros#229"""

    async def nothing():
        pass

    jobs = Jobs(nothing, nothing, now=datetime.now(UTC))
    jobs.start()
    try:
        for job in jobs._scheduler.get_jobs():
            assert (job.misfire_grace_time, job.coalesce, job.max_instances) == (None, True, 1)
    finally:
        jobs.stop()


def test_what_waits_for_its_time_lies_in_tables_and_no_job_holds_it(any_home):
    """source: agronholm/apscheduler#341; agronholm/apscheduler#933; agronholm/apscheduler#386;
    agronholm/apscheduler#262; agronholm/apscheduler#59; Flexget/Flexget#3825"""
    house = any_home(now="2026-03-04T09:00")
    house.says("remind me tomorrow at 10 to check Rosie")
    house.restart()
    letters = house.waits("2026-03-05T10:30")
    assert [letter[:11] for letter in letters if "check Rosie" in letter] == ["03-05 10:00"]


@pytest.mark.parametrize(
    ("zone", "since", "days", "wall"),
    [
        ("Europe/Berlin", "2026-03-26T12:00", 6, time(8)),
        ("Europe/Berlin", "2026-10-22T12:00", 6, time(8)),
        ("America/Los_Angeles", "2026-03-06T12:00", 5, time(0, 0)),
        ("America/Los_Angeles", "2026-03-06T12:00", 5, time(0, 15)),
        ("America/Los_Angeles", "2026-03-06T12:00", 5, time(0, 59)),
        ("America/Los_Angeles", "2026-03-06T12:00", 5, time(2, 30)),
        ("Europe/Berlin", "2026-03-27T12:00", 5, time(0, 0)),
        ("Australia/Sydney", "2026-10-02T12:00", 5, time(0, 0)),
        ("America/New_York", "2026-10-30T12:00", 5, time(1, 30)),
    ],
)
def test_a_round_comes_on_every_date_at_its_wall_time_over_clock_changes(home, zone, since, days, wall):
    """source: agronholm/apscheduler#372; agronholm/apscheduler#606; agronholm/apscheduler#529;
    python-telegram-bot/python-telegram-bot#1381; anoadragon453/matrix-reminder-bot#57"""
    quiet = {"quiet_from": time(0), "quiet_to": time(0)}
    house = home(now=since, zone=zone, round_time=wall, **quiet)
    first = datetime.fromisoformat(since).date()
    until = f"{first + timedelta(days=days)}T12:00"
    came = rounds(house.waits(until, step=timedelta(minutes=1 if wall.minute % 5 else 5)))
    assert [letter[:5] for letter in came] == [
        f"{first + timedelta(days=n):%m-%d}" for n in range(1, days + 1)
    ]
    in_a_gap = {"03-08 03:30"} if wall == time(2, 30) else set()
    assert {letter[6:] for letter in came if letter not in in_a_gap} == {f"{wall:%H:%M}"}


def test_both_stores_keep_a_rounds_wall_time_over_a_clock_change(any_home):
    """source: agronholm/apscheduler#606"""
    house = any_home(now="2026-03-27T12:00")
    came = rounds(house.waits("2026-03-31T12:00", step=timedelta(hours=1)))
    assert came == ["03-28 08:00", "03-29 08:00", "03-30 08:00", "03-31 08:00"]


def test_a_wall_time_is_the_keepers_and_so_is_the_weekday(any_home):
    """source: python-telegram-bot/python-telegram-bot#3263; python-telegram-bot/python-telegram-bot#1693"""
    house = any_home(now="2026-03-06T22:00", zone="Africa/Nairobi", quiet_from=time(0), quiet_to=time(0))
    house.says("remind me today at 23:00 to check Rosie")
    assert any(letter.startswith("03-06 23:00") for letter in house.waits("2026-03-06T23:30"))


def test_a_reminder_whose_time_passed_while_the_bot_was_down_comes_once_and_is_closed(any_home):
    """source: viniciuschiele/flask-apscheduler#112; anoadragon453/matrix-reminder-bot#9"""
    house = any_home(now="2026-03-04T09:00")
    house.says("remind me today at 14:00 to check Rosie")
    house.waits("2026-03-04T13:50")
    house.restart()
    letters = house.waits("2026-03-04T14:20", asleep=True)
    assert [letter[:11] for letter in letters if "check Rosie" in letter] == ["03-04 14:20"]
    assert not [letter for letter in house.waits("2026-03-06T09:00") if "check Rosie" in letter]


def test_two_processes_on_one_store_send_a_round_once(any_home):
    """source: agronholm/apscheduler#160; agronholm/apscheduler#655; ascoderu/lokole#1"""
    house = any_home(now="2026-03-04T07:59")
    other = Clock(house.store, Conversation(), house.box)
    house.now = "2026-03-04T08:00:10"
    posted = house.clock.tick(house.at) + other.tick(house.at)
    assert posted == 1
    assert len(house.box.letters) == 1


def test_after_nine_days_away_there_is_one_late_round_and_no_flood(any_home):
    """source: theexperiencecompany/gaia#753; Futsch1/medTimer#569; dapr/dapr#4500"""
    animals = [named(f"N{number}", None, place="rack N") for number in range(40)]
    house = any_home(now="2026-03-04T09:00", shelf=animals)
    house.says("remind me every day at 9 to mist rack N")
    house.restart()
    letters = house.waits("2026-03-13T10:00", asleep=True)
    assert len(rounds(letters)) == 1
    assert "late" in " ".join(letters)
    assert len([letter for letter in letters if "mist" in letter and "to feed" not in letter]) <= 1


def test_a_clock_that_starts_in_1970_and_is_set_right_sends_one_round(any_home):
    """source: agronholm/apscheduler#351; agronholm/apscheduler#752; agronholm/apscheduler#526"""
    house = any_home(now="2026-03-04T07:00")
    house.clock.tick(datetime(1970, 1, 1, tzinfo=UTC))
    house.clock.tick(house.at - timedelta(days=1))
    assert rounds(house.waits("2026-03-04T09:00")) == ["03-04 08:00"]
    house.clock.tick(house.at - timedelta(hours=2))
    assert rounds(house.waits("2026-03-04T12:00")) == []
    assert rounds(house.waits("2026-03-05T09:00")) == ["03-05 08:00"]


def test_a_laptop_that_slept_over_the_round_sends_it_once_when_it_wakes(any_home):
    """source: node-schedule/node-schedule#632; agronholm/apscheduler#794"""
    house = any_home(now="2026-03-03T23:00")
    assert rounds(house.waits("2026-03-04T09:00", asleep=True)) == ["03-04 09:00"]
    assert rounds(house.waits("2026-03-04T20:00")) == []


def test_the_program_starts_whatever_the_computers_zone_is_and_brings_zone_data_along():
    """source: regebro/tzlocal#122; agronholm/apscheduler#439; bugsink/bugsink#416"""
    code = "import zoneinfo, bot.clock, bot.telegram.jobs; print(zoneinfo.ZoneInfo('Europe/Amsterdam').key)"
    empty = {**os.environ, "TZ": "Nowhere/Land", "PYTHONTZPATH": ""}
    done = subprocess.run([sys.executable, "-c", code], env=empty, capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "Europe/Amsterdam"


@pytest.mark.parametrize("said", ["GMT+2", "Etc/GMT+2", "EST", "CET", "Mars/Olympus"])
def test_a_zone_that_knows_no_summer_time_or_is_none_is_answered_with_cities(home, said):
    """source: opnsense/core#3800; stub42/pytz#119; dateutil/dateutil#273"""
    house = home(now="2026-03-04T09:00")
    reply = house.says(f"my time zone is {said}")
    with house.store.look() as work:
        kept = work.keepers.get(house.keeper_id).settings.zone
    labels = [button.label for row in house.shown[-1].buttons for button in row]
    assert kept == "Europe/Berlin"
    assert labels or "Type a large city" in reply
