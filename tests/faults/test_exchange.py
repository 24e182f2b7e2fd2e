"""Faults of importing and exporting: swapped dates, doubles, mangled words, broken calendars."""

from __future__ import annotations

import csv
from datetime import UTC, date, datetime

import pytest
from icalendar import Calendar

from bot.exchange.calendar_feed import DueDay, DueMoment, feed

NOW = "2026-05-14T19:30"


@pytest.fixture
def taken(burrowbell, demo_db, tmp_path):
    """Writes a journal and takes it in: the outcome, and how many entries the store then has more."""

    def take(content: bytes, *more):
        (tmp_path / "journal.csv").write_bytes(content)
        return burrowbell("import", tmp_path / "journal.csv", "--db", demo_db, "--now", NOW, *more)

    return take


def exported(burrowbell, demo_db, folder):
    burrowbell("export", folder, "--db", demo_db, "--now", NOW)
    return folder / "journal.csv"


@pytest.mark.parametrize("mark", [b"", b"\xef\xbb\xbf"])
@pytest.mark.parametrize("separator", [b",", b";"])
def test_a_spreadsheets_own_csv_is_read_whatever_stands_at_its_beginning(taken, mark, separator):
    """source: dotCMS/core#36508; frappe/frappe#22151; docling-project/docling#4097"""
    rows = b"tag,day,kind\r\nK1,2026-05-01,fed\r\n".replace(b",", separator)
    assert "1 row taken in" in taken(mark + rows).err


def test_dates_that_could_be_swapped_are_asked_about_and_none_is_stored(taken):
    """source: submersion-app/submersion#1828; wealthfolio/wealthfolio#1601; dannymcc/may#250"""
    days = ("03/04/2025", "13/04/2025", "26/04/2025")
    refused = taken("\r\n".join(["tag,day,kind", *(f"K1,{day},fed" for day in days)]).encode(), "--json")
    assert refused.status == 2
    assert [(line["row"], line["column"]) for line in refused.lines] == [(2, "day"), (3, "day"), (4, "day")]
    assert all("2026-05-14" in line["problem"] for line in refused.lines)


def test_a_file_taken_in_again_adds_nothing_and_half_a_file_is_none(burrowbell, demo_db, tmp_path, taken):
    """source: barcradio/ultra-tracker#325; wealthfolio/wealthfolio#754; ushahidi/platform#1843"""
    rows = [f"K1,2026-05-{1 + number % 14:02},note,row {number}" for number in range(300)]
    whole = "\r\n".join(["tag,day,kind,note", *rows]) + "\r\n"
    broken = whole.replace("row 150", "row 150,too,many")
    assert taken(broken.encode()).status == 2
    assert "300 rows taken in" in taken(whole.encode()).err
    before = exported(burrowbell, demo_db, tmp_path / "a").read_bytes()
    assert "0 rows taken in, 300 on the shelf already" in taken(whole.encode()).err
    assert exported(burrowbell, demo_db, tmp_path / "b").read_bytes() == before


@pytest.mark.parametrize("cell", ["29-Aug-26", "46263", "2026-13-01", "29.08.2025", "today"])
def test_a_cell_that_a_spreadsheet_changed_is_told_by_row_and_column(taken, cell):
    """source: submersion-app/submersion#2174; digital-land/digital-land#261"""
    refused = taken(f"tag,day,kind\r\nK1,2026-05-01,fed\r\nK1,{cell},fed\r\n".encode(), "--json")
    assert [(line["row"], line["column"]) for line in refused.lines] == [(3, "day")]


@pytest.mark.parametrize("tag", ["7", "1-Feb", "1-Mar", "7.39E+33"])
def test_a_tag_that_a_spreadsheet_mangled_is_told_and_makes_no_new_animal(taken, tag):
    """source: proompteng/bilig#28; FreeAndFair/ColoradoRLA#783; archimatetool/archi#141"""
    refused = taken(f"tag,day,kind\r\n{tag},2026-05-01,fed\r\n".encode(), "--json")
    assert refused.status == 2
    assert [(line["row"], line["column"]) for line in refused.lines] == [(2, "tag")]


def test_a_note_with_commas_lines_and_emoji_comes_back_as_it_was(burrowbell, demo_db, tmp_path, taken):
    """source: ical4j/ical4j#800; ProtonMail/WebClients#513"""
    note = 'webbed, "twice"\nsee photo; 🕷️ ok'
    quoted = note.replace('"', '""')
    assert taken(f'tag,day,kind,note\r\nK1,2026-05-01,note,"{quoted}"\r\n'.encode()).status == 0
    with exported(burrowbell, demo_db, tmp_path / "out").open(newline="", encoding="utf-8") as file:
        assert note in [row["note"] for row in csv.DictReader(file)]


@pytest.mark.parametrize("where", range(55, 80))
def test_a_letter_of_many_bytes_is_never_cut_by_the_fold_of_a_calendar_line(where):
    """source: ical4j/ical4j#800; sebbo2002/ical-generator#221; odysseus-dev/odysseus#1161"""
    told = "x" * where + "🕷️é, ok; done\nnext"
    due = DueDay(tag="C1", what="feed", day=date(2026, 3, 4), summary=told)
    raw = feed([due], [], now=datetime(2026, 3, 4, tzinfo=UTC), name="Shelf")
    assert str(Calendar.from_ical(raw).walk("VEVENT")[0]["summary"]) == told
    for line in raw.split(b"\r\n"):
        assert len(line) <= 75
        line.decode()


def test_a_calendar_read_again_moves_the_event_and_keeps_the_wall_time_of_its_zone():
    """source: gt-scheduler/website#141; HsxMark/MySUES#33; ulsklyc/yuvomi#818"""
    now = datetime(2026, 3, 4, 7, 0, tzinfo=UTC)
    first = DueMoment(number=3, at=now, zone="Europe/Madrid", summary="mist")
    later = DueMoment(
        number=3, at=datetime(2026, 4, 4, 6, 0, tzinfo=UTC), zone="Europe/Madrid", summary="mist"
    )
    events = [Calendar.from_ical(feed([], [m], now=now, name="S")).walk("VEVENT")[0] for m in (first, later)]
    assert events[0]["uid"] == events[1]["uid"]
    assert [event["dtstart"].dt.hour for event in events] == [8, 8]
    assert {event["dtstart"].params["TZID"] for event in events} == {"Europe/Madrid"}
