"""Which parts work is for stands with each layer it does something to, and nowhere else."""

import sqlalchemy as sa
from alembic import op

revision = "0010"
down_revision = "0009"
branch_labels = None
depends_on = None


def upgrade() -> None:
    with op.batch_alter_table("activity") as batch:
        batch.drop_column("parts")


def downgrade() -> None:
    with op.batch_alter_table("activity") as batch:
        batch.add_column(sa.Column("parts", sa.Text(), nullable=False, server_default="[]"))
