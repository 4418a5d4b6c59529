"""The company's own limits profiles."""

from alembic import op

from server.store.migrating import company_row, moments, table, texts

revision = "0011"
down_revision = "0010"
branch_labels = None
depends_on = None


def upgrade() -> None:
    table("own_limits", *company_row(), *texts("name", "text"), *moments("ended", null=True))


def downgrade() -> None:
    op.drop_table("own_limits")
