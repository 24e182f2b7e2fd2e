"""Days, lengths of time, amounts and numbers in a message, by the token at which each begins."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import datetime
from itertools import pairwise
from typing import Any

from bot.reading.amounts.amounts import find_amounts
from bot.reading.days import Facing, Moment, Strength, find_days, find_periods
from bot.reading.items.item import Found
from bot.reading.names.names_translated import translated
from bot.reading.names.places_in_plural import several_places
from bot.reading.names.shelf_names import EXACT, NameSpan, ShelfNames
from bot.reading.names.taxa import taxa
from bot.reading.words.numbers import find_numbers
from bot.reading.words.scan import Words
from bot.reading.words.tokens import Token
from bot.terms import KeeperSettings


def found_in(
    words: Words,
    tokens: Sequence[Token],
    names: ShelfNames,
    *,
    now: datetime,
    settings: KeeperSettings,
    facing: Facing,
) -> Found:
    """All that is found in a text, each by its first token and with the token after its last."""
    found = Found()
    starts = [t.start for t in tokens]
    found.names = {span.i: span for span in names.find(tokens)}
    language, moment = settings.language, Moment.of(now, settings, facing)
    found.strange_tags = dict(_strange_tags(tokens, names, found.names))
    for span in translated(tokens, names, language):
        found.names.setdefault(span.i, span)
    found.names.update((span.i, span) for span in several_places(tokens, names, language))
    days = find_days(_parted(words, tokens, found.names), moment, language)
    found.sure_days = _placed(starts, tokens, [d for d in days if d.strength == Strength.CERTAIN])
    found.days = _placed(starts, tokens, [d for d in days if d.strength != Strength.CERTAIN])
    found.periods = _placed(starts, tokens, find_periods(words, moment, language))
    amounts = find_amounts(words, units=settings.units_said, language=language, zone=settings.zone)
    found.amounts = {
        at: (end, span)
        for at, (end, span) in _placed(starts, tokens, amounts).items()
        if not (_begins_a_species(tokens, end, names) or _is_a_tag(found.names.get(at)))
    }
    found.numbers = _placed(starts, tokens, find_numbers(words, language))
    _without_counted_days(tokens, found, names)
    return found


def _parted(words: Words, tokens: Sequence[Token], names: Mapping[int, NameSpan]) -> Words:
    """ "Yesterday, Friday ate": behind a comma the first name of a text is no more of the day before it."""
    first = min(names, default=0)
    if first < 2 or tokens[first - 1].text != "," or not _is_name_alone(names[first]):
        return words
    place = tokens[first - 1].start
    return Words(f"{words.text[:place]};{words.text[place + 1 :]}")


def _is_name_alone(name: NameSpan) -> bool:
    return name.j == name.i + 1 and any(hit.how in EXACT and not hit.plural for hit in name.hits)


def _without_counted_days(tokens: Sequence[Token], found: Found, names: ShelfNames) -> None:
    """ "fed B 2 days ago", "GBB 2 cm": a number that goes on to days or a unit is no part of a name."""
    for at, name in list(found.names.items()):
        last = name.j - 1
        if not name.spaced or tokens[last].kind != "number":
            continue
        spans = (found.days, found.sure_days, found.periods, found.amounts)
        if all(kind.get(last, (0,))[0] <= name.j for kind in spans):
            continue
        hits = names.phrases.get(tuple(t.key for t in tokens[at:last] if t.kind != "mark"), ())
        del found.names[at]
        if hits:
            found.names[at] = NameSpan(at, last, hits, spaced=name.j - at > len(("B", "2")))


def _is_a_tag(span: NameSpan | None) -> bool:
    """ "21C ate": a tag of figures and a letter, and no degrees."""
    return span is not None and span.j > span.i + 1 and any(hit.how == "tag" for hit in span.hits)


def _begins_a_species(tokens: Sequence[Token], end: int, names: ShelfNames) -> bool:
    """Whether what was taken for a unit is the genus of a species: "4 G. pulchra slings"."""
    if end >= len(tokens) or tokens[end].text != "." or len(tokens[end - 1].key) != 1:
        return False
    listed = taxa().find(tokens, end - 1)
    behind = tokens[end + 1].key if end + 1 < len(tokens) else ""
    return (listed is not None and listed[0] > end) or (tokens[end - 1].key, behind) in names.phrases


def _strange_tags(
    tokens: Sequence[Token], names: ShelfNames, known: Mapping[int, NameSpan]
) -> Iterator[tuple[int, int]]:
    """ "C7" where the shelf has C1 to C4: a tag that nobody bears, with the token after it."""
    for at, (letters, number) in enumerate(pairwise(tokens)):
        if number.kind != "number" or number.gap:
            continue
        glued = letters.kind == "word" and letters.upper
        tag = glued and (letters.key,) in names.numbered and number.text.isdigit()
        if tag and (at not in known or known[at].j == at + 1):
            yield at, at + 2


def _placed(
    starts: Sequence[int], tokens: Sequence[Token], spans: Iterable[Any]
) -> dict[int, tuple[int, Any]]:
    out: dict[int, tuple[int, Any]] = {}
    for span in spans:
        i = bisect_left(starts, span.start)
        j = bisect_left(starts, span.end)
        if i < len(tokens) and j > i and starts[i] == span.start:
            out[i] = (j, span)
    return out
