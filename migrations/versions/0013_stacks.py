"""Stacks of tolerances: their parts, and which check measures each."""

import sqlalchemy as sa
from alembic import op

from server.store.migrating import project_row, table, texts, to_project, whole

revision = "0013"
down_revision = "0012"
branch_labels = None
depends_on = None


def upgrade() -> None:
    with op.batch_alter_table("kept_figure") as batch:
        for name in ("least", "most"):
            batch.add_column(sa.Column(name, sa.Text(), nullable=True))
        batch.add_column(sa.Column("units", sa.Text(), nullable=False, server_default="in"))
    table(
        "stack_part",
        *project_row(),
        *texts("figure_id", "name", "counts", "nominal", "plus", "minus", "label"),
        *texts("measured", "hold_id", null=True),
        *whole("order"),
        to_project("figure_id", "kept_figure"),
        to_project("hold_id", "hold"),
    )


def downgrade() -> None:
    op.drop_table("stack_part")
    with op.batch_alter_table("kept_figure") as batch:
        for name in ("least", "most", "units"):
            batch.drop_column(name)
