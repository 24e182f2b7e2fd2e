"""How much of a chat was set aside is told from an index, so that it can be bounded during a flood."""

import sqlalchemy as sa
from alembic import op

revision = "0012"
down_revision = "0011"
branch_labels = None
depends_on = None


def upgrade() -> None:
    aside = sa.text("aside_at IS NOT NULL")
    op.create_index("ix_inbox_aside_chat", "inbox", ["chat"], sqlite_where=aside, postgresql_where=aside)


def downgrade() -> None:
    """There is no way back but the copy that was made before."""
    raise NotImplementedError
