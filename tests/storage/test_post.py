"""What comes in is handled once, what goes out is sent once by key, and what was asked is answered once."""

from datetime import time, timedelta

import pytest
from sqlalchemy import select

from storage import tables as t
from storage.records import Occurrence
from tests.storage.given import NOW, TODAY, entry, shelf_in

MINUTE = timedelta(minutes=1)


def put(work, number, chat="7", source="telegram"):
    return work.inbox.put(
        source, number, chat=chat, payload={"text": f"ångström {number} \x00\ud800"}, at=NOW
    )


def say(work, chat="7", **more):
    return work.outbox.put(
        **{"keeper_id": None, "chat": chat, "method": "say", "payload": {}, "at": NOW} | more
    )


def test_an_update_is_taken_in_once_however_often_it_comes(store):
    with store.begin() as work:
        assert put(work, 1)
        assert not put(work, 1)
        assert put(work, 1, source="other bot")
        (first, _) = (
            work.inbox.waiting(5) if len(work.inbox.waiting(5)) == 2 else (*work.inbox.waiting(5), None)
        )
        assert work.inbox.take(first.id)
        assert work.inbox.done(first.id, at=NOW)
        assert not work.inbox.take(first.id)
        assert not work.inbox.done(first.id, at=NOW)
        assert not put(work, 1)


def test_the_inbox_gives_the_oldest_of_each_chat_in_order(store):
    with store.begin() as work:
        for number, chat in ((1, "a"), (2, "a"), (3, "b"), (4, "a"), (5, "c")):
            put(work, number, chat)

        def waiting(limit=10):
            return [one.update_id for one in work.inbox.waiting(limit)]

        assert waiting() == [1, 3, 5]
        assert waiting(2) == [1, 3]
        first = work.inbox.waiting(1)[0]
        assert (first.payload, first.at) == ({"text": "ångström 1 \x00\ud800"}, NOW)
        work.inbox.done(first.id, at=NOW)
        assert waiting() == [2, 3, 5]
        work.inbox.set_aside(work.inbox.waiting(1)[0].id, "not understood", at=NOW)
        assert waiting() == [3, 4, 5]
        kept = work.connection.execute(select(t.inbox.c.why).where(t.inbox.c.update_id == 2)).scalar()
        assert kept == "not understood"


def test_a_request_with_a_key_goes_out_once(store):
    with store.begin() as work:
        assert say(work, key="round:1:2026-05-14") is not None
        assert say(work, key="round:1:2026-05-14") is None
        assert say(work) is not None
        assert say(work) is not None
        assert len(work.outbox.waiting(NOW, 10)) == 3


def test_requests_wait_for_their_moment_and_leave_when_they_are_sent(store):
    with store.begin() as work:
        now, later = say(work), say(work, not_before=NOW + MINUTE)
        assert [one.id for one in work.outbox.waiting(NOW, 10)] == [now]
        assert [one.id for one in work.outbox.waiting(NOW + MINUTE, 10)] == [now, later]
        assert work.outbox.sent(now, message_ref="55", at=NOW)
        assert not work.outbox.sent(now, message_ref="56", at=NOW)
        work.outbox.failed(later, "blocked", at=NOW)
        assert work.outbox.waiting(NOW + MINUTE, 10) == ()
        rows = work.connection.execute(t.outbox.select().order_by(t.outbox.c.id)).all()
        assert [(row.message_ref, row.why) for row in rows] == [("55", None), (None, "blocked")]


def test_what_is_put_off_keeps_its_place_before_what_came_after_it_in_its_chat(store):
    with store.begin() as work:
        first, second, other = say(work), say(work), say(work, chat="8")
        work.outbox.later(first, NOW + 35 * MINUTE, "asked to wait")
        assert [one.id for one in work.outbox.waiting(NOW, 10)] == [other]
        waiting = work.outbox.waiting(NOW + 35 * MINUTE, 10)
        assert [(one.id, one.tries) for one in waiting] == [(other, 0), (first, 1), (second, 0)]
        assert waiting[1].why == "asked to wait"


def test_a_claimed_request_is_nobody_else_s_until_its_claim_runs_out(store):
    with store.begin() as work:
        first, second, other = say(work), say(work), say(work, chat="8")
        assert [one.id for one in work.outbox.claim(NOW, 10, lease=MINUTE)] == [first, other]
        assert work.outbox.claim(NOW, 10, lease=MINUTE) == ()
        work.outbox.sent(other, message_ref="1", at=NOW)
        again = work.outbox.claim(NOW + MINUTE, 10, lease=MINUTE)
        assert [(one.id, one.tries) for one in again] == [(first, 1)]
        work.outbox.sent(first, message_ref="2", at=NOW)
        assert [one.id for one in work.outbox.claim(NOW + MINUTE, 10)] == [second]


def test_a_request_about_to_be_sent_waits_again_should_its_sender_die(store):
    with store.begin() as work:
        number = say(work)
        assert work.outbox.claimed(number, at=NOW)
        assert work.outbox.waiting(NOW, 10) == ()
        assert [one.id for one in work.outbox.waiting(NOW + 10 * MINUTE, 10)] == [number]


def test_a_prompt_is_answered_exactly_once(shelf):
    change = shelf.log(entry("fed", "A1"))
    asked = {"chat": "7", "actions": [{"undo": change}, {"why": 1}], "pending": {"hole": "day"}}
    with shelf.store.begin() as work:
        number = work.prompts.put(shelf.keeper.id, change_id=change, at=NOW, **asked)
        found = work.prompts.get(number)
        assert (found.actions, found.pending) == (({"undo": change}, {"why": 1}), {"hole": "day"})
        assert (found.change_id, found.answered_at, found.at) == (change, None, NOW)
        assert work.prompts.answered(number, at=NOW)
        assert not work.prompts.answered(number, at=NOW)
        assert work.prompts.get(number).answered_at == NOW
        assert work.prompts.get(10_000) is None


def test_a_prompt_is_found_by_the_message_that_shows_it_and_by_being_the_latest(shelf):
    other = shelf_in(shelf.store, "Birch (invented)")
    with shelf.store.begin() as work:

        def ask(keeper, chat="7"):
            return work.prompts.put(keeper.id, chat=chat, actions=[], pending=None, change_id=None, at=NOW)

        first, second, elsewhere = ask(shelf.keeper), ask(shelf.keeper), ask(shelf.keeper, "8")
        ask(other.keeper)
        work.prompts.shown_as(first, "55")
        assert work.prompts.by_message(shelf.keeper.id, "7", "55").number == first
        assert work.prompts.by_message(other.keeper.id, "7", "55") is None
        assert work.prompts.by_message(shelf.keeper.id, "8", "55") is None
        assert work.prompts.latest(shelf.keeper.id, "7").number == second
        assert work.prompts.latest(shelf.keeper.id, "8").number == elsewhere
        assert work.prompts.latest(shelf.keeper.id, "9") is None


def test_a_dialog_is_kept_for_each_keeper_and_chat(shelf):
    other = shelf_in(shelf.store, "Birch (invented)")
    with shelf.store.begin() as work:
        assert work.dialogs.get(shelf.keeper.id, "7") == {}
        work.dialogs.set(shelf.keeper.id, "7", {"of": "A1"})
        work.dialogs.set(shelf.keeper.id, "7", {"of": "A2", "step": 2})
        assert work.dialogs.get(shelf.keeper.id, "7") == {"of": "A2", "step": 2}
        assert work.dialogs.get(shelf.keeper.id, "8") == {}
        assert work.dialogs.get(other.keeper.id, "7") == {}


def test_a_keeper_has_one_round_a_day(shelf):
    other = shelf_in(shelf.store, "Birch (invented)")
    tasks = [{"tag": "A1", "task": "feed"}, {"tag": "A2", "task": "water"}]
    with shelf.store.begin() as work:

        def open_(keeper=shelf.keeper, day=TODAY):
            return work.rounds.open_(keeper.id, keeper.shelf_id, day, due_at=NOW, tasks=tasks, at=NOW)

        opened = open_()
        assert open_() is None
        assert open_(other.keeper) is not None
        assert work.rounds.of_day(shelf.keeper.id, TODAY) == opened
        assert opened == Occurrence(
            id=opened.id,
            keeper_id=shelf.keeper.id,
            shelf_id=shelf.id,
            day=TODAY,
            due_at=NOW,
            tasks=tuple(tasks),
            opened_at=NOW,
            closed_at=None,
        )
        tomorrow = open_(day=TODAY + timedelta(days=1))
        assert work.rounds.latest(shelf.keeper.id) == tomorrow
        work.rounds.save(opened.id, tasks[1:])
        work.rounds.close(opened.id, NOW)
        closed = work.rounds.of_day(shelf.keeper.id, TODAY)
        assert (closed.tasks, closed.closed_at) == ((tasks[1],), NOW)
        work.rounds.reopen(opened.id, tasks)
        assert work.rounds.of_day(shelf.keeper.id, TODAY) == opened
        assert work.rounds.of_day(shelf.keeper.id, TODAY - timedelta(days=1)) is None


def test_a_round_asked_for_before_its_time_is_to_come_until_it_has(shelf):
    with shelf.store.begin() as work:
        later = NOW + timedelta(hours=2)
        asked = work.rounds.open_(shelf.keeper.id, shelf.id, TODAY, due_at=later, tasks=[], at=NOW)
        assert asked.is_to_come
        work.rounds.has_come(asked.id)
        assert not work.rounds.of_day(shelf.keeper.id, TODAY).is_to_come


@pytest.fixture
def remind(shelf):
    def made(*tags, at=NOW, **more):
        with shelf.store.begin() as work:
            change = work.journal.change(shelf.id, shelf.keeper.id, at=NOW, origin=None)
            wanted = {"day": TODAY, "time": time(9, 0), "repeats": None} | more
            return change, work.reminders.add(
                change, what="feed her", tags=tags, next_at=at, zone="Europe/Berlin", **wanted
            )

    return made


def due(shelf, now=NOW, limit=10):
    with shelf.store.look() as work:
        return [one.id for one in work.reminders.due(now, limit)]


def test_a_reminder_is_told_when_its_time_has_come_then_moved_or_closed(shelf, remind):
    _, number = remind("A2", "A1", at=NOW + MINUTE, repeats="FREQ=DAILY;INTERVAL=10")
    assert due(shelf) == []
    assert due(shelf, NOW + MINUTE) == [number]
    with shelf.store.begin() as work:
        (open_,) = work.reminders.open(shelf.id)
        assert (open_.what, open_.tags, open_.next_at) == ("feed her", ("A1", "A2"), NOW + MINUTE)
        assert (open_.day, open_.time, open_.repeats) == (TODAY, time(9, 0), "FREQ=DAILY;INTERVAL=10")
        assert (open_.zone, open_.keeper_id) == ("Europe/Berlin", shelf.keeper.id)
        work.reminders.moved(number, NOW + timedelta(days=10))
    assert due(shelf, NOW + MINUTE) == []
    with shelf.store.begin() as work:
        work.reminders.end(number)
        assert work.reminders.open(shelf.id) == ()
    assert due(shelf, NOW + timedelta(days=10)) == []


def test_no_reminder_is_told_of_an_animal_that_is_gone_until_it_is_back(shelf, remind):
    _, for_one = remind("A1")
    _, for_two = remind("A1", "A2")
    _, for_none = remind()
    died = shelf.log(entry("died", "A1"))
    assert due(shelf) == [for_two, for_none]
    with shelf.store.look() as work:
        assert [one.tags for one in work.reminders.open(shelf.id)] == [("A2",), ()]
    shelf.undo(died)
    assert due(shelf) == [for_one, for_two, for_none]


def test_a_second_look_is_due_like_a_reminder_and_listed_apart(shelf, remind):
    _, look = remind(of_round=True)
    _, number = remind()
    assert due(shelf) == [look, number]
    with shelf.store.look() as work:
        assert [one.id for one in work.reminders.open(shelf.id)] == [number]
        assert work.reminders.count_open(shelf.id) == 1
        assert [one.id for one in work.reminders.second_looks(shelf.id, shelf.keeper.id)] == [look]
        assert work.reminders.second_looks(shelf.id, shelf.keeper.id + 1) == ()


def test_reminders_of_one_who_stopped_the_bot_wait(shelf, remind):
    _, number = remind("A1")
    with shelf.store.begin() as work:
        work.keepers.pause(shelf.keeper.id)
    assert due(shelf) == []
    with shelf.store.begin() as work:
        work.keepers.resume(shelf.keeper.id)
    assert due(shelf) == [number]


def test_photos_are_found_by_animal_and_shelf_and_go_with_their_change(shelf):
    change = shelf.log(entry("molted", "A1"))
    other = shelf_in(shelf.store, "Birch (invented)")
    with shelf.store.begin() as work:
        first = work.photos.add(change, "a1", reference="r1", path=None, at=NOW)
        second = work.photos.add(change, None, reference="r2", path="p/2.jpg", at=NOW + MINUTE, size=(8, 6))
        assert [one.id for one in work.photos.of(shelf.id, "A1")] == [first]
        newest, _ = work.photos.of(shelf.id, None)
        assert (newest.id, newest.tag, newest.path, newest.size) == (second, None, "p/2.jpg", (8, 6))
        assert work.photos.of(other.id, None) == ()
    shelf.undo(change)
    with shelf.store.look() as work:
        assert work.photos.of(shelf.id, "A1") == ()


def test_a_bookmark_is_kept_by_name(store):
    with store.begin() as work:
        assert work.bookmarks.get("telegram") == {}
        work.bookmarks.set("telegram", {"heard": 1})
        work.bookmarks.set("telegram", {"heard": 2})
        assert work.bookmarks.get("telegram") == {"heard": 2}
        assert work.bookmarks.get("clock") == {}


def test_what_was_handled_set_aside_and_sent_long_ago_can_be_swept_away_and_nothing_else(store):
    day = timedelta(days=1)
    with store.begin() as work:
        for number in range(5):
            put(work, number, chat=str(number))
        first, second, aside, late, _waits = work.inbox.waiting(5)
        for one, at in ((first, NOW - 9 * day), (second, NOW - 9 * day), (late, NOW)):
            work.inbox.done(one.id, at=at)
        work.inbox.set_aside(aside.id, "not understood", at=NOW - 9 * day)
        assert work.inbox.sweep(NOW - 7 * day, limit=1) == 1
        assert work.inbox.sweep(NOW - 7 * day, limit=9) == 2
        assert work.inbox.sweep(NOW - 7 * day, limit=9) == 0
        assert set(work.connection.execute(select(t.inbox.c.update_id)).scalars()) == {3, 4}

        sent, failed, fresh, waits = say(work, key="k"), say(work), say(work), say(work)
        work.outbox.sent(sent, message_ref=None, at=NOW - 9 * day)
        work.outbox.failed(failed, "blocked", at=NOW - 9 * day)
        work.outbox.sent(fresh, message_ref=None, at=NOW)
        assert work.outbox.sweep(NOW - 7 * day, limit=9) == 2
        assert set(work.connection.execute(select(t.outbox.c.id)).scalars()) == {fresh, waits}
