"""What an entry of the log has put back; what a person has changed, newest first."""

import sqlalchemy as sa
from alembic import op

revision = "0009"
down_revision = "0008"
branch_labels = None
depends_on = None

BY_PERSON = "ix_log_person_id_company_revision"


def upgrade() -> None:
    # In place, on SQLite too: a copy of the table would have none of the triggers that guard it.
    op.add_column("log", sa.Column("of_id", sa.Text(), nullable=True))
    op.create_index("ix_log_of_id", "log", ["of_id"], unique=True)
    op.create_index(BY_PERSON, "log", ["person_id", "company_revision"])


def downgrade() -> None:
    op.drop_index(BY_PERSON, "log")
    op.drop_index("ix_log_of_id", "log")
    op.drop_column("log", "of_id")
