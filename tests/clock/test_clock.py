"""Rounds and reminders through the days, with a store, a small conversation and a letter box."""

from datetime import UTC, date, datetime, time, timedelta
from threading import Thread
from time import sleep
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bot.clock import Clock
from bot.conversation.model import Reply
from bot.terms import KeeperSettings
from storage import Store

BERLIN = "Europe/Berlin"


def local(text, zone=BERLIN):
    return datetime.fromisoformat(text).replace(tzinfo=ZoneInfo(zone)).astimezone(UTC)


class Talks:
    """Says the day of each round; trips over keepers it is told to trip over."""

    def __init__(self):
        self.trips_over = set()

    def round_message(self, work, keeper, chat, day, at, late=False):
        if keeper.id in self.trips_over:
            raise ZeroDivisionError
        if not work.rounds.open_(keeper.id, keeper.shelf_id, day, due_at=at, tasks=[], at=at):
            return []
        return [Reply(text=f"{day}" + (" late" if late else ""))]

    def remind(self, work, keeper, chat, reminders, at):
        if any(one.what == "trip" for one in reminders):
            raise ZeroDivisionError
        return [Reply(text=" + ".join(one.what for one in reminders))]

    def news(self, work, keeper, chat, rows, at):
        return [Reply(text=f"news of {len(rows)}")]


class LetterBox:
    """Keeps what is posted: (keeper, moment, text)."""

    front_end = "box"

    def __init__(self):
        self.letters, self.keys = [], set()

    def home(self, contacts):
        return next((c.address for c in contacts if c.front_end == "box"), None)

    def nudge(self, work, *, keeper_id, chat, replies, key, at):
        if key in self.keys or not replies:
            return False
        self.keys.add(key)
        self.letters += [(keeper_id, at, reply.text) for reply in replies]
        return True


class Home:
    """One store with its clock."""

    def __init__(self):
        self.store, self.talks, self.box = Store.open("sqlite://"), Talks(), LetterBox()
        self.restart()

    def restart(self):
        self.clock = Clock(self.store, self.talks, self.box)

    def keeper(self, at, **chosen):
        with self.store.begin() as work:
            made = work.keepers.create("Ada", KeeperSettings(**({"zone": BERLIN} | chosen)), at=at)
            work.keepers.link(made.id, "box", f"{made.id}")
            self.clock.plan(work, made, at)
        return made.id

    def change(self, keeper_id, at, **chosen):
        with self.store.begin() as work:
            work.keepers.save_settings(keeper_id, KeeperSettings(**chosen))
            self.clock.plan(work, work.keepers.get(keeper_id), at)

    def remind(self, keeper_id, what, at, *, repeats=None):
        with self.store.begin() as work:
            keeper = work.keepers.get(keeper_id)
            zone = keeper.settings.zone
            change = work.journal.change(keeper.shelf_id, keeper_id, at=at, origin=None)
            wall = at.astimezone(ZoneInfo(zone))
            work.reminders.add(
                change, what=what, tags=(), next_at=at, day=wall.date(), time=wall.time(),
                repeats=repeats, zone=zone,
            )  # fmt: skip

    def news_for(self, keeper_id, at, due_at):
        with self.store.begin() as work:
            keeper = work.keepers.get(keeper_id)
            change = work.journal.change(keeper.shelf_id, keeper_id, at=at, origin=None)
            work.news.add([keeper_id], keeper.shelf_id, [change], at=at, due_at=due_at)

    def run(self, since, until, step=timedelta(minutes=7)):
        """Ticks from one moment to another; the letters that came in this time."""
        before, moment = len(self.box.letters), since
        while moment < until:
            self.clock.tick(moment)
            moment += step
        return self.box.letters[before:]

    def told(self, since, until, zone=BERLIN, **more):
        """As wall times with texts."""
        letters = self.run(since, until, **more)
        return [f"{at.astimezone(ZoneInfo(zone)):%m-%d %H:%M} {text}" for _, at, text in letters]


@pytest.fixture
def home():
    made = Home()
    yield made
    made.store.close()


@pytest.mark.parametrize(
    ("zone", "wall", "start"),
    [
        (BERLIN, time(8), "2026-03-27"),
        ("America/Los_Angeles", time(7, 15), "2026-03-06"),
        ("America/Los_Angeles", time(0, 0), "2026-03-07"),
        (BERLIN, time(2, 30), "2026-03-27"),
        (BERLIN, time(2, 30), "2026-10-23"),
        ("Australia/Lord_Howe", time(1, 45), "2026-10-02"),
    ],
)
def test_a_round_comes_on_every_date_through_the_change_of_clocks(home, zone, wall, start):
    since = local(f"{start}T12:00", zone)
    home.keeper(since, zone=zone, round_time=wall, quiet_from=time(3), quiet_to=time(3))
    letters = home.run(since, since + timedelta(days=5), step=timedelta(minutes=5))
    first = date.fromisoformat(start) + timedelta(days=1)
    assert [text for *_, text in letters] == [f"{first + timedelta(days=n)}" for n in range(5)]
    for _, at, _text in letters:
        shown = at.astimezone(ZoneInfo(zone)).time()
        assert shown == wall or (wall == time(2, 30) and shown == time(3, 30))  # the gap in Berlin


def test_a_round_of_one_to_midnight_that_comes_after_it_is_of_its_own_day_and_takes_no_others_place(home):
    since = local("2026-03-04T12:00")
    home.keeper(since, round_time=time(23, 59), quiet_from=time(3), quiet_to=time(3))
    told = home.told(since, local("2026-03-07T00:30"), step=timedelta(minutes=7))
    assert [line.split()[2:] for line in told] == [["2026-03-04"], ["2026-03-05"], ["2026-03-06"]]
    assert [line.split()[0] for line in told] == ["03-05", "03-06", "03-07"]


def test_after_nine_days_down_there_is_one_round_with_todays_date_marked_late(home):
    home.keeper(local("2026-03-04T07:00"))
    assert home.told(local("2026-03-13T10:00"), local("2026-03-14T12:00"), step=timedelta(minutes=8)) == [
        "03-13 10:00 2026-03-13 late",
        "03-14 08:00 2026-03-14",
    ]


def test_a_round_missed_before_a_start_in_the_quiet_hours_comes_at_their_end_and_not_again(home):
    home.keeper(local("2026-03-04T07:00"))
    assert home.told(local("2026-03-13T03:00"), local("2026-03-14T09:00"), step=timedelta(minutes=5)) == [
        "03-13 07:00 2026-03-13",
        "03-14 08:00 2026-03-14",
    ]


def test_a_round_time_within_the_quiet_hours_comes_at_their_end_every_day(home):
    home.keeper(local("2026-03-04T12:00"), round_time=time(6, 59))
    told = home.told(local("2026-03-04T12:00"), local("2026-03-06T12:00"), step=timedelta(minutes=1))
    assert told == ["03-05 07:00 2026-03-05", "03-06 07:00 2026-03-06"]


def test_before_the_hour_at_which_the_day_starts_it_is_still_the_day_before(home):
    home.keeper(local("2026-03-04T12:00"), round_time=time(0, 20), day_starts=time(4), quiet_to=time(22))
    assert home.told(local("2026-03-04T12:00"), local("2026-03-05T12:00"))[0].endswith("2026-03-04")


def test_a_keeper_who_moves_to_another_zone_has_one_round_on_each_local_date(home):
    started = local("2026-03-03T12:00", "Europe/London")
    keeper = home.keeper(started, zone="Europe/London")
    moved = local("2026-03-04T12:00", "UTC")
    assert len(home.run(started, moved)) == 1
    home.change(keeper, moved, zone="Asia/Tokyo")
    told = home.told(moved, moved + timedelta(days=2), zone="Asia/Tokyo", step=timedelta(minutes=5))
    assert told == ["03-05 08:00 2026-03-05", "03-06 08:00 2026-03-06"]


def test_a_round_put_later_on_a_day_that_had_one_comes_the_next_day(home):
    keeper = home.keeper(local("2026-03-04T07:00"))
    assert len(home.run(local("2026-03-04T07:00"), local("2026-03-04T08:30"))) == 1
    home.change(keeper, local("2026-03-04T08:30"), zone=BERLIN, round_time=time(9))
    told = home.told(local("2026-03-04T08:30"), local("2026-03-05T12:00"), step=timedelta(minutes=5))
    assert told == ["03-05 09:00 2026-03-05"]


def test_who_stopped_the_bot_gets_nothing_and_on_return_one_round(home):
    keeper = home.keeper(local("2026-03-04T07:00"))
    with home.store.begin() as work:
        work.keepers.pause(keeper)
    assert home.run(local("2026-03-04T07:00"), local("2026-03-09T12:00")) == []
    with home.store.begin() as work:
        work.keepers.resume(keeper)
    assert home.told(local("2026-03-09T12:00"), local("2026-03-10T07:30")) == ["03-09 12:00 2026-03-09 late"]


def test_one_keeper_whose_round_fails_keeps_nobody_waiting_and_is_tried_again(home):
    started = local("2026-03-04T07:00")
    first, second = home.keeper(started), home.keeper(started)
    home.talks.trips_over = {first}
    assert [who for who, *_ in home.run(started, local("2026-03-04T08:10"))] == [second]
    home.talks.trips_over = set()
    assert [who for who, *_ in home.run(local("2026-03-04T08:10"), local("2026-03-04T09:00"))] == [first]


def test_a_tick_kept_back_for_hours_brings_the_round_once(home):
    home.keeper(local("2026-03-04T07:00"))
    told = home.told(local("2026-03-04T07:58"), local("2026-03-05T07:00"), step=timedelta(hours=5))
    assert told == ["03-04 12:58 2026-03-04 late"]


def test_a_clock_that_stood_far_ahead_and_is_set_back_loses_no_round(home):
    home.keeper(local("2026-03-04T07:00"))
    home.clock.tick(local("2031-01-01T12:00"))
    told = home.told(local("2026-03-04T07:30"), local("2026-03-05T12:00"))
    assert [line[-10:] for line in told] == ["2026-03-04", "2026-03-05"]


@settings(max_examples=30, deadline=None)
@given(
    starts=st.integers(0, 48),
    lasts=st.integers(1, 24),
    by=st.integers(-2000, 2000).map(lambda minutes: timedelta(minutes=minutes)),
)
def test_no_day_is_without_its_round_however_the_clock_was_wrong(starts, lasts, by):
    """A day that is seen by the right clock, between the round's time and the quiet hours, has a round."""
    home = Home()
    keeper = home.keeper(local("2026-03-04T00:30"))
    seen, moment = set(), local("2026-03-04T00:30")
    for number in range(2 * 24 * 5):
        is_wrong = starts <= number < starts + lasts
        home.clock.tick(moment + by if is_wrong else moment)
        wall = moment.astimezone(ZoneInfo(BERLIN))
        if not is_wrong and time(8) <= wall.time() < time(22):
            seen.add(wall.date())
        moment += timedelta(minutes=30)
    with home.store.look() as work:
        without = [day for day in sorted(seen) if work.rounds.of_day(keeper, day) is None]
    home.store.close()
    assert without == []


def test_a_clock_that_starts_in_1970_keeps_quiet_until_it_is_set(home):
    home.keeper(local("2026-03-04T07:00"))
    home.restart()
    assert home.run(local("1970-01-01T00:00"), local("1970-01-01T01:00")) == []
    told = home.told(local("2026-03-04T09:00"), local("2026-03-04T12:00"))
    assert [line[-15:] for line in told] == ["2026-03-04 late"]


def test_ticking_twice_at_one_moment_posts_once(home):
    home.keeper(local("2026-03-04T07:00"))
    moment = local("2026-03-04T08:00")
    assert [home.clock.tick(moment), home.clock.tick(moment)] == [1, 0]


def test_two_processes_on_one_store_send_one_round(home):
    home.keeper(local("2026-03-04T07:00"))
    other = Clock(home.store, home.talks, home.box)
    moment = local("2026-03-04T08:00")
    assert [home.clock.tick(moment), other.tick(moment)] == [1, 0]
    assert len(home.box.letters) == 1


def test_a_reminder_set_for_a_time_at_which_the_bot_was_down_comes_late_and_is_closed(home):
    keeper = home.keeper(local("2026-03-04T12:00"))
    home.remind(keeper, "check the sac", local("2026-03-04T14:00"))
    told = home.told(local("2026-03-04T14:20"), local("2026-03-04T20:00"))
    assert told == ["03-04 14:20 check the sac"]


def test_a_repeated_reminder_keeps_its_days_and_its_wall_time(home):
    keeper = home.keeper(local("2026-03-20T12:00"), quiet_from=time(3), quiet_to=time(3))
    home.remind(keeper, "mist D", local("2026-03-21T09:30"), repeats="FREQ=DAILY;INTERVAL=3")
    letters = home.run(local("2026-03-20T12:00"), local("2026-04-01T12:00"), step=timedelta(minutes=30))
    shown = [f"{at.astimezone(ZoneInfo(BERLIN)):%m-%d %H:%M}" for _, at, text in letters if text == "mist D"]
    assert shown == ["03-21 09:30", "03-24 09:30", "03-27 09:30", "03-30 09:30"]


def test_days_of_a_repeated_reminder_missed_while_down_bring_one_message(home):
    keeper = home.keeper(local("2026-03-04T12:00"))
    home.remind(keeper, "mist D", local("2026-03-04T13:00"), repeats="FREQ=DAILY;INTERVAL=1")
    told = home.told(local("2026-03-09T13:30"), local("2026-03-10T13:15"), step=timedelta(minutes=10))
    assert [line for line in told if "mist" in line] == ["03-09 13:30 mist D", "03-10 13:00 mist D"]


def test_reminders_that_fall_due_in_the_quiet_hours_come_at_their_end(home):
    keeper = home.keeper(local("2026-03-04T12:00"))
    home.remind(keeper, "snoozed", local("2026-03-04T23:30"))
    home.remind(keeper, "early", local("2026-03-05T06:59"))
    told = home.told(local("2026-03-04T12:00"), local("2026-03-05T07:30"), step=timedelta(minutes=10))
    assert told == ["03-05 07:00 early + snoozed"]


#: Zones, and when twenty days begin in which their clocks change (IANA tz database).
THROUGH_A_CHANGE = {
    BERLIN: "2026-03-20T12:00",
    "America/Santiago": "2026-03-27T12:00",
    "Australia/Lord_Howe": "2026-03-27T12:00",
    "Africa/Casablanca": "2026-02-06T12:00",
}


@given(
    st.lists(st.tuples(st.integers(0, 20 * 24 * 60), st.integers(1, 3 * 24 * 60)), max_size=4),
    st.sampled_from(sorted(THROUGH_A_CHANGE)),
    st.times().map(lambda t: t.replace(second=0, microsecond=0, fold=0)),
)
@settings(max_examples=12, deadline=None)
def test_through_restarts_and_outages_no_day_has_two_rounds_and_none_without_outage_is_missed(
    outages, zone, wall
):
    home = Home()
    started = local(THROUGH_A_CHANGE[zone], zone)
    keeper = home.keeper(started, zone=zone, round_time=wall, quiet_from=time(0), quiet_to=time(0))
    down = [
        (started + timedelta(minutes=begins), started + timedelta(minutes=begins + lasts))
        for begins, lasts in outages
    ]
    moment, ends = started, started + timedelta(days=20)
    offsets = {moment.astimezone(ZoneInfo(zone)).utcoffset() for moment in (started, ends)}
    assert len(offsets) == 2
    while moment < ends:
        if any(begins <= moment < over for begins, over in down):
            home.restart()
        else:
            home.clock.tick(moment)
        moment += timedelta(minutes=14)  # often enough that none is late but by an outage
    days = [text.split()[0] for who, _, text in home.box.letters if who == keeper]
    assert len(days) == len(set(days))
    for n in range(1, 19):
        day = started.astimezone(ZoneInfo(zone)).date() + timedelta(days=n)
        begins, over = (local(f"{day + timedelta(days=d)}T00:00", zone) for d in (0, 1))
        was_down = any(b < over + timedelta(hours=2) and begins < e for b, e in down)
        assert was_down or str(day) in days
    home.store.close()


def test_a_keeper_with_no_address_here_is_passed_over_until_the_next_day(home):
    with home.store.begin() as work:
        made = work.keepers.create("Bo", KeeperSettings(), at=local("2026-03-04T07:00"))
        home.clock.plan(work, made, local("2026-03-04T07:00"))
    assert home.run(local("2026-03-04T07:00"), local("2026-03-06T12:00")) == []
    with home.store.look() as work:
        assert work.keepers.get(made.id).next_round_at > local("2026-03-06T08:00")


def test_who_writes_while_many_rounds_are_made_waits_for_no_more_than_one_of_them(tmp_path):
    home = Home()
    home.store.close()
    home.store = Store.open(f"sqlite:///{tmp_path / 'x.db'}")
    home.restart()
    for _ in range(30):
        home.keeper(local("2026-03-04T07:00"))
    made, came_after, writers = [], {}, []
    make = home.talks.round_message

    def write(number):
        with home.store.begin() as work:
            work.bookmarks.set("x", {})
            came_after[number] = len(made)

    def make_while_somebody_writes(work, keeper, *rest, **more):
        made.append(keeper.id)
        if len(made) % 10 == 1:  # somebody writes just now, and has to wait for this round
            writers.append(Thread(target=write, args=[len(made)]))
            writers[-1].start()
            while not home.store.waiting:
                sleep(0.001)
        return make(work, keeper, *rest, **more)

    home.talks.round_message = make_while_somebody_writes
    assert home.clock.tick(local("2026-03-04T08:00")) == 30
    for writer in writers:
        writer.join()
    home.store.close()
    assert came_after == {1: 1, 11: 11, 21: 21}


def test_a_tick_that_is_told_to_stop_ends_before_the_next_keeper(home):
    for _ in range(3):
        home.keeper(local("2026-03-04T07:00"))
    home.clock.stop()
    assert home.clock.tick(local("2026-03-04T08:00")) == 0
    home.restart()
    assert home.clock.tick(local("2026-03-04T08:00")) == 3


def test_news_of_others_come_in_one_message_once_and_not_in_the_quiet_hours(home):
    evening = local("2026-05-14 21:50")
    ada = home.keeper(evening, quiet_from=time(22), quiet_to=time(7), round_time=time(9))
    for minutes in (0, 1, 2):
        at = evening + timedelta(minutes=minutes)
        home.news_for(ada, at, at + timedelta(minutes=4))
    home.news_for(ada, evening, local("2026-05-14 22:05"))
    told = home.told(evening, local("2026-05-15 08:00"), step=timedelta(minutes=1))
    assert told == ["05-14 21:54 news of 4"]
    home.news_for(ada, local("2026-05-15 23:00"), local("2026-05-15 23:05"))
    assert home.told(local("2026-05-15 10:00"), local("2026-05-16 08:00")) == [
        "05-15 10:00 2026-05-15 late",
        "05-16 07:00 news of 1",
    ]


def test_reminders_due_at_the_same_minute_come_as_one_message_and_one_that_fails_keeps_none_back(home):
    at = local("2026-05-14 12:00")
    ada, bo = home.keeper(at), home.keeper(at)
    for who, what in ((ada, "mist"), (bo, "weigh"), (ada, "sac")):
        home.remind(who, what, at)
    assert home.told(at, at + timedelta(minutes=20)) == ["05-14 12:00 mist + sac", "05-14 12:00 weigh"]
    later = local("2026-05-14 15:00")
    for what in ("mist", "trip", "sac"):
        home.remind(ada, what, later)
    assert home.told(later, later + timedelta(minutes=10)) == ["05-14 15:00 mist", "05-14 15:00 sac"]


def test_no_round_comes_while_quiet_is_wished_for_and_the_next_one_at_its_time(home):
    keeper = home.keeper(local("2026-05-14T06:00"))
    tomorrow = local("2026-05-15T00:00")
    home.change(keeper, local("2026-05-14T06:30"), zone=BERLIN, quiet_until=tomorrow)
    letters = home.run(local("2026-05-14T06:30"), local("2026-05-16T07:00"), timedelta(minutes=1))
    assert [(at, text) for _, at, text in letters] == [(local("2026-05-15T08:00"), "2026-05-15")]


def test_reminders_and_news_wait_until_the_quiet_and_the_quiet_hours_after_it_end(home):
    keeper = home.keeper(local("2026-05-14T09:00"))
    home.change(keeper, local("2026-05-14T09:00"), zone=BERLIN, quiet_until=local("2026-05-15T00:00"))
    home.remind(keeper, "mist", local("2026-05-14T12:00"))
    home.news_for(keeper, local("2026-05-14T12:00"), local("2026-05-14T12:00"))
    letters = home.run(local("2026-05-14T10:00"), local("2026-05-15T07:30"), timedelta(minutes=1))
    assert {(at, text) for _, at, text in letters} == {
        (local("2026-05-15T07:00"), "mist"),
        (local("2026-05-15T07:00"), "news of 1"),
    }
