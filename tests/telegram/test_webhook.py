"""Updates that are delivered: the secret is asked for, and nothing is confirmed before it is stored."""

from __future__ import annotations

import socket

import pytest
from aiohttp import ClientSession

from bot.telegram.webhook import PATH, Webhook, secret_from
from storage.errors import StoreUnavailableError
from tests.telegram import updates as make

SECRET = secret_from("4242:invented")
KNOWN = {"X-Telegram-Bot-Api-Secret-Token": SECRET}


class Kept:
    """Keeps updates in a list, or refuses as a store does that cannot be written to."""

    def __init__(self):
        self.updates, self.full = [], False

    async def __call__(self, updates):
        if self.full:
            raise StoreUnavailableError("The disk is full; free some space and try again.")
        numbers = [update["update_id"] for update in updates if isinstance(update, dict)]
        self.updates += updates if numbers else []
        return max(numbers, default=None)


@pytest.fixture
async def kept():
    return Kept()


@pytest.fixture
async def deliver(kept):
    webhook = Webhook(("127.0.0.1", 0), secret=SECRET, keep=kept)
    await webhook.start()

    async def post(body, headers=KNOWN, path=PATH):
        async with (
            ClientSession() as session,
            session.post(f"http://127.0.0.1:{webhook.port}{path}", data=body, headers=headers) as answer,
        ):
            return answer.status

    yield post
    await webhook.stop()


async def test_an_update_is_stored_before_it_is_confirmed(kept, deliver):
    assert await deliver(b'{"update_id": 7}') == 200
    assert kept.updates == [{"update_id": 7}]


async def test_what_cannot_be_stored_is_not_confirmed_so_that_it_comes_again(kept, deliver):
    kept.full = True
    assert await deliver(b'{"update_id": 7}') == 503
    kept.full = False
    assert await deliver(b'{"update_id": 7}') == 200


@pytest.mark.parametrize(
    "headers",
    [
        {},
        {"X-Telegram-Bot-Api-Secret-Token": ""},
        {"X-Telegram-Bot-Api-Secret-Token": SECRET[:-1]},
        {"X-Telegram-Bot-Api-Secret-Token": SECRET.upper()},
        {"X-Telegram-Bot-Api-Secret-Token": "\u00e9"},
    ],
)
async def test_who_does_not_know_the_secret_is_not_heard(kept, deliver, headers):
    assert await deliver(b'{"update_id": 7}', headers) == 401
    assert kept.updates == []


@pytest.mark.parametrize(
    ("body", "status"),
    [
        (b"", 400),
        (b"not json", 400),
        (b"[]", 400),
        (b"\xff\xfe", 400),
        (b"{" * 5000, 400),
        (b" " * (2 * 1024 * 1024), 413),
    ],
)
async def test_what_is_no_update_is_refused_and_the_next_is_taken(kept, deliver, body, status):
    assert await deliver(body) == status
    assert await deliver(b'{"update_id": 8}') == 200
    assert kept.updates == [{"update_id": 8}]


async def test_other_paths_lead_nowhere(deliver):
    assert await deliver(b'{"update_id": 7}', path="/") == 404


def test_the_secret_is_one_that_telegram_takes_and_tells_nothing_of_the_token():
    # Bot API, setWebhook: 1-256 characters, only A-Z, a-z, 0-9, _ and -
    assert SECRET.isalnum()
    assert SECRET.isascii()
    assert 1 <= len(SECRET) <= 256
    assert secret_from("4243:invented") != SECRET


async def test_serve_takes_delivered_updates_in_and_answers(api, serving):
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    await serving.start(
        BURROWBELL_RECEIVES="webhook",
        BURROWBELL_WEBHOOK_URL="https://bell.example/in",
        BURROWBELL_WEBHOOK_LISTEN=f"127.0.0.1:{port}",
    )
    await api.until(lambda: api.webhook)
    assert api.webhook["url"] == f"https://bell.example/in{PATH}"
    api.says("/start")
    api.says("fed Ink two crickets")
    await api.deliver(f"http://127.0.0.1:{port}{PATH}")
    await api.until(lambda: api.texts() == ["Hello Ada", "stored fed Ink two crickets"])
    assert await serving.stop() == 0
    assert api.count("getUpdates") == 0
    assert serving.notes() == ["fed Ink two crickets"]


async def test_the_same_update_delivered_twice_is_handled_once(kept, api, serving):
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    await serving.start(
        BURROWBELL_RECEIVES="webhook",
        BURROWBELL_WEBHOOK_URL="https://bell.example",
        BURROWBELL_WEBHOOK_LISTEN=f"127.0.0.1:{port}",
    )
    await api.until(lambda: api.webhook)
    body = make.says("fed Ink")
    for _ in range(3):
        api.sends(**{key: part for key, part in body.items() if key != "update_id"})
    for queued in list(api._updates):
        queued["update_id"] = 5000
    await api.deliver(f"http://127.0.0.1:{port}{PATH}")
    await api.until(lambda: "stored fed Ink" in api.texts())
    assert await serving.stop() == 0
    assert serving.notes() == ["fed Ink"]
