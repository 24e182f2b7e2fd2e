"""The molt forecasts: what must hold of each, and how well they did on lives whose rules they do not know."""

from datetime import date, timedelta
from decimal import Decimal
from math import exp, log

import pytest

from bot.husbandry.forecast import forecasts
from bot.husbandry.journal import SpecimenRecord, distinct_molts
from bot.husbandry.molts import outlooks
from bot.husbandry.molts.history import past_of
from bot.husbandry.molts.series import offers_of
from bot.husbandry.molts.signs import signs_of
from bot.terms import Entry, Habit, Kind, Sex, Specimen, Stage
from tests.bench.backtest import LAWS, START, Scores, calibration_error, report, score_shelf, shelf
from tests.husbandry.given import record_of

TODAY = date(2026, 5, 14)
#: An invented animal.
CLOVE = Specimen(
    tag="C1",
    name="Clove",
    species="Tliltocatl vagans",
    stage=Stage.JUVENILE,
    span_cm=Decimal(6),
    habit=Habit.TERRESTRIAL,
)


def record(specimen: Specimen = CLOVE, *, molts=(), fed=(), refused=(), more=()) -> SpecimenRecord:
    """A record told in days ago."""

    def ago(kind: Kind, days) -> list[Entry]:
        return [Entry(kind=kind, day=TODAY - timedelta(days=d), specimens=(specimen.tag,)) for d in days]

    entries = ago(Kind.MOLTED, molts) + ago(Kind.FED, fed) + ago(Kind.REFUSED, refused) + list(more)
    return record_of(specimen, entries)


def outlook(one: SpecimenRecord):
    return outlooks([one], TODAY)[0]


REGULAR = (700, 600, 500, 400, 300, 200, 100)


def test_quantiles_come_in_order_and_lie_ahead() -> None:
    days = outlook(record(molts=REGULAR)).days
    assert list(days) == sorted(days)
    assert days[0] > 0


def test_an_animal_with_a_regular_record_has_a_narrower_range_than_one_with_none() -> None:
    known, unknown = outlook(record(molts=REGULAR)), outlook(record(fed=(30, 20, 10)))
    assert known.days[4] - known.days[0] < unknown.days[4] - unknown.days[0]


def test_the_next_molt_of_a_regular_animal_is_expected_about_one_interval_after_the_last() -> None:
    middle = outlook(record(molts=tuple(d - 80 for d in REGULAR))).days[2]  # 20 days since the last
    assert 50 <= middle <= 130


def test_refusals_late_in_the_cycle_make_premolt_likelier_and_early_ones_do_not() -> None:
    meals = tuple(range(12, 95, 12))
    quiet = outlook(record(molts=REGULAR, fed=meals))
    late = outlook(record(molts=REGULAR, fed=meals, refused=(8, 4, 1)))
    early_molts = (*tuple(d - 75 for d in REGULAR[:-1]), 25)
    early = outlook(record(molts=early_molts, refused=(15, 12)))
    assert late.premolt > quiet.premolt + 0.2
    assert early.premolt < 0.2


def test_a_seal_makes_premolt_likelier() -> None:
    sealed = Entry(kind=Kind.SEALED, day=TODAY - timedelta(days=6), specimens=("C1",))
    assert outlook(record(molts=REGULAR, more=[sealed])).premolt > outlook(record(molts=REGULAR)).premolt


def test_a_mature_male_gets_no_next_molt() -> None:
    male = Specimen(
        tag="M1", species="Poecilotheria regalis", stage=Stage.MATURE_MALE, sex=Sex.MALE, span_cm=Decimal(13)
    )
    forecast = forecasts([record(male, molts=(200,))], TODAY)[0]
    assert (forecast.next_molt, forecast.premolt_probability) == (None, 0.0)


def test_a_forecast_says_what_it_rests_on() -> None:
    own, short = forecasts([record(molts=REGULAR)], TODAY)[0], forecasts([record(molts=(50,))], TODAY)[0]
    assert (own.basis, short.basis) == ("own record", "species file")
    assert own.days_apart == (100, 100)


def test_the_order_of_the_shelf_changes_no_forecast() -> None:
    other = Specimen(tag="D1", species="Grammostola rosea", span_cm=Decimal(9))
    one, two = record(molts=REGULAR), record(other, molts=(500, 260))
    assert {f.tag: f for f in forecasts([one, two], TODAY)} == {
        f.tag: f for f in forecasts([two, one], TODAY)
    }


def test_an_empty_shelf_has_no_forecast() -> None:
    assert forecasts([], TODAY) == []


def test_a_molt_written_down_twice_counts_once() -> None:
    day = date(2026, 1, 1)
    assert distinct_molts([day, day + timedelta(days=3), day + timedelta(days=60)]) == (
        day,
        day + timedelta(days=60),
    )


def test_growth_at_a_molt_stays_within_what_is_published() -> None:
    # Dyar's rule; Grammostola vachoni +38 % a molt (Zool. Anz. 293:37-45, 2021, abstract); ×1.1 to ×1.5
    # in growing animals: common practice, no source; the span of a live animal is known to some 5 %
    low, middle, high = forecasts([record(molts=REGULAR)], TODAY)[0].span_cm_after
    assert 6.0 <= low <= middle <= high <= 6.0 * 1.5 * 1.05
    assert 1.1 <= middle / 6.0 <= 1.4


def test_ranges_hold_what_they_promise_over_all_laws_together() -> None:
    scores = Scores()
    for law in LAWS:
        score_shelf(shelf(law, 120, 7), 8, scores)
    found = report(scores)
    assert 0.85 <= found["cover90"] <= 0.95
    assert 0.43 <= found["cover50"] <= 0.57


@pytest.mark.parametrize("law", LAWS)
def test_ranges_hold_what_they_promise_on_lives_whose_law_is_unknown(law: str) -> None:
    """The back-test of the benchmark on fewer dates, with room for the luck of the draw.

    A shelf whose molts go by the season is the hardest: nothing of the model knows of seasons.
    """
    scores = Scores()
    score_shelf(shelf(law, 40, 7), 8, scores)
    found = report(scores)
    assert 0.77 <= found["cover90"] <= 0.97
    assert 0.34 <= found["cover50"] <= 0.63
    assert found["below_last"] > 0.15
    assert found["below_mean"] > 0.10
    assert found["brier"] < found["brier_days_only"] < found["brier_base_rate"]
    assert calibration_error(scores) < 0.06


@pytest.mark.parametrize("law", LAWS)
def test_how_long_premolt_lasts_is_learned_from_meals_and_refusals(law: str) -> None:
    on = START + timedelta(days=1800)
    lives = shelf(law, 40, 11)
    records = [record_of(x.specimen, [e for e in x.entries if e.day <= on]) for x in lives]
    learned = signs_of(records, [past_of(r) for r in records], offers_of(records), on.toordinal()).part
    parts = [
        log((end - begun) / (end - start))
        for life in lives
        for start, end, begun in zip(life.molts, life.molts[1:], life.premolts[1:], strict=False)
    ]
    assert learned == pytest.approx(exp(sum(parts) / len(parts)), rel=0.15)


def signs(*records: SpecimenRecord):
    return signs_of(records, [past_of(r) for r in records], offers_of(records), TODAY.toordinal())


def test_each_further_refusal_of_a_run_says_less_of_premolt_than_the_one_before() -> None:
    odds = signs(record(molts=(100,), fed=(90, 80), refused=(70, 60, 50))).log_odds[0, :5]
    assert odds[0] < 0
    assert odds[1] < 0
    assert odds[2] > odds[3] > odds[4] > 0


def sealing(ago) -> list[Entry]:
    return [Entry(kind=Kind.SEALED, day=TODAY - timedelta(days=d), specimens=("C1",)) for d in ago]


def test_a_shelf_that_also_seals_between_molts_trusts_a_seal_less() -> None:
    late = signs(record(molts=REGULAR, more=sealing((605, 505, 405, 305, 205, 3)))).log_odds[0].max()
    early = signs(record(molts=REGULAR, more=sealing((670, 570, 470, 370, 270, 3)))).log_odds[0].max()
    alone = signs(record(molts=(100,), more=sealing((3,)))).log_odds[0].max()
    assert late > alone > early >= 0
