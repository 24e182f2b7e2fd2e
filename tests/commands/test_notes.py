"""``import --what notes``: shown first, stored when asked, the rest in a file that can be taken in again."""

from __future__ import annotations

NOW = "2026-05-14T19:30"
BOOK = """2026
3 May: Marzipan 2 crickets, Paprika refused
4/5 Domino molted
watered everyone
5/5 Zorro ate
"""


def take(burrowbell, db, path, *more):
    return burrowbell("import", "--what", "notes", path, "--db", db, "--now", NOW, *more)


def entries(burrowbell, db, folder):
    burrowbell("export", folder, "--db", db, "--now", NOW)
    return (folder / "journal.csv").read_text(encoding="utf-8").splitlines()


def test_a_notebook_is_shown_and_nothing_is_stored_until_that_is_asked_for(burrowbell, demo_db, tmp_path):
    (tmp_path / "book.txt").write_text(BOOK)
    before = entries(burrowbell, demo_db, tmp_path / "before")
    shown = take(burrowbell, demo_db, tmp_path / "book.txt")
    assert "line 2: 2026-05-03, K1: ate 2 crickets" in shown.out
    assert "? Nobody here is called" in shown.out
    assert "add --store" in shown.err
    assert entries(burrowbell, demo_db, tmp_path / "after") == before
    assert not list(tmp_path.glob("*open*"))


def test_what_is_sure_is_stored_once_and_the_rest_can_be_filled_in(burrowbell, demo_db, tmp_path):
    (tmp_path / "book.txt").write_text(BOOK)
    before = entries(burrowbell, demo_db, tmp_path / "before")
    assert take(burrowbell, demo_db, tmp_path / "book.txt", "--store").status == 0
    stored = entries(burrowbell, demo_db, tmp_path / "after")
    assert len(stored) > len(before)
    again = take(burrowbell, demo_db, tmp_path / "book.txt", "--store")
    assert again.err.startswith("0 entries stored")
    assert entries(burrowbell, demo_db, tmp_path / "again") == stored
    rest = tmp_path / "book-open.txt"
    filled = rest.read_text().replace("Zorro ate", "Marzipan ate a roach")
    rest.write_text(filled)
    assert "1 entry stored" in take(burrowbell, demo_db, rest, "--store").err
    assert (tmp_path / "book-open2.txt").exists()


def test_a_word_for_all_means_nobody_who_came_later(burrowbell, demo_db, tmp_path):
    (tmp_path / "book.txt").write_text("3 May 2015: watered everyone\n4 May 2015: watered Marzipan\n")
    shown = take(burrowbell, demo_db, tmp_path / "book.txt", "--json").lines
    assert [(line["row"], line.get("kind")) for line in shown] == [(2, "watered"), (1, None)]
    assert "not all of them were there" in shown[1]["problem"]
