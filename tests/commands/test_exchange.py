"""A whole shelf out and in again: JSON, workbooks, and tables with decimal commas."""

from __future__ import annotations

import json
import sqlite3
from contextlib import closing
from datetime import date

import pytest
from icalendar import Calendar
from openpyxl import Workbook

from storage.album import Album

NOW = "2026-05-14T19:30"


def test_a_shelf_that_leaves_as_json_and_comes_back_leaves_the_same(burrowbell, demo_db, tmp_path):
    empty = f"sqlite:///{tmp_path / 'new.db'}"
    burrowbell("chat", "--db", empty, "--now", NOW, input="help\n")
    assert burrowbell("export", tmp_path / "one", "--db", demo_db, "--now", NOW).status == 0
    taken = burrowbell("import", tmp_path / "one" / "shelf.json", "--db", empty, "--now", NOW)
    assert (taken.status, taken.out) == (0, "")
    assert burrowbell("export", tmp_path / "two", "--db", empty, "--now", NOW).status == 0
    for name in ("specimens.csv", "journal.csv", "darwin-core.zip"):
        assert (tmp_path / "one" / name).read_bytes() == (tmp_path / "two" / name).read_bytes(), name
    again = burrowbell("import", tmp_path / "one" / "shelf.json", "--db", empty, "--now", NOW)
    assert "0 rows taken in" in again.err


CAME = """\
tag,name,species,sex,stage,span_cm,added_on
X1,Ember,Brachypelma hamorii,,sling,1.5,2024-09-01
X2,Slate,Brachypelma hamorii,,juvenile,6,2024-09-01
X3,Moth,Brachypelma hamorii,,juvenile,,2024-09-01
"""
SINCE = """\
X1 molted on 2 March 2025, span 3.5 cm
X1 molted on 10 October 2025, span 5 cm
X1 is female
X2 molted on 5 June 2025
X2 molted on 1 March 2026, span 11 cm
X3 matured on 1 April 2026
X1 took a cricket
"""


def test_a_shelf_that_grew_comes_back_with_the_same_sizes_forecasts_and_history(burrowbell, tmp_path):
    here, there = (f"sqlite:///{tmp_path / name}.db" for name in ("here", "there"))
    came = tmp_path / "specimens.csv"
    came.write_text(CAME)
    for db in (here, there):
        burrowbell("chat", "--db", db, "--now", NOW, input="help\n")
    assert burrowbell("import", came, "--db", here, "--now", NOW).status == 0
    burrowbell("chat", "--db", here, "--now", NOW, input=SINCE)
    burrowbell("export", tmp_path / "out", "--db", here, "--now", NOW)
    rows = json.loads((tmp_path / "out" / "shelf.json").read_text())["specimens"]
    assert [(one["span_cm"], one["sex"], one["stage"]) for one in rows] == [
        (1.5, "unknown", "sling"),
        (6, "unknown", "juvenile"),
        (None, "unknown", "juvenile"),
    ]
    for name in ("specimens.csv", "journal.csv"):
        assert burrowbell("import", tmp_path / "out" / name, "--db", there, "--now", NOW).status == 0
    for asked in (
        "how big is X1",
        "how big is X2",
        "history of X1",
        "history of X3",
        "list my animals",
        "round",
    ):
        told = [burrowbell("chat", "--db", db, "--now", NOW, input=f"{asked}\n").out for db in (here, there)]
        assert told[0] == told[1], asked
    ahead = [burrowbell("forecast", "--db", db, "--now", NOW, "--json").lines for db in (here, there)]
    assert ahead[0] == ahead[1]
    assert [line["tag"] for line in ahead[0]] == ["X1", "X2", "X3"]


SAID = """\
feed slings every 4 days
water all {species} every 3 days
feed {tag} every 9 days
feed less from November to February
"""


def test_how_often_leaves_with_a_shelf_comes_back_and_gives_way_to_what_is_said_there(
    burrowbell, demo_db, tmp_path
):
    empty = f"sqlite:///{tmp_path / 'new.db'}"
    file, now = tmp_path / "one" / "shelf.json", ("--now", NOW)
    burrowbell("export", tmp_path / "zero", "--db", demo_db, *now)
    animal = json.loads((tmp_path / "zero" / "shelf.json").read_text())["specimens"][0]
    said = SAID.format(species=animal["species"], tag=animal["tag"])
    burrowbell("chat", "--db", demo_db, *now, input=said)
    burrowbell("export", tmp_path / "one", "--db", demo_db, *now)
    rows = json.loads(file.read_text())["how_often"]
    assert rows == [
        {"work": "feed", "for": "stage", "value": "sling", "every_days": 4},
        {"work": "water", "for": "species", "value": animal["species"], "every_days": 3},
        {"work": "feed", "for": "specimen", "value": animal["tag"], "every_days": 9},
        {"work": "slow", "first_month": 11, "last_month": 2},
    ]
    burrowbell("chat", "--db", empty, *now, input="feed slings every 6 days\n")
    assert burrowbell("import", file, "--db", empty, *now).status == 0
    burrowbell("export", tmp_path / "two", "--db", empty, *now)
    assert json.loads((tmp_path / "two" / "shelf.json").read_text())["how_often"] == [
        rows[0] | {"every_days": 6},
        *rows[1:],
    ]
    assert "0 rows taken in" in burrowbell("import", file, "--db", empty, *now).err


def test_how_often_for_an_animal_that_nobody_is_is_refused(burrowbell, demo_db, tmp_path):
    file = tmp_path / "shelf.json"
    row = {"work": "feed", "for": "specimen", "value": "ZZ9", "every_days": 9}
    file.write_text(json.dumps({"format": "burrowbell shelf", "version": 1, "how_often": [row]}))
    refused = burrowbell("import", file, "--db", demo_db, "--now", NOW)
    assert refused.status != 0
    assert "nobody on the shelf has the tag ZZ9" in refused.out


def test_what_is_due_leaves_as_a_calendar(burrowbell, demo_db, tmp_path):
    burrowbell("export", tmp_path, "--db", demo_db, "--now", NOW)
    events = Calendar.from_ical((tmp_path / "due.ics").read_bytes()).walk("VEVENT")
    assert {event["uid"].split("-")[0] for event in events} >= {"feed", "water"}
    assert all(event["dtstart"].dt >= date(2026, 5, 14) for event in events)
    day = burrowbell("round", "--db", demo_db, "--now", NOW, "--json").lines
    resting = {line["tag"] for line in day if line["task"] == "rest"}
    meals = [event for event in events if event["uid"].startswith("feed")]
    fed_today = {e["uid"].split("-")[1].split("@")[0] for e in meals if e["dtstart"].dt == date(2026, 5, 14)}
    assert resting
    assert not resting & fed_today


def workbook(path, rows):
    book = Workbook()
    for row in rows:
        book.active.append(row)
    book.save(path)
    return path


def test_a_workbook_is_taken_in_with_its_dates_and_numbers(burrowbell, demo_db, tmp_path):
    file = workbook(
        tmp_path / "journal.xlsx",
        [
            ["tag", "day", "kind", "span_cm", "prey", "count"],
            ["K1", date(2026, 5, 1), "measured", 12.5, None, None],
            ["K1", "2026-05-02", "fed", None, "cricket", 2],
            [None, None, None, None, None, None],
        ],
    )
    taken = burrowbell("import", file, "--db", demo_db, "--now", NOW)
    assert (taken.status, taken.out) == (0, "")
    assert "2 rows taken in" in taken.err


@pytest.mark.parametrize(
    ("rows", "row", "column"),
    [
        ([["tag", "day", "kind"], ["K1", "3/5/2026", "fed"]], 2, "day"),
        ([["tag", "day", "kind"], ["K1", "2026-05-01", "fed"], ["Q9", "2026-05-01", "fed"]], 3, "tag"),
        ([["tag", "day", "kind", "count"], ["K1", "2026-05-01", "fed", 2.5]], 2, "count"),
        ([["tag", "day", "kind"], ["K1", "2026-06-01", "fed"]], 2, "day"),
    ],
)
def test_a_fault_in_a_workbook_is_told_by_row_and_column_and_nothing_is_stored(
    burrowbell, demo_db, tmp_path, rows, row, column
):
    file = workbook(tmp_path / "journal.xlsx", rows)
    refused = burrowbell("import", file, "--db", demo_db, "--now", NOW, "--json")
    assert refused.status == 2
    assert [(line["row"], line["column"]) for line in refused.lines] == [(row, column)]


def test_what_only_ends_in_xlsx_is_told_to_be_none(burrowbell, demo_db, tmp_path):
    (tmp_path / "journal.xlsx").write_bytes(b"tag,day,kind\r\n")
    refused = burrowbell("import", tmp_path / "journal.xlsx", "--db", demo_db, "--now", NOW)
    assert (refused.status, "no workbook" in refused.out) == (2, True)


def test_semicolons_bring_decimal_commas_in_numbers_and_leave_words_alone(burrowbell, demo_db, tmp_path):
    (tmp_path / "journal.csv").write_text(
        "\ufefftag;day;kind;span_cm;note\r\nK1;2026-05-01;measured;12,5;\r\nK1;2026-05-01;note;;3,5\r\n",
        encoding="utf-8",
    )
    assert burrowbell("import", tmp_path / "journal.csv", "--db", demo_db, "--now", NOW).status == 0
    burrowbell("export", tmp_path / "out", "--db", demo_db, "--now", NOW)
    journal = (tmp_path / "out" / "journal.csv").read_text(encoding="utf-8")
    assert "K1,2026-05-01,,measured,,,,,,,12.5," in journal
    assert '"3,5"' in journal


def test_a_comma_in_a_number_between_commas_is_not_guessed(burrowbell, demo_db, tmp_path):
    (tmp_path / "journal.csv").write_text('tag,day,kind,span_cm\r\nK1,2026-05-01,measured,"12,5"\r\n')
    refused = burrowbell("import", tmp_path / "journal.csv", "--db", demo_db, "--now", NOW, "--json")
    assert [(line["row"], line["column"]) for line in refused.lines] == [(2, "span_cm")]


def test_a_broken_shelf_file_is_refused_in_one_line(burrowbell, demo_db, tmp_path):
    (tmp_path / "shelf.json").write_text('{"format": "burrowbell shelf", "version": 2}')
    refused = burrowbell("import", tmp_path / "shelf.json", "--db", demo_db, "--now", NOW)
    assert (refused.status, "is of version 2" in refused.out) == (2, True)


def test_the_photos_are_exported_under_the_paths_that_the_file_tells(burrowbell, demo_db, tmp_path):
    with closing(sqlite3.connect(tmp_path / "shelf.db")) as store, store:
        for path in ("1/1.jpg", "1/2.jpg"):
            store.execute(
                "INSERT INTO photo (shelf_id, change_id, reference, path, at) "
                "SELECT shelf_id, id, 'r', ?, at FROM change LIMIT 1",
                (path,),
            )
    Album(tmp_path / "shelf-photos").write("1/1.jpg", b"the bytes of an invented picture")
    assert burrowbell("export", tmp_path / "out", "--db", demo_db).status == 0
    told = json.loads((tmp_path / "out" / "shelf.json").read_text("utf-8"))["photos"]
    assert {photo["file"] for photo in told} == {"1/1.jpg", None}
    assert (tmp_path / "out" / "photos" / "1" / "1.jpg").read_bytes() == b"the bytes of an invented picture"
