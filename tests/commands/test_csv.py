"""Export and import: what one writes the other reads back."""

import csv
from collections import Counter
from datetime import date, time
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bot.commands.csv_cells import (
    JOURNAL_COLUMNS,
    NUMBERS,
    SPECIMEN_COLUMNS,
    Arrival,
    entry_of,
    journal_row,
    specimen_of,
    specimen_row,
    write_csv,
)
from bot.commands.sheets import Row, read_table
from bot.terms import FIELDS_OF, Entry, Habit, Kind, PreySize, SacEvent, Sex, Specimen, Stage, WaterHow
from storage import Store

_texts = st.text(st.characters(codec="utf-8", exclude_characters="\x00\r"), min_size=1, max_size=20).filter(
    lambda text: text.strip() == text
)
_amounts = st.decimals("0", "9999", places=2)
_VALUES = {
    "count": st.integers(1, 500),
    "size": st.sampled_from(PreySize),
    "prekilled": st.just(True),
    "how": st.sampled_from(WaterHow),
    "event": st.sampled_from(SacEvent),
    "sex": st.sampled_from(["female", "male"]),
    "temp_c": st.decimals("-20", "60", places=1),
    **dict.fromkeys(
        ("ml", "span_cm", "carapace_mm", "weight_g", "volume_l", "substrate_cm", "humidity_pct", "price"),
        _amounts,
    ),
}


@st.composite
def entries(draw):
    kind = draw(st.sampled_from(Kind))
    said = draw(st.sets(st.sampled_from(FIELDS_OF[kind]))) if FIELDS_OF[kind] else set()
    return Entry(
        kind=kind,
        day=draw(st.dates()),
        time=draw(st.none() | st.builds(time, st.integers(0, 23), st.integers(0, 59))),
        specimens=draw(st.just(()) | _texts.map(lambda tag: (tag,))),
        **{name: draw(_VALUES.get(name, _texts)) for name in said},
    )


@given(st.lists(entries(), max_size=5))
def test_entries_come_back_from_csv_as_they_went_in(tmp_path_factory, written):
    path = tmp_path_factory.mktemp("csv") / "journal.csv"
    write_csv(path, JOURNAL_COLUMNS, [journal_row(entry) for entry in written])
    rows, faults = read_table(path, JOURNAL_COLUMNS, numbers=NUMBERS)
    assert faults == []
    assert [entry_of(row) for row in rows] == [Row(number, entry) for number, entry in enumerate(written, 2)]


_parts = _texts.filter(lambda text: "|" not in text)


@given(
    st.builds(
        Arrival,
        specimen=st.builds(
            Specimen,
            tag=_texts,
            species=_texts,
            name=st.none() | _texts,
            common=st.lists(_parts, max_size=2).map(tuple),
            aka=st.lists(_parts, max_size=2).map(tuple),
            sex=st.sampled_from(Sex),
            stage=st.sampled_from(Stage),
            span_cm=st.none() | st.decimals("0.1", "30", places=1),
            habit=st.sampled_from(Habit),
            place=st.none() | _texts,
            lot_size=st.integers(1, 300),
        ),
        on=st.none() | st.dates(),
    )
)
def test_specimens_come_back_from_csv_as_they_went_in(tmp_path_factory, arrival):
    path = tmp_path_factory.mktemp("csv") / "specimens.csv"
    write_csv(path, SPECIMEN_COLUMNS, [specimen_row(arrival)])
    rows, faults = read_table(path, SPECIMEN_COLUMNS, numbers=NUMBERS)
    assert (faults, [specimen_of(row) for row in rows]) == ([], [Row(2, arrival)])


def test_files_are_written_as_rfc_4180_has_it(tmp_path):
    # RFC 4180, section 2: CRLF ends records, quotes inside quotes are doubled
    entry = Entry(kind=Kind.NOTE, day=date(2026, 5, 1), specimens=("K1",), note='a "ledge", webbed\nshut')
    write_csv(tmp_path / "journal.csv", JOURNAL_COLUMNS, [journal_row(entry)])
    raw = (tmp_path / "journal.csv").read_bytes()
    assert raw.startswith(b"tag,day,time,kind,prey,count,size,prekilled,")
    assert raw.endswith(b'"a ""ledge"", webbed\nshut"\r\n')


def test_a_spreadsheet_finds_no_formula_in_a_note(tmp_path):
    entry = Entry(kind=Kind.NOTE, day=date(2026, 5, 1), specimens=("K1",), note="=1+1")
    write_csv(tmp_path / "journal.csv", JOURNAL_COLUMNS, [journal_row(entry)])
    with (tmp_path / "journal.csv").open(newline="", encoding="utf-8") as file:
        assert next(csv.DictReader(file))["note"] == "'=1+1"


def _journal(url):
    store = Store.open(url)
    with store.look() as work:
        keeper = work.keepers.by_contact("terminal", "keyboard")
        rows = work.journal.entries(keeper.shelf_id, newest_first=False)
        facts = work.shelves.facts(keeper.shelf_id)
        gone = {stored.specimen.tag for stored in work.shelves.specimens(keeper.shelf_id, gone=True)}
    store.close()
    return Counter(row.entry for row in rows), {one.specimen.tag: one for one in facts}, gone


def test_a_shelf_that_is_exported_and_imported_has_the_same_entries_and_states(
    burrowbell, demo_db, empty_db, tmp_path
):
    assert burrowbell("export", tmp_path / "out", "--db", demo_db).status == 0
    for what in ("specimens", "journal"):
        done = burrowbell("import", tmp_path / "out" / f"{what}.csv", "--db", empty_db, "--now", "2026-05-14")
        assert (done.status, done.out) == (0, ""), done.err
    entries_before, facts_before, _ = _journal(demo_db)
    entries_after, facts_after, _ = _journal(empty_db)
    assert entries_after == entries_before
    assert sum(entries_after.values()) > 4000
    assert {tag: one.state for tag, one in facts_after.items()} == {
        tag: one.state for tag, one in facts_before.items()
    }


def test_importing_a_file_twice_does_no_harm(burrowbell, demo_db, empty_db, tmp_path):
    burrowbell("export", tmp_path / "out", "--db", demo_db)
    for what in ("specimens", "journal"):
        burrowbell("import", tmp_path / "out" / f"{what}.csv", "--db", empty_db, "--now", "2026-05-14")
    before = _journal(empty_db)
    for what in ("specimens", "journal"):
        again = burrowbell(
            "import", tmp_path / "out" / f"{what}.csv", "--db", empty_db, "--now", "2026-05-14"
        )
        assert again.status == 0
        assert again.err.startswith("0 rows taken in")
    assert _journal(empty_db) == before


def test_lots_and_reused_tags_survive_the_way_through_csv(burrowbell, demo_db, empty_db, tmp_path):
    store = Store.open(demo_db)
    day = date(2026, 5, 10)
    with store.begin() as work:
        keeper = work.keepers.by_contact("terminal", "keyboard")
        change = work.journal.change(keeper.shelf_id, keeper.id, at=keeper_time(), origin=None)
        log = [
            Entry(kind=Kind.DIED, day=day, specimens=("M5",), count=2),
            Entry(kind=Kind.LEFT, day=day, specimens=("K2",), to="a friend", price=Decimal("12.50")),
        ]
        work.journal.log(change, log, zone="Europe/London")
        work.shelves.add(change, Specimen(tag="K2", species="Davus pentaloris", name="Latecomer"), on=day)
        fed = [Entry(kind=Kind.FED, day=day, specimens=("K2",), count=3)]
        work.journal.log(change, fed, zone="Europe/London")
    store.close()
    burrowbell("export", tmp_path / "out", "--db", demo_db)
    for what in ("specimens", "journal"):
        burrowbell("import", tmp_path / "out" / f"{what}.csv", "--db", empty_db, "--now", "2026-05-14")
    _, facts, gone = _journal(empty_db)
    assert facts["M5"].state.lot_size == 5
    assert facts["K2"].specimen.name == "Latecomer"
    assert facts["K2"].state.last_prey_count == 3
    assert len(gone) == 1


def keeper_time():
    from datetime import UTC, datetime

    return datetime(2026, 5, 10, 12, tzinfo=UTC)


JOURNAL_FAULTS = [
    pytest.param("K1,2026-05-41,fed,,,", "day", "'2026-05-41' is not a date like 2026-05-14", id="day"),
    pytest.param("K1,,fed,,,", "day", "is missing", id="no day"),
    pytest.param("K1,2026-05-15,fed,,,", "day", "2026-05-15 lies in the future", id="future"),
    pytest.param("K1,2026-05-01,eaten,,,", "kind", "'eaten' is none of fed, refused", id="kind"),
    pytest.param("X9,2026-05-01,fed,,,", "tag", "nobody on the shelf has the tag X9", id="tag"),
    pytest.param(",2026-05-01,fed,,,", "tag", "an entry of the kind fed needs the tag", id="no tag"),
    pytest.param("K1,2026-05-01,fed,two,,", "count", "'two' is not a whole number above 0", id="count"),
    pytest.param("K1,2026-05-01,measured,,wide,", "span_cm", "'wide' is not a plain number", id="span"),
    pytest.param("K1,2026-05-01,fed,,4,", "span_cm", "an entry of the kind fed has none", id="strange field"),
    pytest.param("K1,2026-05-01,fed", "", "has 3 cells, the header 6", id="short row"),
]


@pytest.mark.parametrize(("row", "column", "problem"), JOURNAL_FAULTS)
def test_a_row_with_a_fault_is_named_with_its_column_and_nothing_is_stored(
    burrowbell, demo_db, tmp_path, row, column, problem
):
    file = tmp_path / "journal.csv"
    file.write_text(f"tag,day,kind,count,span_cm,note\n{row}\nK1,2026-05-02,fed,,,\n", encoding="utf-8")
    before = _journal(demo_db)
    told = burrowbell("import", file, "--db", demo_db, "--json", "--now", "2026-05-14T08:00")
    assert told.status == 2
    assert [(line["row"], line["column"]) for line in told.lines] == [(2, column)]
    assert told.lines[0]["problem"].startswith(problem)
    assert told.err == f"burrowbell: {file}: 1 row refused; nothing was stored\n"
    assert _journal(demo_db) == before


def test_all_faults_of_a_file_are_told_at_once(burrowbell, demo_db, tmp_path):
    file = tmp_path / "specimens.csv"
    file.write_text(
        "tag,species,sex,span_cm,lot_size\n"
        "N1,Davus pentaloris,girl,2,\n"
        "N2,,,2,\n"
        "N3,Davus pentaloris,,x,\n"
        "N4,Davus pentaloris,,,0\n"
        "K1,Davus pentaloris,,,\n"
        "N5,Davus pentaloris,,,\n"
        "n5,Davus pentaloris,,,\n",
        encoding="utf-8",
    )
    told = burrowbell("import", file, "--db", demo_db)
    assert told.status == 2
    assert told.out.splitlines() == [
        "row 2, sex: 'girl' is none of female, male, unknown",
        "row 3, species: is missing",
        "row 4, span_cm: 'x' is not a number",
        "row 5, lot_size: '0' is not a whole number above 0",
        "row 6, tag: K1 is the tag of another animal on the shelf",
        "row 8, tag: n5 is in row 7 already",
    ]


def test_a_column_that_is_not_known_is_a_fault_of_the_first_row(burrowbell, demo_db, tmp_path):
    file = tmp_path / "journal.csv"
    file.write_text("tag,day,kind,colour\nK1,2026-05-01,fed,red\n", encoding="utf-8")
    told = burrowbell("import", file, "--db", demo_db, "--json", "--now", "2026-05-14")
    assert told.status == 2
    assert (told.lines[0]["row"], told.lines[0]["column"]) == (1, "colour")


def test_check_stores_nothing(burrowbell, demo_db, tmp_path):
    file = tmp_path / "journal.csv"
    file.write_text("tag,day,kind\nK1,2026-05-01,cleaned\n", encoding="utf-8")
    before = _journal(demo_db)
    told = burrowbell("import", file, "--db", demo_db, "--check", "--now", "2026-05-14")
    assert (told.status, told.err) == (0, "1 row could be taken in.\n")
    assert _journal(demo_db) == before


@pytest.mark.parametrize(
    ("content", "complaint"),
    [
        pytest.param(b"", "1 row refused", id="empty"),
        pytest.param(b"tag,day,kind\n\xff\xfe,2026-05-01,fed\n", "is not UTF-8 text", id="another encoding"),
        pytest.param(b'tag,day,kind\n"K1,2026-05-01,fed\n', "refused", id="an open quote"),
    ],
)
def test_what_is_no_csv_is_refused_in_one_line(burrowbell, demo_db, tmp_path, content, complaint):
    file = tmp_path / "journal.csv"
    file.write_bytes(content)
    told = burrowbell("import", file, "--db", demo_db)
    assert told.status == 2
    assert complaint in told.err
    assert told.err.count("\n") == 1
