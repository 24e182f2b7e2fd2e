"""What it costs to read a message, beside a date library's search over the same whole message."""

from __future__ import annotations

from collections.abc import Iterator

from dateparser.search import search_dates

from bot.demo.shelf import crowd
from bot.reading import ShelfNames, read
from bot.terms import KeeperSettings
from tests.bench.messages import NOW, messages_for
from tests.bench.timing import Line, median_of, medians, seconds, shown

_SEARCH = {"RELATIVE_BASE": NOW.replace(tzinfo=None), "PREFER_DATES_FROM": "past", "DATE_ORDER": "DMY"}
_LIMIT = 0.25


def lines() -> Iterator[Line]:
    """Reading at two sizes of shelf, each beside the search, and what the index of names costs."""
    for size in (500, 5000):
        specimens = [resident.specimen for resident in crowd(size, seed=7)]
        texts = messages_for(specimens)
        names = ShelfNames.of(specimens)
        reading = [_reading(text, names) for text in texts]
        search = [_search(text) for text in texts]
        ratio = sum(reading) / sum(search)
        yield Line(
            what=f"read a message, {size} animals",
            figure=shown(medians(reading)),
            beside=f"search_dates {shown(medians(search))}",
            ratio=ratio,
            limit=f"<= {_LIMIT}",
            kept=ratio <= _LIMIT,
        )
        yield Line(
            what=f"  the slowest of {len(texts)} messages",
            figure=shown(max(reading)),
            beside=texts[reading.index(max(reading))][:40],
        )
        yield Line(
            what=f"  index of names, {size} animals, once for a shelf",
            figure=shown(seconds(lambda s=specimens: ShelfNames.of(s))),
        )


def _reading(text: str, names: ShelfNames) -> float:
    settings = KeeperSettings(zone="Europe/London")
    return median_of(15, lambda: read(text, names, now=NOW, settings=settings))


def _search(text: str) -> float:
    return median_of(5, lambda: search_dates(text, languages=["en"], settings=_SEARCH))
