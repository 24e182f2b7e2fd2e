"""A keeper may say on which day of the week feeders come."""

import sqlalchemy as sa
from alembic import op

revision = "0009"
down_revision = "0008"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.add_column("keeper", sa.Column("delivery_weekday", sa.SmallInteger(), nullable=True))


def downgrade() -> None:
    """There is no way back but the copy that was made before."""
    raise NotImplementedError
