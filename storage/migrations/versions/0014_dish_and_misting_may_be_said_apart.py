"""A keeper may say how often an animal's dish is filled, and how often it is misted, each for itself."""

import sqlalchemy as sa
from alembic import op

revision = "0014"
down_revision = "0013"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.add_column("specimen", sa.Column("dish_every", sa.Integer(), nullable=True))
    op.add_column("specimen", sa.Column("mist_every", sa.Integer(), nullable=True))


def downgrade() -> None:
    """There is no way back but the copy that was made before."""
    raise NotImplementedError
