"""Whether a question is about the days away: "what happened while I was away", "who is due while away"."""

from __future__ import annotations

import re
from functools import cache

from bot.reading.wanted.away import away_data
from bot.reading.words.phrasings import either, folded


def asks_of_days_away(text: str, language: str) -> bool:
    """Whether the words name the keeper's days away in the place of dates."""
    return _days_away(language).search(folded(text)) is not None


@cache
def _days_away(language: str) -> re.Pattern[str]:
    said = map(folded, away_data(language)["days_away"])
    return re.compile(either(sorted(said, key=len, reverse=True)))
