"""Stores of any age are brought to the current tables, with a copy first; newer ones are refused."""

import shutil
import sqlite3
import threading
from contextlib import closing
from pathlib import Path

import pytest
from alembic import command
from alembic.autogenerate import compare_metadata
from alembic.migration import MigrationContext
from alembic.script import ScriptDirectory
from sqlalchemy import create_engine, inspect, select, text
from sqlalchemy.dialects import sqlite

from storage import Store, migrate
from storage.engine import engine_for
from storage.errors import StoreError, StoreTooNewError
from storage.migrations import HEAD
from storage.migrations.__main__ import draft
from storage.tables import METADATA
from tests.storage.given import NOW, TODAY, entry, shelf_in, specimen
from tests.storage.ready_made import from_the_first

LATER_STEP = '''
"""Entries may carry a mood (an invented later step)."""
import sqlalchemy as sa
from alembic import op

revision = "later"
down_revision = "{head}"

def upgrade():
    with op.batch_alter_table("entry", recreate="always") as entry:
        entry.add_column(sa.Column("mood", sa.Text(), nullable=True))
    {more}
'''


#: An invented shelf as the first step's tables held it; these rows stay as they are for ever.
ROWS_OF_THE_FIRST_STEP = (
    "INSERT INTO keeper VALUES (1, 'Ash', 'UTC', 'metric', 'dmy', 'en', '08:00:00.000000', "
    "'22:00:00.000000', '07:00:00.000000', '00:00:00.000000', 1, 0, NULL, '2026-05-14 19:30:00.000000')",
    "INSERT INTO contact VALUES ('telegram', '7', 1)",
    "INSERT INTO shelf VALUES (1, 1, 1)",
    "INSERT INTO membership VALUES (1, 1, 1, 'owner', NULL, NULL)",
    "INSERT INTO change VALUES (1, 1, 1, '2026-05-14 19:30:00.000000', 'telegram:7:1', NULL)",
    "INSERT INTO specimen (id, shelf_id, change_id, tag, tag_key, species, common, aka, sex, stage, habit, "
    "lot_size, position, added_on, void, added_as) VALUES (1, 1, 1, 'A1', 'a1', 'Grammostola pulchra', "
    "'[]', '[]', 'unknown', 'sling', 'terrestrial', 1, 1024, '2026-01-01', 0, "
    """'{"tag": "A1", "name": null, "species": "Grammostola pulchra", "common": [], "aka": [], """
    """"sex": "unknown", "stage": "sling", "span_cm": null, "habit": "terrestrial", "lot_size": 1, """
    """"place_id": null, "position": 1024, "feed_every": null, "water_every": null}')""",
    "INSERT INTO state VALUES (1, 1, '{}', NULL, NULL)",
    "INSERT INTO entry (id, shelf_id, change_id, specimen_id, live, kind, day, zone, prekilled) "
    "VALUES (1, 1, 1, 1, 1, 'fed', '2026-05-14', 'UTC', 0)",
    "INSERT INTO reminder (id, shelf_id, keeper_id, change_id, what, next_at, day, time, every_days, zone, "
    "live, ended) VALUES (1, 1, 1, 1, 'mist D', '2026-05-15 08:00:00.000000', '2026-05-15', "
    "'08:00:00.000000', 3, 'UTC', 1, 0)",
)


@pytest.fixture(autouse=True)
def as_it_is(step_by_step, monkeypatch):
    """Here each store is migrated step by step, as it is outside of tests."""
    monkeypatch.setattr(migrate, "upgrade", step_by_step)


@pytest.fixture
def later_step(tmp_path, monkeypatch):
    """Makes the program one step newer than it is."""

    def made(more="pass"):
        folder = tmp_path / "steps"
        folder.mkdir()
        (folder / "later.py").write_text(LATER_STEP.format(head=HEAD, more=more))
        monkeypatch.setattr(migrate, "_STEPS", (*migrate._STEPS, str(folder)))
        monkeypatch.setattr(migrate, "HEAD", "later")

    return made


def lived_in(url):
    """An invented store with something in every table that matters."""
    shelf = shelf_in(Store.open(url))
    shelf.add(*(specimen(f"T{number}", place="Shelf A") for number in range(50)))
    for number in range(50):
        shelf.log(entry("fed", f"T{number}", prey="cricket"), entry("measured", f"T{number}", span_cm="4.5"))
    shelf.undo(shelf.log(entry("molted", "T1")))
    return shelf


def rows_of(url):
    """All rows of all tables of a file, but for columns that later steps add."""
    with closing(sqlite3.connect(url.removeprefix("sqlite:///"))) as database:
        return {
            table.name: database.execute(str(select(table).compile(dialect=sqlite.dialect()))).fetchall()
            for table in METADATA.sorted_tables
        }


def test_models_and_migrations_make_the_same_tables(store):
    with store.engine.connect() as connection:
        context = MigrationContext.configure(connection, opts={"compare_type": True})
        assert compare_metadata(context, METADATA) == []


def test_indexes_of_models_and_migrations_have_the_same_conditions(file_url, tmp_path):
    """Alembic does not compare the conditions of partial indexes; their text is compared here."""
    Store.open(file_url).close()
    METADATA.create_all(create_engine(f"sqlite:///{tmp_path / 'models.db'}"))
    query = "SELECT name, sql FROM sqlite_master WHERE type = 'index' AND sql IS NOT NULL ORDER BY name"
    with (
        closing(sqlite3.connect(tmp_path / "store.db")) as migrated,
        closing(sqlite3.connect(tmp_path / "models.db")) as declared,
    ):
        assert migrated.execute(query).fetchall() == declared.execute(query).fetchall()


def test_the_ready_made_store_of_other_tests_is_what_the_steps_make(tmp_path):
    whole = []
    for upgrade in (migrate.upgrade, from_the_first(migrate.upgrade)):
        engine = engine_for(f"sqlite:///{tmp_path / str(len(whole))}")
        upgrade(engine)
        with engine.connect() as connection:
            whole.append(sorted(connection.connection.dbapi_connection.iterdump()))
        engine.dispose()
    assert whole[0] == whole[1]
    assert sum(line.startswith("CREATE TABLE") for line in whole[0]) == len(METADATA.tables) + 1


def test_the_newest_step_is_the_one_the_program_counts_on_and_there_is_one_line_of_steps():
    script = ScriptDirectory.from_config(migrate.config_for())
    assert script.get_heads() == [HEAD]
    assert all(step.doc for step in script.walk_revisions())


def test_a_drafted_step_makes_what_the_tables_have_more_than_the_steps_before(tmp_path, monkeypatch):
    """Drafted anew from the first step, whatever came after it comes out as one step."""
    steps = tmp_path / "steps"
    steps.mkdir()
    first = next((Path(migrate.__file__).parent / "migrations/versions").glob("0001_*.py"))
    shutil.copy(first, steps)
    monkeypatch.setattr(migrate, "_STEPS", (str(steps),))
    file = draft("Whatever came after the first step")
    assert file == steps / "0002_whatever_came_after_the_first_step.py"
    assert "storage" not in file.read_text()
    engine = engine_for("sqlite://")
    migrate.upgrade(engine)
    with engine.connect() as connection:
        context = MigrationContext.configure(connection, opts={"compare_type": True})
        assert compare_metadata(context, METADATA) == []
    engine.dispose()


def test_an_empty_file_becomes_a_store_and_no_copy_is_made_of_nothing(file_url, tmp_path):
    Store.open(file_url).close()
    Store.open(file_url).close()
    assert [file.name for file in tmp_path.iterdir()] == ["store.db"]


def test_a_store_whose_first_migration_broke_off_is_migrated_from_the_beginning(file_url, monkeypatch):
    """Halfway: the process dies within the migration; as one transaction, it leaves an empty file."""
    run = command.upgrade

    def dies(*arguments):
        run(*arguments)
        raise KeyboardInterrupt

    with monkeypatch.context() as patched:
        patched.setattr(command, "upgrade", dies)
        with pytest.raises(KeyboardInterrupt):
            Store.open(file_url)
    store = Store.open(file_url)
    assert shelf_in(store).revision() == 0
    store.close()


def test_an_older_store_with_data_is_migrated_whole_after_a_copy(file_url, tmp_path, later_step):
    shelf = lived_in(file_url)
    before, facts = rows_of(file_url), shelf.all_facts()
    shelf.store.close()
    later_step()
    store = Store.open(file_url)
    shelf.store = store
    assert shelf.all_facts() == facts
    assert "mood" in {column["name"] for column in inspect(store.engine).get_columns("entry")}
    with store.begin() as work:
        assert work.connection.execute(text("PRAGMA foreign_keys")).scalar() == 1
        assert work.connection.execute(text("PRAGMA foreign_key_check")).all() == []
    store.close()
    assert rows_of(file_url) == before
    copy = tmp_path / f"store.db.before-later-was-{HEAD}"
    assert rows_of(f"sqlite:///{copy}") == before


def test_a_store_of_the_first_step_with_rows_in_it_is_brought_up_to_date(file_url, tmp_path):
    engine = engine_for(file_url)
    migrate.upgrade(engine, "0001")
    with engine.begin() as connection:
        for row in ROWS_OF_THE_FIRST_STEP:
            connection.execute(text(row))
    engine.dispose()
    store = Store.open(file_url)
    with store.begin() as work:
        keeper = work.keepers.by_contact("telegram", "7")
        (one,) = work.journal.entries(keeper.shelf_id)
        assert (one.entry.kind, one.entry.specimens, one.recorded_at) == ("fed", ("A1",), NOW)
        assert work.journal.latest_change(keeper.shelf_id, keeper.id).id == 1
        work.journal.rebuild(keeper.shelf_id)
        facts = work.shelves.facts(keeper.shelf_id)[0]
        assert (facts.state.last_fed, facts.dish_every, facts.mist_every) == (TODAY, None, None)
        assert work.bookmarks.get("clock") == {}
        (reminder,) = work.reminders.open(keeper.shelf_id)
        assert (reminder.what, reminder.repeats) == ("mist D", "FREQ=DAILY;INTERVAL=3")
        assert not reminder.from_done
    store.close()
    assert (tmp_path / f"store.db.before-{HEAD}-was-0001").exists()


def test_a_second_look_from_before_it_had_a_mark_is_known_by_it(file_url):
    engine = engine_for(file_url)
    migrate.upgrade(engine, "0001")
    look = ROWS_OF_THE_FIRST_STEP[-1].replace(
        "(1, 1, 1, 1, 'mist D'", "(2, 1, 1, 1, 'the rest of today’s round'"
    )
    with engine.begin() as connection:
        for row in (*ROWS_OF_THE_FIRST_STEP, look):
            connection.execute(text(row))
    engine.dispose()
    store = Store.open(file_url)
    with store.look() as work:
        assert [one.what for one in work.reminders.open(1)] == ["mist D"]
        assert [(one.id, one.of_round) for one in work.reminders.second_looks(1, 1)] == [(2, True)]
    store.close()


def test_a_migration_that_would_lose_rows_changes_nothing(file_url, later_step):
    lived_in(file_url).store.close()
    before = rows_of(file_url)
    later_step(more='op.execute("DELETE FROM specimen WHERE id = 1")')
    with pytest.raises(StoreError, match="nothing was changed"):
        Store.open(file_url)
    assert rows_of(file_url) == before


def test_two_that_open_an_empty_store_at_once_both_find_it_whole(file_url):
    stores, problems = [], []

    def open_():
        try:
            stores.append(Store.open(file_url))
        except Exception as problem:
            problems.append(problem)

    threads = [threading.Thread(target=open_) for _ in range(4)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert problems == []
    for store in stores:
        store.close()


def test_a_newer_store_is_refused_in_one_line_and_left_alone(file_url):
    store = Store.open(file_url)
    with store.engine.begin() as connection:
        connection.execute(text("UPDATE alembic_version SET version_num = '9999'"))
    store.close()
    before = rows_of(file_url)
    with pytest.raises(StoreTooNewError, match="newer version") as told:
        Store.open(file_url)
    assert "\n" not in str(told.value)
    assert rows_of(file_url) == before
