"""News: what the other keepers of a shelf have still to hear of."""

import sqlalchemy as sa
from alembic import op

revision = "0007"
down_revision = "0006"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "news",
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("keeper_id", sa.BigInteger(), nullable=False),
        sa.Column("shelf_id", sa.BigInteger(), nullable=False),
        sa.Column("change_id", sa.BigInteger(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("due_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("told_at", sa.DateTime(timezone=True), nullable=True),
        sa.ForeignKeyConstraint(["change_id"], ["change.id"], name="fk_news_change_id"),
        sa.ForeignKeyConstraint(["keeper_id"], ["keeper.id"], name="fk_news_keeper_id"),
        sa.ForeignKeyConstraint(["shelf_id"], ["shelf.id"], name="fk_news_shelf_id"),
        sa.PrimaryKeyConstraint("id", name="pk_news"),
    )
    op.create_index(
        "ix_news_waiting",
        "news",
        ["due_at", "keeper_id"],
        sqlite_where=sa.text("told_at IS NULL"),
        postgresql_where=sa.text("told_at IS NULL"),
    )
    op.create_index("ix_news_change_id", "news", ["change_id"])
    op.create_index("ix_news_keeper_id", "news", ["keeper_id"])
    op.create_index("ix_news_shelf_id", "news", ["shelf_id"])


def downgrade() -> None:
    """There is no way back but the copy that was made before."""
    raise NotImplementedError
