"""Column types: the same Python value on every database, and a refusal where it would be changed."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime
from decimal import Decimal, InvalidOperation
from functools import lru_cache
from typing import Any, Final

from sqlalchemy import BigInteger, DateTime, Integer, Text
from sqlalchemy.engine import Dialect
from sqlalchemy.types import TypeDecorator

from storage.errors import NotStorableError

#: Row numbers. SQLite only numbers rows by itself where the type is the word INTEGER.
RowNumber: Final = BigInteger().with_variant(Integer(), "sqlite")

_THOUSAND: Final = Decimal(1000)
_MOST_THOUSANDTHS: Final = 10**15


class Instant(TypeDecorator[datetime]):
    """A moment: aware in, aware UTC out. A naive datetime raises :class:`NotStorableError`."""

    impl = DateTime(timezone=True)
    cache_ok = True

    def process_bind_param(self, value: datetime | None, dialect: Dialect) -> datetime | None:
        """The moment in UTC; without its zone where the database has no place for one."""
        if value is None:
            return None
        if value.tzinfo is None:
            raise NotStorableError("A moment without its time zone cannot be stored.")
        moment = value.astimezone(UTC)
        return moment.replace(tzinfo=None) if dialect.name == "sqlite" else moment

    def process_result_value(self, value: datetime | None, dialect: Dialect) -> datetime | None:
        """The moment, aware, in UTC."""
        if value is None:
            return None
        return value.replace(tzinfo=UTC) if value.tzinfo is None else value.astimezone(UTC)


def exact(amount: Decimal) -> Decimal:
    """The amount as the store keeps it: rounded to thousandths, half to even."""
    return _from_thousandths(_thousandths(amount))


def _thousandths(amount: Decimal) -> int:
    if isinstance(amount, float):
        raise NotStorableError("An amount must be an exact decimal, not a binary float.")
    try:
        parts = int((amount * _THOUSAND).to_integral_value())
    except (InvalidOperation, ValueError, OverflowError):
        raise NotStorableError("An amount that is not a number cannot be stored.") from None
    if abs(parts) > _MOST_THOUSANDTHS:
        raise NotStorableError("That amount is too large to be stored.")
    return parts


@lru_cache(maxsize=4096)  # most amounts are those of others: 1 cricket, 12 cm
def _from_thousandths(parts: int) -> Decimal:
    return Decimal(parts) / _THOUSAND


class Thousandths(TypeDecorator[Decimal]):
    """An exact decimal, kept as a whole number of thousandths so that sums stay exact."""

    impl = BigInteger
    cache_ok = True

    def process_bind_param(self, value: Decimal | None, dialect: Dialect) -> int | None:
        """The whole number of thousandths."""
        return None if value is None else _thousandths(value)

    def result_processor(self, dialect: Dialect, coltype: Any) -> Callable[[int | None], Decimal | None]:
        """What makes the decimal; with no step between, since entries have many amounts, most empty."""
        return _decimal


def _decimal(parts: int | None) -> Decimal | None:
    return None if parts is None else _from_thousandths(parts)


def storable_words(words: str) -> str:
    """The words without what no database keeps: NUL characters and lone surrogates."""
    if "\x00" in words:
        words = words.replace("\x00", "")
    try:
        words.encode()
    except UnicodeEncodeError:
        return words.encode(errors="replace").decode()
    return words


class Words(TypeDecorator[str]):
    """What people write: any text, rid of characters that databases refuse or cut off at."""

    impl = Text
    cache_ok = True

    def process_bind_param(self, value: Any, dialect: Dialect) -> str | None:
        """The text that every database takes."""
        return None if value is None else storable_words(value)
