"""A small stand-in for the Bot API over HTTP: strict about requests, true to offsets and long polls.

    async with StandIn() as api:
        api.says("fed Ink two crickets")
        await api.until(lambda: api.texts())

People write with :meth:`StandIn.says`, :meth:`~StandIn.presses` and so on; what the bot sent is in
:attr:`StandIn.chats`, as a person would see it, and every request in :attr:`StandIn.requests`.
Faults are queued for a method with :meth:`StandIn.fails`. ``python -m tests.telegram.by_hand`` lets
a person talk to the bot through it.
"""

from __future__ import annotations

import asyncio
import itertools
import time
from collections import defaultdict, deque
from collections.abc import Callable
from dataclasses import dataclass, field
from http import HTTPStatus
from typing import Any, Self

from aiohttp import ClientSession, web

from tests.telegram import updates as make
from tests.telegram.bot_api_rules import METHODS, BadRequestError, check

TOKEN = "4242:stand-in-token-of-the-tests-0123456789"
_KEPT_OPEN = 0.01
# For how many seconds a test waits before it gives up: long, since a busy machine is no fault.
PATIENCE = 120.0


@dataclass(frozen=True)
class Fault:
    """What goes wrong with one request.

    ``status`` with ``description`` and ``parameters`` is an answer of refusal. ``drop`` closes the
    connection; ``hang`` waits so many seconds before it answers. With ``delivered`` the request is
    carried out first, so that only the answer is lost.
    """

    status: int = 0
    description: str = ""
    parameters: dict[str, Any] | None = None
    drop: bool = False
    hang: float = 0.0
    delivered: bool = False


def too_many(seconds: int) -> Fault:
    return Fault(429, f"Too Many Requests: retry after {seconds}", {"retry_after": seconds})


BLOCKED = Fault(403, "Forbidden: bot was blocked by the user")
INTERNAL = Fault(500, "Internal Server Error")
LOST = Fault(drop=True)
LOST_AFTER_DELIVERY = Fault(drop=True, delivered=True)


@dataclass
class Shown:
    """A message of the bot as a person sees it in a chat."""

    chat: int
    number: int
    text: str
    keyboard: list[list[dict[str, str]]] = field(default_factory=list)
    silent: bool = False
    photo: bool = False
    edits: int = 0

    def button(self, label: str) -> str:
        """The data of the button with this label."""
        return next(b["callback_data"] for row in self.keyboard for b in row if b["text"] == label)


class StandIn:
    """The server, the people who write, and what they see."""

    def __init__(self, token: str = TOKEN) -> None:
        self.token = token
        self.me = dict(make.BOT)
        self.requests: list[tuple[str, dict[str, Any]]] = []
        self.refused: list[tuple[str, str]] = []
        self.chats: dict[int, list[Shown]] = defaultdict(list)
        self.answered: list[str] = []
        self.commands: list[dict[str, str]] = []
        self.webhook: dict[str, Any] = {}
        self.blocked: set[int] = set()
        self.migrated: dict[int, int] = {}
        self.confirmed = 0
        self.files: dict[str, bytes] = {}
        self._updates: deque[dict[str, Any]] = deque()
        self._faults: dict[str, deque[Fault]] = defaultdict(deque)
        self._allowed: list[str] = []
        self._open_queries: set[str] = set()
        self._update_ids = itertools.count(1001)
        self._message_ids = itertools.count(11)
        self._polls = itertools.count(1)
        self._current_poll = 0
        self._wake = asyncio.Event()
        self._changed = asyncio.Event()
        self._runner: web.AppRunner | None = None
        self.url = ""

    async def __aenter__(self) -> Self:
        await self.start()
        return self

    async def __aexit__(self, *_exc: object) -> None:
        await self.stop()

    async def start(self, port: int = 0) -> None:
        """Listens on the loopback; the address is then in ``url``."""
        app = web.Application(client_max_size=60 * 2**20)
        app.router.add_route("*", "/bot{token}/{method}", self._handle)
        app.router.add_get("/file/bot{token}/{path:.+}", self._give_file)
        self._runner = web.AppRunner(app, access_log=None, shutdown_timeout=_KEPT_OPEN)
        await self._runner.setup()
        site = web.TCPSite(self._runner, "127.0.0.1", port or self._port())
        await site.start()
        self.url = f"http://127.0.0.1:{self._runner.addresses[0][1]}"

    async def stop(self) -> None:
        """Stops listening, as in an outage; ``start`` goes on at the same address."""
        if self._runner:
            self._wake.set()
            await self._runner.cleanup()
            self._runner = None

    def _port(self) -> int:
        return int(self.url.rsplit(":", 1)[1]) if self.url else 0

    # --- what people do

    def sends(self, **part: Any) -> int:
        """Queues an update of any make; its id."""
        number = next(self._update_ids)
        if self._allowed and not set(part) <= set(self._allowed):
            return number  # Telegram keeps only what was asked for at the time
        self._updates.append({"update_id": number, **part})
        self._wake.set()
        return number

    def says(self, text: str | None = None, *, user: int = 7, where: int | None = None, **more: Any) -> int:
        """A person writes; the id of the message."""
        number = next(self._message_ids)
        body = {"date": int(time.time())} | more
        self.sends(message=make.message(text, user=user, where=where, number=number, **body))
        return number

    def edits(self, number: int, text: str, *, user: int = 7, where: int | None = None) -> None:
        """A person changes a message of theirs."""
        now = {"date": int(time.time()), "edit_date": int(time.time())}
        self.sends(edited_message=make.message(text, user=user, where=where, number=number, **now))

    def presses(self, shown: Shown, label: str, *, user: int = 7, data: str | None = None) -> str:
        """A person presses the button with a label; the id of the query."""
        body = make.message(shown.text, user=user, where=shown.chat, number=shown.number) | {"from": self.me}
        query = {
            "id": str(next(self._update_ids)),
            "from": make.person(user),
            "chat_instance": "1",
            "message": body,
            "data": shown.button(label) if data is None else data,
        }
        self._open_queries.add(query["id"])
        self.sends(callback_query=query)
        return query["id"]

    # --- what people see

    def seen(self, user: int = 7) -> list[Shown]:
        """The bot's messages in a chat, oldest first."""
        return self.chats[user]

    def texts(self, user: int = 7) -> list[str]:
        """Their texts."""
        return [shown.text for shown in self.chats[user]]

    def count(self, method: str) -> int:
        """How many requests of a method came."""
        return sum(name == method for name, _ in self.requests)

    async def until(self, wish: Callable[[], Any]) -> Any:
        """Waits until a wish comes true; what it gave. Fails with what was seen when patience ends."""
        ends = time.monotonic() + PATIENCE
        while not (found := wish()):
            left = ends - time.monotonic()
            if left <= 0:
                seen = {chat: [s.text for s in shown] for chat, shown in self.chats.items()}
                raise AssertionError(f"not seen in {PATIENCE:.0f} s; seen {seen}, refused {self.refused}")
            self._changed.clear()
            try:
                await asyncio.wait_for(self._changed.wait(), min(left, 0.05))
            except TimeoutError:
                continue
        return found

    def fails(self, method: str, *faults: Fault) -> None:
        """The next requests of a method meet these faults, one each."""
        self._faults[method].extend(faults)

    @property
    def waiting(self) -> int:
        """How many updates have not been confirmed yet."""
        return len(self._updates)

    async def deliver(self, address: str) -> None:
        """Brings what waits to a webhook's own address, in order, each until it is taken."""
        async with ClientSession() as session:
            while self._updates:
                headers = {"X-Telegram-Bot-Api-Secret-Token": self.webhook.get("secret_token", "")}
                async with session.post(address, json=self._updates[0], headers=headers) as answer:
                    if answer.status == HTTPStatus.OK:
                        self.confirmed = self._updates.popleft()["update_id"]

    # --- the server

    async def _handle(self, request: web.Request) -> web.StreamResponse:
        if request.match_info["token"] != self.token:
            return _refusal(401, "Unauthorized")
        method, given = request.match_info["method"], await _parameters(request)
        self.requests.append((method, given))
        self._changed.set()
        try:
            return await self._meet_fault(request, method, given)
        except KeyError:
            self.refused.append((method, "no such method"))
            return _refusal(404, "Not Found")
        except BadRequestError as why:
            self.refused.append((method, str(why)))
            return _refusal(400, str(why))
        except _RefusedError as no:
            return no.answer

    async def _meet_fault(self, request: web.Request, method: str, given: dict[str, Any]) -> Any:
        fault = self._faults[method].popleft() if self._faults[method] else None
        if fault and fault.status:
            return _refusal(fault.status, fault.description, fault.parameters)
        result = None
        if fault is None or fault.delivered or fault.hang:
            result = await self._carry_out(method, given)
            self._changed.set()
        if fault and fault.hang:
            await asyncio.sleep(fault.hang)
        if fault and fault.drop:
            if request.transport:
                request.transport.abort()
            return web.Response()
        return web.json_response({"ok": True, "result": result})

    async def _carry_out(self, method: str, given: dict[str, Any]) -> Any:
        values = check(method, given) if method in METHODS else METHODS[method]
        return await getattr(self, f"_do_{method}")(values)

    async def _do_getMe(self, _values: dict[str, Any]) -> Any:  # noqa: N802
        return self.me | {"can_join_groups": True, "can_read_all_group_messages": False}

    async def _do_deleteWebhook(self, values: dict[str, Any]) -> Any:  # noqa: N802
        if values.get("drop_pending_updates"):
            self._updates.clear()
        return True

    async def _do_setWebhook(self, values: dict[str, Any]) -> Any:  # noqa: N802
        if not values["url"].startswith("https://"):
            raise BadRequestError("Bad Request: bad webhook: An HTTPS URL must be provided for webhook")
        self.webhook, self._allowed = values, values.get("allowed_updates", self._allowed)
        return True

    async def _do_setMyCommands(self, values: dict[str, Any]) -> Any:  # noqa: N802
        self.commands = values["commands"]
        return True

    async def _do_getUpdates(self, values: dict[str, Any]) -> Any:  # noqa: N802
        poll = self._current_poll = next(self._polls)
        self._wake.set()
        self._allowed = values.get("allowed_updates", self._allowed)
        offset, limit = values.get("offset", 0), values.get("limit", 100)
        if not 1 <= limit <= 100:
            raise BadRequestError("Bad Request: limit must be from 1 to 100")
        if offset < 0:
            offset = self._updates[max(offset, -len(self._updates))]["update_id"] if self._updates else 0
        while self._updates and self._updates[0]["update_id"] < offset:
            self.confirmed = self._updates.popleft()["update_id"]
        ends = time.monotonic() + min(values.get("timeout", 0), 50)
        while not self._updates and self._runner and (left := ends - time.monotonic()) > 0:
            self._wake.clear()
            try:
                await asyncio.wait_for(self._wake.wait(), left)
            except TimeoutError:
                break
            if poll != self._current_poll:
                text = "Conflict: terminated by other getUpdates request"
                raise _RefusedError(_refusal(409, text))
        return list(itertools.islice(self._updates, limit))

    async def _do_sendMessage(self, values: dict[str, Any]) -> Any:  # noqa: N802
        return self._show(values, values["text"])

    async def _do_sendPhoto(self, values: dict[str, Any]) -> Any:  # noqa: N802
        return self._show(values, values.get("caption", ""), photo=True)

    async def _do_sendDocument(self, values: dict[str, Any]) -> Any:  # noqa: N802
        return self._show(values, values.get("caption", ""), photo=True)

    async def _do_editMessageText(self, values: dict[str, Any]) -> Any:  # noqa: N802
        chat = self._reachable(values["chat_id"])
        shown = next((s for s in self.chats[chat] if s.number == values.get("message_id")), None)
        if shown is None or shown.photo:
            raise BadRequestError("Bad Request: message to edit not found")
        keyboard = values.get("reply_markup", {}).get("inline_keyboard", [])
        if (shown.text, shown.keyboard) == (values["text"], keyboard):
            raise BadRequestError("Bad Request: message is not modified")
        shown.text, shown.keyboard, shown.edits = values["text"], keyboard, shown.edits + 1
        return make.message(shown.text, user=chat, number=shown.number) | {"from": self.me}

    async def _do_answerCallbackQuery(self, values: dict[str, Any]) -> Any:  # noqa: N802
        query = values["callback_query_id"]
        self.answered.append(query)
        if query not in self._open_queries:
            raise BadRequestError("Bad Request: query is too old or its ID is invalid")
        self._open_queries.discard(query)
        return True

    async def _do_getFile(self, values: dict[str, Any]) -> Any:  # noqa: N802
        reference = values["file_id"]
        if reference not in self.files:
            text = "Bad Request: wrong file_id or the file is temporarily unavailable"
            raise _RefusedError(_refusal(400, text))
        size = len(self.files[reference])
        if size > 20_000_000:
            raise _RefusedError(_refusal(400, "Bad Request: file is too big"))
        about = {"file_id": reference, "file_unique_id": f"u{reference}", "file_size": size}
        return about | {"file_path": f"photos/{reference}.jpg"}

    async def _give_file(self, request: web.Request) -> web.Response:
        name = request.match_info["path"].removeprefix("photos/").removesuffix(".jpg")
        if request.match_info["token"] != self.token or name not in self.files:
            return _refusal(404, "Not Found")
        return web.Response(body=self.files[name])

    async def _do_leaveChat(self, _values: dict[str, Any]) -> Any:  # noqa: N802
        return True

    def _show(self, values: dict[str, Any], text: str, *, photo: bool = False) -> Any:
        chat = self._reachable(values["chat_id"])
        keyboard = values.get("reply_markup", {}).get("inline_keyboard", [])
        silent = values.get("disable_notification", False)
        shown = Shown(chat, next(self._message_ids), text, keyboard, silent=silent, photo=photo)
        self.chats[chat].append(shown)
        return make.message(text, user=abs(chat), where=chat, number=shown.number) | {"from": self.me}

    def _reachable(self, chat: int) -> int:
        if chat in self.migrated:
            moved = {"migrate_to_chat_id": self.migrated[chat]}
            text = "Bad Request: group chat was upgraded to a supergroup chat"
            raise _RefusedError(_refusal(400, text, moved))
        if chat in self.blocked:
            raise _RefusedError(_refusal(BLOCKED.status, BLOCKED.description))
        return chat


class _RefusedError(Exception):
    """A refusal on its way to the answer."""

    def __init__(self, answer: web.Response) -> None:
        super().__init__()
        self.answer = answer


async def _parameters(request: web.Request) -> dict[str, Any]:
    given: dict[str, Any] = dict(request.query)
    if request.content_type == "application/json":
        return given | await request.json()
    form = await request.post()
    return given | {key: value if isinstance(value, str) else value.filename for key, value in form.items()}


def _refusal(status: int, description: str, parameters: dict[str, Any] | None = None) -> web.Response:
    body = {"ok": False, "error_code": status, "description": description}
    return web.json_response(body | ({"parameters": parameters} if parameters else {}), status=status)
