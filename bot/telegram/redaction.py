"""Logs that may be shown to anyone: one JSON object a line, no token, nothing that a keeper wrote.

Rules: the token and every address that could hold one are blotted out of whatever is logged, also
out of tracebacks; of an error only its kind and the places in the code are told, since its message
may quote a keeper; the libraries below may speak only of warnings, the Telegram library not at all,
since it logs whole requests.
"""

from __future__ import annotations

import json
import logging
import re
import sys
import traceback
from collections.abc import Iterator
from datetime import UTC, datetime
from typing import IO, Any, Final

from storage.errors import StoreUnavailableError

_BLOT: Final = "[token]"
#: A bot's token wherever it stands: digits, a colon (or its escape in an address), the secret part.
_TOKEN_LIKE: Final = re.compile(r"\d{3,}(?::|%3A)[A-Za-z0-9_-]{20,}", re.IGNORECASE)
_BOT_ADDRESS: Final = re.compile(r"/(file/)?bot[^/\s]+/")
#: Errors whose own words never quote a keeper.
_HARMLESS: Final = (ImportError, StoreUnavailableError)
_OURS: Final = ("bot", "storage")
_QUIET: Final = {
    "telegram": logging.CRITICAL,
    "httpx": logging.WARNING,
    "httpcore": logging.WARNING,
    "apscheduler": logging.WARNING,
    "sqlalchemy": logging.WARNING,
    "asyncio": logging.WARNING,
}
_USUAL: Final = frozenset(logging.makeLogRecord({}).__dict__) | {"message", "asctime", "taskName"}


class Redactor:
    """Blots a secret, and all that looks like one, out of a text."""

    def __init__(self, secret: str) -> None:
        self._secret = secret

    def __call__(self, text: str) -> str:
        """The text without the secret."""
        for part in (self._secret, self._secret.replace(":", "%3A")):
            text = text.replace(part, _BLOT)
        return _BOT_ADDRESS.sub(f"/bot{_BLOT}/", _TOKEN_LIKE.sub(_BLOT, text))


class SafeFormatter(logging.Formatter):
    """One JSON object for a record: when, how grave, from where, what, and the fields given as ``extra``."""

    def __init__(self, redact: Redactor) -> None:
        super().__init__()
        self._redact = redact

    def format(self, record: logging.LogRecord) -> str:
        """The line."""
        line: dict[str, Any] = {
            "at": datetime.fromtimestamp(record.created, UTC).isoformat(timespec="milliseconds"),
            "level": record.levelname,
            "from": record.name,
            "what": record.getMessage(),
        }
        line |= {key: value for key, value in record.__dict__.items() if key not in _USUAL}
        if record.exc_info and record.exc_info[1]:
            line["error"] = kind_of(record.exc_info[1])
            if isinstance(record.exc_info[1], _HARMLESS):
                line["says"] = str(record.exc_info[1])
            line["places"] = list(places_of(record.exc_info[1]))
        return self._redact(json.dumps(line, default=str, ensure_ascii=False))


class _BlotRecord(logging.Filter):
    """The same for whatever other handler a record comes to after ours."""

    def __init__(self, redact: Redactor) -> None:
        super().__init__()
        self._redact = redact

    def filter(self, record: logging.LogRecord) -> bool:
        record.msg, record.args = self._redact(record.getMessage()), None
        return True


def kind_of(error: BaseException) -> str:
    """What kind of error it is, and of what kind its cause: never what it says."""
    cause = error.__cause__ or error.__context__
    return type(error).__name__ + (f" from {type(cause).__name__}" if cause else "")


def places_of(error: BaseException) -> Iterator[str]:
    """Where an error went through the code, outermost first."""
    for frame in traceback.extract_tb(error.__traceback__):
        yield f"{frame.filename.rsplit('site-packages/')[-1]}:{frame.lineno} {frame.name}"


def log_safely(*, token: str, level: str, stream: IO[str] | None = None) -> logging.Handler:
    """Sends all logs through one safe handler; ours at ``level``, those of libraries as listed above."""
    redact = Redactor(token)
    handler = logging.StreamHandler(stream or sys.stderr)
    handler.setFormatter(SafeFormatter(redact))
    handler.addFilter(_BlotRecord(redact))
    root = logging.getLogger()
    root.handlers[:] = [handler]
    root.setLevel(logging.WARNING)
    for name in _OURS:
        logging.getLogger(name).setLevel(level)
    for name, least in _QUIET.items():
        logging.getLogger(name).setLevel(least)
    logging.captureWarnings(True)
    return handler
