"""Whatever one keeper does, nobody else's shelf reads any different, and theirs shows nothing of others."""

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from storage import Store
from storage.errors import StoreError
from tests.storage.given import NOW, entry, shelf_in, specimen
from tests.storage.test_state_is_a_fold import TAGS, alterations, entries
from tests.storage.test_undo_and_redo import everything

numbers = st.integers(1, 12)
deeds = st.one_of(
    st.tuples(st.just("log"), entries),
    st.tuples(st.just("replace"), numbers),
    st.tuples(st.just("undo"), numbers),
    st.tuples(st.just("redo"), numbers),
    st.tuples(st.just("alter"), st.sampled_from(TAGS), alterations.filter(bool)),
    st.tuples(st.just("add"), st.sampled_from(["A1", "C1", "C2"])),
)


def own_change(shelf, number):
    """The keeper's change of a number counted from their first; the conversation knows no others."""
    with shelf.store.look() as work:
        change = work.journal.latest_change(shelf.id, shelf.keeper.id)
    return max(1, change.id - number) if change else 1


def do(shelf, deed):
    match deed:
        case ("log", logged):
            shelf.log(logged)
        case ("replace", number):
            shelf.replace([number], entry("fed", "A1"))
        case ("undo" | "redo", number):
            change = own_change(shelf, number)
            with shelf.store.begin() as work:
                if work.journal.get_change(change).shelf_id == shelf.id:
                    getattr(work.journal, deed[0])(change, at=NOW)
        case ("alter", tag, fields):
            shelf.alter(tag, **fields)
        case ("add", tag):
            shelf.add(specimen(tag, place="Shelf A"))


@settings(max_examples=40, deadline=None, suppress_health_check=list(HealthCheck))
@given(done=st.lists(deeds, min_size=1, max_size=10))
def test_no_deed_of_one_keeper_changes_what_another_reads(done):
    store = Store.open("sqlite://")
    theirs, mine = shelf_in(store), shelf_in(store, "Birch (invented)")
    for shelf in (theirs, mine):
        shelf.add(*(specimen(tag, lot_size=4, place="Shelf A") for tag in TAGS))
        shelf.log(entry("fed", "A1"), entry("climate", temp_c="24"))
    before = (everything(theirs), theirs.revision())
    for deed in done:
        try:
            do(mine, deed)
        except StoreError:  # refused: an unknown or taken tag, an entry that is not theirs
            continue
    assert (everything(theirs), theirs.revision()) == before
    seen = {one.id for one in mine.entries()} & {one.id for one in theirs.entries()}
    assert seen == set()
    store.close()
