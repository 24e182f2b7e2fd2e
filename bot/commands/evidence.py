"""``evidence``: what the keeper's own records say of a species."""

from __future__ import annotations

from datetime import date, datetime
from typing import Any

import click

from bot.commands.one_species import of_one_species
from bot.commands.options import (
    day_asked,
    db_option,
    debug_option,
    json_option,
    keeper_option,
    now_option,
    on_option,
    print_json,
)
from bot.commands.store import opened, some_keeper
from bot.husbandry.evidence import ENOUGH, Finding, findings
from storage.shelf_on_paper import read_shelf


@click.command("evidence")
@click.argument("species", nargs=-1, required=True, metavar="SPECIES")
@db_option
@keeper_option
@on_option
@now_option
@json_option
@debug_option
def evidence_command(
    species: tuple[str, ...],
    db: str | None,
    keeper_name: str | None,
    on: date | None,
    now: datetime | None,
    as_json: bool,
) -> None:
    """Tell what your own records say of a species: each figure with its range, animals and entries.

    SPECIES is a scientific, former or trade name, or the epithet alone. Animals that died or left
    count as the living do.

    \b
    Example:
      burrowbell evidence Grammostola pulchra
    """
    with opened(db) as store, store.look() as work:
        keeper = some_keeper(work, keeper_name)
        records = read_shelf(work, keeper.shelf_id).records()
    day = day_asked(on, now, keeper.settings)
    name, own = of_one_species(records, species)
    found = findings(own, day)
    if as_json:
        for finding in found:
            print_json(_as_json(finding))
        return
    click.echo(f"{name}: {len(own)} on record, up to {day}")
    few = len(own) < ENOUGH
    if few:
        click.echo("Too few animals to claim anything of the species; this is what was seen.")
    for finding in found:
        click.echo(_as_text(finding, told_few=few))


def _as_json(finding: Finding) -> dict[str, Any]:
    return {
        "figure": finding.name,
        "value": _rounded(finding.value),
        "low": _rounded(finding.low),
        "high": _rounded(finding.high),
        "n_specimens": finding.n_specimens,
        "n_entries": finding.n_entries,
        "unit": finding.unit,
        "interval": finding.interval,
        "n_running": finding.n_running,
        "enough": finding.enough,
    }


def _rounded(value: float | None) -> float | None:
    return None if value is None else round(value, 3)


def _as_text(finding: Finding, *, told_few: bool) -> str:
    """One line: "molt interval, 2 to 5 cm: 84 days (71 to 96; 4 animals, 9 observations)"."""
    figure = finding.figure.replace("_", " ") + (f", {finding.group}" if finding.group else "")
    inside = [_ends(finding)] if finding.low is not None or finding.high is not None else []
    inside.append(_counted(finding.n_specimens, "animal"))
    inside.append(_counted(finding.n_entries, "observation"))
    if finding.n_running:
        inside.append(f"{finding.n_running} still running")
    if not (finding.enough or told_few):
        inside.append("too few animals for a claim")
    return f"{figure}: {_shown(finding.value, finding)} {_unit(finding)}({', '.join(inside)})"


def _ends(finding: Finding) -> str:
    if finding.high is None:
        return f"{_shown(finding.low, finding)} or more"
    if finding.low is None:
        return f"up to {_shown(finding.high, finding)}"
    return f"{_shown(finding.low, finding)} to {_shown(finding.high, finding)}"


def _counted(number: int, thing: str) -> str:
    return f"{number} {thing}" if number == 1 else f"{number} {thing}s"


def _unit(finding: Finding) -> str:
    return "" if finding.unit in {"share", "×"} else f"{finding.unit} "


def _shown(value: float | None, finding: Finding) -> str:
    if value is None:
        return "not known"
    if finding.unit == "share":
        return f"{value:.0%}"
    if finding.unit == "×":
        return f"×{value:.2f}"
    return f"{value:.0f}" if finding.unit == "days" else f"{value:.1f}"
