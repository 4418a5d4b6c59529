"""What all tables share: types of columns, names of constraints, references that stay inside.

A table is the noun it keeps: same field names, same types. References carry the project (or the
company) with them, so that no row can point into another one. They are checked at commit, so rows
may be written in any order.
"""

from datetime import date, datetime
from fractions import Fraction
from typing import Any, ClassVar

from sqlalchemy import (
    Boolean,
    CheckConstraint,
    Date,
    DateTime,
    ForeignKeyConstraint,
    Integer,
    MetaData,
    Text,
    UniqueConstraint,
)
from sqlalchemy.orm import DeclarativeBase, Mapped, mapped_column
from sqlalchemy.schema import SchemaItem

from server.store.tables.types import Dates, FractionText, Numbers, Texts

CONVENTION = {
    "pk": "pk_%(table_name)s",
    "uq": "uq_%(table_name)s_%(column_0_N_name)s",
    "ix": "ix_%(table_name)s_%(column_0_N_name)s",
    "fk": "fk_%(table_name)s_%(column_0_N_name)s",
    "ck": "ck_%(table_name)s_%(constraint_name)s",
}


class Base(DeclarativeBase):
    """The base of all tables. Datetimes have no zone: what they are in, the noun says."""

    metadata = MetaData(naming_convention=CONVENTION)
    type_annotation_map: ClassVar[dict[Any, Any]] = {
        str: Text(),
        int: Integer(),
        bool: Boolean(),
        datetime: DateTime(),
        date: Date(),
        Fraction: FractionText(),
        tuple[str, ...]: Texts(),
        tuple[int, ...]: Numbers(),
        tuple[date, ...]: Dates(),
    }


class NounRow:
    """Every noun has an id of its own, over all companies, and a version."""

    id: Mapped[str] = mapped_column(primary_key=True)
    version: Mapped[int]


class CompanyRow(NounRow):
    """A row of a company."""

    company_id: Mapped[str]


class ProjectRow(NounRow):
    """A row of a project. `company_id` is not a field of the noun: it ties references down."""

    project_id: Mapped[str]
    company_id: Mapped[str]


def of_company(*more: SchemaItem) -> tuple[SchemaItem, ...]:
    """The constraints of a table of the company's things, and `more`."""
    return (
        UniqueConstraint("company_id", "id"),
        reference(["company_id"], "company", ["id"]),
        *more,
    )


def of_project(*more: SchemaItem) -> tuple[SchemaItem, ...]:
    """The constraints of a table of a project's things, and `more`."""
    return (
        UniqueConstraint("project_id", "id"),
        reference(["company_id", "project_id"], "project", ["company_id", "id"]),
        *more,
    )


def to_company(column: str, table: str) -> ForeignKeyConstraint:
    """`column` names a thing of the same company."""
    return reference(["company_id", column], table, ["company_id", "id"])


def to_project(column: str, table: str, *, in_a_ring: bool = False) -> ForeignKeyConstraint:
    """`column` names a thing of the same project. `in_a_ring`: that table points back here."""
    return reference(["project_id", column], table, ["project_id", "id"], in_a_ring=in_a_ring)


def reference(
    columns: list[str], table: str, to: list[str], *, in_a_ring: bool = False
) -> ForeignKeyConstraint:
    """A foreign key that is looked at when the transaction commits."""
    return ForeignKeyConstraint(
        columns,
        [f"{table}.{name}" for name in to],
        deferrable=True,
        initially="DEFERRED",
        use_alter=in_a_ring,
    )


def one_of(column: str, *values: str) -> CheckConstraint:
    """`column` holds one of these texts."""
    listed = ", ".join("'" + value.replace("'", "''") + "'" for value in values)
    return CheckConstraint(f"{column} IN ({listed})", name=column)
