"""What a crew has to hear, the finish of each day and why it moved; wasted visits."""

import sqlalchemy as sa
from alembic import op

from server.store.migrating import (
    check,
    days,
    moments,
    only_once,
    project_row,
    table,
    texts,
    to_company,
    to_project,
)

revision = "0005"
down_revision = "0004"
branch_labels = None
depends_on = None

MOMENTS = (("activity", "remaining_at"), ("booking", "promised"), ("booking", "wasted_at"))


def upgrade() -> None:
    for name, column in MOMENTS:
        op.add_column(name, sa.Column(column, sa.DateTime(), nullable=True))
    op.add_column("booking", sa.Column("wasted", sa.Text(), nullable=False, server_default=""))
    table(
        "telling",
        *project_row(),
        *texts("crew_id", "what", "activity_ids", "by_id"),
        *texts("booking_id", "heard_by_id", null=True),
        *moments("at"),
        *moments("was", "now", "heard", null=True),
        to_company("by_id", "person"),
        to_company("crew_id", "crew"),
        to_company("heard_by_id", "person"),
        to_project("booking_id", "booking"),
        check("what", "what IN ('asked', 'moves', 'ends', 'breaks', 'work')"),
    )
    table(
        "day_finish",
        *project_row(),
        *texts("detail_id"),
        *days("day"),
        *moments("finish"),
        only_once("detail_id", "day"),
        to_project("detail_id", "detail"),
    )
    table(
        "cause",
        *project_row(),
        *texts("detail_id", "text", "by_id"),
        *texts("activity_id", null=True),
        *days("day"),
        *moments("at"),
        to_company("by_id", "person"),
        to_project("activity_id", "activity"),
        to_project("detail_id", "detail"),
    )


def downgrade() -> None:
    for name in ("cause", "day_finish", "telling"):
        op.drop_table(name)
    op.drop_column("booking", "wasted")
    for name, column in MOMENTS:
        op.drop_column(name, column)
