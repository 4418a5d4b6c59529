"""What the notes need to know: of work, layers, places, deliveries and temporary works."""

import sqlalchemy as sa
from alembic import op
from alembic.operations import BatchOperations

revision = "0006"
down_revision = "0005"
branch_labels = None
depends_on = None

COLUMNS = {
    "activity": (
        *(("finish_wood", "no"), ("shakes", "no"), ("fire_watch", "no"), ("carries_datum", "no")),
        *(("stuff", ""), ("circuit", ""), ("temporary", "")),
        *((name, "id") for name in ("temporary_id", "way_in_id", "sample_id", "sheet_id")),
        *((name, "at") for name in ("circuit_dead", "measured", "drawn", "approved", "shipped")),
        ("review", "0"),
    ),
    "layer": (("finished", "no"), ("powered", "no")),
    "place": (("air", ""),),
    "temporary": (("risers", "0"), ("rise", "id")),
}
TO = (
    ("temporary_id", "temporary"),
    ("way_in_id", "way"),
    ("sample_id", "activity"),
    ("sheet_id", "sheet"),
)
VERBS = "verb IN ('puts in', 'covers', 'opens')"
MORE_VERBS = "verb IN ('puts in', 'covers', 'opens', 'needs open')"
OF_TEMPORARY = "temporary IN ('', 'sets', 'strikes', 'stands on')"


def upgrade() -> None:
    for table, columns in COLUMNS.items():
        with op.batch_alter_table(table) as batch:
            for name, kind in columns:
                batch.add_column(_column(name, kind))
            if table == "activity":
                for name, other in TO:
                    batch.create_foreign_key(
                        _key(batch, name),
                        other,
                        ["project_id", name],
                        ["project_id", "id"],
                        deferrable=True,
                        initially="DEFERRED",
                    )
                batch.create_check_constraint("temporary", OF_TEMPORARY)
    _verbs(MORE_VERBS)


def downgrade() -> None:
    op.execute("DELETE FROM effect WHERE verb = 'needs open'")
    _verbs(VERBS)
    for table, columns in [*COLUMNS.items()][::-1]:
        with op.batch_alter_table(table) as batch:
            if table == "activity":
                batch.drop_constraint("temporary", type_="check")
                for name, _ in TO:
                    batch.drop_constraint(_key(batch, name), type_="foreignkey")
            for name, _ in columns:
                batch.drop_column(name)


def _key(batch: BatchOperations, name: str) -> str:
    return batch.f(f"fk_activity_project_id_{name}")


def _verbs(condition: str) -> None:
    with op.batch_alter_table("effect") as batch:
        batch.drop_constraint("verb", type_="check")
        batch.create_check_constraint("verb", condition)


def _column(name: str, kind: str) -> sa.Column[object]:
    types: dict[str, sa.types.TypeEngine[object]] = {
        "no": sa.Boolean(),
        "": sa.Text(),
        "id": sa.Text(),
        "at": sa.DateTime(),
        "0": sa.Integer(),
    }
    first = {"no": sa.false(), "": "", "0": "0"}.get(kind)
    return sa.Column(name, types[kind], nullable=first is None, server_default=first)
