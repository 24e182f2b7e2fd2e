"""How good the molt forecasts are on shelves whose rules the model does not know, and what they cost."""

from __future__ import annotations

import gc
from collections.abc import Iterator, Sequence
from dataclasses import replace

from bot.demo.shelf import crowd
from bot.demo.simulator import journal_of
from bot.husbandry.forecast import forecasts
from bot.husbandry.journal import SpecimenRecord
from tests.bench.backtest import all_laws, calibration_error, report, tenths
from tests.bench.messages import NOW
from tests.bench.timing import Line, seconds, shown
from tests.husbandry.given import records_of

_ANIMALS = 1000


def lines(*, years: int) -> Iterator[Line]:
    """Coverage, loss and premolt over all laws; then a large shelf's forecasts."""
    apart, everything = all_laws()
    for law, scores in (*apart.items(), ("all laws", everything)):
        yield from _quality(law, report(scores), judged=scores is everything)
    for many, said, was in tenths(everything):
        yield Line(what=f"  premolt said at {said:.0%}", figure=f"{was:.0%} were", beside=f"{many} forecasts")
    off = calibration_error(everything)
    yield Line(
        what="  premolt said against so, over all tenths",
        figure=f"{off:.1%} off",
        limit="<= 2%",
        kept=off <= 0.02,
    )
    residents = crowd(_ANIMALS, seed=3)
    journal = journal_of(residents, seed=3, end=NOW.date(), days=365 * years)
    records = records_of([resident.specimen for resident in residents], journal)
    forecasts(
        records[:10], NOW.date()
    )  # or the whole shelf would be charged with the first use of all tables
    whole = _cold(records)
    yield Line(
        what=f"forecasts of {_ANIMALS:,} animals with {years} years of entries",
        figure=shown(whole),
        limit="<= 2 s",
        kept=whole <= 2,
    )
    for part in (4, 2):
        some = records[: _ANIMALS // part]
        taken = _cold(some)
        yield Line(
            what=f"  of {len(some):,} of them",
            figure=shown(taken),
            beside=f"{whole / taken / part:.2f} times a straight line to all",
        )


def _cold(records: Sequence[SpecimenRecord]) -> float:
    """Seconds for records of which nothing has been asked: each keeps what it was once gone through for."""
    fresh = [replace(record) for record in records]
    gc.collect()
    return seconds(lambda: forecasts(fresh, NOW.date()))


def _quality(law: str, found: dict[str, float], *, judged: bool) -> Iterator[Line]:
    for what, name, low, high in (
        ("inside the 90 % range", "cover90", 0.85, 0.95),
        ("inside the 50 % range", "cover50", 0.43, 0.57),
        ("loss below the last interval again", "below_last", 0.15, 1.0),
        ("loss below the mean of own intervals", "below_mean", 0.10, 1.0),
    ):
        value = found[name]
        yield Line(
            what=f"{law}: {what}",
            figure=f"{value:.1%}",
            beside=f"{found['forecasts']:.0f} forecasts",
            limit=f"{low:.0%} to {high:.0%}" if judged else "",
            kept=low <= value <= high if judged else None,
        )
    yield Line(
        what=f"{law}: Brier score of premolt",
        figure=f"{found['brier']:.3f}",
        beside=f"by days only {found['brier_days_only']:.3f}",
        kept=found["brier"] < found["brier_days_only"] if judged else None,
    )
