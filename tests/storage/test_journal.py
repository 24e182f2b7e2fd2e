"""The journal: what is logged is read back, by tag, kind and day, and nothing is ever rewritten."""

from datetime import date, time, timedelta
from decimal import Decimal

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from sqlalchemy import text

from bot.terms import FIELDS_OF, Entry, Kind, PreySize, SacEvent, WaterHow
from storage.errors import NotOnShelfError, NotStorableError
from tests.storage.given import NOW, TODAY, entry, shelf_in, specimen

YESTERDAY = TODAY - timedelta(days=1)

#: One entry of each kind with every field that the kind may carry, so that no column is forgotten.
FULL = {
    "prey": "dubia roach",
    "count": 3,
    "size": PreySize.SMALL,
    "prekilled": True,
    "how": WaterHow.DISH,
    "ml": Decimal("12.5"),
    "span_cm": Decimal("7.25"),
    "carapace_mm": Decimal("21.4"),
    "weight_g": Decimal("0.125"),
    "volume_l": Decimal("3.785"),
    "substrate_cm": Decimal("10"),
    "temp_c": Decimal("-1.5"),
    "humidity_pct": Decimal("72"),
    "place": "Shelf A",
    "sex": "female",
    "species": "Grammostola pulchra",
    "price": Decimal("129.99"),
    "currency": "EUR",
    "source": "a friend",
    "to": "a breeder",
    "partner": "A2",
    "event": SacEvent.LAID,
    "note": "a ☂ in the corner\nand a second line",
}


@pytest.mark.parametrize("kind", Kind)
def test_an_entry_of_each_kind_is_read_back_as_it_was_said(shelf, kind):
    said = Entry(
        kind=kind,
        day=TODAY,
        time=time(21, 5),
        specimens=("A1",),
        **{name: FULL[name] for name in FIELDS_OF[kind]},
    )
    shelf.log(said)
    (stored,) = shelf.entries()
    assert stored.entry == said


def test_every_kind_s_fields_are_among_those_tested():
    assert {name for names in FIELDS_OF.values() for name in names} <= set(FULL)


def test_an_entry_for_several_specimens_is_one_row_for_each(shelf):
    with shelf.store.begin() as work:
        change = work.journal.change(shelf.id, shelf.keeper.id, at=NOW, origin=None)
        stored = work.journal.log(change, [entry("fed", "A1", "A2", prey="cricket")], zone="Europe/Berlin")
    assert [one.entry.specimens for one in stored] == [("A1",), ("A2",)]
    assert len({one.id for one in stored}) == 2
    with shelf.store.look() as work:
        assert work.journal.entries_of(change) == stored


def test_a_specimen_named_twice_in_one_entry_is_logged_once(shelf):
    shelf.log(entry("fed", "A1", "a1"))
    assert len(shelf.entries()) == 1


def test_an_entry_without_a_specimen_belongs_to_the_shelf_and_keeps_its_place(shelf):
    shelf.log(entry("climate", temp_c="24.5", place="Shelf A"), entry("stocked", prey="cricket", count=50))
    assert [(one.entry.kind, one.entry.specimens, one.entry.place) for one in shelf.entries()] == [
        (Kind.STOCKED, (), None),
        (Kind.CLIMATE, (), "Shelf A"),
    ]


def test_the_day_the_zone_and_who_recorded_it_are_kept(shelf):
    """A day is the keeper's own: late in Los Angeles it is tomorrow in UTC, and stays today."""
    with shelf.store.begin() as work:
        change = work.journal.change(shelf.id, shelf.keeper.id, at=NOW, origin="telegram:7:1")
        work.journal.log(
            change,
            [entry("fed", "A1", day=date(2026, 3, 4), time=time(20, 0))],
            zone="America/Los_Angeles",
        )
    (stored,) = shelf.entries()
    assert (stored.entry.day, stored.entry.time) == (date(2026, 3, 4), time(20, 0))
    assert (stored.zone, stored.by) == ("America/Los_Angeles", shelf.keeper.id)
    assert (stored.recorded_at, stored.recorded_at.utcoffset()) == (NOW, timedelta(0))


def test_entries_come_newest_first_or_oldest_first_by_day_time_and_recording(shelf):
    shelf.log(
        entry("fed", "A1", time=time(9, 0)),
        entry("watered", "A1"),
        entry("cleaned", "A1", day=YESTERDAY, time=time(23, 0)),
        entry("checked", "A1"),
        entry("molted", "A1", time=time(8, 0)),
    )
    oldest_first = ["cleaned", "watered", "checked", "molted", "fed"]
    assert [one.entry.kind for one in shelf.entries(newest_first=False)] == oldest_first
    assert [one.entry.kind for one in shelf.entries()] == oldest_first[::-1]
    assert [one.entry.kind for one in shelf.entries(limit=2)] == ["fed", "molted"]


def test_entries_can_be_chosen_by_tag_kind_and_days_inclusive(shelf):
    shelf.log(
        entry("fed", "A1", day=TODAY - timedelta(days=3)),
        entry("fed", "A2", day=YESTERDAY),
        entry("watered", "A1", day=YESTERDAY),
        entry("fed", "A1"),
    )
    assert len(shelf.entries(tags=["a1"])) == 3
    assert len(shelf.entries(tags=["A1", "A2"], kinds=[Kind.FED])) == 3
    assert len(shelf.entries(since=YESTERDAY)) == 3
    assert len(shelf.entries(until=YESTERDAY)) == 3
    assert len(shelf.entries(since=YESTERDAY, until=YESTERDAY)) == 2
    assert shelf.entries(tags=[]) == ()


def test_the_last_entry_of_some_kinds_is_found(shelf):
    shelf.log(entry("fed", "A1", day=YESTERDAY), entry("refused", "A1"), entry("watered", "A1"))
    with shelf.store.look() as work:
        assert work.journal.last(shelf.id, "A1", [Kind.FED]).entry.day == YESTERDAY
        assert work.journal.last(shelf.id, "A1", [Kind.FED, Kind.REFUSED]).entry.kind == Kind.REFUSED
        assert work.journal.last(shelf.id, "A1", [Kind.MOLTED]) is None


@pytest.mark.parametrize(
    "written", ["Ångström", "ångström", "ÅNGSTRÖM", "A\u030angstro\u0308m", " ångström "]
)
def test_tags_are_found_however_they_are_written(store, written):
    shelf = shelf_in(store)
    shelf.add(specimen("Ångström"), specimen("Żaba"))
    shelf.log(entry("fed", written))
    assert [one.entry.specimens for one in shelf.entries(tags=[written])] == [("Ångström",)]


def test_an_unknown_tag_stores_nothing_of_its_message(shelf):
    with pytest.raises(NotOnShelfError, match="no Z9 on this shelf"):
        shelf.log(entry("fed", "A1"), entry("fed", "Z9"))
    assert shelf.entries() == ()


def test_a_tag_of_another_shelf_is_never_found(shelf):
    other = shelf_in(shelf.store, "Birch (invented)")
    other.add(specimen("X1"))
    other.log(entry("fed", "X1"))
    for attempt in (
        lambda: shelf.log(entry("fed", "X1")),
        lambda: shelf.alter("X1", name="Mine"),
        lambda: shelf.entries(tags=["X1"]),
        lambda: shelf.replace([other.entries()[0].id], entry("refused", "A1")),
    ):
        with pytest.raises(NotOnShelfError):
            attempt()
    assert shelf.facts("X1") is None
    assert shelf.entries() == ()
    assert len(other.entries()) == 1
    assert [one.specimen.tag for one in other.specimens()] == ["X1"]


def test_a_replacement_supersedes_and_keeps_the_old_entry_in_the_journal(shelf):
    first = shelf.log(entry("fed", "A1", count=2))
    (old,) = shelf.entries()
    shelf.replace([old.id], entry("fed", "A1", count=3))
    assert [one.entry.count for one in shelf.entries()] == [3]
    with shelf.store.look() as work:
        (kept,) = work.journal.entries_of(first)
    assert (kept.entry, kept.live) == (old.entry, False)


def test_amounts_add_up_exactly(shelf):
    """0.1 + 0.2 + 0.3 g is 0.6 g, and 0.3 is 0.1 more than 0.2: in the database's own sums too."""
    shelf.log(*(entry("measured", "A1", weight_g=grams) for grams in ("0.1", "0.2", "0.3")))
    weights = [one.entry.weight_g for one in shelf.entries()]
    assert sum(weights) == Decimal("0.6")
    assert weights[0] - weights[1] == Decimal("0.1")
    with shelf.store.look() as work:
        assert work.connection.execute(text("SELECT sum(weight_g) FROM entry")).scalar() == 600


def test_an_amount_is_kept_to_the_thousandth_and_told_as_it_is_kept(shelf):
    with shelf.store.begin() as work:
        change = work.journal.change(shelf.id, shelf.keeper.id, at=NOW, origin=None)
        told = work.journal.log(change, [entry("rehoused", "A1", volume_l="3.785411784")], zone="UTC")
    assert told[0].entry.volume_l == shelf.entries()[0].entry.volume_l == Decimal("3.785")
    assert shelf.facts("A1").state.volume_l == Decimal("3.785")


@pytest.mark.parametrize(
    "bad",
    [
        {"weight_g": Decimal("NaN")},
        {"weight_g": Decimal("Infinity")},
        {"weight_g": Decimal("1e20")},
        {"weight_g": 0.5},
        {"count": 10**30},
    ],
    ids=str,
)
def test_what_cannot_be_kept_exactly_is_refused_and_nothing_is_stored(shelf, bad):
    with pytest.raises(NotStorableError):
        shelf.log(entry("fed", "A1"), Entry(kind=Kind.NOTE, specimens=("A1",), day=TODAY, **bad))
    assert shelf.entries() == ()


@settings(max_examples=30, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(words=st.text(st.characters(codec=None), max_size=60))
def test_any_text_is_kept_but_for_nul_characters_and_half_surrogates(shelf, words):
    shelf.log(entry("note", "A1", note=words))
    kept = shelf.entries(limit=1)[0].entry.note
    assert kept == words.replace("\x00", "").encode(errors="replace").decode()


def test_changes_are_found_by_the_message_they_came_of(shelf):
    first = shelf.log(entry("fed", "A1"), origin="telegram:7:1")
    again = shelf.log(entry("fed", "A1"), origin="telegram:7:1")
    with shelf.store.look() as work:
        assert work.journal.change_of(shelf.id, "telegram:7:1").id == again
        assert work.journal.change_of(shelf.id, "telegram:7:2") is None
        assert work.journal.get_change(first).origin == "telegram:7:1"
        with pytest.raises(NotOnShelfError):
            work.journal.get_change(10_000)
