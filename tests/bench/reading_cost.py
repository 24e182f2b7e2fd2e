"""What it costs to read a message, beside a date library's search over the same whole message.

No message comes twice, so that nobody is quick by remembering the last one; both are warmed up on
other messages, and take turns, so that both meet the same noise.
"""

from __future__ import annotations

import gc
from collections.abc import Iterator

from dateparser.search import search_dates

from bot.demo.shelf import crowd
from bot.reading import ShelfNames, read
from bot.terms import KeeperSettings
from tests.bench.messages import NOW, messages_for
from tests.bench.timing import Line, medians, seconds, shown

_SEARCH = {"RELATIVE_BASE": NOW.replace(tzinfo=None), "PREFER_DATES_FROM": "past", "DATE_ORDER": "DMY"}
_SETTINGS = KeeperSettings(zone="Europe/London")
_LIMIT = 0.25
_WARM_UP = 40


def lines() -> Iterator[Line]:
    """Reading at two sizes of shelf, each beside the search, and what the index of names costs."""
    for size in (500, 5000):
        specimens = [resident.specimen for resident in crowd(size, seed=7)]
        texts = messages_for(specimens)
        names = ShelfNames.of(specimens)
        for text in texts[:_WARM_UP]:
            _read(text, names)
            _search(text)
        gc.collect()
        reading, search = [], []
        for text in texts[_WARM_UP:]:
            reading.append(_read(text, names))
            search.append(_search(text))
        ratio = medians(reading) / medians(search)
        yield Line(
            what=f"read a message, {size} animals",
            figure=shown(medians(reading)),
            beside=f"search_dates {shown(medians(search))}",
            ratio=ratio,
            limit=f"<= {_LIMIT}",
            kept=ratio <= _LIMIT,
        )
        yield Line(
            what=f"  all {len(reading)} messages together",
            figure=shown(sum(reading)),
            beside=f"search_dates {shown(sum(search))}",
            ratio=sum(reading) / sum(search),
        )
        yield Line(
            what=f"  index of names, {size} animals, once for a shelf",
            figure=shown(seconds(lambda s=specimens: ShelfNames.of(s))),
        )


def _read(text: str, names: ShelfNames) -> float:
    return seconds(lambda: read(text, names, now=NOW, settings=_SETTINGS))


def _search(text: str) -> float:
    return seconds(lambda: search_dates(text, languages=["en"], settings=_SEARCH))
