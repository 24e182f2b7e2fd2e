"""The demo shelf in a store."""

from datetime import UTC, datetime

import pytest

from bot.demo.fill import put_up
from bot.demo.shelf import demo_shelf
from bot.round.model import RestReason, TaskKind
from bot.round.worklist import worklist
from storage import Store

NOW = datetime(2026, 5, 14, 18, 30, tzinfo=UTC)


@pytest.fixture(scope="module")
def shelf():
    store = Store.open("sqlite://")
    keeper = put_up(store, demo_shelf(), now=NOW, zone="Europe/London", contact=("terminal", "keyboard"))
    yield store, keeper
    store.close()


def test_all_animals_stand_there_and_the_first_days_questions_are_answered(shelf):
    store, keeper = shelf
    with store.look() as work:
        assert work.keepers.by_contact("terminal", "keyboard") == keeper
        assert keeper.settled
        assert keeper.settings.zone == "Europe/London"
        assert [s.specimen.tag for s in work.shelves.specimens(keeper.shelf_id)][:2] == ["K1", "K2"]
        assert len(work.shelves.specimens(keeper.shelf_id)) == 24


def test_the_keeper_has_nothing_to_undo_yet(shelf):
    store, keeper = shelf
    with store.look() as work:
        assert work.journal.latest_change(keeper.shelf_id, keeper.id) is None


def test_the_round_has_all_kinds_of_lines(shelf):
    store, keeper = shelf
    with store.look() as work:
        today = worklist(work.shelves.facts(keeper.shelf_id), NOW.date())
    assert {task.task for task in today.tasks} >= {TaskKind.FEED, TaskKind.WATER, TaskKind.CHECK}
    # nobody of the invented shelf has escaped
    assert {rest.reason for rest in today.rests} == set(RestReason) - {RestReason.MISSING}


def test_the_horned_one_can_be_fed_today(shelf):
    store, keeper = shelf
    with store.look() as work:
        today = worklist(work.shelves.facts(keeper.shelf_id), NOW.date())
    assert "M1" in {task.tag for task in today.tasks if task.task is TaskKind.FEED}
    assert "M1" not in {rest.tag for rest in today.rests}


def test_kept_states_are_those_that_the_journal_adds_up_to(shelf):
    store, keeper = shelf
    with store.begin() as work:
        kept = work.shelves.facts(keeper.shelf_id)
        work.journal.rebuild(keeper.shelf_id)
        assert work.shelves.facts(keeper.shelf_id) == kept
