"""Details with their layers and drawings; their chains."""

from alembic import op

from server.store.migrating import (
    check,
    days,
    moments,
    project_row,
    table,
    texts,
    to_company,
    to_project,
    truths,
    whole,
)

revision = "0002"
down_revision = "0001"
branch_labels = None
depends_on = None

TABLES = ("detail", "side", "layer", "sheet", "activity", "dependency", "effect")


def upgrade() -> None:
    details()
    chains()


def downgrade() -> None:
    for name in TABLES[::-1]:
        op.drop_table(name)


def details() -> None:
    table(
        "detail",
        *project_row(),
        *texts("name", "sheet", "pattern", "note"),
        *texts("place_id", null=True),
        *whole("order"),
        *moments("ended", null=True),
        to_project("place_id", "place"),
    )
    table(
        "side",
        *project_row(),
        *texts("detail_id", "name"),
        *whole("order"),
        to_project("detail_id", "detail"),
    )
    table(
        "layer",
        *project_row(),
        *texts("detail_id", "side_id", "name", "material", "part_name", "tag"),
        *texts("thickness", "within_id", null=True),
        *whole("order", "parts"),
        *truths("passes_through", "must_be_seen"),
        *moments("ended", null=True),
        to_project("detail_id", "detail"),
        to_project("side_id", "side"),
        to_project("within_id", "layer"),
    )
    table(
        "sheet",
        *project_row(),
        *texts("detail_id", "number", "revision", "title"),
        *texts("replaced_id", null=True),
        *days("dated", null=True),
        to_project("detail_id", "detail"),
        to_project("replaced_id", "sheet"),
    )


def chains() -> None:
    table(
        "activity",
        *project_row(),
        *texts(
            "detail_id",
            "kind",
            "name",
            "tag",
            "note",
            "with_crew_ids",
            "parts",
            "edge",
            "answer",
            "anyway",
            "ended_reason",
        ),
        *texts(
            "crew_id",
            "person_id",
            "place_id",
            "calendar_id",
            "opens_way_id",
            "closes_way_id",
            "measured_from_id",
            "rework_of_id",
            null=True,
        ),
        *whole("order", "work"),
        *whole("low", "high", "remaining", null=True),
        *truths("one_day", "overhead", "wet", "dirty", "hot", "heavy", "closes_place"),
        *moments(
            "not_before",
            "finish_by",
            "ordered",
            "promised",
            "counted",
            "started",
            "finished",
            "ended",
            null=True,
        ),
        to_company("calendar_id", "calendar"),
        to_company("crew_id", "crew"),
        to_company("person_id", "person"),
        to_project("closes_way_id", "way"),
        to_project("detail_id", "detail"),
        to_project("measured_from_id", "layer"),
        to_project("opens_way_id", "way"),
        to_project("place_id", "place"),
        to_project("rework_of_id", "attempt", in_a_ring=True),
        check("edge", "edge IN ('', 'opens', 'closes')"),
        check("kind", "kind IN ('task', 'wait', 'hold', 'delivery', 'decision')"),
    )
    table(
        "dependency",
        *project_row(),
        *texts("before_id", "after_id", "type", "lag_on", "tag"),
        *whole("lag"),
        *whole("most", null=True),
        to_project("after_id", "activity"),
        to_project("before_id", "activity"),
        check("lag_on", "lag_on IN ('clock', 'work')"),
        check("type", "type IN ('FS', 'SS', 'FF', 'SF')"),
    )
    table(
        "effect",
        *project_row(),
        *texts("activity_id", "layer_id", "verb", "parts"),
        to_project("activity_id", "activity"),
        to_project("layer_id", "layer"),
        check("verb", "verb IN ('puts in', 'covers', 'opens')"),
    )
