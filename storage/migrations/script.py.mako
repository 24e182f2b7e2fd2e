"""${message}."""

import sqlalchemy as sa
from alembic import op
${imports if imports else ""}
revision = "${up_revision}"
down_revision = "${down_revision}"
branch_labels = None
depends_on = None


def upgrade() -> None:
    ${upgrades if upgrades else "pass"}


def downgrade() -> None:
    """There is no way back but the copy that was made before."""
    raise NotImplementedError
