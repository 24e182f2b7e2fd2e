"""What holds for days whatever is written, checked against the standard library's calendar and tzdata."""

import calendar
from datetime import date, datetime, time, timedelta
from zoneinfo import ZoneInfo

from dateutil.relativedelta import relativedelta
from hypothesis import example, given
from hypothesis import strategies as st

from bot.reading.days import Moment, find_days, find_periods
from bot.reading.words.scan import Words
from bot.terms import DateOrder

ZONES = [
    "Europe/London",
    "America/New_York",
    "Pacific/Auckland",
    "Australia/Lord_Howe",
    "America/Santiago",
    "UTC",
]
moments = st.builds(
    lambda naive, zone: naive.replace(tzinfo=ZoneInfo(zone)),
    st.datetimes(datetime(2001, 1, 2), datetime(2090, 1, 1)),  # noqa: DTZ001 - naive until it has its zone
    st.sampled_from(ZONES),
)
orders = st.sampled_from(list(DateOrder))
dates = st.dates(date(2000, 1, 1), date(2099, 12, 31))

PIECES = [
    "fed ",
    "Ink ",
    "yesterday ",
    "today ",
    "tonight ",
    "last ",
    "this ",
    "next ",
    "friday ",
    "sat ",
    "morning ",
    "night ",
    "at ",
    "8 ",
    "9.15pm ",
    "half ",
    "nine ",
    "on ",
    "the ",
    "3rd ",
    "31st ",
    "May ",
    "dec ",
    "30 ",
    "3/5 ",
    "29/2 ",
    "31/4/26 ",
    "2026-02-30 ",
    "2026-06-09 ",
    "2 ",
    "days ",
    "weeks ",
    "ago ",
    "in ",
    "every ",
    "until ",
    "since ",
    "or ",
    ", ",
    "\n",
    "-",
    "midnight ",
    "noon ",
    "quarter ",
    "past ",
    "to ",
    "12 ",
    "24:00 ",
    "0:30 ",
    "a ",
    "couple ",
    "of ",
    "week",
    "end ",
    "999 ",
]
messages = st.lists(st.sampled_from(PIECES), max_size=14).map("".join)


@given(messages, moments, orders)
def test_a_day_of_the_past_without_a_doubt_is_never_later_than_now(text, now, order):
    for span in find_days(Words(text), Moment(now, order)):
        if span.doubt is None and span.day is not None:
            assert span.day <= now.date()
            if span.time is not None:
                assert datetime.combine(span.day, span.time) <= now.replace(tzinfo=None)


@given(messages, moments, orders)
def test_a_day_of_a_plan_without_a_doubt_is_never_earlier_than_today(text, now, order):
    for span in find_days(Words(text), Moment(now, order, "future")):
        if span.doubt is None and span.day is not None:
            assert span.day >= now.date()


@example("8 or 8 May", datetime(2001, 1, 2, tzinfo=ZoneInfo("Europe/London")), DateOrder.DMY, "past")
@given(messages, moments, orders, st.sampled_from(["past", "future"]))
def test_a_span_without_a_day_has_a_doubt_and_options_begin_with_the_guess(text, now, order, facing):
    for span in find_days(Words(text), Moment(now, order, facing)):
        assert span.day is not None or span.doubt is not None
        assert len(set(span.options)) == len(span.options)


@given(st.one_of(messages, st.text(max_size=80)), moments, orders)
def test_spans_are_in_order_apart_and_within_any_text(text, now, order):
    last = 0
    for span in find_days(Words(text), Moment(now, order)):
        assert last <= span.start < span.end <= len(text)
        assert text[span.start : span.end].strip() == text[span.start : span.end]
        last = span.end
    last = 0
    for period in find_periods(Words(text), Moment(now, order)):
        assert last <= period.start < period.end <= len(text)
        last = period.end


@given(dates, moments, orders)
def test_every_iso_date_is_found_exactly(day, now, order):
    text = f"Ink molted {day.isoformat()}, all well"
    (span,) = find_days(Words(text), Moment(now, order))
    assert (text[span.start : span.end], span.day) == (day.isoformat(), day)
    assert (span.doubt == "future_day") == (day > now.date())


WRITTEN = {DateOrder.DMY: "%d/%m/%Y", DateOrder.MDY: "%m/%d/%Y", DateOrder.YMD: "%Y/%m/%d"}
SHORT = {DateOrder.DMY: "%d/%m/%y", DateOrder.MDY: "%m/%d/%y", DateOrder.YMD: "%y/%m/%d"}


@given(dates, moments, orders, st.booleans())
def test_a_date_in_the_keepers_order_is_read_back(day, now, order, short):
    (span,) = find_days(
        Words(day.strftime((SHORT if short else WRITTEN)[order]) + " Ink ate"), Moment(now, order)
    )
    assert span.day == day


@given(dates, moments, st.sampled_from(["%d %B %Y", "%B %d, %Y", "%d %b %Y", "%A %d %B %Y"]))
def test_a_date_in_words_is_read_back(day, now, form):
    (span,) = find_days(Words("Ink molted " + day.strftime(form)), Moment(now, DateOrder.DMY))
    assert span.day == day


@given(moments, st.integers(1, 12), st.integers(1, 31))
def test_a_day_and_month_is_the_latest_such_date_or_a_doubt(now, month, day):
    (span,) = find_days(Words(f"on {day} {calendar.month_name[month]}"), Moment(now, DateOrder.DMY))
    days = [date(y, month, day) for y in (now.year - 1, now.year) if day <= calendar.monthrange(y, month)[1]]
    gone = [d for d in days if d <= now.date()]
    if span.doubt is None:
        assert span.day == max(gone)
    else:
        assert span.doubt == "impossible_day"
        assert (month, day) == (2, 29) or day > calendar.monthrange(2024, month)[1]


@given(moments, st.integers(0, 6))
def test_a_weekday_is_the_latest_before_today_and_the_next_after_it(now, weekday):
    name = f"on {calendar.day_name[weekday]}"
    (past,) = find_days(Words(name), Moment(now, DateOrder.DMY))
    (future,) = find_days(Words(name), Moment(now, DateOrder.DMY, "future"))
    before = now.date() + relativedelta(days=-1, weekday=_weekday(weekday, -1))
    after = now.date() + relativedelta(days=1, weekday=_weekday(weekday, 1))
    if weekday == now.weekday():
        assert past.doubt == future.doubt == "same_weekday"
        assert set(past.options) == {now.date(), before}
    else:
        assert (past.day, future.day) == (before, after)


def _weekday(weekday: int, nth: int):
    from dateutil.relativedelta import FR, MO, SA, SU, TH, TU, WE

    return (MO, TU, WE, TH, FR, SA, SU)[weekday](nth)


@given(moments, st.integers(1, 31))
def test_the_nth_is_the_latest_such_day_that_is_not_in_the_future(now, day):
    (span,) = find_days(Words(f"on the {day}th"), Moment(now, DateOrder.DMY)) or [None]
    if span is None:
        assert day in {1, 2, 22}  # "1th" is nothing anybody writes
        return
    assert span.day is not None
    assert span.day.day == day
    assert span.day <= now.date()
    following = (now.date() - span.day).days
    assert following < 62
    assert not any((span.day + timedelta(days=n)).day == day for n in range(1, following + 1))


@given(moments, st.integers(0, 23), st.integers(0, 59))
def test_a_clock_time_is_kept_to_the_minute_and_lies_within_the_last_day(now, hour, minute):
    (span,) = find_days(Words(f"at {hour:02}:{minute:02}"), Moment(now, DateOrder.DMY))
    assert span.time is not None
    assert span.time.minute == minute
    assert span.time.hour % 12 == hour % 12
    happened = datetime.combine(span.day, span.time)
    assert timedelta(0) <= now.replace(tzinfo=None) - happened < timedelta(days=1, minutes=1)


@given(moments, st.integers(0, 500), st.sampled_from([("day", 1), ("week", 7), ("fortnight", 14)]))
def test_so_long_ago_and_in_so_long_are_the_same_length(now, number, unit):
    word, days = unit
    (ago,) = find_days(Words(f"{number} {word}s ago"), Moment(now, DateOrder.DMY))
    (ahead,) = find_periods(Words(f"in {number} {word}s"), Moment(now, DateOrder.DMY))
    assert now.date() - ago.day == ahead.day - now.date() == timedelta(days=number * days)


@given(moments)
def test_the_time_of_the_message_never_stands_in_for_a_time_not_said(now):
    for text in ("fed today", "yesterday", "last night", "on the 3rd", "2 hours ago"):
        assert all(span.time is None for span in find_days(Words(text), Moment(now, DateOrder.DMY)))
    assert time(0) not in {s.time for s in find_days(Words("fed today"), Moment(now, DateOrder.DMY))}
