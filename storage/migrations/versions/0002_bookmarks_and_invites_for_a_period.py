"""Bookmarks, invites for a period, and every change of a shelf found by its index, undone or not."""

import sqlalchemy as sa
from alembic import op

revision = "0002"
down_revision = "0001"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "bookmark",
        sa.Column("name", sa.String(), nullable=False),
        sa.Column("mark", sa.JSON(), nullable=False),
        sa.PrimaryKeyConstraint("name", name="pk_bookmark"),
    )
    op.add_column("invite", sa.Column("from_day", sa.Date(), nullable=True))
    op.add_column("invite", sa.Column("until_day", sa.Date(), nullable=True))
    op.drop_index("ix_change_latest", table_name="change")
    op.create_index("ix_change_shelf_id_keeper_id_id", "change", ["shelf_id", "keeper_id", "id"])


def downgrade() -> None:
    """There is no way back but the copy that was made before."""
    raise NotImplementedError
