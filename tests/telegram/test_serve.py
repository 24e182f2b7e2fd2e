"""``serve`` over HTTP against the stand-in, with a small conversation: days good and bad."""

import signal
import time
from datetime import UTC, datetime
from datetime import time as time_of_day
from pathlib import Path

import pytest

from bot.terms import KeeperSettings
from storage import Store
from tests.telegram.serving import SMALL
from tests.telegram.stand_in import INTERNAL, LOST, LOST_AFTER_DELIVERY, Fault, too_many


async def test_a_day_at_the_shelf(api, serving):
    await serving.start()
    api.says("/start")
    number = api.says("fed Ink two crickets")
    await api.until(lambda: len(api.texts()) == 2)
    api.edits(number, "fed Ink three crickets")
    await api.until(lambda: "changed fed Ink three crickets" in api.texts())
    api.says("ask")
    await api.until(lambda: api.texts()[-1] == "Which?")
    question = api.seen()[-1]
    first, second = api.presses(question, "This"), api.presses(question, "This")
    await api.until(lambda: question.text == "already done")
    await api.until(lambda: set(api.answered) == {first, second})
    sizes = [{"file_id": "p", "file_unique_id": "u", "width": 9, "height": 9}]
    for caption in ({"caption": "Ink molted"}, {}, {}):
        api.says(photo=sizes, media_group_id="a", **caption)
    api.says(sticker={"file_id": "s"})
    await api.until(lambda: api.texts()[-1] == "I cannot read a sticker.")
    assert await serving.stop() == 0
    assert (api.refused, len(api.answered)) == ([], 2)
    assert api.texts()[0] == "Hello Ada"
    assert api.texts().count("stored Ink molted") == 1
    assert serving.notes() == [
        "fed Ink two crickets",
        "fed Ink three crickets",
        f"pressed {question.keyboard or 1}",
        "Ink molted",
    ]
    assert ("deleteWebhook", {"drop_pending_updates": "false"}) in api.requests
    assert {command["command"] for command in api.commands} >= {"round", "undo", "help", "settings"}


async def test_it_stops_without_sitting_out_a_long_poll_or_a_wait_it_was_told(api, serving):
    await serving.start(BURROWBELL_POLL_TIMEOUT="50")
    api.fails("sendMessage", too_many(60))
    api.says("fed Ink")
    await api.until(lambda: api.count("sendMessage") == 1)
    began = time.monotonic()
    assert await serving.stop(signal.SIGINT) == 0
    assert time.monotonic() - began < 45  # the poll lasts 50 s and the wait 60 s
    await serving.start()
    await api.until(lambda: api.texts() == ["Hello Ada", "stored fed Ink"])


async def test_a_refused_token_ends_it_with_one_clear_line_and_status_two(api, serving):
    await serving.start(BURROWBELL_TOKEN="4242:" + "x" * 35)
    assert await serving.ends() == 2
    assert "BURROWBELL_TOKEN" in serving.logged()
    assert "x" * 20 not in serving.logged()


async def test_a_token_refused_later_ends_it_as_well(api, serving):
    await serving.start()
    api.says("fed Ink")
    await api.until(api.texts)
    api.token = "4242:" + "y" * 35
    assert await serving.ends() == 2


async def test_lost_network_is_waited_out_at_the_start_and_later(api, serving):
    await api.stop()
    await serving.start()
    api.says("fed Ink")
    await api.until(lambda: "out of reach" in serving.logged())
    await api.start()
    await api.until(lambda: api.texts() == ["Hello Ada", "stored fed Ink"])
    await api.stop()
    await api.until(lambda: "no updates" in serving.logged())
    api.says("fed Mole")
    await api.start()
    await api.until(lambda: api.texts()[2:] == ["stored fed Mole"])
    assert serving.process.returncode is None


async def test_faults_of_the_server_lose_nothing(api, serving):
    api.fails("getUpdates", INTERNAL, LOST, too_many(1), Fault(502, "Bad Gateway"), LOST_AFTER_DELIVERY)
    api.fails("sendMessage", INTERNAL, too_many(1), LOST)
    await serving.start()
    for text in ("one", "two", "three"):
        api.says(text)
    await api.until(lambda: len(api.texts()) == 4)
    assert api.texts() == ["Hello Ada", "stored one", "stored two", "stored three"]
    assert serving.process.returncode is None


async def test_what_cannot_be_read_is_set_aside_and_what_is_behind_it_is_handled(api, serving):
    await serving.start()
    for broken in ("?", {"chat": {"id": 7, "type": "private"}, "from": 3}, None, ["x"]):
        api.sends(message=broken)
    api.sends()
    for text in ("fed Mole", "slip", "fed Ink"):
        api.says(text)
    await api.until(lambda: api.texts() and api.texts()[-1] == "stored fed Ink")
    _hello, _stored, told, *_ = api.texts()
    assert "nothing of it was stored" in told
    polls = api.count("getUpdates")
    await api.until(lambda: api.count("getUpdates") > polls)
    assert api.waiting == 0
    assert polls < 20
    assert "a slip that quotes" not in serving.logged()
    assert "ZeroDivisionError" in serving.logged()


async def test_no_log_ever_holds_the_token_or_what_a_keeper_wrote(api, serving):
    await api.stop()
    await serving.start(BURROWBELL_LOG_LEVEL="DEBUG")
    await api.until(lambda: "out of reach" in serving.logged())
    api.says("fed Ink secretly")
    await api.start()
    await api.until(api.texts)
    api.fails("sendMessage", LOST, INTERNAL, Fault(400, "Bad Request: secretly"))
    for text in ("secretly one", "secretly two", "secretly slip"):
        api.says(text)
    await api.until(lambda: "refused as wrong" in serving.logged())
    assert await serving.stop() == 0
    logged = serving.logged()
    assert logged
    for secret in (api.token, api.token.split(":")[1], "secretly", "Ada"):
        assert secret not in logged


async def test_who_writes_while_many_rounds_go_out_is_answered_at_once(api, serving):
    store, now = Store.open(serving.url), datetime.now(UTC)
    with store.begin() as work:
        for user in range(1000, 1200):
            always = time_of_day(0, 0)
            keeper = work.keepers.create("Bo", KeeperSettings(quiet_from=always, quiet_to=always), at=now)
            work.keepers.link(keeper.id, "telegram", str(user))
            work.keepers.set_next_round(keeper.id, now)
    store.close()
    await serving.start()
    await api.until(lambda: api.count("sendMessage") >= 20)
    api.says("fed Ink")
    await api.until(lambda: "stored fed Ink" in api.texts())
    assert api.count("sendMessage") < 150
    await api.until(lambda: sum(len(api.texts(user)) for user in range(1000, 1200)) == 200)
    assert {len(api.texts(user)) for user in range(1000, 1200)} == {1}


async def test_the_keepers_languages_are_learned_before_the_first_message_is_taken_up(api, serving):
    store, now = Store.open(serving.url), datetime.now(UTC)
    with store.begin() as work:
        for user, language in ((7, "de"), (8, "es")):
            keeper = work.keepers.create("Bo", KeeperSettings(language=language), at=now)
            work.keepers.link(keeper.id, "telegram", str(user))
        work.keepers.pause(keeper.id)
    store.close()
    api.says("learned?")
    await serving.start()
    await api.until(lambda: api.texts() == ["de en"])


async def test_it_needs_less_than_130_megabytes(api, serving):
    serving.command = SMALL
    await serving.start()
    for n in range(20):
        api.says(f"fed Ink {n}", user=7 + n % 3)
    await api.until(lambda: sum(len(api.texts(user)) for user in (7, 8, 9)) >= 20)
    status = Path(f"/proc/{serving.process.pid}/status")
    if not status.exists():
        pytest.skip("needs /proc")
    peak = int(status.read_text().split("VmHWM:")[1].split()[0]) / 1024
    assert peak < 130
