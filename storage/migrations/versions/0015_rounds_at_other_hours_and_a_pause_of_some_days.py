"""The round may come at another hour on some days of the week, and stay away for some days."""

import sqlalchemy as sa
from alembic import op

revision = "0015"
down_revision = "0014"
branch_labels = None
depends_on = None


def upgrade() -> None:
    none = sa.Column("round_hours", sa.String(), nullable=False, server_default="")
    op.add_column("keeper", none)
    op.add_column("keeper", sa.Column("rounds_off_from", sa.Date(), nullable=True))
    op.add_column("keeper", sa.Column("rounds_off_until", sa.Date(), nullable=True))
    if op.get_bind().dialect.name == "postgresql":
        op.alter_column("keeper", "round_hours", server_default=None)


def downgrade() -> None:
    """There is no way back but the copy that was made before."""
    raise NotImplementedError
