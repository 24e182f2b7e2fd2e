"""Hand-overs: periods in which somebody else looks after a shelf, by an invite."""

import sqlalchemy as sa
from alembic import op

revision = "0006"
down_revision = "0005"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "handover",
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("shelf_id", sa.BigInteger(), nullable=False),
        sa.Column("by_keeper", sa.BigInteger(), nullable=False),
        sa.Column("invite_id", sa.BigInteger(), nullable=False),
        sa.Column("called", sa.Text(), nullable=False),
        sa.Column("first_day", sa.Date(), nullable=False),
        sa.Column("last_day", sa.Date(), nullable=False),
        sa.Column("settled", sa.Boolean(), nullable=False),
        sa.ForeignKeyConstraint(["by_keeper"], ["keeper.id"], name="fk_handover_by_keeper"),
        sa.ForeignKeyConstraint(["invite_id"], ["invite.id"], name="fk_handover_invite_id"),
        sa.ForeignKeyConstraint(["shelf_id"], ["shelf.id"], name="fk_handover_shelf_id"),
        sa.PrimaryKeyConstraint("id", name="pk_handover"),
    )
    op.create_index("ix_handover_shelf_id", "handover", ["shelf_id"])
    op.create_index("ix_handover_invite_id", "handover", ["invite_id"])


def downgrade() -> None:
    """There is no way back but the copy that was made before."""
    raise NotImplementedError
