"""How often a keeper wants a species, a stage or the whole shelf fed or watered, and the slow months."""

import sqlalchemy as sa
from alembic import op

revision = "0010"
down_revision = "0009"
branch_labels = None
depends_on = None

#: As in the step that put the fence up.
_IN_SERVICE = "(SELECT current_setting('burrowbell.scope', true)) = 'service'"
_SHELVES = "ARRAY(SELECT unnest(nullif(current_setting('burrowbell.shelves', true), '')::bigint[]))"


def upgrade() -> None:
    op.create_table(
        "schedule",
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("shelf_id", sa.BigInteger(), nullable=False),
        sa.Column("change_id", sa.BigInteger(), nullable=False),
        sa.Column("work", sa.String(), nullable=False),
        sa.Column("scope", sa.String(), nullable=False),
        sa.Column("value", sa.Text(), nullable=True),
        sa.Column("every_days", sa.Integer(), nullable=True),
        sa.Column("first_month", sa.Integer(), nullable=True),
        sa.Column("last_month", sa.Integer(), nullable=True),
        sa.Column("live", sa.Boolean(), nullable=False),
        sa.ForeignKeyConstraint(["change_id"], ["change.id"], name="fk_schedule_change_id"),
        sa.ForeignKeyConstraint(["shelf_id"], ["shelf.id"], name="fk_schedule_shelf_id"),
        sa.PrimaryKeyConstraint("id", name="pk_schedule"),
    )
    op.create_index("ix_schedule_change_id", "schedule", ["change_id"])
    op.create_index(
        "ix_schedule_live",
        "schedule",
        ["shelf_id", "id"],
        sqlite_where=sa.text("live = 1"),
        postgresql_where=sa.text("live"),
    )
    if op.get_bind().dialect.name != "postgresql":
        return
    seen = f"{_IN_SERVICE} OR shelf_id = ANY ({_SHELVES})"
    op.execute("ALTER TABLE schedule ENABLE ROW LEVEL SECURITY")
    op.execute("ALTER TABLE schedule FORCE ROW LEVEL SECURITY")
    op.execute(f"CREATE POLICY keepers_apart ON schedule USING ({seen}) WITH CHECK ({seen})")


def downgrade() -> None:
    """There is no way back but the copy that was made before."""
    raise NotImplementedError
