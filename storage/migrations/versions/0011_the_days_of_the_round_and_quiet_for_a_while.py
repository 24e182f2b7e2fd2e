"""Keepers say on which days of the week a round comes, and until when nothing comes by itself."""

import sqlalchemy as sa
from alembic import op

from storage.types import Instant

revision = "0011"
down_revision = "0010"
branch_labels = None
depends_on = None


def upgrade() -> None:
    every_day = sa.Column("round_days", sa.String(), nullable=False, server_default="0123456")
    op.add_column("keeper", every_day)
    op.add_column("keeper", sa.Column("quiet_until", Instant(), nullable=True))
    if op.get_bind().dialect.name == "postgresql":
        op.alter_column("keeper", "round_days", server_default=None)


def downgrade() -> None:
    """There is no way back but the copy that was made before."""
    raise NotImplementedError
