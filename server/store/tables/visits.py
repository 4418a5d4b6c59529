"""Visits asked for, and promised dates."""

from datetime import datetime

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
