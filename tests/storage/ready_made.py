"""New SQLite stores get their tables at once, as the migrations made them the first time in this run."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache

from sqlalchemy import Connection, Engine

from storage.engine import engine_for, will_write

Upgrade = Callable[..., None]


def from_the_first(step_by_step: Upgrade) -> Upgrade:
    """The same upgrade; of an empty SQLite store to the newest tables in a tenth of the time.

    What it makes is what ``step_by_step`` made, with its rows; anything else is left to that one.
    """

    @cache
    def statements() -> tuple[str, ...]:
        engine = engine_for("sqlite://")
        step_by_step(engine)
        with engine.connect() as connection:
            made = tuple(connection.connection.dbapi_connection.iterdump())[1:-1]  # its own transaction
        engine.dispose()
        return made

    def upgrade(engine: Engine, to: str = "head") -> None:
        if engine.dialect.name == "sqlite" and to == "head":
            statements()
            with engine.connect() as connection:
                will_write(connection, writes=True)
                with connection.begin():
                    if _is_empty(connection):
                        for statement in statements():
                            connection.connection.dbapi_connection.execute(statement).close()
                        return
        step_by_step(engine, to)

    return upgrade


def _is_empty(connection: Connection) -> bool:
    return not connection.exec_driver_sql("SELECT count(*) FROM sqlite_master").scalar()
