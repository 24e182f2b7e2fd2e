"""A reminder repeats by an RFC 5545 rule, counted from its day or from when it was done."""

import sqlalchemy as sa
from alembic import op

revision = "0004"
down_revision = "0003"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.add_column("reminder", sa.Column("repeats", sa.String(), nullable=True))
    op.add_column("reminder", sa.Column("from_done", sa.Boolean(), nullable=False, server_default=sa.false()))
    op.execute(
        "UPDATE reminder SET repeats = 'FREQ=DAILY;INTERVAL=' || every_days WHERE every_days IS NOT NULL"
    )
    op.drop_column("reminder", "every_days")


def downgrade() -> None:
    """There is no way back but the copy that was made before."""
    raise NotImplementedError
