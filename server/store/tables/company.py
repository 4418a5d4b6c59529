"""The company and what it owns over all projects."""

from datetime import date, datetime

from sqlalchemy.orm import Mapped

from server.store.tables.base import (
    Base,
    CompanyRow,
    NounRow,
    of_company,
    one_of,
    to_company,
)


class CompanyTable(NounRow, Base):
    """`revision` counts the changes in all of the company; its row is what a writer locks."""

    __tablename__ = "company"

    name: Mapped[str]
    trades: Mapped[tuple[str, ...]]
    frozen_at: Mapped[datetime | None]
    revision: Mapped[int]


class CalendarTable(CompanyRow, Base):
    __tablename__ = "calendar"
    __table_args__ = of_company(to_company("based_on_id", "calendar"))

    name: Mapped[str]
    shifts: Mapped[tuple[str, ...]]
    closed: Mapped[tuple[date, ...]]
    extra: Mapped[tuple[str, ...]]
    based_on_id: Mapped[str | None]
    opened: Mapped[tuple[date, ...]]
    named: Mapped[tuple[str, ...]]
    holidays_of: Mapped[str]
    holidays: Mapped[tuple[str, ...]]


class CrewTable(CompanyRow, Base):
    __tablename__ = "crew"
    __table_args__ = of_company(to_company("calendar_id", "calendar"))

    name: Mapped[str]
    trade: Mapped[str]
    foreman: Mapped[str]
    phone: Mapped[str]
    language: Mapped[str]
    calendar_id: Mapped[str | None]
    can_field: Mapped[int]
    least_visit: Mapped[int]
    notice: Mapped[int]
    ended: Mapped[datetime | None]


class PersonTable(CompanyRow, Base):
    __tablename__ = "person"
    __table_args__ = of_company(
        to_company("crew_id", "crew"),
        one_of("role", "super", "crew", "rep"),
        one_of("units", "in", "mm"),
    )

    name: Mapped[str]
    role: Mapped[str]
    title: Mapped[str]
    crew_id: Mapped[str | None]
    phone: Mapped[str]
    email: Mapped[str]
    language: Mapped[str]
    units: Mapped[str]
    answers_in: Mapped[int]
    ended: Mapped[datetime | None]


class OwnPatternTable(CompanyRow, Base):
    __tablename__ = "own_pattern"
    __table_args__ = of_company()

    name: Mapped[str]
    text: Mapped[str]
    ended: Mapped[datetime | None]


class OwnLimitsTable(CompanyRow, Base):
    __tablename__ = "own_limits"
    __table_args__ = of_company()

    name: Mapped[str]
    text: Mapped[str]
    ended: Mapped[datetime | None]
