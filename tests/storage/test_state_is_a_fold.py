"""The kept state of every specimen equals the one worked out from the journal, whatever was done."""

from datetime import date, time, timedelta
from decimal import Decimal

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, invariant, precondition, rule

from bot.husbandry.state import SpecimenState, state_of
from bot.terms import Entry, Kind, SacEvent, Sex, Stage, WaterHow
from storage import Store
from storage import tables as t
from storage.errors import TagTakenError
from storage.facts import facts_of, state_from
from tests.storage.given import TODAY, entry, shelf_in, specimen

TAGS = ("A1", "A2", "B1")

days = st.integers(0, 6).map(lambda back: TODAY - timedelta(days=back))
times = st.none() | st.sampled_from([time(0, 0), time(8, 30), time(21, 0)])
some_tags = st.lists(st.sampled_from(TAGS), min_size=1, max_size=3, unique=True).map(tuple)
amounts = st.none() | st.integers(1, 90_000).map(lambda parts: Decimal(parts) / 1000)
counts = st.none() | st.integers(1, 6)
#: Kinds whose effect hangs on what else is so come up more often than the rest.
kinds = st.sampled_from(Kind) | st.sampled_from([Kind.SEXED, Kind.MATURED, Kind.DIED, Kind.LEFT, Kind.MOLTED])
entries = st.builds(
    Entry,
    kind=kinds,
    day=days,
    time=times,
    specimens=some_tags,
    count=counts,
    prey=st.none() | st.sampled_from(["cricket", "locust"]),
    how=st.none() | st.sampled_from(WaterHow),
    span_cm=amounts,
    weight_g=amounts,
    volume_l=amounts,
    sex=st.none() | st.sampled_from(["female", "male"]),
    event=st.none() | st.sampled_from(SacEvent),
)
alterations = st.fixed_dictionaries(
    {},
    optional={
        "sex": st.sampled_from(Sex),
        "stage": st.sampled_from(Stage),
        "name": st.none() | st.sampled_from(["Anvil", "Ångström"]),
        "place": st.none() | st.sampled_from(["Shelf A", "shelf a", "Rack 2"]),
        "position": st.integers(0, 5000),
    },
)


class AnyOrderOfDeeds(RuleBasedStateMachine):
    """Logs, replaces, alters, undoes and redoes in any order, entries of any day."""

    def __init__(self):
        super().__init__()
        self.store = Store.open("sqlite://")
        self.shelf = shelf_in(self.store)
        self.changes = [self.shelf.add(*(specimen(tag, lot_size=4) for tag in TAGS))]

    def teardown(self):
        self.store.close()

    @rule(logged=st.lists(entries, min_size=1, max_size=3))
    def log(self, logged):
        if self.all_there():
            self.changes.append(self.shelf.log(*logged))

    @rule(which=st.integers(0, 50), new=st.lists(entries, max_size=2))
    def replace(self, which, new):
        live = self.shelf.entries()
        if live and self.all_there():
            self.changes.append(self.shelf.replace([live[which % len(live)].id], *new))

    @rule(tag=st.sampled_from(TAGS), fields=alterations)
    def alter(self, tag, fields):
        if fields and self.all_there():
            self.changes.append(self.shelf.alter(tag, **fields))

    def all_there(self):
        """Whether the specimens' adding is in force; no one can log for a specimen that is not there."""
        with self.store.look() as work:
            return work.journal.get_change(self.changes[0]).undone_at is None

    @precondition(lambda self: self.changes)
    @rule(which=st.integers(0, 50))
    def undo(self, which):
        self.shelf.undo(self.changes[which % len(self.changes)])

    @rule(which=st.integers(0, 50))
    def redo(self, which):
        self.shelf.redo(self.changes[which % len(self.changes)])

    @invariant()
    def what_is_kept_is_what_the_journal_says(self):
        kept = everything_kept(self.store)
        with self.store.begin() as work:
            work.journal.rebuild(self.shelf.id)
        assert everything_kept(self.store) == kept


def everything_kept(store):
    """Every row that is worked out from others."""
    wanted = (t.specimen, t.state)
    with store.look() as work:
        rows = [
            work.connection.execute(table.select().order_by(*table.primary_key)).all() for table in wanted
        ]
        live = work.connection.execute(t.entry.select().order_by(t.entry.c.id)).all()
    return rows, [(row.id, row.live) for row in live]


AnyOrderOfDeeds.TestCase.settings = settings(
    max_examples=40, stateful_step_count=15, deadline=None, suppress_health_check=list(HealthCheck)
)
test_kept_state_equals_the_rebuilt_one_after_any_order_of_deeds = AnyOrderOfDeeds.TestCase


@settings(max_examples=40, deadline=None, suppress_health_check=list(HealthCheck))
@given(logged=st.lists(entries, max_size=12))
def test_the_kept_state_is_the_fold_of_the_live_entries(logged):
    """The same by another way: husbandry's own fold over what the journal reads back."""
    store = Store.open("sqlite://")
    shelf = shelf_in(store)
    shelf.add(*(specimen(tag, lot_size=4, span_cm=Decimal("2.5")) for tag in TAGS), on=date(2026, 1, 1))
    for one in logged:
        shelf.log(one)
    start = SpecimenState(stage=Stage.JUVENILE, lot_size=4, span_cm=Decimal("2.5"), span_on=date(2026, 1, 1))
    for facts in shelf.all_facts():
        read = shelf.entries(tags=[facts.specimen.tag], newest_first=False)
        assert facts.state == state_of((one.entry for one in read), start)
        assert facts.state.gone_on is None
    store.close()


def test_a_state_is_kept_and_read_back_whole(store):
    state = SpecimenState(
        first_entry=date(2026, 1, 1),
        last_prey="cricket",
        refusals=2,
        eaten_since_molt=False,
        volume_l=Decimal("3.785"),
        sex=Sex.FEMALE,
        stage=Stage.MATURE_MALE,
        lot_size=0,
    )
    assert state_from(facts_of(state)) == state
    assert facts_of(SpecimenState()) == {}


def test_a_fact_that_this_version_does_not_know_is_left_out():
    assert state_from({"last_fed": "2026-05-14", "last_sang": "2026-05-14"}) == SpecimenState(last_fed=TODAY)


def test_an_entry_of_an_earlier_day_is_folded_in_where_it_belongs(shelf):
    shelf.log(entry("opened", "A1"))
    shelf.log(entry("sealed", "A1", day=TODAY - timedelta(days=9)))
    assert shelf.facts("A1").state.sealed_since is None
    assert shelf.facts("A1").state.last_opened == TODAY


def test_an_entry_without_a_time_stands_before_those_of_the_day_with_one(shelf):
    shelf.log(entry("sealed", "A1", time=time(10, 0)))
    shelf.log(entry("opened", "A1"))
    assert shelf.facts("A1").state.sealed_since == TODAY


def test_an_ultimate_molt_counts_though_the_keeper_called_him_mature_before(shelf):
    shelf.alter("A1", stage=Stage.MATURE_MALE, sex=Sex.MALE)
    shelf.log(entry("matured", "A1"))
    kept = shelf.facts("A1")
    assert (kept.state.matured_on, kept.state.molts_in_home) == (TODAY, 1)
    with shelf.store.begin() as work:
        work.journal.rebuild(shelf.id)
    assert shelf.facts("A1") == kept


def test_midnight_and_no_time_stand_in_the_order_of_recording_in_list_and_fold_alike(shelf):
    shelf.log(entry("sealed", "A1", time=time(0, 0)))
    shelf.log(entry("opened", "A1"))
    assert [one.entry.kind for one in shelf.entries()] == ["opened", "sealed"]
    assert shelf.facts("A1").state.sealed_since is None


def test_part_of_a_lot_may_die_or_leave_and_come_back_by_undo(shelf):
    shelf.log(entry("died", "B1", count=3))
    sold = shelf.log(entry("left", "B1", count=7))
    assert [one.specimen.tag for one in shelf.specimens(gone=True)] == ["B1"]
    assert shelf.facts("B1") is None
    shelf.undo(sold)
    assert shelf.facts("B1").specimen.lot_size == 7
    assert shelf.specimens(gone=True) == ()


@pytest.mark.parametrize("how", ["died", "left"])
def test_a_tag_is_free_again_once_its_animal_is_gone(shelf, how):
    with pytest.raises(TagTakenError):
        shelf.add(specimen("a1"))
    shelf.log(entry(how, "A1"))
    shelf.add(specimen("a1", name="Successor"))
    shelf.log(entry("fed", "A1"))
    assert shelf.facts("A1").specimen.name == "Successor"
    assert [one.entry.kind for one in shelf.entries(tags=["A1"])] == ["fed"]
