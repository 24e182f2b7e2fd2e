"""How Alembic runs a step, and drafts one: on the connection and in the transaction that it is given."""

from typing import Any, Final, Literal

from alembic import context
from alembic.autogenerate.api import AutogenContext
from sqlalchemy import JSON

from storage.tables import METADATA
from storage.types import Instant, RowNumber, Thousandths, Words

#: Steps stay as they are for ever, so they name the database's own types and none of ours.
_PLAIN: Final[tuple[tuple[type, str], ...]] = (
    (Instant, "sa.DateTime(timezone=True)"),
    (Thousandths, "sa.BigInteger()"),
    (Words, "sa.Text()"),
)


def _as_plain_type(kind: str, item: Any, _context: AutogenContext) -> str | Literal[False]:
    """What a drafted step says for a column's type; False where Alembic's own words do."""
    if kind != "type":
        return False
    if item is RowNumber:
        return 'sa.BigInteger().with_variant(sa.Integer(), "sqlite")'
    if isinstance(item, JSON):
        return "sa.JSON()"
    return next((plain for own, plain in _PLAIN if isinstance(item, own)), False)


context.configure(
    connection=context.config.attributes["connection"],
    target_metadata=METADATA,
    render_as_batch=True,
    render_item=_as_plain_type,
    transactional_ddl=True,
)
context.run_migrations()
