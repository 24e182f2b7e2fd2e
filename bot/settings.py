"""The settings of a running bot: read once at the start, validated, handed on.

They come from environment variables ``BURROWBELL_…``, a file ``.env`` in the working folder, or
files named ``burrowbell_…`` in the folder ``BURROWBELL_SECRETS_DIR`` (or the credentials folder of
the service manager), in this order.
"""

from __future__ import annotations

import os
import re
from pathlib import Path
from typing import Annotated, Any, Final, Literal, Self, TypeVar

from platformdirs import user_data_path
from pydantic import (
    AnyHttpUrl,
    Field,
    SecretStr,
    TypeAdapter,
    ValidationError,
    field_validator,
    model_validator,
)
from pydantic_settings import BaseSettings, NoDecode, SettingsConfigDict

PREFIX: Final = "BURROWBELL_"
_TOKEN: Final = re.compile(r"\d{3,}:[A-Za-z0-9_-]{30,}")
#: What the sample file has where the person's own values belong.
_PLACEHOLDER: Final = re.compile(r"(?i)put[-_ ]|your|change[-_ ]?me|example|placeholder|xxx|<|>")
_LAST_PORT: Final = 65535
_LOG_LEVELS: Final = ("DEBUG", "INFO", "WARNING", "ERROR")


class SettingsError(ValueError):
    """Settings that are missing or half-made; the message is one line that says which and what to do."""


def _default_database_url() -> str:
    """The SQLite file in the user's data folder."""
    return f"sqlite:///{user_data_path('burrowbell') / 'burrowbell.db'}"


class StoreSettings(BaseSettings):
    """Where the store is: for ``serve`` and every other command alike.

    ``photo_folder`` is where photos are kept as files; beside a SQLite file they need none named.
    """

    model_config = SettingsConfigDict(
        env_prefix=PREFIX, env_file=".env", env_file_encoding="utf-8", extra="ignore", frozen=True
    )

    database_url: str = Field(default_factory=_default_database_url)
    photo_folder: Path | None = None

    @field_validator("database_url", mode="before")
    @classmethod
    def _named(cls, value: str) -> str:
        return value or _default_database_url()

    @field_validator("photo_folder", mode="before")
    @classmethod
    def _a_folder(cls, value: str | Path | None) -> str | Path | None:
        return value or None

    @field_validator("database_url")
    @classmethod
    def _made(cls, value: str) -> str:
        if not re.match(r"(sqlite|postgresql\+psycopg)://", value):
            raise ValueError("write sqlite:///PATH or postgresql+psycopg://…")
        return value


class Settings(StoreSettings):
    """What ``serve`` needs to know, beside where the store is.

    ``keepers`` are the Telegram user ids that are answered without an invite. ``api_base_url`` is
    the Bot API's address without the token: Telegram's own, a local server's, a stand-in's.
    ``poll_timeout`` is how long one poll waits at most, in seconds.

    ``receives`` tells how updates come: this process polls for them, Telegram delivers them to
    ``webhook_url`` and so to ``webhook_listen``, or other processes take them in and this one works
    and sends. ``watch_listen`` is where figures and health are shown, nowhere if it is empty.

    ``backup_folder`` is where a copy of the store is laid each day, nowhere if it is empty; of how many
    days, weeks and months copies are kept says ``backup_keep``. With ``backup_key``, a public age key,
    the first of ``keepers`` is sent a sealed copy once a week.
    """

    token: SecretStr
    keepers: Annotated[tuple[int, ...], NoDecode] = Field(min_length=1)
    api_base_url: str = "https://api.telegram.org"
    poll_timeout: int = Field(default=50, ge=1, le=50)
    receives: Literal["poll", "webhook", "nothing"] = "poll"
    webhook_url: str = ""
    webhook_listen: str = "127.0.0.1:8080"
    watch_listen: str = "127.0.0.1:8090"
    backup_folder: str = ""
    backup_keep: Annotated[tuple[int, int, int], NoDecode] = (7, 4, 12)
    backup_key: str = ""
    log_level: str = "INFO"

    @field_validator("token", mode="after")
    @classmethod
    def _whole_token(cls, value: SecretStr) -> SecretStr:
        token = value.get_secret_value()
        if _PLACEHOLDER.search(token.split(":")[0]) or not _TOKEN.fullmatch(token):
            raise ValueError("put the bot's whole token there, as 123456789:letters and digits")
        return value

    @field_validator("keepers", mode="before")
    @classmethod
    def _several(cls, value: Any) -> Any:
        """Ids with commas or blanks between them."""
        return re.split(r"[,;\s]+", value.strip(" ,;")) if isinstance(value, str) else value

    @field_validator("keepers", mode="after")
    @classmethod
    def _people(cls, value: tuple[int, ...]) -> tuple[int, ...]:
        if any(user <= 0 for user in value):
            raise ValueError("name people by their Telegram user ids, which are above zero")
        return value

    @field_validator("api_base_url")
    @classmethod
    def _address(cls, value: str) -> str:
        TypeAdapter(AnyHttpUrl).validate_python(value)
        return value.rstrip("/")

    @field_validator("webhook_url")
    @classmethod
    def _delivered_safely(cls, value: str) -> str:
        if value and not value.startswith("https://"):
            raise ValueError("Telegram delivers to addresses that begin with https:// only")
        return value.rstrip("/")

    @field_validator("webhook_listen", "watch_listen")
    @classmethod
    def _listened_at(cls, value: str) -> str:
        if value:
            address_of(value)
        return value

    @field_validator("backup_keep", mode="before")
    @classmethod
    def _three_numbers(cls, value: Any) -> Any:
        """Days, weeks and months, with commas between."""
        numbers = re.split(r"[,;\s]+", value.strip()) if isinstance(value, str) else value
        if len(numbers) != 3 or not all(str(number).isdecimal() for number in numbers) or int(numbers[0]) < 1:
            raise ValueError("write for how many days, weeks and months copies are kept, as 7,4,12")
        return numbers

    @model_validator(mode="after")
    def _copies_whole(self) -> Self:
        if self.backup_key and not self.backup_folder:
            raise ValueError(f"{PREFIX}BACKUP_FOLDER is missing: the copies to send are made there")
        if self.backup_key and not re.fullmatch(r"age1[02-9ac-hj-np-z]{50,}", self.backup_key):
            raise ValueError(
                f"{PREFIX}BACKUP_KEY: write the public key, which begins with age1 (burrowbell key makes one)"
            )
        return self

    @model_validator(mode="after")
    def _webhook_whole(self) -> Self:
        if self.receives == "webhook" and not self.webhook_url:
            raise ValueError(f"{PREFIX}WEBHOOK_URL is missing: the https address that Telegram delivers to")
        if self.receives == "nothing" and self.database_url.startswith("sqlite"):
            raise ValueError(
                f"{PREFIX}RECEIVES: with a SQLite file one process does all; write poll or webhook"
            )
        return self

    @field_validator("log_level", mode="before")
    @classmethod
    def _level(cls, value: Any) -> str:
        level = str(value).upper()
        if level not in _LOG_LEVELS:
            raise ValueError(f"choose one of {', '.join(_LOG_LEVELS)}")
        return level


def address_of(listen: str) -> tuple[str, int]:
    """Host and port of "127.0.0.1:8080". Raises ``ValueError`` with what to write instead."""
    host, _, port = listen.rpartition(":")
    if not host or not port.isdecimal() or not 0 <= int(port) <= _LAST_PORT:
        raise ValueError("write HOST:PORT, as 127.0.0.1:8080")
    return host.strip("[]"), int(port)


_Kind = TypeVar("_Kind", bound=StoreSettings)


def load_settings(**instead: Any) -> Settings:
    """The settings, with ``instead`` in place of what the environment says.

    Raises :class:`SettingsError` for what is missing or cannot be right. No value is repeated in
    its message, since it might be the token.
    """
    return _loaded(Settings, **instead)


def load_store_settings() -> StoreSettings:
    """Where the store is, from all the places that ``serve`` looks at too. Raises :class:`SettingsError`."""
    return _loaded(StoreSettings)


def _loaded(kind: type[_Kind], **instead: Any) -> _Kind:
    try:
        return kind(**instead, _secrets_dir=_secrets_folder())
    except ValidationError as found:
        raise SettingsError("; ".join(_told(fault) for fault in found.errors(include_input=False))) from None


def _secrets_folder() -> Path | None:
    named = os.environ.get(f"{PREFIX}SECRETS_DIR") or os.environ.get("CREDENTIALS_DIRECTORY")
    folder = Path(named) if named else None
    if folder and not folder.is_dir():
        raise SettingsError(f"{PREFIX}SECRETS_DIR: there is no such folder; make it or leave it out")
    return folder


def _told(fault: Any) -> str:
    if not fault["loc"]:  # of several settings together: the message names them
        return str(fault["msg"]).removeprefix("Value error, ")
    name = PREFIX + str(fault["loc"][0]).upper()
    if fault["type"] == "missing" or fault["type"] == "too_short":
        return f"{name} is missing: set it in the environment or in .env"
    return f"{name}: {fault['msg'].removeprefix('Value error, ')}"
