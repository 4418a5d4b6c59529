"""Where the numbers of a check come from."""

import sqlalchemy as sa
from alembic import op

revision = "0014"
down_revision = "0013"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.add_column("hold", sa.Column("source", sa.Text(), nullable=False, server_default=""))


def downgrade() -> None:
    op.drop_column("hold", "source")
