"""A round tells which messages show it, and who shares its shelf may answer it in their group."""

import sqlalchemy as sa
from alembic import op

revision = "0016"
down_revision = "0015"
branch_labels = None
depends_on = None

_IN_SERVICE = "(SELECT current_setting('burrowbell.scope', true)) = 'service'"
_KEEPER = "(SELECT nullif(current_setting('burrowbell.keeper', true), '')::bigint)"
_SHELVES = "ARRAY(SELECT unnest(nullif(current_setting('burrowbell.shelves', true), '')::bigint[]))"
_SEEN = f"{_IN_SERVICE} OR keeper_id = {_KEEPER} OR shelf_id = ANY ({_SHELVES})"


def upgrade() -> None:
    op.add_column("occurrence", sa.Column("shown_in", sa.JSON(none_as_null=True), nullable=True))
    if op.get_bind().dialect.name == "postgresql":
        op.execute(f"ALTER POLICY keepers_apart ON occurrence USING ({_SEEN}) WITH CHECK ({_SEEN})")


def downgrade() -> None:
    """There is no way back but the copy that was made before."""
    raise NotImplementedError
