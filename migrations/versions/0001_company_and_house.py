"""The company with its people, crews and calendars; a house with its floors and ways."""

from alembic import op

from server.store.migrating import (
    check,
    company_row,
    key,
    moments,
    project_row,
    table,
    texts,
    to_company,
    to_project,
    truths,
    whole,
)

revision = "0001"
down_revision = None
branch_labels = None
depends_on = None

TABLES = ("company", "calendar", "crew", "person", "project", "floor", "place", "way", "given")


def upgrade() -> None:
    the_company()
    a_house()


def downgrade() -> None:
    for name in TABLES[::-1]:
        op.drop_table(name)


def the_company() -> None:
    table(
        "company",
        *texts("id", "name", "trades"),
        *whole("revision", "version"),
        *moments("frozen_at", null=True),
        key("id"),
    )
    table(
        "calendar",
        *company_row(),
        *texts("name", "shifts", "closed", "extra"),
    )
    table(
        "crew",
        *company_row(),
        *texts("name", "trade", "foreman", "phone", "language"),
        *texts("calendar_id", null=True),
        *whole("can_field", "least_visit", "notice"),
        *moments("ended", null=True),
        to_company("calendar_id", "calendar"),
    )
    table(
        "person",
        *company_row(),
        *texts("name", "role", "title", "phone", "email", "language", "units"),
        *texts("crew_id", null=True),
        *whole("answers_in"),
        *moments("ended", null=True),
        to_company("crew_id", "crew"),
        check("role", "role IN ('super', 'crew', 'rep')"),
        check("units", "units IN ('in', 'mm')"),
    )


def a_house() -> None:
    table(
        "project",
        *company_row(),
        *texts("name", "time_zone", "calendar_id", "about"),
        *whole("revision"),
        *moments("start"),
        *moments("ended", null=True),
        to_company("calendar_id", "calendar"),
    )
    table(
        "floor",
        *project_row(),
        *texts("name"),
        *whole("order"),
    )
    table(
        "place",
        *project_row(),
        *texts("name", "floor_id", "open_to"),
        *whole("order", "room_for"),
        to_project("floor_id", "floor"),
    )
    table(
        "way",
        *project_row(),
        *texts("name", "lower_id", "upper_id"),
        *truths("carries"),
        *moments("opened", "closed", null=True),
        to_project("lower_id", "floor"),
        to_project("upper_id", "floor"),
    )
    table(
        "given",
        *project_row(),
        *texts("person_id", "detail_ids"),
        to_company("person_id", "person"),
    )
