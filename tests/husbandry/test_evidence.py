"""What the records of a species add up to. All animals and journals here are invented."""

from __future__ import annotations

from datetime import date, timedelta
from decimal import Decimal

import pytest

from bot.husbandry.evidence import by_species, findings
from bot.husbandry.journal import SpecimenRecord
from bot.terms import Entry, Kind, Sex, Specimen, Stage
from tests.husbandry.given import record_of, records_of

PULCHRA = "Grammostola pulchra"
START = date(2024, 1, 1)
ON = date(2026, 1, 1)


def day(number: int) -> date:
    return START + timedelta(days=number)


def specimen(tag: str, *, lot_size: int = 1, sex: Sex = Sex.UNKNOWN) -> Specimen:
    return Specimen(
        tag=tag, species=PULCHRA, stage=Stage.SLING, span_cm=Decimal(3), lot_size=lot_size, sex=sex
    )


def entry(tag: str, kind: Kind, number: int, **more) -> Entry:
    return Entry(kind=kind, specimens=(tag,), day=day(number), **more)


def record(tag: str, *told: tuple[Kind, int] | tuple[Kind, int, dict], **about) -> SpecimenRecord:
    entries = [
        entry(tag, one[0], one[1], **({k: v for part in one[2:] for k, v in part.items()})) for one in told
    ]
    return record_of(specimen(tag, **about), entries)


def found(*records: SpecimenRecord, on: date = ON):
    return {finding.name: finding for finding in findings(records, on)}


def test_molt_intervals_are_given_by_size_and_the_running_one_is_counted_as_running():
    spans = {"span_cm": Decimal("2.4")}
    one = record("A1", (Kind.MEASURED, 0, spans), (Kind.MOLTED, 10), (Kind.MOLTED, 80), (Kind.MOLTED, 160))
    two = record("A2", (Kind.MEASURED, 0, spans), (Kind.MOLTED, 20), (Kind.MOLTED, 110))
    three = record("A3", (Kind.MEASURED, 0, spans), (Kind.MOLTED, 30), (Kind.MOLTED, 130))
    told = found(one, two, three, on=day(200))
    interval = told["molt_interval: 2 to 5 cm"]
    assert (interval.n_specimens, interval.n_running) == (3, 2)
    assert interval.unit == "days"
    assert interval.low <= interval.value <= (interval.high or interval.value)
    assert interval.value in {70, 80, 90, 100}
    assert interval.enough
    assert "molt_interval: 5 to 10 cm" not in told  # of which only one began, and none ended


def test_growth_is_the_factor_between_measurements_spread_over_the_molts_between_them():
    # 2.0 cm, two molts, 3.38 cm: x1.3 a molt; facts: keepers see about x1.3 in slings (common practice)
    one = record(
        "A1",
        (Kind.MEASURED, 0, {"span_cm": Decimal("2.0")}),
        (Kind.MOLTED, 50),
        (Kind.MOLTED, 110),
        (Kind.MEASURED, 120, {"span_cm": Decimal("3.38")}),
    )
    growth = found(one)["growth_per_molt"]
    assert growth.value == pytest.approx(1.3)
    assert (growth.low, growth.high, growth.n_specimens, growth.n_entries) == (None, None, 1, 2)


def test_a_constant_growth_of_38_percent_is_found_again():
    # Grammostola vachoni: +38 % a molt, constant through development (Zool. Anz. 293:37-45, 2021, abstract)
    records = []
    for number in range(4):
        told = [(Kind.MEASURED, number, {"span_cm": Decimal("1.0")})]
        span = 1.0
        for molt in range(1, 6):
            span *= 1.38
            told += [
                (Kind.MOLTED, 60 * molt),
                (Kind.MEASURED, 60 * molt + 20, {"span_cm": Decimal(str(round(span, 4)))}),
            ]
        records.append(record(f"A{number}", *told))
    growth = found(*records)["growth_per_molt"]
    assert growth.value == pytest.approx(1.38, abs=0.001)
    assert growth.low == pytest.approx(1.38, abs=0.001)
    assert (growth.n_specimens, growth.n_entries) == (4, 20)


def test_acceptance_is_given_by_prey_and_by_days_to_the_molt_that_came():
    one = record(
        "A1",
        (Kind.FED, 10, {"prey": "cricket"}),
        (Kind.FED, 50, {"prey": "cricket"}),
        (Kind.REFUSED, 75, {"prey": "cricket"}),
        (Kind.REFUSED, 78, {"prey": "dubia roach"}),
        (Kind.OFFERED, 79, {"prey": "cricket"}),
        (Kind.MOLTED, 80),
        (Kind.FED, 95, {"prey": "dubia roach"}),
    )
    told = found(one)
    assert told["acceptance_by_prey: cricket"].value == pytest.approx(2 / 3)
    assert told["acceptance_by_prey: dubia roach"].value == 0.5
    assert told["acceptance_by_days_to_molt: 0 to 7 days before"].value == 0.0
    assert told["acceptance_by_days_to_molt: 29 to 60 days before"].value == 1.0
    assert told["acceptance_by_days_to_molt: over 60 days before"].n_entries == 1
    assert sum(t.n_entries for name, t in told.items() if name.startswith("acceptance_by_days")) == 4


def test_a_seal_that_still_lasts_counts_for_as_long_as_it_was_seen_to_last():
    one = record("A1", (Kind.SEALED, 0), (Kind.OPENED, 20))
    two = record("A2", (Kind.SEALED, 0), (Kind.SEALED, 10), (Kind.FED, 30))
    three = record("A3", (Kind.SEALED, 0))
    sealed = found(one, two, three, on=day(90))["days_sealed"]
    assert (sealed.value, sealed.n_specimens, sealed.n_entries, sealed.n_running) == (30, 3, 3, 1)


def test_the_first_meal_after_a_molt_ends_the_wait_and_the_next_molt_cuts_it():
    one = record("A1", (Kind.MOLTED, 0), (Kind.FED, 8), (Kind.FED, 15), (Kind.MOLTED, 60), (Kind.MOLTED, 120))
    meal = found(one, on=day(130))["days_to_first_meal"]
    assert (meal.value, meal.n_entries, meal.n_running) == (8, 3, 2) or meal.value is None


def test_a_reading_that_many_animals_share_counts_once():
    shelf = [specimen("A1"), specimen("A2")]
    room = [Entry(kind=Kind.CLIMATE, day=day(n), temp_c=Decimal(20 + n)) for n in range(3)]
    told = {f.name: f for f in findings(records_of(shelf, room), ON)}
    assert (told["temperature"].value, told["temperature"].n_entries, told["temperature"].n_specimens) == (
        21,
        3,
        2,
    )


def test_of_a_lot_nobody_knows_who_molted():
    told = found(record("A1", (Kind.MOLTED, 0), (Kind.MOLTED, 60), lot_size=8))
    assert not any(name.startswith("molt_interval") for name in told)


def test_a_mature_male_has_no_interval_running():
    male = record("A1", (Kind.MOLTED, 0), (Kind.MATURED, 200), sex=Sex.MALE)
    intervals = [f for name, f in found(male).items() if name.startswith("molt_interval")]
    assert [f.n_running for f in intervals] == [0]
    assert found(male)["span_at_maturity: male"].n_specimens == 1


def test_losses_count_and_nothing_later_than_the_day_is_seen():
    dead = record("A1", (Kind.FED, 0), (Kind.DIED, 50))
    alive = record("A2", (Kind.FED, 0))
    assert found(dead, alive)["died"].value == 0.5
    assert found(dead, alive, on=day(20))["died"].value == 0.0


def test_nothing_on_record_gives_no_figure():
    assert findings([record("A1")], ON) == []


@pytest.mark.parametrize("words", [PULCHRA, "grammostola PULCHRA", "pulchra", "Brazilian black"])
def test_a_species_is_found_by_each_of_its_names(words):
    records = [record("A1"), record_of(Specimen(tag="B1", species="Caribena versicolor"), [])]
    assert list(by_species(records, words)) == [PULCHRA]


def test_of_a_lot_each_animal_that_died_counts_and_the_others_do_not():
    lot = record("A1", (Kind.WATERED, 1), (Kind.DIED, 20, {"count": 2}), lot_size=6)
    died = found(lot)["died"]
    assert (died.value, died.n_specimens) == (2 / 6, 6)


def test_a_lot_of_which_one_is_left_is_a_lot_still_for_nobody_knows_whose_molts_those_were():
    lot = record("A1", *((Kind.MOLTED, n) for n in (0, 10, 30)), (Kind.DIED, 40, {"count": 5}), lot_size=6)
    assert not any(name.startswith("molt_interval") for name in found(lot))
