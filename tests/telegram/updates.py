"""Updates as Telegram sends them, made from few words. People, chats and ids are invented."""

from __future__ import annotations

from typing import Any

BOT = {"id": 4242, "is_bot": True, "first_name": "Burrow", "username": "burrow_test_bot"}
SENT = 1_773_000_000
"""2026-03-08T20:00:00Z."""


def person(user: int = 7, name: str = "Ada") -> dict[str, Any]:
    return {"id": user, "is_bot": False, "first_name": name, "language_code": "en"}


def chat(number: int = 7) -> dict[str, Any]:
    if number > 0:
        return {"id": number, "type": "private", "first_name": "Ada"}
    return {"id": number, "type": "supergroup" if number < -(10**12) else "group", "title": "Two at a shelf"}


def message(
    text: str | None = None, *, user: int = 7, where: int | None = None, number: int = 1, **more: Any
) -> dict[str, Any]:
    body = {
        "message_id": number,
        "date": SENT,
        "chat": chat(user if where is None else where),
        "from": person(user),
    }
    if text is not None:
        body["text"] = text
    return body | more


def update(number: int = 1, **part: Any) -> dict[str, Any]:
    return {"update_id": number, **part}


def says(text: str, **more: Any) -> dict[str, Any]:
    return update(message=message(text, **more))


def presses(data: str, *, user: int = 7, where: int | None = None, shown: int = 5) -> dict[str, Any]:
    body = message("Which one?", user=user, where=where, number=shown) | {"from": BOT}
    query = {"id": "4711", "from": person(user), "chat_instance": "1", "message": body, "data": data}
    return update(callback_query=query)


def membership(status: str, *, user: int = 7, where: int | None = None) -> dict[str, Any]:
    change = {
        "chat": chat(user if where is None else where),
        "from": person(user),
        "date": SENT,
        "old_chat_member": {"user": BOT, "status": "member"},
        "new_chat_member": {"user": BOT, "status": status},
    }
    return update(my_chat_member=change)


def photo(file_id: str, width: int, height: int) -> dict[str, Any]:
    return {"file_id": file_id, "file_unique_id": f"u{file_id}", "width": width, "height": height}
