"""How often groups are to be fed or watered, in words: whom, every how many days, in which months. Pure.

Words, also those of the other languages, are in ``lexicon/en/instructions.yaml``. What is not wholly
understood is ``None``, so that the message is left to the ordinary reading.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator, Mapping
from datetime import UTC, datetime
from functools import cache
from typing import Final

from bot.reading.days import Moment, find_periods
from bot.reading.days.words import days_data
from bot.reading.names.names_alone import whom
from bot.reading.names.shelf_names import Hit, NameSpan, ShelfNames
from bot.reading.names.taxa import taxa
from bot.reading.words.normalise import plain_text
from bot.reading.words.phrasings import folded, meaning, word_set
from bot.reading.words.rule_words import rule_pattern
from bot.reading.words.scan import Words
from bot.reading.words.tokens import Token, tokens_of
from bot.terms import DateOrder
from bot.terms.schedule import EVERYONE, Group, Scope, SlowMonths

_LANGUAGES: Final = ("en", "de", "es")
#: Ways of naming an animal by its species and by nothing else.
_BY_SPECIES: Final = frozenset({"species", "common", "initials"})
#: What stands between groups.
_AND: Final = rule_pattern("and_between_groups")
_BETWEEN_GROUPS: Final = re.compile(rf"\s*,\s*(?:{_AND})\s+|\s*[,&+]\s*|\s+(?:{_AND})\s+", re.I)
#: An interval in days is the same at any moment; only what ends on a day depends on it, and is not taken.
_ANY_MOMENT: Final = datetime(2000, 1, 1, tzinfo=UTC)


def every_days(words: str) -> tuple[str, int] | None:
    """The words before an interval that ends them, and its days: ``("the slings", 4)``.

    Of whole days that are said for sure; "every 5 to 7 days", "every Monday" and "every month" are none.
    """
    text = _without_a_start(plain_text(words).plain)
    for language in _LANGUAGES:
        found = find_periods(Words(text), Moment(_ANY_MOMENT, DateOrder.DMY), language)
        if len(found) != 1 or found[0].end != len(text) or not found[0].every_days:
            continue
        period = found[0]
        if period.day is None and period.time is None and period.doubt is None and period.days:
            return text[: period.start].strip(" ,:"), period.days
    return None


def _without_a_start(words: str) -> str:
    """The words without "from now on" at their end, which goes without saying."""
    ends = sorted(word_set("from_now_on"), key=len, reverse=True)
    return next((words[: -len(end)].rstrip(" ,") for end in ends if words.lower().endswith(f" {end}")), words)


def twice_a_week(words: str) -> str | None:
    """The words before "twice a week" where that ends them: no number of days, so that it has to be asked."""
    said = folded(words)
    ends = (said[: -len(end)] for end in word_set("twice_a_week") if said.endswith(f" {end}"))
    return next((rest.strip(" ,:") for rest in ends), None)


def group_said(words: str, names: ShelfNames) -> Group | None:
    """Those that words call by their stage, their species or as all of the shelf, whoever that is.

    A species in the plural, or with "all" before it; its bare name where not just one of the shelf has it.
    What is an animal's own name, or a place, is no group.
    """
    said = folded(words)
    if said in word_set("whole_shelf"):
        return None if _is_named(said, names) else EVERYONE
    rest, every_one, article = _without_all(said)
    stage = meaning("stage_groups").get(rest) or (meaning("stages").get(rest) if every_one else None)
    if stage is not None:
        return None if _is_named(rest, names) else Group(Scope.STAGE, stage)
    species = _species(rest, names, bare=not article, every_one=every_one)
    return Group(Scope.SPECIES, species) if species is not None else None


def groups_said(words: str, names: ShelfNames) -> tuple[tuple[Group, ...], tuple[str, ...]] | None:
    """The groups and single animals that words call one after another ("all GBBs and Sunny").

    ``None`` where a part is neither for sure, where none of them is a group, or where there is but one.
    """
    groups: list[Group] = []
    tags: list[str] = []
    parts = [part.strip() for part in _BETWEEN_GROUPS.split(plain_text(words).plain)]
    for part in parts:
        group = group_said(part, names)
        animal = whom(part, names) if group is None else ()
        if group is None and len(animal) != 1:
            return None
        groups += [group] if group is not None else []
        tags += animal
    if not groups or len(parts) == 1:
        return None
    return tuple(dict.fromkeys(groups)), tuple(dict.fromkeys(tags))


def animals_said(words: str, names: ShelfNames) -> tuple[str, ...]:
    """The animals that words call by name or by their place, and nothing else: "Ink, C3 and everything on D".

    Empty where a part of the words names none for sure, or says more.
    """
    found = [_named_in_part(part, names) for part in _BETWEEN_GROUPS.split(plain_text(words).plain)]
    return names.in_order(tag for tags in found for tag in tags) if all(found) else ()


def _named_in_part(words: str, names: ShelfNames) -> tuple[str, ...]:
    """The animal that words name, or those of the place that they name."""
    there = next((rest for rest in _rests(folded(words), word_set("all_there")) if _place(rest, names)), None)
    tags = _place(folded(words) if there is None else there, names)
    named = whom(words, names) if not tags else ()
    return tags or (named if len(named) == 1 else ())


def _place(words: str, names: ShelfNames) -> tuple[str, ...]:
    """Those who stand at the place that words name, where they name no animal."""
    tokens, spans = _spans(words.removeprefix("the "), names)
    if len(spans) != 1 or (spans[0].i, spans[0].j) != (0, len(tokens)):
        return ()
    hit = spans[0].hits[0]  # the surest way of naming stands first
    return hit.tags if hit.how == "place" else ()


def months_said(first: str, last: str) -> SlowMonths | None:
    """The months from one to another, both inclusive, where both are months and nothing else."""
    numbers = [_months().get(folded(word)) for word in (first, last)]
    return SlowMonths(numbers[0], numbers[1]) if numbers[0] and numbers[1] else None


def _without_all(said: str) -> tuple[str, bool, bool]:
    """The words without what may stand before a group; whether it says each of them, or is an article."""
    for rest in _rests(said, word_set("each_of")):
        return rest, True, False
    for rest in _rests(said, word_set("group_articles")):
        return rest, False, True
    return said, False, False


def _rests(said: str, openings: Collection[str]) -> Iterator[str]:
    """What is left of words behind each of the openings that they begin with, the longest opening first."""
    for before in sorted(openings, key=len, reverse=True):
        if said.startswith(f"{before} "):
            yield said[len(before) :].strip()


def _spans(words: str, names: ShelfNames) -> tuple[list[Token], list[NameSpan]]:
    tokens = tokens_of(plain_text(words))
    return tokens, names.find(tokens)


def _is_named(words: str, names: ShelfNames) -> bool:
    """Whether something of the shelf, animal or place, goes by these very words."""
    tokens, spans = _spans(words, names)
    return any((span.i, span.j) == (0, len(tokens)) for span in spans)


def _species(words: str, names: ShelfNames, *, bare: bool, every_one: bool) -> str | None:
    tokens, spans = _spans(words, names)
    if not tokens:
        return None
    if not spans:
        named = taxa().find(tokens, 0)
        return named[1] if named is not None and named[0] == len(tokens) else None
    if len(spans) != 1 or (spans[0].i, spans[0].j) != (0, len(tokens)):
        return None
    hit = spans[0].hits[0]  # the surest way of naming stands first
    of_all = hit.plural or every_one or (bare and len(hit.tags) > 1)
    known = hit.how in _BY_SPECIES and _of_one_species(spans[0].hits, names)
    return hit.species if of_all and known else None


def _of_one_species(hits: tuple[Hit, ...], names: ShelfNames) -> bool:
    return len({names.by_tag[tag].species for hit in hits for tag in hit.tags}) == 1


@cache
def _months() -> Mapping[str, int]:
    return {
        folded(word): int(number)
        for language in _LANGUAGES
        for number, words in days_data(language).words["month"].items()
        for word in words
    }
