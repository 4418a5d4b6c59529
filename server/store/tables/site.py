"""Drawings, temporary works with their looks, readings, accepted warnings."""

from datetime import date, datetime
from fractions import Fraction

from sqlalchemy.orm import Mapped

from server.store.tables.base import Base, ProjectRow, of_project, to_company, to_project


class SheetTable(ProjectRow, Base):
    __tablename__ = "sheet"
    __table_args__ = of_project(
        to_project("detail_id", "detail"), to_project("replaced_id", "sheet")
    )

    detail_id: Mapped[str]
    number: Mapped[str]
    revision: Mapped[str]
    title: Mapped[str]
    dated: Mapped[date | None]
    replaced_id: Mapped[str | None]


class TemporaryTable(ProjectRow, Base):
    __tablename__ = "temporary"
    __table_args__ = of_project(
        to_project("detail_id", "detail"),
        to_project("place_id", "place"),
        to_company("crew_id", "crew"),
    )

    kind: Mapped[str]
    name: Mapped[str]
    detail_id: Mapped[str | None]
    place_id: Mapped[str | None]
    crew_id: Mapped[str | None]
    daily: Mapped[bool]
    risers: Mapped[int]
    rise: Mapped[Fraction | None]
    put_in: Mapped[datetime | None]
    taken_out: Mapped[datetime | None]


class LookTable(ProjectRow, Base):
    __tablename__ = "look"
    __table_args__ = of_project(
        to_project("temporary_id", "temporary"), to_company("by_id", "person")
    )

    temporary_id: Mapped[str]
    by_id: Mapped[str]
    at: Mapped[datetime]
    in_order: Mapped[bool]
    note: Mapped[str]


class ReadingTable(ProjectRow, Base):
    __tablename__ = "reading"
    __table_args__ = of_project(to_project("place_id", "place"), to_company("by_id", "person"))

    place_id: Mapped[str]
    what: Mapped[str]
    value: Mapped[Fraction]
    unit: Mapped[str]
    by_id: Mapped[str]
    at: Mapped[datetime]
    where: Mapped[str]


class AcceptedTable(ProjectRow, Base):
    __tablename__ = "accepted"
    __table_args__ = of_project(to_company("by_id", "person"))

    warning: Mapped[str]
    reason: Mapped[str]
    until: Mapped[date]
    by_id: Mapped[str]
    at: Mapped[datetime]
