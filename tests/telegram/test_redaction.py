"""Logs may be shown to anyone."""

import io
import json
import logging

import httpx
import pytest

from bot.telegram.poller import TokenRefusedError
from bot.telegram.redaction import log_safely
from bot.telegram.service import _first

TOKEN = "4242:a-token_of-the-tests-0123456789abc"


@pytest.fixture
def logs():
    root = logging.getLogger()
    kept = root.handlers[:], root.level
    levels = {name: logging.getLogger(name).level for name in ("bot", "storage", "telegram", "httpx")}
    stream = io.StringIO()
    log_safely(token=TOKEN, level="DEBUG", stream=stream)
    yield stream
    root.handlers[:], root.level = kept
    for name, level in levels.items():
        logging.getLogger(name).setLevel(level)
    logging.captureWarnings(False)


def lines(logs):
    return [json.loads(line) for line in logs.getvalue().splitlines()]


def fail():
    try:
        raise httpx.ConnectError(f"https://api.telegram.org/bot{TOKEN}/getMe")
    except httpx.ConnectError as cause:
        raise RuntimeError(f"while asking with {TOKEN}: fed Ink secretly") from cause


def test_a_line_is_one_json_object_with_its_fields(logs):
    logging.getLogger("bot.x").info("stored", extra={"update": 7})
    (line,) = lines(logs)
    assert (line["level"], line["from"], line["what"], line["update"]) == ("INFO", "bot.x", "stored", 7)


@pytest.mark.parametrize(
    "said",
    [
        TOKEN,
        f"https://api.telegram.org/bot{TOKEN}/sendMessage",
        f"https://api.telegram.org/file/bot{TOKEN}/photos/1.jpg",
        TOKEN.replace(":", "%3A"),
        "99887766:another-token-that-nobody-told-us-of",
        "http://127.0.0.1/bot123:short/getMe",
    ],
)
def test_neither_the_token_nor_anything_like_it_is_logged(logs, said):
    logging.getLogger("bot.x").warning("it said %s", said)
    logging.getLogger("bot.x").warning("as a field", extra={"said": said})
    assert said not in logs.getvalue()
    assert "short" not in logs.getvalue()
    assert len(lines(logs)) == 2


def test_of_an_error_the_kind_and_the_places_are_logged_and_not_what_it_says(logs):
    try:
        fail()
    except RuntimeError:
        logging.getLogger("bot.x").exception("tripped")
    (line,) = lines(logs)
    assert line["error"] == "RuntimeError from ConnectError"
    assert any("test_redaction.py" in place and place.endswith(" fail") for place in line["places"])
    assert TOKEN not in logs.getvalue()
    assert "secretly" not in logs.getvalue()


def test_libraries_that_log_whole_requests_are_silent(logs):
    for name in ("telegram.Bot", "telegram.request.BaseRequest", "httpx", "httpcore.connection"):
        logging.getLogger(name).info("payload: fed Ink secretly")
    logging.getLogger("telegram.request.BaseRequest").error("payload: fed Ink secretly")
    assert logs.getvalue() == ""


def test_a_handler_of_others_gets_the_record_without_the_token(logs):
    seen = []
    other = logging.Handler()
    other.emit = lambda record: seen.append(record.getMessage())
    logging.getLogger().addHandler(other)
    logging.getLogger("bot.x").warning("it said %s", TOKEN)
    assert seen == ["it said [token]"]


def test_of_several_errors_at_once_a_refused_token_is_the_one_that_counts():
    refused = TokenRefusedError()
    assert _first(ExceptionGroup("x", [OSError(), ExceptionGroup("y", [refused])])) is refused
