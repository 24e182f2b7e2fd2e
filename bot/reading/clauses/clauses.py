"""A message in clauses: one thing said of some animals each. Pure."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from bot.reading.clauses.clause_marks import (
    aside,
    excepted_before,
    leads_on,
    passed_over,
    separator,
    those_excepted,
)
from bot.reading.clauses.clause_model import AND, COMMA, SENTENCE, START, TITLE, Clause
from bot.reading.clauses.run_ons import names_run_on, run_on
from bot.reading.items.item import Item

_OPEN_CLOSE: Final = frozenset("()[]{}\"'*#@")


def clauses_of(items: Sequence[Item]) -> list[Clause]:
    """The clauses of a message, none empty."""
    out: list[Clause] = []
    for clause in _cut(items):
        if out and clause.sep == AND:
            out += names_run_on(out[-1], clause)
        out.extend(run_on(clause))
    return out


def _cut(items: Sequence[Item]) -> Iterator[Clause]:
    clause = Clause(START)
    line = False
    for place, item in enumerate(items):
        if clause.sep == COMMA and not clause.items and aside(items, place):
            clause.items += those_excepted(excepted_before(items, place))
            continue
        if passed_over(item, items, place, clause):
            continue
        sep = separator(item, items, place) or aside(items, place) if item.cat in "MW" else None
        sep = COMMA if sep is None and leads_on(items, place, clause) else sep
        if sep is None:
            if item.cat == "M" and item.text in _OPEN_CLOSE | {"-"}:
                continue
            clause.items.append(item)
            continue
        line = item.text == "\n" or (line and sep == SENTENCE and not clause.items)
        if clause.items:
            yield from _closed(clause, sep)
            clause = Clause(sep, turns="but" in item.senses, goes_on=not _NEXT.isdisjoint(item.senses))
            clause.by = item.text
            if aside(items, place):
                clause.items = those_excepted(excepted_before(items, place))
        elif sep in {SENTENCE} or clause.sep == AND:
            clause.sep = sep if clause.sep != START else START
            clause.by = item.text
            clause.goes_on = clause.goes_on or not _NEXT.isdisjoint(item.senses)
        elif sep == AND and clause.sep == COMMA:
            clause.turns, clause.by = True, item.text
        clause.line = line
    if clause.items:
        yield clause


def _closed(clause: Clause, sep: str) -> Iterator[Clause]:
    """The clause that a mark ends; of "Ink: roach ✓ Mole:" the name at its end heads what comes next."""
    items = clause.items
    told = clause.sep == sep == TITLE and len(items) > 1 and items[-1].cat == "S" and not items[-1].owns
    if told and items[-2].cat not in "SM" and _JOINS_A_NAME.isdisjoint(items[-2].senses):
        headed = Clause(SENTENCE)
        headed.items = [items.pop()]
        yield clause
        clause = headed
    clause.titled = sep == TITLE
    yield clause


#: Senses of the words before a name that goes with what stands before it.
_JOINS_A_NAME: Final = frozenset({"and", "but", "for", "to", "with", "of", "from", "on", "the", "except"})


_NEXT: Final = frozenset({"then", "so"})
