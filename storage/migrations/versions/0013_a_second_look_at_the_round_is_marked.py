"""A second look at a round is marked as one, and no longer known by the words that it is kept under."""

import sqlalchemy as sa
from alembic import op

revision = "0013"
down_revision = "0012"
branch_labels = None
depends_on = None

#: What such a reminder said before it had a mark, in the languages of that time.
_WORDS = ("the rest of today’s round", "der Rest der heutigen Runde", "el resto de la ronda de hoy")


def upgrade() -> None:
    op.add_column("reminder", sa.Column("of_round", sa.Boolean(), nullable=False, server_default=sa.false()))
    reminder = sa.table("reminder", sa.column("what", sa.String()), sa.column("of_round", sa.Boolean()))
    op.execute(sa.update(reminder).where(reminder.c.what.in_(_WORDS)).values(of_round=True))


def downgrade() -> None:
    """There is no way back but the copy that was made before."""
    raise NotImplementedError
