"""Who may come in; the log, which only grows; the answers to forms."""

from alembic import op

from server.store.migrating import (
    check,
    key,
    moments,
    only_once,
    table,
    texts,
    the_log_only_grows,
    to_company,
    to_the_company,
    whole,
)

revision = "0004"
down_revision = "0003"
branch_labels = None
depends_on = None

TABLES = ("credential", "failure", "link", "link_project", "device", "session", "log", "answer")


def upgrade() -> None:
    access()
    what_is_kept()


def downgrade() -> None:
    for name in TABLES[::-1]:
        op.drop_table(name)
    if op.get_bind().dialect.name != "sqlite":
        op.execute("DROP FUNCTION the_log_only_grows()")


def access() -> None:
    table(
        "credential",
        *texts("person_id", "company_id", "login", "password_hash"),
        *moments("changed"),
        key("person_id"),
        only_once("login"),
        to_company("person_id", "person"),
    )
    table(
        "failure",
        *texts("kind", "who"),
        *whole("count"),
        *moments("last"),
        key("kind", "who"),
        check("kind", "kind IN ('account', 'address')"),
    )
    table(
        "link",
        *texts("id", "company_id", "person_id", "hash"),
        *texts("by_id", null=True),
        *moments("made"),
        *moments("ended", null=True),
        key("id"),
        only_once("company_id", "id"),
        only_once("hash"),
        to_the_company(),
        to_company("by_id", "person"),
        to_company("person_id", "person"),
    )
    op.create_index("ix_link_person_id", "link", ["person_id"])
    table(
        "link_project",
        *texts("link_id", "project_id", "company_id"),
        key("link_id", "project_id"),
        to_company("link_id", "link"),
        to_company("project_id", "project"),
    )
    table(
        "device",
        *texts("id", "company_id", "person_id", "label"),
        *texts("link_id", "confirmed_by_id", null=True),
        *moments("made"),
        *moments("confirmed", "ended", null=True),
        key("id"),
        only_once("company_id", "id"),
        to_the_company(),
        to_company("confirmed_by_id", "person"),
        to_company("link_id", "link"),
        to_company("person_id", "person"),
    )
    op.create_index("ix_device_person_id", "device", ["person_id"])
    table(
        "session",
        *texts("hash", "company_id", "person_id"),
        *texts("device_id", "link_id", null=True),
        *moments("made", "last_used"),
        *moments("ended", null=True),
        key("hash"),
        to_the_company(),
        to_company("device_id", "device"),
        to_company("link_id", "link"),
        to_company("person_id", "person"),
    )
    op.create_index("ix_session_person_id", "session", ["person_id"])


def what_is_kept() -> None:
    table(
        "log",
        *texts(
            "id",
            "company_id",
            "person_name",
            "device",
            "commands",
            "detail_ids",
            "said",
            "rows",
        ),
        *texts("project_id", "person_id", null=True),
        *whole("company_revision"),
        *whole("revision", null=True),
        *moments("at", "server_at"),
        *moments("phone_clock", null=True),
        key("id"),
        only_once("company_id", "company_revision"),
        only_once("project_id", "revision"),
        to_the_company(),
        to_company("person_id", "person"),
        to_company("project_id", "project"),
    )
    table(
        "answer",
        *texts("company_id", "person_id", "key", "content_hash", "said"),
        *whole("revision"),
        *moments("at", "server_at"),
        key("company_id", "person_id", "key"),
        to_the_company(),
    )
    op.create_index("ix_answer_server_at", "answer", ["server_at"])
    the_log_only_grows()
