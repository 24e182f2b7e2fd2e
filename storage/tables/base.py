"""What all tables share: one set of tables, names for constraints, and short ways to write columns."""

from __future__ import annotations

from typing import Any, ClassVar, Final

from sqlalchemy import JSON, BigInteger, Column, ForeignKey, Index, MetaData, Table, text
from sqlmodel import Field, SQLModel

from storage.types import RowNumber

METADATA: Final = MetaData(
    naming_convention={
        "ix": "ix_%(table_name)s_%(column_0_N_name)s",
        "uq": "uq_%(table_name)s_%(column_0_N_name)s",
        "fk": "fk_%(table_name)s_%(column_0_N_name)s",
        "pk": "pk_%(table_name)s",
    }
)


class Stored(SQLModel):
    """The base of all tables. Rows are written and read through Core; the classes declare the schema."""

    metadata: ClassVar[MetaData] = METADATA


#: JSON columns: text on SQLite and plain ``json`` on PostgreSQL, which keeps any escape a payload has.
Json: Final = JSON(none_as_null=True)


def row_number() -> Any:
    """The table's own running number."""
    return Field(default=None, sa_column=Column(RowNumber, primary_key=True))


def of(kind: Any, **keywords: Any) -> Any:
    """A column that must be filled."""
    return Field(sa_column=Column(kind, nullable=False, **keywords))


def maybe(kind: Any, **keywords: Any) -> Any:
    """A column that may stay empty."""
    return Field(default=None, sa_column=Column(kind, nullable=True, **keywords))


def link(column: str, *, nullable: bool = False, **keywords: Any) -> Any:
    """A reference to another table's row, as ``"shelf.id"``."""
    made = Column(BigInteger, ForeignKey(column), nullable=nullable, **keywords)
    return Field(default=None, sa_column=made) if nullable else Field(sa_column=made)


def index_where(name: str, *columns: str, sqlite: str, postgresql: str, unique: bool = False) -> Index:
    """An index over the rows of one condition only, worded for each database as SQLAlchemy words it."""
    return Index(name, *columns, unique=unique, sqlite_where=text(sqlite), postgresql_where=text(postgresql))


def table_of(model: type[Stored]) -> Table:
    """The Core table of a table class."""
    table = getattr(model, "__table__")  # noqa: B009  the type checker does not know of it
    assert isinstance(table, Table)
    return table
