"""Words for migrations: columns and constraints of the kinds that the tables have.

What stands here is part of migrations that have run; it may be added to, never changed.
"""

from typing import Any

import sqlalchemy as sa
from alembic import op
from sqlalchemy.schema import SchemaItem

from server.store.tables.base import reference, to_company, to_project

__all__ = [
    "check",
    "company_row",
    "days",
    "key",
    "moments",
    "only_once",
    "project_row",
    "table",
    "texts",
    "the_log_only_grows",
    "to_company",
    "to_project",
    "to_the_company",
    "truths",
    "whole",
]


def table(name: str, *items: SchemaItem) -> None:
    """Creates a table; its constraints are named by the convention of the tables."""
    op.create_table(name, *items)


def texts(*names: str, null: bool = False) -> list[SchemaItem]:
    return _columns(names, sa.Text(), null)


def whole(*names: str, null: bool = False) -> list[SchemaItem]:
    return _columns(names, sa.Integer(), null)


def truths(*names: str, null: bool = False) -> list[SchemaItem]:
    return _columns(names, sa.Boolean(), null)


def moments(*names: str, null: bool = False) -> list[SchemaItem]:
    return _columns(names, sa.DateTime(), null)


def days(*names: str, null: bool = False) -> list[SchemaItem]:
    return _columns(names, sa.Date(), null)


def company_row() -> list[SchemaItem]:
    """What every thing of a company has."""
    return [
        *texts("id", "company_id"),
        *whole("version"),
        key("id"),
        only_once("company_id", "id"),
        to_the_company(),
    ]


def project_row() -> list[SchemaItem]:
    """What every thing of a project has."""
    return [
        *texts("id", "company_id", "project_id"),
        *whole("version"),
        key("id"),
        only_once("project_id", "id"),
        reference(["company_id", "project_id"], "project", ["company_id", "id"]),
    ]


def key(*names: str) -> SchemaItem:
    return sa.PrimaryKeyConstraint(*names)


def only_once(*names: str) -> SchemaItem:
    return sa.UniqueConstraint(*names)


def to_the_company() -> SchemaItem:
    return reference(["company_id"], "company", ["id"])


def check(name: str, condition: str) -> SchemaItem:
    return sa.CheckConstraint(condition, name=name)


def the_log_only_grows() -> None:
    """Triggers that refuse to change or take away what stands in the log."""
    if op.get_bind().dialect.name == "sqlite":
        for verb in ("UPDATE", "DELETE"):
            op.execute(
                f"CREATE TRIGGER log_no_{verb.lower()} BEFORE {verb} ON log "
                "BEGIN SELECT RAISE(ABORT, 'the log only grows'); END"
            )
        return
    op.execute(
        "CREATE FUNCTION the_log_only_grows() RETURNS trigger LANGUAGE plpgsql AS "
        "$$ BEGIN RAISE EXCEPTION 'the log only grows'; END $$"
    )
    op.execute(
        "CREATE TRIGGER log_only_grows BEFORE UPDATE OR DELETE OR TRUNCATE ON log "
        "FOR EACH STATEMENT EXECUTE FUNCTION the_log_only_grows()"
    )


def _columns(
    names: tuple[str, ...], type: sa.types.TypeEngine[Any], null: bool
) -> list[SchemaItem]:
    return [sa.Column(name, type, nullable=null) for name in names]
