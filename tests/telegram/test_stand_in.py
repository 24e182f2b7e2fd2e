"""The stand-in is as strict as the thing it stands for, as the Bot API describes it."""

import asyncio
import json
import time

import aiohttp
import pytest

from tests.telegram.bot_api_rules import BadRequestError, check, visible
from tests.telegram.stand_in import BLOCKED, LOST, LOST_AFTER_DELIVERY, too_many


@pytest.fixture
async def call(api):
    async with aiohttp.ClientSession() as session:

        async def post(method, *, token=api.token, **given):
            data = {
                key: value if isinstance(value, str) else json.dumps(value) for key, value in given.items()
            }
            async with session.post(f"{api.url}/bot{token}/{method}", data=data) as answer:
                return answer.status, await answer.json()

        yield post


def keyboard(*rows):
    return {
        "inline_keyboard": [[{"text": text, "callback_data": data} for text, data in row] for row in rows]
    }


@pytest.mark.parametrize(
    ("method", "given", "why"),
    [
        ("sendMessage", {"chat_id": 7}, "text is empty"),
        ("sendMessage", {"text": "x"}, "chat_id is empty"),
        ("sendMessage", {"chat_id": 7, "text": " "}, "message text is empty"),
        ("sendMessage", {"chat_id": 7, "text": "x" * 4097}, "too long"),
        ("sendMessage", {"chat_id": 7, "text": "🕷" * 2049}, "too long"),
        ("sendMessage", {"chat_id": "seven", "text": "x"}, "not of type chat"),
        ("sendMessage", {"chat_id": 7, "text": "x", "colour": "red"}, "colour"),
        ("sendMessage", {"chat_id": 7, "text": "a < b", "parse_mode": "HTML"}, "can't parse entities"),
        ("sendMessage", {"chat_id": 7, "text": "<b>x", "parse_mode": "HTML"}, "can't find end tag"),
        ("sendMessage", {"chat_id": 7, "text": "<p>x</p>", "parse_mode": "HTML"}, "unsupported start tag"),
        ("sendMessage", {"chat_id": 7, "text": "<b><i>x</b></i>", "parse_mode": "HTML"}, "unexpected end"),
        ("sendMessage", {"chat_id": 7, "text": "a &nbsp; b", "parse_mode": "HTML"}, "unsupported entity"),
        ("sendMessage", {"chat_id": 7, "text": "x", "parse_mode": "Prose"}, "unsupported parse_mode"),
        ("sendMessage", {"chat_id": 7, "text": "x", "reply_markup": keyboard([("a", "")])}, "BUTTON_DATA"),
        (
            "sendMessage",
            {"chat_id": 7, "text": "x", "reply_markup": keyboard([("a", "я" * 33)])},
            "BUTTON_DATA",
        ),
        ("sendMessage", {"chat_id": 7, "text": "x", "reply_markup": keyboard([(" ", "a")])}, "text is empty"),
        (
            "sendMessage",
            {"chat_id": 7, "text": "x", "reply_markup": keyboard([("a", "a")] * 9)},
            "markup is too long",
        ),
        (
            "sendMessage",
            {"chat_id": 7, "text": "x", "reply_markup": keyboard(*[[("a", "a")]] * 101)},
            "markup is too long",
        ),
        ("sendPhoto", {"chat_id": 7, "photo": "f", "caption": "x" * 1025}, "too long"),
        ("answerCallbackQuery", {"callback_query_id": "1", "text": "x" * 201}, "TOO_LONG"),
        ("setMyCommands", {"commands": [{"command": "Fed", "description": "x"}]}, "COMMAND_INVALID"),
    ],
)
def test_a_request_beyond_the_rules_is_refused(method, given, why):
    with pytest.raises(BadRequestError, match=why):
        check(method, given)


def test_a_request_within_the_rules_is_read():
    text = "🕷" * 2048
    given = {"chat_id": "7", "text": text, "reply_markup": json.dumps(keyboard([("я", "я" * 32)] * 8))}
    assert check("sendMessage", given)["chat_id"] == 7
    assert visible('<b>a</b> &lt; <a href="x">b</a> &amp;') == "a < b &"


async def test_an_unknown_method_and_a_wrong_token_are_refused(call):
    assert (await call("sendFlowers"))[0] == 404
    assert (await call("getMe", token="4242:other"))[0] == 401


async def test_updates_come_again_until_the_offset_confirms_them(api, call):
    first, second = api.sends(message={}), api.sends(message={})

    async def ids(**given):
        return [update["update_id"] for update in (await call("getUpdates", **given))[1]["result"]]

    assert await ids() == [first, second]
    assert await ids(limit=1) == [first]
    assert await ids(offset=first + 1) == [second]
    assert await ids() == [second]
    assert await ids(offset=second + 1) == []
    assert api.waiting == 0


async def test_a_negative_offset_forgets_all_before_it(api, call):
    api.sends(message={})
    last = api.sends(message={})
    result = (await call("getUpdates", offset=-1))[1]["result"]
    assert [update["update_id"] for update in result] == [last]
    assert api.waiting == 1


async def test_only_the_kinds_asked_for_are_kept(api, call):
    await call("getUpdates", allowed_updates=["message"])
    api.sends(message_reaction={})
    kept = api.sends(message={})
    assert [u["update_id"] for u in (await call("getUpdates"))[1]["result"]] == [kept]


async def test_a_long_poll_waits_for_an_update_and_no_longer(api, call):
    poll = asyncio.create_task(call("getUpdates", timeout=20))
    await asyncio.sleep(0.05)
    assert not poll.done()
    api.sends(message={})
    assert (await asyncio.wait_for(poll, 2))[1]["result"]
    began = time.monotonic()
    await call("getUpdates", offset=5000, timeout=1)
    assert time.monotonic() - began > 0.9


async def test_a_second_poll_ends_the_first(api, call):
    first = asyncio.create_task(call("getUpdates", timeout=20))
    await asyncio.sleep(0.05)
    second = asyncio.create_task(call("getUpdates", timeout=20))
    assert (await asyncio.wait_for(first, 2))[0] == 409
    api.sends(message={})
    assert (await asyncio.wait_for(second, 2))[0] == 200


async def test_faults_come_in_their_order_and_then_all_is_well(api, call):
    api.fails("sendMessage", too_many(3), BLOCKED, LOST, LOST_AFTER_DELIVERY)
    status, answer = await call("sendMessage", chat_id=7, text="x")
    assert (status, answer["parameters"]) == (429, {"retry_after": 3})
    assert (await call("sendMessage", chat_id=7, text="x"))[0] == 403
    for delivered in (0, 1):
        with pytest.raises(aiohttp.ClientError):
            await call("sendMessage", chat_id=7, text="x")
        assert len(api.seen()) == delivered
    assert (await call("sendMessage", chat_id=7, text="y"))[0] == 200
    assert api.texts() == ["x", "y"]


async def test_an_edit_changes_what_is_seen_and_the_same_again_is_refused(api, call):
    sent = (await call("sendMessage", chat_id=7, text="x"))[1]["result"]
    given = {"chat_id": 7, "message_id": sent["message_id"], "text": "y"}
    assert (await call("editMessageText", **given))[0] == 200
    status, answer = await call("editMessageText", **given)
    assert status == 400
    assert "message is not modified" in answer["description"]
    assert (await call("editMessageText", **given | {"message_id": 999}))[0] == 400
    assert api.texts() == ["y"]


async def test_a_query_is_answered_once(api, call):
    await call("sendMessage", chat_id=7, text="x", reply_markup=keyboard([("Undo", "p1:0")]))
    query = api.presses(api.seen()[0], "Undo")
    assert (await call("answerCallbackQuery", callback_query_id=query))[0] == 200
    assert (await call("answerCallbackQuery", callback_query_id=query))[0] == 400


async def test_after_an_outage_the_address_is_the_same(api, call):
    before = api.url
    await api.stop()
    with pytest.raises(aiohttp.ClientError):
        await call("getMe")
    await api.start()
    assert api.url == before
    assert (await call("getMe"))[0] == 200
