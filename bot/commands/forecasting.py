"""``forecast``: each specimen's next molt, growth and rehousing."""

from __future__ import annotations

from datetime import date, datetime
from typing import Any

import click

from bot.commands.errors import Refusal
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
from bot.husbandry.forecast import QUANTILES, Forecast, forecasts
from storage.outlook_shelf import read_for_outlooks


@click.command("forecast")
@click.argument("tags", nargs=-1, metavar="[TAG]…")
@db_option
@keeper_option
@on_option
@now_option
@json_option
@debug_option
def forecast_command(
    tags: tuple[str, ...],
    db: str | None,
    keeper_name: str | None,
    on: date | None,
    now: datetime | None,
    as_json: bool,
) -> None:
    """Show when each animal may molt next, how large it may be then, and when it needs a larger home.

    Ranges are what the records and general practice make likely; the spider decides.

    \b
    Example:
      burrowbell forecast --on 2026-05-14 C1 B3
    """
    with opened(db) as store, store.look() as work:
        keeper = some_keeper(work, keeper_name)
        day = day_asked(on, now, keeper.settings)
        records = read_for_outlooks(work, keeper.shelf_id, on=day)
    known = {record.specimen.tag: record.specimen.called for record in records}
    strangers = [tag for tag in tags if tag not in known]
    if strangers:
        raise Refusal(f"no specimen has the tag {strangers[0]}")
    for forecast in forecasts(records, day):
        if tags and forecast.tag not in tags:
            continue
        if as_json:
            print_json(_as_json(forecast))
        else:
            click.echo(f"{known[forecast.tag]}: {_as_text(forecast)}")


def _as_json(forecast: Forecast) -> dict[str, Any]:
    to_come, after = forecast.next_molt, forecast.span_cm_after
    return {
        "tag": forecast.tag,
        "last_molt": forecast.last_molt.isoformat() if forecast.last_molt else None,
        "next_molt": dict(zip(QUANTILES, (d.isoformat() for d in to_come), strict=True)) if to_come else None,
        "premolt_probability": round(forecast.premolt_probability, 3),
        "basis": _basis(forecast),
        "span_cm_after": {k: round(v, 1) for k, v in zip(("p05", "p50", "p95"), after, strict=True)}
        if after
        else None,
        "rehouse_by": forecast.rehouse_by.isoformat() if forecast.rehouse_by else None,
    }


def _basis(forecast: Forecast) -> str:
    words = [forecast.basis, f"{forecast.molts} {'molt' if forecast.molts == 1 else 'molts'} on record"]
    if forecast.days_apart:
        words.append("{} to {} days apart".format(*forecast.days_apart))
    if forecast.waited is not None:
        words.append(f"{forecast.waited} days since the last")
    return ", ".join(words)


def _as_text(forecast: Forecast) -> str:
    if forecast.next_molt is None:
        return "a mature male molts no more"
    low, middle, high = forecast.next_molt[0], forecast.next_molt[2], forecast.next_molt[4]
    words = [f"next molt about {middle}, most likely between {low} and {high}"]
    if forecast.premolt_probability >= 0.5:
        words.append(f"probably in premolt now ({forecast.premolt_probability:.0%})")
    if forecast.span_cm_after is not None:
        words.append("then {:.1f} to {:.1f} cm".format(*forecast.span_cm_after[::2]))
    if forecast.rehouse_by is not None:
        words.append(f"a larger home by {forecast.rehouse_by}")
    return "; ".join(words) + f" ({_basis(forecast)})"
