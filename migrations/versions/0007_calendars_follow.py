"""A calendar may follow another; holidays by their names; days opened again."""

import sqlalchemy as sa
from alembic import op

revision = "0007"
down_revision = "0006"
branch_labels = None
depends_on = None

LISTS = ("opened", "named", "holidays")
FOLLOWS = "fk_calendar_company_id_based_on_id"


def upgrade() -> None:
    with op.batch_alter_table("calendar") as batch:
        batch.add_column(sa.Column("based_on_id", sa.Text(), nullable=True))
        batch.add_column(sa.Column("holidays_of", sa.Text(), nullable=False, server_default=""))
        for name in LISTS:
            batch.add_column(sa.Column(name, sa.Text(), nullable=False, server_default="[]"))
        batch.create_foreign_key(
            batch.f(FOLLOWS),
            "calendar",
            ["company_id", "based_on_id"],
            ["company_id", "id"],
            deferrable=True,
            initially="DEFERRED",
        )


def downgrade() -> None:
    """A calendar without a week of its own gets that of the one it followed.

    The days that it took over from there are lost, and so are holidays.
    """
    calendar = sa.table("calendar", sa.column("id"), sa.column("based_on_id"), sa.column("shifts"))
    known = {row.id: row for row in op.get_bind().execute(sa.select(calendar))}
    for row in known.values():
        followed = row
        while followed.shifts == "[]" and followed.based_on_id is not None:
            followed = known[followed.based_on_id]
        if followed is not row:
            own = calendar.update().where(calendar.c.id == row.id)
            # each row once: PostgreSQL does not alter a table with checks of it still to be made
            op.execute(own.values(shifts=followed.shifts))
    with op.batch_alter_table("calendar") as batch:
        batch.drop_constraint(batch.f(FOLLOWS), type_="foreignkey")
        for name in ("based_on_id", "holidays_of", *LISTS):
            batch.drop_column(name)
