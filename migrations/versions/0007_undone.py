"""What an entry of the log has put back."""

import sqlalchemy as sa
from alembic import op

revision = "0007"
down_revision = "0006"
branch_labels = None
depends_on = None


def upgrade() -> None:
    # In place, on SQLite too: a copy of the table would have none of the triggers that guard it.
    op.add_column("log", sa.Column("of_id", sa.Text(), nullable=True))
    op.create_index("ix_log_of_id", "log", ["of_id"], unique=True)


def downgrade() -> None:
    op.drop_index("ix_log_of_id", "log")
    op.drop_column("log", "of_id")
