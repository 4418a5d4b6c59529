"""Visits asked for, promised dates, what a crew has to hear; the dates of each day and why."""

from datetime import date, datetime

from sqlalchemy import UniqueConstraint
from sqlalchemy.orm import Mapped

from server.store.tables.base import (
    Base,
    ProjectRow,
    of_project,
    one_of,
    to_company,
    to_project,
)


class BookingTable(ProjectRow, Base):
    __tablename__ = "booking"
    __table_args__ = of_project(
        to_company("crew_id", "crew"),
        to_company("asked_by_id", "person"),
        to_company("answered_by_id", "person"),
        one_of("state", "asked", "coming", "can't come"),
    )

    crew_id: Mapped[str]
    activity_ids: Mapped[tuple[str, ...]]
    start: Mapped[datetime]
    finish: Mapped[datetime]
    state: Mapped[str]
    asked_by_id: Mapped[str]
    asked_at: Mapped[datetime]
    answered_by_id: Mapped[str | None]
    answered_at: Mapped[datetime | None]
    by_phone: Mapped[bool]
    other_day: Mapped[datetime | None]
    reason: Mapped[str]
    ended: Mapped[datetime | None]
    promised: Mapped[datetime | None]
    wasted: Mapped[str]
    wasted_at: Mapped[datetime | None]


class AgreedTable(ProjectRow, Base):
    __tablename__ = "agreed"
    __table_args__ = of_project(
        to_project("activity_id", "activity"),
        to_project("detail_id", "detail"),
        to_company("by_id", "person"),
    )

    activity_id: Mapped[str]
    detail_id: Mapped[str]
    round: Mapped[int]
    start: Mapped[datetime]
    finish: Mapped[datetime]
    by_id: Mapped[str]
    at: Mapped[datetime]
    reason: Mapped[str]


class TellingTable(ProjectRow, Base):
    __tablename__ = "telling"
    __table_args__ = of_project(
        to_company("crew_id", "crew"),
        to_project("booking_id", "booking"),
        to_company("by_id", "person"),
        to_company("heard_by_id", "person"),
        one_of("what", "asked", "moves", "ends", "breaks", "work"),
    )

    crew_id: Mapped[str]
    what: Mapped[str]
    activity_ids: Mapped[tuple[str, ...]]
    booking_id: Mapped[str | None]
    was: Mapped[datetime | None]
    now: Mapped[datetime | None]
    by_id: Mapped[str]
    at: Mapped[datetime]
    heard: Mapped[datetime | None]
    heard_by_id: Mapped[str | None]


class DayFinishTable(ProjectRow, Base):
    __tablename__ = "day_finish"
    __table_args__ = of_project(
        to_project("detail_id", "detail"), UniqueConstraint("detail_id", "day")
    )

    detail_id: Mapped[str]
    day: Mapped[date]
    finish: Mapped[datetime]


class CauseTable(ProjectRow, Base):
    __tablename__ = "cause"
    __table_args__ = of_project(
        to_project("detail_id", "detail"),
        to_project("activity_id", "activity"),
        to_company("by_id", "person"),
    )

    detail_id: Mapped[str]
    day: Mapped[date]
    text: Mapped[str]
    activity_id: Mapped[str | None]
    by_id: Mapped[str]
    at: Mapped[datetime]
