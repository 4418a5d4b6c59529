"""Checks with their attempts, visits, and what stands around the chain."""

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
    truths,
    whole,
)

revision = "0003"
down_revision = "0002"
branch_labels = None
depends_on = None

TABLES = (
    "hold",
    "ask",
    "attempt",
    "measurement",
    "photo",
    "booking",
    "agreed",
    "temporary",
    "look",
    "reading",
    "accepted",
)


def upgrade() -> None:
    checks()
    visits()
    site()
    # An activity and an attempt point at each other: SQLite was told when the first was made.
    if op.get_bind().dialect.name != "sqlite":
        op.create_foreign_key(
            None,
            "activity",
            "attempt",
            ["project_id", "rework_of_id"],
            ["project_id", "id"],
            deferrable=True,
            initially="DEFERRED",
        )


def downgrade() -> None:
    if op.get_bind().dialect.name != "sqlite":
        op.drop_constraint(
            op.f("fk_activity_project_id_rework_of_id"), "activity", type_="foreignkey"
        )
    for name in TABLES[::-1]:
        op.drop_table(name)


def checks() -> None:
    table(
        "hold",
        *project_row(),
        *texts(
            "activity_id",
            "what",
            "datum",
            "tool",
            "photo_note",
            "layer_ids",
            "part_name",
            "tag",
        ),
        *texts("marks_crew_id", "releases_id", null=True),
        *whole("photos", "notice", "parts"),
        *truths("authority", "witness", "own_mark_ok"),
        *moments("called", null=True),
        only_once("activity_id"),
        to_company("marks_crew_id", "crew"),
        to_company("releases_id", "person"),
        to_project("activity_id", "activity"),
    )
    table(
        "ask",
        *project_row(),
        *texts("hold_id", "label", "unit", "tag"),
        *texts("nominal", "low", "high", "far_low", "far_high", null=True),
        *whole("order"),
        *whole("part", null=True),
        to_project("hold_id", "hold"),
    )
    table(
        "attempt",
        *project_row(),
        *texts(
            "hold_id",
            "state",
            "marked_by_id",
            "parts",
            "note",
            "inspector",
            "left_out",
            "reason",
            "opened_reason",
        ),
        *texts("decided_by_id", "opened_by_id", "sheet_id", null=True),
        *whole("no"),
        *moments("marked_at"),
        *moments("decided_at", "again_by", "opened_at", null=True),
        only_once("hold_id", "no"),
        to_company("decided_by_id", "person"),
        to_company("marked_by_id", "person"),
        to_company("opened_by_id", "person"),
        to_project("hold_id", "hold"),
        to_project("sheet_id", "sheet"),
        check("state", "state IN ('marked', 'released', 'look again', 'rejected', 'opened again')"),
    )
    table(
        "measurement",
        *project_row(),
        *texts("attempt_id", "ask_id", "typed", "value"),
        to_project("ask_id", "ask"),
        to_project("attempt_id", "attempt"),
    )
    table(
        "photo",
        *project_row(),
        *texts("sha256", "by_id", "note"),
        *texts("hold_id", "attempt_id", null=True),
        *whole("width", "height"),
        *moments("at"),
        *moments("taken", null=True),
        to_company("by_id", "person"),
        to_project("attempt_id", "attempt"),
        to_project("hold_id", "hold"),
    )


def visits() -> None:
    table(
        "booking",
        *project_row(),
        *texts("crew_id", "activity_ids", "state", "asked_by_id", "reason"),
        *texts("answered_by_id", null=True),
        *truths("by_phone"),
        *moments("start", "finish", "asked_at"),
        *moments("answered_at", "other_day", "ended", null=True),
        to_company("answered_by_id", "person"),
        to_company("asked_by_id", "person"),
        to_company("crew_id", "crew"),
        check("state", "state IN ('asked', 'coming', 'can''t come')"),
    )
    table(
        "agreed",
        *project_row(),
        *texts("activity_id", "detail_id", "by_id", "reason"),
        *whole("round"),
        *moments("start", "finish", "at"),
        to_company("by_id", "person"),
        to_project("activity_id", "activity"),
        to_project("detail_id", "detail"),
    )


def site() -> None:
    table(
        "temporary",
        *project_row(),
        *texts("kind", "name"),
        *texts("detail_id", "place_id", "crew_id", null=True),
        *truths("daily"),
        *moments("put_in", "taken_out", null=True),
        to_company("crew_id", "crew"),
        to_project("detail_id", "detail"),
        to_project("place_id", "place"),
    )
    table(
        "look",
        *project_row(),
        *texts("temporary_id", "by_id", "note"),
        *truths("in_order"),
        *moments("at"),
        to_company("by_id", "person"),
        to_project("temporary_id", "temporary"),
    )
    table(
        "reading",
        *project_row(),
        *texts("place_id", "what", "value", "unit", "by_id", "where"),
        *moments("at"),
        to_company("by_id", "person"),
        to_project("place_id", "place"),
    )
    table(
        "accepted",
        *project_row(),
        *texts("warning", "reason", "by_id"),
        *moments("at"),
        *days("until"),
        to_company("by_id", "person"),
    )
