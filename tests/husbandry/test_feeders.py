"""Feeders: what days to come use, what is left of those bought, what to buy, what will outgrow its eaters."""

from dataclasses import replace
from datetime import date, timedelta
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import binom

from bot.husbandry.feeders import (
    LOST_WHEN_REFUSED,
    TAKEN,
    Batch,
    Eater,
    Use,
    appetite,
    meals_within,
    outgrowing,
    stock_left,
    to_buy,
    uses,
)
from bot.terms import Entry, Kind, PreySize

TODAY = date(2026, 5, 14)
CRICKET = ("cricket", "medium")


def eater(**fields) -> Eater:
    """An invented enclosure."""
    usual = {"prey": "cricket", "size": PreySize.MEDIUM, "count": 1, "first_in": 0, "every": 7, "taken": 0.85}
    return Eater(**usual | fields)


def entry(ago: int, kind: str, tag: str = "C1", **fields) -> Entry:
    return Entry(kind=Kind(kind), day=TODAY - timedelta(days=ago), specimens=(tag,), **fields)


def bought(ago: int, count: int, size: str | None = "small", prey: str = "cricket") -> Entry:
    return Entry(
        kind=Kind.STOCKED,
        day=TODAY - timedelta(days=ago),
        prey=prey,
        count=count,
        size=PreySize(size) if size else None,
    )


# -- use ------------------------------------------------------------------------------------------------


@given(st.integers(0, 20), st.integers(1, 15), st.integers(1, 60))
def test_meals_are_counted_as_a_calendar_would(first, every, days):
    counted = sum(1 for day in range(days) if day >= first and (day - first) % every == 0)
    assert meals_within(eater(first_in=first, every=every), days) == counted


def test_who_rests_with_no_known_end_uses_nothing():
    assert uses([eater(first_in=None)], 30) == {}


def test_nobody_who_refuses_makes_use_what_is_offered():
    assert uses([eater(taken=1.0, count=2)], 14)[CRICKET] == Use(4, 4.0, 4, 4)


@pytest.mark.parametrize("taken", [0.6, 0.85, 0.95])
def test_nine_shelves_in_ten_use_what_the_range_says(taken):
    """Against a binomial number of meals taken (``scipy.stats``), the refused lost in part."""
    many = [eater(taken=taken) for _ in range(60)]
    found = uses(many, 7)[CRICKET]
    eaten = binom(60, taken)
    lost = LOST_WHEN_REFUSED.value
    inside = sum(eaten.pmf(n) for n in range(61) if found.low <= n + (60 - n) * lost <= found.high)
    assert found.likely == pytest.approx(eaten.mean() + (60 - eaten.mean()) * lost)
    assert inside >= 0.9
    assert found.high <= found.offered == 60


def test_sorts_are_counted_apart():
    found = uses([eater(), eater(size=PreySize.SMALL, count=3), eater(prey="locust", size=PreySize.LARGE)], 7)
    assert {sort: use.offered for sort, use in found.items()} == {
        CRICKET: 1,
        ("cricket", "small"): 3,
        ("locust", "large"): 1,
    }


def test_appetite_is_the_general_one_until_its_own_offers_add_up():
    assert appetite([], TODAY) == TAKEN.value
    picky = [entry(7 * n, "refused" if n % 2 else "fed") for n in range(1, 41)]
    assert appetite(picky, TODAY) == pytest.approx(0.5, abs=0.08)
    assert appetite([entry(500, "refused")] * 30, TODAY) == TAKEN.value


# -- stock ----------------------------------------------------------------------------------------------


def test_what_was_eaten_since_is_gone_and_half_of_the_refused():
    entries = [
        bought(5, 20, "medium"),
        entry(4, "fed", prey="cricket", count=3),
        entry(3, "refused", prey="cricket", count=2),
    ]
    assert stock_left(entries, TODAY) == [Batch("cricket", "medium", 16, 7)]


def test_stock_grows_from_size_to_size_and_stops():
    # days at a size: common practice, no source
    sizes = {
        ago: stock_left([bought(ago, 10, "pinhead")], TODAY)[0].size for ago in (0, 11, 12, 24, 36, 48, 59)
    }
    assert sizes == {
        0: "pinhead",
        11: "pinhead",
        12: "small",
        24: "medium",
        36: "large",
        48: "adult",
        59: "adult",
    }


def test_what_was_bought_long_ago_or_never_is_not_left():
    assert stock_left([bought(90, 100)], TODAY) == []
    assert stock_left([entry(4, "fed", prey="cricket", count=3)], TODAY) == []
    assert stock_left([bought(5, 2), entry(4, "fed", prey="cricket", count=9)], TODAY) == []


def test_feeders_of_another_kind_are_left_alone():
    entries = [bought(5, 20, "small", "locust"), entry(4, "fed", prey="cricket", count=3)]
    assert stock_left(entries, TODAY)[0].left == 20


@given(
    st.lists(
        st.tuples(st.integers(0, 80), st.sampled_from(["stocked", "fed", "refused"]), st.integers(1, 50))
    )
)
def test_there_is_never_more_left_than_was_bought_nor_less_than_none(events):
    entries = [
        bought(ago, count, "medium") if kind == "stocked" else entry(ago, kind, prey="cricket", count=count)
        for ago, kind, count in sorted(events, reverse=True)
    ]
    left = stock_left(entries, TODAY)
    assert sum(batch.left for batch in left) <= sum(e.count for e in entries if e.kind is Kind.STOCKED)
    assert all(batch.left > 0 for batch in left)


# -- buying and outgrowing -----------------------------------------------------------------------------


def test_what_is_left_is_not_bought_again():
    wanted = {CRICKET: Use(8, 10.0, 12, 12), ("cricket", "small"): Use(3, 4.0, 5, 5)}
    assert to_buy(wanted, []) == {CRICKET: 12, ("cricket", "small"): 5}
    assert to_buy(wanted, [Batch("cricket", "medium", 9, 5)]) == {CRICKET: 3, ("cricket", "small"): 5}
    assert to_buy(wanted, [Batch("cricket", "medium", 99, 5)])[CRICKET] == 0
    assert to_buy(wanted, [Batch("cricket", "", 14, None)]) == {CRICKET: 0, ("cricket", "small"): 3}


def test_spare_stock_that_will_outgrow_its_eaters_is_told_of_unless_others_eat_the_next_size():
    slings = [eater(size=PreySize.SMALL, every=4) for _ in range(3)]
    stock = [Batch("cricket", "small", 60, 10)]
    (spare,) = outgrowing(slings, stock)
    assert 45 <= spare.left < 60
    assert outgrowing([*slings, eater()], stock) == []
    assert outgrowing(slings, [Batch("cricket", "small", 5, 10)]) == []
    assert outgrowing(slings, [Batch("cricket", "adult", 60, None)]) == []


def test_on_an_invented_shelf_what_is_bought_lasts_nine_times_in_ten():
    rng = Random(7)
    enough = 0
    for _ in range(300):
        shelf = [
            eater(taken=rng.uniform(0.6, 1.0), first_in=rng.randint(0, 6), every=rng.choice([4, 7, 10]))
            for _ in range(25)
        ]
        buy = to_buy(uses(shelf, 14), [])[CRICKET]
        used = 0.0
        for one in shelf:
            for _meal in range(meals_within(one, 14)):
                used += 1.0 if rng.random() < one.taken else float(rng.random() < LOST_WHEN_REFUSED.value)
        enough += used <= buy
    assert enough >= 0.9 * 300


def counted(ago: int, count: int, size: str | None = "small") -> Entry:
    return replace(bought(ago, count, size), kind=Kind.COUNTED)


@given(st.integers(0, 200), st.integers(1, 100), st.integers(0, 100))
def test_a_count_of_the_box_stands_above_what_was_bought_and_used_before_it(before, count, after):
    entries = [bought(9, before), entry(6, "fed", prey="cricket", count=3), counted(5, count)]
    entries.append(bought(2, after))
    assert sum(batch.left for batch in stock_left(entries, TODAY)) == count + after


def test_a_count_of_one_size_leaves_the_others_and_an_empty_box_is_empty():
    entries = [bought(5, 30, "small"), bought(5, 20, "large"), counted(1, 12, "small")]
    assert sorted(batch.left for batch in stock_left(entries, TODAY)) == [12, 20]
    assert stock_left([*entries, counted(0, 0, None)], TODAY) == []
