"""Estimates against reference libraries: lifelines for times, scipy for shares and means."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from lifelines import KaplanMeierFitter
from lifelines.utils import median_survival_times
from scipy import stats

from bot.husbandry.evidence.estimates import (
    _T,
    Estimate,
    Waited,
    geometric_mean_over,
    mean_over,
    median_time,
    seen,
    share,
)


@given(st.lists(st.tuples(st.integers(1, 60), st.booleans()), min_size=1, max_size=40))
def test_the_median_time_and_its_interval_are_those_of_lifelines(times):
    found = median_time([Waited(float(days), ended=ended) for days, ended in times])
    fitter = KaplanMeierFitter().fit([d for d, _ in times], [e for _, e in times], alpha=0.05)
    # lifelines: the first time at which survival is 0.5 or less; its interval by the same rule at the ends
    survival = fitter.survival_function_.iloc[:, 0]
    reached = survival[survival <= 0.5 + 1e-12]
    expected = None if reached.empty else float(reached.index[0])
    assert found.value == expected
    ends = median_survival_times(fitter.confidence_interval_survival_function_).iloc[0]
    if all(ended for _, ended in times) and len({d for d, _ in times}) > 2 and expected is not None:
        assert found.low == pytest.approx(float(ends.min()))
        high = float(ends.max())
        # a survival of 0 has no interval on the log(-log) scale; lifelines leaves it open there
        assert found.high == pytest.approx(high) or not np.isfinite(high)


def test_kaplan_and_meier_on_the_remission_times_of_a_published_trial():
    # 6-mercaptopurine arm of Freireich et al. (1963), printed in Kalbfleisch and Prentice, The Statistical
    # Analysis of Failure Time Data (data and median of 23 weeks from memory; lifelines agrees below)
    ended = [6, 6, 6, 7, 10, 13, 16, 22, 23]
    running = [6, 9, 10, 11, 17, 19, 20, 25, 32, 32, 34, 35]
    times = [Waited(t, ended=True) for t in ended] + [Waited(t, ended=False) for t in running]
    assert median_time(times).value == 23
    fitter = KaplanMeierFitter().fit(ended + running, [1] * len(ended) + [0] * len(running))
    assert fitter.median_survival_time_ == 23
    ends = median_survival_times(fitter.confidence_interval_survival_function_).iloc[0]
    assert median_time(times).low == pytest.approx(float(ends.min()))
    assert median_time(times).high is None


def test_times_of_which_none_has_ended_say_nothing_of_the_median():
    assert median_time([Waited(30, ended=False)] * 5) == Estimate(None, None, None)


@given(st.integers(1, 300).flatmap(lambda n: st.tuples(st.integers(0, n), st.just(n))))
def test_the_interval_of_a_share_is_wilsons(counts):
    hits, of = counts
    found = share(hits, of)
    expected = stats.binomtest(hits, of).proportion_ci(confidence_level=0.95, method="wilson")
    assert found.value == hits / of
    assert found.low == pytest.approx(expected.low, abs=1e-6)
    assert found.high == pytest.approx(expected.high, abs=1e-6)


def test_the_table_of_students_t_is_right_to_its_last_figure():
    for freedom, value in enumerate(_T, start=1):
        assert value == pytest.approx(stats.t.ppf(0.975, freedom), abs=0.0006)


@given(st.lists(st.floats(0.5, 2.0), min_size=2, max_size=20))
def test_the_interval_of_a_mean_is_students(values):
    found = mean_over(values)
    error = stats.sem(values)
    if error > 1e-9:
        low, high = stats.t.interval(0.95, len(values) - 1, loc=np.mean(values), scale=error)
        near = 1e-3 * (high - low)
        assert found.low == pytest.approx(low, abs=near)
        assert found.high == pytest.approx(high, abs=near)
    factors = geometric_mean_over(values)
    assert factors.value == pytest.approx(stats.gmean(values))
    assert factors.low <= factors.value * (1 + 1e-9)
    assert factors.value <= factors.high * (1 + 1e-9)


def test_one_animal_has_a_value_and_no_interval():
    assert mean_over([1.3]) == Estimate(1.3, None, None)


@given(st.lists(st.floats(-40, 120), min_size=1, max_size=50))
def test_what_was_seen_lies_within_its_range(values):
    found = seen(values)
    assert min(values) <= found.low
    assert found.low <= found.value + 1e-9
    assert found.value <= found.high + 1e-9
    assert found.high <= max(values)
