"""A back-test of the molt forecasts on simulated shelves whose rules the model does not know.

Each shelf has its own law of intervals (log-normal, gamma, or a clock that runs slower in winter), its
own growth, its own premolt, refusals for other reasons, missed and late notes. Forecasts are made at
past dates from the journal as it stood, and scored against the true next molt.

Run: ``python -m tests.bench.backtest``.
"""

from __future__ import annotations

import argparse
import math
import random
from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import date, timedelta
from decimal import Decimal
from itertools import pairwise

import numpy as np

from bot.husbandry.journal import SpecimenRecord
from bot.husbandry.molts import PROBABILITIES, outlooks
from bot.husbandry.species import all_species
from bot.terms import Entry, Habit, Kind, Sex, Specimen, Stage
from tests.husbandry.given import record_of

START = date(2018, 1, 1)
YEARS = 6


@dataclass
class Simulated:
    """One animal's true life and the journal that its keeper wrote."""

    specimen: Specimen
    molts: list[int]
    premolts: list[int]
    entries: list[Entry] = field(default_factory=list)
    begins: int = 0
    found: dict[int, int] = field(default_factory=dict)  # when the keeper noted each molt


def lognormal(rng: random.Random, mean: float, _day: float) -> float:
    return mean * math.exp(rng.gauss(0, 0.17) - 0.5 * 0.17**2)


def gamma(rng: random.Random, mean: float, _day: float) -> float:
    return rng.gammavariate(30.0, mean / 30.0)


def seasonal(rng: random.Random, mean: float, day: float) -> float:
    """A clock that runs at half to one and a half speed through the year."""
    left, days = mean * math.exp(rng.gauss(0, 0.12)), 0.0
    while left > 0:
        left -= 1.0 + 0.5 * math.cos(2 * math.pi * (day + days - 200) / 365.25)
        days += 1.0
    return days


LAWS: dict[str, Callable[[random.Random, float, float], float]] = {
    "lognormal": lognormal,
    "gamma": gamma,
    "seasonal": seasonal,
}


@dataclass
class Law:
    """A species as the simulator has it: its own base interval, lengthening, growth and premolt."""

    name: str
    adult: float
    habit: Habit
    base: float
    power: float
    growth: float
    premolt: float


def shelf(law: str, animals: int, seed: int) -> list[Simulated]:
    rng = random.Random(seed)
    kinds = [_kind(species, rng) for species in rng.sample(all_species(), 14)]
    return [_life(f"T{n}", rng.choice(kinds), LAWS[law], rng) for n in range(animals)]


def _kind(species, rng: random.Random) -> Law:
    pace = {"fast": 52, "medium": 75, "slow": 105}[species.pace]
    return Law(
        name=species.scientific_name,
        adult=float(species.female_span_cm) * rng.uniform(0.9, 1.1),
        habit=species.habit,
        base=pace * math.exp(rng.gauss(0, 0.25)),
        power=rng.uniform(0.55, 1.05),
        growth=rng.uniform(1.18, 1.38),
        premolt=rng.uniform(0.10, 0.26),
    )


def _life(tag: str, kind: Law, law: Callable, rng: random.Random) -> Simulated:
    own = math.exp(rng.gauss(0, 0.13))
    begins = rng.randint(0, 500)
    span = math.exp(rng.uniform(math.log(1.0), math.log(kind.adult)))
    day = float(begins - rng.uniform(0, 1) * 40)
    first_span = span
    molts: list[int] = []
    premolts: list[int] = []
    spans = {}
    while day < YEARS * 365 + 900:
        cap = 1.0 + 0.15 * (span / kind.adult)
        mean = kind.base * own * (min(span, kind.adult) / 3.2) ** kind.power * cap
        length = max(12.0, law(rng, min(mean, 700.0), day))
        share = min(max(rng.gauss(kind.premolt, 0.05), 0.05), 0.4)
        start, day = day, day + length
        premolts.append(round(day - share * (day - start)))
        molts.append(round(day))
        span = min(
            span * (1 + (kind.growth - 1) * max(0.05, 1 - (span / kind.adult) ** 2)), kind.adult * 1.02
        )
        spans[round(day)] = span
    sex = rng.choice([Sex.FEMALE, Sex.UNKNOWN])
    stage = (
        Stage.SLING if first_span < 4 else Stage.JUVENILE if first_span < 0.8 * kind.adult else Stage.ADULT
    )
    specimen = Specimen(tag=tag, species=kind.name, stage=stage, sex=sex, habit=kind.habit, span_cm=None)
    animal = Simulated(specimen, molts, premolts, begins=begins)
    _journal(animal, first_span, spans, rng)
    return animal


def _journal(animal: Simulated, first_span: float, spans: dict[int, float], rng: random.Random) -> None:
    def note(kind: Kind, day: int, **fields) -> None:
        if animal.begins <= day:
            animal.entries.append(
                Entry(kind=kind, day=START + timedelta(days=day), specimens=(animal.specimen.tag,), **fields)
            )

    measures = rng.random() < 0.6
    if measures:
        note(Kind.MEASURED, animal.begins, span_cm=Decimal(f"{first_span * rng.gauss(1, 0.05):.1f}"))
    for molt, premolt in zip(animal.molts, animal.premolts, strict=True):
        if rng.random() > 0.04:
            animal.found[molt] = molt + rng.choice([0, 0, 0, 1, 2])
            note(Kind.MOLTED, animal.found[molt])
        if measures and rng.random() < 0.3:
            note(Kind.MEASURED, molt + 5, span_cm=Decimal(f"{spans[molt] * rng.gauss(1, 0.05):.1f}"))
        if (
            rng.random()
            < {Habit.FOSSORIAL: 0.5, Habit.TERRESTRIAL: 0.25, Habit.ARBOREAL: 0.3}[animal.specimen.habit]
        ):
            note(Kind.SEALED, premolt + round(rng.uniform(0.1, 0.7) * (molt - premolt)))
        elif rng.random() < 0.2:
            note(Kind.PREMOLT, premolt + round(rng.uniform(0.3, 0.9) * (molt - premolt)))
    _meals(animal, note, rng)


def _meals(animal: Simulated, note: Callable, rng: random.Random) -> None:
    every = rng.choice([4, 7, 7, 10, 14])
    fasts_until = -1
    day = animal.begins
    last = YEARS * 365 + 400
    sealed: set[int] = set()
    for entry in animal.entries:
        if entry.kind is Kind.SEALED:
            at = (entry.day - START).days
            end = next(m for m in animal.molts if m >= at)
            sealed |= set(range(at, end))
    cycles = list(zip([animal.begins - 30, *animal.molts], animal.molts, animal.premolts, strict=False))
    index = 0
    while day < last:
        while index < len(cycles) - 1 and cycles[index][1] <= day:
            index += 1
        since, _, premolt = cycles[index]
        step = every
        if day - since > 9 and day not in sealed:
            if rng.random() < 0.012:
                fasts_until = day + rng.randint(10, 50)
            refuses = (day >= premolt and rng.random() < 0.88) or day < fasts_until or rng.random() < 0.05
            note(Kind.REFUSED if refuses else Kind.FED, day)
            step = 5 if refuses else every
        day += max(2, step + rng.choice([-1, 0, 0, 1, 2]))


@dataclass
class Scores:
    """What the back-test counts, over all forecasts."""

    inside90: int = 0
    inside50: int = 0
    n: int = 0
    pinball: list[tuple[float, float, float]] = field(default_factory=list)
    premolt: list[tuple[float, float, bool]] = field(default_factory=list)


def pinball(quantiles, truth: float) -> float:
    total = 0.0
    for probability, value in zip(PROBABILITIES, quantiles, strict=True):
        off = truth - value
        total += max(probability * off, (probability - 1) * off)
    return total / len(PROBABILITIES)


def score_shelf(animals: list[Simulated], dates: int, scores: Scores, seed: int = 1) -> None:
    rng = random.Random(seed)
    for _ in range(dates):
        today = rng.randint(400, YEARS * 365)
        on = START + timedelta(days=today)
        alive = [a for a in animals if a.begins < today]
        records = [record_of(a.specimen, [e for e in a.entries if e.day <= on]) for a in alive]
        for animal, record, outlook in zip(alive, records, outlooks(records, on), strict=True):
            _score_one(animal, record, outlook, today, scores)


def _score_one(animal: Simulated, record: SpecimenRecord, outlook, today: int, scores: Scores) -> None:
    number = next(i for i, m in enumerate(animal.molts) if m > today)
    truth = animal.molts[number] - today
    days = outlook.days
    scores.n += 1
    scores.inside90 += days[0] <= truth <= days[4]
    scores.inside50 += days[1] <= truth <= days[3]
    molts = record.molt_days
    apart = [(b - a).days for a, b in pairwise(molts)]
    if apart:
        waited = (START + timedelta(days=today) - molts[-1]).days
        last, mean = max(1, apart[-1] - waited), max(1, sum(apart) / len(apart) - waited)
        scores.pinball.append((pinball(days, truth), 0.5 * abs(truth - last), 0.5 * abs(truth - mean)))
    part = outlook.waited / max(1.0, outlook.waited + outlook.days[2])
    rule = min(1.0, max(0.0, (part - 0.6) / 0.4))
    # one that molted last night and was not found yet looks as it did the day before, to anybody
    unfound = number > 0 and animal.found.get(animal.molts[number - 1], 0) > today
    scores.premolt.append((outlook.premolt, rule, unfound or animal.premolts[number] <= today))


def report(scores: Scores) -> dict[str, float]:
    ours, last, mean = np.array(scores.pinball).T
    p, rule, truth = np.array(scores.premolt, dtype=float).T
    return {
        "forecasts": scores.n,
        "cover90": scores.inside90 / scores.n,
        "cover50": scores.inside50 / scores.n,
        "pinball": ours.mean(),
        "below_last": 1 - ours.mean() / last.mean(),
        "below_mean": 1 - ours.mean() / mean.mean(),
        "brier": ((p - truth) ** 2).mean(),
        "brier_days_only": ((rule - truth) ** 2).mean(),
        "brier_base_rate": truth.mean() * (1 - truth.mean()),
    }


def tenths(scores: Scores) -> list[tuple[int, float, float]]:
    """For each tenth of the premolt probability: how many, the mean said, and how often it was so."""
    p, _, truth = np.array(scores.premolt, dtype=float).T
    tenth = np.minimum((p * 10).astype(int), 9)
    return [
        (int((tenth == k).sum()), float(p[tenth == k].mean()), float(truth[tenth == k].mean()))
        for k in range(10)
        if (tenth == k).any()
    ]


def calibration_error(scores: Scores) -> float:
    """How far what was said lies from how often it was so, a mean over the tenths by their size."""
    found = tenths(scores)
    return sum(many * abs(said - was) for many, said, was in found) / sum(many for many, _, _ in found)


def all_laws(animals: int = 50, dates: int = 20, seed: int = 1) -> tuple[dict[str, Scores], Scores]:
    """The scores of each law's shelf, and of all together."""
    apart, everything = {}, Scores()
    for number, law in enumerate(LAWS):
        scores = apart[law] = Scores()
        score_shelf(shelf(law, animals, seed * 100 + number), dates, scores)
        for name in ("inside90", "inside50", "n"):
            setattr(everything, name, getattr(everything, name) + getattr(scores, name))
        everything.pinball += scores.pinball
        everything.premolt += scores.premolt
    return apart, everything


def main() -> None:
    parser = argparse.ArgumentParser()
    parser.add_argument("--animals", type=int, default=50)
    parser.add_argument("--dates", type=int, default=20)
    parser.add_argument("--seed", type=int, default=1)
    options = parser.parse_args()
    apart, everything = all_laws(options.animals, options.dates, options.seed)
    for law, scores in (*apart.items(), ("all", everything)):
        print(law, {k: round(float(v), 3) for k, v in report(scores).items()})
    for row in tenths(everything):
        print("premolt", [round(x, 2) for x in row])


if __name__ == "__main__":
    main()
