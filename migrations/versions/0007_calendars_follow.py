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
    """Lossy for a calendar that follows another and has no week of its own: it gets that week."""
    calendar = sa.table("calendar", sa.column("id"), sa.column("based_on_id"), sa.column("shifts"))
    followed = calendar.alias("followed")
    week = sa.select(followed.c.shifts).where(followed.c.id == calendar.c.based_on_id)
    following = calendar.update().where(calendar.c.shifts == "[]", calendar.c.based_on_id != None)  # noqa: E711
    rows = op.get_bind().execute(sa.select(sa.func.count()).select_from(calendar)).scalar_one()
    for _ in range(rows):  # at most as many in a row as there are calendars
        if not op.get_bind().execute(following.values(shifts=week.scalar_subquery())).rowcount:
            break
    with op.batch_alter_table("calendar") as batch:
        batch.drop_constraint(batch.f(FOLLOWS), type_="foreignkey")
        for name in ("based_on_id", "holidays_of", *LISTS):
            batch.drop_column(name)
