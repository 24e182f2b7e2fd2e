"""What a specimen was on the day of an entry, as far as was known then."""

from __future__ import annotations

from dataclasses import dataclass

from bot.terms.specimen import Sex, Stage


@dataclass(frozen=True, slots=True, kw_only=True)
class AsOf:
    """Sex and stage once the entry was made; ``None`` for a stage that nobody had told or measured.

    ``count`` is how many animals there were right before it: those that it tells dead among them; 0 for
    what was entered once all were gone.
    """

    sex: Sex
    stage: Stage | None
    count: int
