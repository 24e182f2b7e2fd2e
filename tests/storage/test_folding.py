"""States kept by another version are worked out anew at the start, and a damaged state is noticed."""

from datetime import timedelta

import pytest
from sqlalchemy import select, update

from bot.husbandry import effects as husbandry
from bot.terms import FIELDS_OF, Kind
from storage import Store, folding
from storage import tables as t
from storage.checkup import faults_of
from storage.folding import fold_anew_where_outdated
from tests.storage.given import TODAY, entry, shelf_in, specimen


@pytest.fixture(autouse=True)
def forget_fingerprints():
    yield
    folding.fingerprint.cache_clear()


def spoil(shelf, **facts):
    """Writes a state as an earlier version might have kept it."""
    with shelf.store.begin() as work:
        work.connection.execute(update(t.state).values(facts=facts))


def test_states_of_this_version_are_left_alone(shelf):
    shelf.log(entry("fed", "A1"))
    spoil(shelf, refusals=7)
    assert fold_anew_where_outdated(shelf.store) == 0
    assert shelf.facts("A1").state.refusals == 7


def test_states_of_another_version_are_worked_out_anew_when_the_store_is_opened(file_url):
    shelf = shelf_in(Store.open(file_url))
    shelf.add(specimen("A1"))
    shelf.log(entry("fed", "A1"))
    spoil(shelf, refusals=7)
    with shelf.store.begin() as work:
        work.bookmarks.set("states", {"fingerprint": "of an earlier version"})
    shelf.store.close()
    shelf.store = Store.open(file_url)
    assert (shelf.facts("A1").state.refusals, shelf.facts("A1").state.last_fed) == (0, TODAY)
    assert fold_anew_where_outdated(shelf.store) == 0
    shelf.store.close()


@pytest.mark.parametrize("kind", husbandry._EFFECTS)
def test_the_fingerprint_changes_when_an_entry_of_any_kind_adds_up_to_something_else(kind, monkeypatch):
    before = folding.fingerprint()
    effects = {**husbandry._EFFECTS, kind: lambda _state, entry: {"last_checked": entry.day - timedelta(7)}}
    monkeypatch.setattr(husbandry, "_EFFECTS", effects)
    folding.fingerprint.cache_clear()
    assert folding.fingerprint() != before


def test_a_sample_has_every_field_of_its_kind():
    assert {kind: set(folding._full(kind).details()) for kind in Kind} == {
        kind: set(names) for kind, names in FIELDS_OF.items()
    }


def test_a_whole_store_has_no_faults_and_is_not_changed_by_the_look(shelf):
    shelf.log(entry("fed", "A1"), entry("sealed", "A2"))
    shelf.alter("A1", name="Onyx")
    revision = shelf.revision()
    assert faults_of(shelf.store) == ()
    assert shelf.revision() == revision


def test_a_state_that_is_not_what_the_journal_says_is_a_fault(shelf):
    shelf.log(entry("fed", "A1"))
    spoil(shelf, refusals=7)
    assert faults_of(shelf.store) == (
        f"The states of shelf {shelf.id} are not what its journal says; rebuild them.",
    )
    with shelf.store.begin() as work:
        work.journal.rebuild(shelf.id)
    assert faults_of(shelf.store) == ()


def test_an_entry_wrongly_live_is_a_fault(shelf):
    shelf.undo(shelf.log(entry("fed", "A1")))
    with shelf.store.begin() as work:
        work.connection.execute(update(t.entry).values(live=True))
        assert work.connection.execute(select(t.entry.c.live)).scalar()
    assert len(faults_of(shelf.store)) == 1


def test_a_damaged_file_is_a_fault(file_url, tmp_path):
    shelf = shelf_in(Store.open(file_url))
    shelf.add(*(specimen(f"T{n}", aka=("x" * 200,)) for n in range(300)))
    shelf.store.close()
    file = tmp_path / "store.db"
    size = file.stat().st_size
    with file.open("r+b") as written:
        written.seek(size // 4 * 3)
        written.write(b"\xa5" * 8192)
    store = Store.open(file_url)
    assert faults_of(store) == ("The store is damaged; restore the last backup.",)
    store.close()
