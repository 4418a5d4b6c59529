"""Figures that are kept with a detail."""

from alembic import op

from server.store.migrating import moments, project_row, table, texts, to_project

revision = "0012"
down_revision = "0011"
branch_labels = None
depends_on = None


def upgrade() -> None:
    table(
        "kept_figure",
        *project_row(),
        *texts("detail_id", "figure", "name", "inputs", "limits", "outside", "taken"),
        *texts("hold_id", "activity_id", null=True),
        *moments("ended", null=True),
        to_project("detail_id", "detail"),
        to_project("hold_id", "hold"),
        to_project("activity_id", "activity"),
    )


def downgrade() -> None:
    op.drop_table("kept_figure")
