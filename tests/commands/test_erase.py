"""An operator deletes a keeper on the keeper's word, and has to name them."""

import json

from bot.terms import KeeperSettings
from storage import Store
from tests.apart.street import NOW


def keepers(url):
    store = Store.open(url)
    with store.reader() as connection:
        found = [row.name for row in connection.exec_driver_sql("SELECT name FROM keeper ORDER BY id")]
    store.close()
    return found


def also(url, name, number):
    """One more keeper in the store, invented."""
    store = Store.open(url)
    with store.begin() as work:
        work.keepers.link(work.keepers.create(name, KeeperSettings(), at=NOW).id, "telegram", number)
    store.close()


def test_the_keeper_who_is_named_is_deleted_and_nobody_else(burrowbell, demo_db):
    also(demo_db, "Bo", "8")
    name, *others = keepers(demo_db)
    asked = burrowbell("erase", "--db", demo_db, "--keeper", name, input=f"{name}\n")
    assert (asked.status, asked.out.strip()) == (0, "Everything of that keeper is deleted.")
    assert "24 animals" in asked.err
    assert keepers(demo_db) == others
    assert "Bo" in others


def test_a_keeper_is_found_by_their_telegram_number(burrowbell, demo_db):
    before = keepers(demo_db)
    also(demo_db, "Bo", "8")
    assert burrowbell("erase", "--db", demo_db, "--telegram", "8", "--really", "Bo").status == 0
    assert keepers(demo_db) == before


def test_a_name_that_is_not_the_keepers_and_a_number_of_nobody_delete_nothing(burrowbell, demo_db):
    before = keepers(demo_db)
    wrong = burrowbell("erase", "--db", demo_db, input="yes\n")
    assert wrong.status == 2
    assert "nothing was deleted" in wrong.err
    assert burrowbell("erase", "--db", demo_db, "--telegram", "9", "--really", "Bo").status == 2
    assert keepers(demo_db) == before


def test_at_the_keyboard_the_talk_ends_with_it_and_a_new_one_begins_anew(burrowbell, demo_db):
    name, *others = keepers(demo_db)
    said = burrowbell(
        "chat", "--db", demo_db, "--json", input="delete all my data\nforever\nlist my animals\n"
    )
    texts = [json.loads(line)["text"] for line in said.out.splitlines()]
    assert "24 animals" in texts[0]
    assert texts[2].startswith("Everything of yours was deleted.")
    assert keepers(demo_db) == others
    again = burrowbell("chat", "--db", demo_db, input="list my animals\n")
    assert name not in again.out
    assert "empty" in again.out
