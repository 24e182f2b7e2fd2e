"""Prints what things cost on this machine, beside floors measured in the same run: ``make bench``.

``python -m tests.bench reading message`` measures only those; ``--years 5`` fills the large shelf
with five years in place of one. Exit status 1 where a limit was missed. Trust ratios, not times.
"""

from __future__ import annotations

import gc
import importlib
import sys
from collections.abc import Callable, Iterator

import click

from bot.commands.group import SELDOM
from tests.bench.timing import Line, table

PARTS = ("start", "reading", "message", "shelf", "history", "rounds", "sets", "drain", "molts", "pictures")


def _lines_of(part: str, years: int) -> Iterator[Line]:
    measure: Callable[..., Iterator[Line]] = importlib.import_module(f"tests.bench.{part}_cost").lines
    return measure(years=years) if part in {"shelf", "molts"} else measure()


@click.command()
@click.argument("parts", nargs=-1, type=click.Choice(PARTS))
@click.option("--years", default=1, show_default=True, help="How many years of entries the large shelf has.")
def bench(parts: tuple[str, ...], years: int) -> None:
    """Measure, and print the table."""
    gc.set_threshold(*SELDOM)  # as the program has it
    found: list[Line] = []
    for part in parts or PARTS:
        click.echo(f"measuring {part} …", err=True)
        found += _lines_of(part, years)
    click.echo(table(found))
    sys.exit(any(line.kept is False for line in found))


if __name__ == "__main__":
    bench()
