"""``evidence``: what scripts may rely on."""

import json

from bot.husbandry.evidence import ENOUGH

NOW = "2026-05-14T19:30"
KEYS = {"figure", "value", "low", "high", "n_specimens", "n_entries"}


def test_each_figure_tells_its_range_and_what_it_rests_on(burrowbell, demo_db):
    lines = burrowbell(
        "evidence", "--db", demo_db, "--now", NOW, "--json", "Chromatopelma", "cyaneopubescens"
    ).lines
    figures = [json.loads(line) if isinstance(line, str) else line for line in lines]
    assert all(set(figure) >= KEYS for figure in figures)
    assert {figure["figure"].split(":")[0] for figure in figures} >= {
        "molt_interval",
        "acceptance_by_prey",
        "died",
    }
    for figure in figures:
        ends = [figure[key] for key in ("low", "value", "high") if figure[key] is not None]
        assert ends == sorted(ends)
        assert figure["n_specimens"] <= figure["n_entries"]
        assert figure["enough"] == (figure["n_specimens"] >= ENOUGH)


def test_few_animals_are_called_few_and_a_trade_name_will_do(burrowbell, demo_db):
    told = burrowbell("evidence", "--db", demo_db, "--now", NOW, "GBB").out
    assert told.startswith("Chromatopelma cyaneopubescens: 1 on record")
    assert "Too few animals to claim anything" in told


def test_a_species_that_is_not_on_the_shelf_is_refused_in_one_line(burrowbell, demo_db):
    refused = burrowbell("evidence", "--db", demo_db, "Latrodectus", "mactans")
    assert refused.status == 2
    assert "no animal on record is of that species" in refused.err
