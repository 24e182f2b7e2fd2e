"""Migrate, backup, restore, doctor, invite and the command line itself."""

import sqlite3
import subprocess
import sys
from contextlib import closing

import click
import pytest

from bot.commands import main
from bot.commands.group import COMMANDS
from storage.album import Album
from storage.codes import hash_of


def _keepers(path):
    connection = sqlite3.connect(path)
    names = [name for (name,) in connection.execute("SELECT name FROM keeper ORDER BY id")]
    connection.close()
    return names


def test_a_backup_restores_the_whole_store(burrowbell, demo_db, tmp_path):
    assert burrowbell("backup", tmp_path / "copy.db", "--db", demo_db).status == 0
    assert not list(tmp_path.glob("copy.db-*"))
    new = f"sqlite:///{tmp_path / 'new.db'}"
    told = burrowbell("restore", tmp_path / "copy.db", "--db", new)
    assert (told.status, told.err) == (0, "")
    for what in ("old", "new"):
        burrowbell("export", tmp_path / what, "--db", demo_db if what == "old" else new)
    for name in ("specimens.csv", "journal.csv"):
        assert (tmp_path / "old" / name).read_bytes() == (tmp_path / "new" / name).read_bytes()


def test_restore_leaves_a_store_alone_that_is_not_empty(burrowbell, demo_db, empty_db, tmp_path):
    burrowbell("backup", tmp_path / "copy.db", "--db", demo_db)
    told = burrowbell("restore", tmp_path / "copy.db", "--db", empty_db)
    assert told.status == 2
    assert told.err == "burrowbell: The store is not empty; say --replace to write over it.\n"
    assert _keepers(tmp_path / "empty.db") == ["Kim"]


def test_restore_with_replace_keeps_a_copy_of_what_was_there(burrowbell, demo_db, empty_db, tmp_path):
    burrowbell("backup", tmp_path / "copy.db", "--db", demo_db)
    assert burrowbell("restore", tmp_path / "copy.db", "--db", empty_db, "--replace").status == 0
    assert "Robin" in _keepers(tmp_path / "empty.db")
    assert _keepers(tmp_path / "empty.db.replaced") == ["Kim"]


def test_a_sealed_backup_is_restored_with_its_key_and_not_without(burrowbell, demo_db, tmp_path):
    told = burrowbell("key")
    (tmp_path / "key").write_text(told.out)
    public = next(line for line in told.out.splitlines() if "seals" in line).split()[-1]
    assert burrowbell("backup", tmp_path / "copy.age", "--key", public, "--db", demo_db).status == 0
    assert b"SQLite" not in (tmp_path / "copy.age").read_bytes()
    new = f"sqlite:///{tmp_path / 'new.db'}"
    told = burrowbell("restore", tmp_path / "copy.age", "--db", new)
    assert (told.status, "--key" in told.err) == (2, True)
    assert burrowbell("restore", tmp_path / "copy.age", "--key", tmp_path / "key", "--db", new).status == 0
    assert "Robin" in _keepers(tmp_path / "new.db")
    assert {path.name for path in tmp_path.iterdir() if path.is_dir()} == set()


def test_a_key_that_does_not_fit_changes_nothing(burrowbell, demo_db, empty_db, tmp_path):
    public = burrowbell("key").out.split("AGE-")[0].split()
    public = next(word for word in public if word.startswith("age1"))
    burrowbell("backup", tmp_path / "copy.age", "--key", public, "--db", demo_db)
    (tmp_path / "other").write_text(burrowbell("key").out)
    told = burrowbell(
        "restore", tmp_path / "copy.age", "--key", tmp_path / "other", "--db", empty_db, "--replace"
    )
    assert told.status == 2
    assert "does not open" in told.err
    assert _keepers(tmp_path / "empty.db") == ["Kim"]


@pytest.mark.parametrize("content", [b"", b"no database, only some words" * 40], ids=["empty", "words"])
def test_what_is_no_backup_is_refused_and_changes_nothing(burrowbell, empty_db, tmp_path, content):
    (tmp_path / "copy.db").write_bytes(content)
    told = burrowbell("restore", tmp_path / "copy.db", "--db", empty_db, "--replace")
    assert told.status == 2
    assert "is not a whole backup" in told.err
    assert told.err.count("\n") == 1
    assert _keepers(tmp_path / "empty.db") == ["Kim"]


def test_a_store_is_not_backed_up_onto_itself(burrowbell, demo_db, tmp_path):
    assert burrowbell("backup", tmp_path / "shelf.db", "--db", demo_db).status == 2
    assert burrowbell("restore", tmp_path / "shelf.db", "--db", demo_db, "--replace").status == 2
    assert "Robin" in _keepers(tmp_path / "shelf.db")


def test_migrate_makes_a_store_where_there_is_none(burrowbell, tmp_path):
    assert burrowbell("migrate", "--db", f"sqlite:///{tmp_path / 'new' / 'shelf.db'}").status == 0
    assert _keepers(tmp_path / "new" / "shelf.db") == []


@pytest.mark.parametrize(
    ("arguments", "status", "says"),
    [
        pytest.param(["migrate", "--db", "mysql://x/y"], 2, "Only sqlite:///PATH", id="another database"),
        pytest.param(["migrate", "--db", "nonsense"], 2, "not a store's URL", id="no url"),
        pytest.param(["round", "--on", "tomorrow"], 2, "'tomorrow' is not a date", id="a day in words"),
        pytest.param(["round", "--now", "noon"], 2, "'noon' is not a date and time", id="a time in words"),
        pytest.param(["feed"], 2, "No such command 'feed'", id="no such command"),
        pytest.param(["round", "--colour"], 2, "'--colour'", id="no such option"),
        pytest.param(["import"], 2, "Missing argument 'FILE'", id="no file"),
        pytest.param(["import", "nowhere.csv"], 2, "'nowhere.csv' does not exist", id="file not there"),
        pytest.param(["round"], 2, "there is no store yet", id="nobody there"),
        pytest.param(["backup", "x.db"], 2, "There is no store to copy", id="nothing to back up"),
    ],
)
def test_wrong_use_is_told_in_one_line(burrowbell, arguments, status, says):
    told = burrowbell(*arguments)
    assert told.status == status
    assert says in told.err
    assert told.err.count("\n") == 1
    assert told.out == ""


def test_what_goes_wrong_inside_is_one_line_and_status_1(burrowbell, monkeypatch, empty_db):
    monkeypatch.setattr("bot.commands.upkeep.opened", lambda db, makes: 1 / 0)
    told = burrowbell("migrate", "--db", empty_db)
    assert told.status == 1
    assert (
        told.err == "burrowbell: this went wrong: ZeroDivisionError: division by zero (--debug shows where)\n"
    )


def test_debug_shows_where_it_went_wrong(burrowbell, monkeypatch, empty_db):
    monkeypatch.setattr("bot.commands.upkeep.opened", lambda db, makes: 1 / 0)
    assert "Traceback" in burrowbell("migrate", "--db", empty_db, "--debug").err


def test_doctor_finds_a_good_store_well(burrowbell, demo_db):
    told = burrowbell("doctor", "--db", demo_db, "--json")
    assert told.status == 0
    assert [line["check"] for line in told.lines] == ["store", "settings", "clock", "zone data", "connection"]
    assert all(line["ok"] for line in told.lines)


def test_doctor_finds_states_that_are_not_what_the_journal_says(burrowbell, demo_db, tmp_path):
    with sqlite3.connect(tmp_path / "shelf.db") as connection:
        connection.execute("UPDATE state SET facts = '{}' WHERE specimen_id = 3")
    told = burrowbell("doctor", "--db", demo_db, "--json")
    assert told.status == 1
    assert [line["check"] for line in told.lines if not line["ok"]] == ["store"]


def test_doctor_makes_no_store(burrowbell, tmp_path):
    assert burrowbell("doctor", "--db", f"sqlite:///{tmp_path / 'none.db'}").status == 0
    assert not (tmp_path / "none.db").exists()


def test_doctor_names_what_is_wrong(burrowbell, tmp_path, monkeypatch):
    (tmp_path / "bad.db").write_bytes(b"no store, just words\n" * 400)
    monkeypatch.setenv("BURROWBELL_TOKEN", "put-your-token-here")
    told = burrowbell("doctor", "--db", f"sqlite:///{tmp_path / 'bad.db'}", "--json")
    assert told.status == 1
    assert {line["check"]: line["ok"] for line in told.lines} == {
        "store": False,
        "settings": False,
        "clock": True,
        "zone data": True,
        "connection": True,
    }
    assert "put-your-token-here" not in told.out


def test_an_invites_code_is_kept_as_a_hash_only(burrowbell, demo_db, tmp_path):
    told = burrowbell("invite", "--db", demo_db, "--as", "helper", "--bot", "@some_bot")
    assert told.status == 0
    assert told.out.startswith("https://t.me/some_bot?start=i")
    code = told.out.strip().removeprefix("https://t.me/some_bot?start=i")
    rows = sqlite3.connect(tmp_path / "shelf.db").execute("SELECT code_hash, role FROM invite").fetchall()
    assert rows == [(hash_of(code), "helper")]


_BY = ("environment", ".env", "secrets folder")


def _set(monkeypatch, tmp_path, by, **settings):
    """Says settings in one of the ways in which ``serve`` hears of them."""
    for name, value in settings.items():
        if by == "environment":
            monkeypatch.setenv(f"BURROWBELL_{name.upper()}", str(value))
        elif by == ".env":
            with (tmp_path / ".env").open("a") as file:
                file.write(f"BURROWBELL_{name.upper()}={value}\n")
        else:
            (tmp_path / "secrets").mkdir(exist_ok=True)
            (tmp_path / "secrets" / f"burrowbell_{name}").write_text(f"{value}\n")
            monkeypatch.setenv("BURROWBELL_SECRETS_DIR", str(tmp_path / "secrets"))


@pytest.mark.parametrize("by", _BY)
def test_every_command_finds_the_store_that_serve_answers_from(
    burrowbell, demo_db, monkeypatch, tmp_path, by
):
    _set(monkeypatch, tmp_path, by, database_url=demo_db)
    assert burrowbell("invite").out.startswith("/start ")
    with closing(sqlite3.connect(tmp_path / "shelf.db")) as store:
        assert store.execute("SELECT count(*) FROM invite").fetchone() == (1,)
    doctor = burrowbell("doctor", "--json").lines
    assert str(tmp_path / "shelf.db") in next(line["detail"] for line in doctor if line["check"] == "store")
    assert burrowbell("backup", tmp_path / "copy.db").status == 0
    assert "Robin" in _keepers(tmp_path / "copy.db")
    assert not (tmp_path / "home").exists(), "no other store was made"


@pytest.mark.parametrize("by", _BY)
def test_a_backup_has_the_photos_of_the_folder_that_serve_keeps_them_in(
    burrowbell, demo_db, monkeypatch, tmp_path, by
):
    _set(monkeypatch, tmp_path, by, database_url=demo_db, photo_folder=tmp_path / "pictures")
    with closing(sqlite3.connect(tmp_path / "shelf.db")) as store, store:
        store.execute(
            "INSERT INTO photo (shelf_id, change_id, reference, path, at) "
            "SELECT shelf_id, id, 'r', '1/1.jpg', at FROM change LIMIT 1"
        )
    Album(tmp_path / "pictures").write("1/1.jpg", b"the bytes of an invented picture")
    assert burrowbell("backup", tmp_path / "copy.db").status == 0
    with closing(sqlite3.connect(tmp_path / "copy.db")) as copy:
        assert copy.execute("SELECT path FROM photo_file").fetchall() == [("1/1.jpg",)]


def test_a_restore_to_another_store_leaves_the_photos_of_the_one_that_serves(
    burrowbell, demo_db, monkeypatch, tmp_path
):
    _set(monkeypatch, tmp_path, ".env", database_url=demo_db, photo_folder=tmp_path / "pictures")
    burrowbell("backup", tmp_path / "copy.db")
    kept = Album(tmp_path / "pictures").write("1/1.jpg", b"the bytes of an invented picture")
    told = burrowbell("restore", tmp_path / "copy.db", "--db", f"sqlite:///{tmp_path / 'new.db'}")
    assert (told.status, told.err) == (
        0,
        "The photo folder that is set is another store's; it is left alone.\n",
    )
    assert kept.exists()


@pytest.mark.parametrize(
    "arguments",
    [["invite"], ["round"], ["forecast"], ["export", "out"], ["erase"], ["labels", "l.pdf"]],
    ids=" ".join,
)
def test_what_only_reads_or_invites_makes_no_store(burrowbell, tmp_path, arguments):
    told = burrowbell(*arguments)
    assert (told.status, told.err.count("\n")) == (2, 1)
    assert "no store yet" in told.err
    assert not (tmp_path / "home").exists()


def test_a_wrong_url_in_the_settings_is_told_in_one_line(burrowbell, monkeypatch, tmp_path):
    _set(monkeypatch, tmp_path, ".env", database_url="mysql://x/y")
    for arguments in (["round"], ["backup", "x.db"]):
        told = burrowbell(*arguments)
        assert told.status == 2
        assert told.err.startswith("burrowbell: BURROWBELL_DATABASE_URL: write sqlite:///PATH")
    assert "BURROWBELL_DATABASE_URL" in burrowbell("doctor").out


def test_the_demo_is_thrown_away_though_a_store_is_set(burrowbell, monkeypatch, tmp_path):
    url = f"sqlite:///{tmp_path / 'own.db'}"
    _set(monkeypatch, tmp_path, "environment", database_url=url, photo_folder=tmp_path / "pictures")
    assert burrowbell("chat", "--demo", input="who is due?\n").status == 0
    assert not (tmp_path / "own.db").exists()
    assert not (tmp_path / "pictures").exists()


def _leaves():
    """Every command by its words, those under a group by two."""
    for name in COMMANDS:
        command = main.get_command(click.Context(main), name)
        inner = command.commands.values() if isinstance(command, click.Group) else [None]
        for one in inner:
            yield (name,) if one is None else (name, one.name)


@pytest.mark.parametrize("words", list(_leaves()), ids=" ".join)
def test_every_command_takes_a_store_and_explains_itself_with_a_sentence_and_an_example(burrowbell, words):
    told = burrowbell(*words, "--help")
    assert told.status == 0
    assert "Example" in told.out
    assert f"burrowbell {' '.join(words)}" in told.out.split("Example", 1)[1]
    assert words == ("key",) or "--db URL" in told.out, "a key belongs to no store"


def test_help_lists_every_command_without_loading_one():
    script = (
        "import sys\nfrom bot.commands import main\n"
        "try: main(['--help'], prog_name='burrowbell')\nexcept SystemExit: pass\n"
        "print(sorted({m.split('.')[0] for m in sys.modules} & {'storage', 'sqlalchemy', 'yaml'}))"
    )
    done = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=True)
    assert all(f"  {name} " in done.stdout for name in COMMANDS)
    assert done.stdout.endswith("[]\n")


def test_no_command_is_called_when_none_is_named(burrowbell):
    assert "Usage" in burrowbell().out + burrowbell().err
    assert main.name == "main"
