"""The inbox knows who wrote an update, so that what one person wrote in a group can be erased."""

import sqlalchemy as sa
from alembic import op

revision = "0005"
down_revision = "0004"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.add_column("inbox", sa.Column("writer", sa.String(), nullable=True))


def downgrade() -> None:
    """There is no way back but the copy that was made before."""
    raise NotImplementedError
