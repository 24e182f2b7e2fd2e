"""On PostgreSQL an insert into inbox or outbox notifies those who wait for it."""

from alembic import op

revision = "0003"
down_revision = "0002"
branch_labels = None
depends_on = None

_FUNCTION = """
CREATE FUNCTION burrowbell_ring() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
    PERFORM pg_notify('burrowbell_' || TG_TABLE_NAME, '');
    RETURN NULL;
END $$
"""


def upgrade() -> None:
    if op.get_bind().dialect.name != "postgresql":
        return
    op.execute(_FUNCTION)
    for table in ("inbox", "outbox"):
        op.execute(
            f"CREATE TRIGGER ring_{table} AFTER INSERT ON {table} "
            "FOR EACH STATEMENT EXECUTE FUNCTION burrowbell_ring()"
        )


def downgrade() -> None:
    """There is no way back but the copy that was made before."""
    raise NotImplementedError
