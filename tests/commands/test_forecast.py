"""``forecast``: what scripts may rely on."""

from datetime import date

NOW = "2026-05-14T19:30"

QUANTILES = ["p05", "p25", "p50", "p75", "p95"]


def test_every_specimen_gets_a_line_in_shelf_order_with_the_fields_scripts_rely_on(burrowbell, demo_db):
    lines = burrowbell("forecast", "--db", demo_db, "--now", NOW, "--json").lines
    assert [line["tag"] for line in lines][:3] == ["K1", "K2", "K3"]
    assert {
        "tag",
        "last_molt",
        "next_molt",
        "premolt_probability",
        "basis",
        "span_cm_after",
        "rehouse_by",
    } == set(lines[0])


def test_quantiles_are_dates_in_order(burrowbell, demo_db):
    for line in burrowbell("forecast", "--db", demo_db, "--now", NOW, "--json").lines:
        if line["next_molt"] is not None:
            days = [date.fromisoformat(line["next_molt"][name]) for name in QUANTILES]
            assert days == sorted(days)
            assert days[0] >= date(2026, 5, 14)


def test_tags_choose_the_lines_and_an_unknown_one_is_refused(burrowbell, demo_db):
    chosen = burrowbell("forecast", "--db", demo_db, "--now", NOW, "--json", "M1", "S2")
    assert [line["tag"] for line in chosen.lines] == ["M1", "S2"]
    refused = burrowbell("forecast", "--db", demo_db, "--now", NOW, "Q9")
    assert (refused.status, refused.out) == (2, "")
    assert "Q9" in refused.err
