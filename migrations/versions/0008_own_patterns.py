"""The company's own patterns."""

from alembic import op

from server.store.migrating import company_row, moments, table, texts

revision = "0008"
down_revision = "0007"
branch_labels = None
depends_on = None


def upgrade() -> None:
    table("own_pattern", *company_row(), *texts("name", "text"), *moments("ended", null=True))


def downgrade() -> None:
    op.drop_table("own_pattern")
