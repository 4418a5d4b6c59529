"""A house under construction: floors, places, ways, and who was given a look at it."""

from datetime import datetime

from sqlalchemy.orm import Mapped

from server.store.tables.base import (
    Base,
    CompanyRow,
    ProjectRow,
    of_company,
    of_project,
    to_company,
    to_project,
)


class ProjectTable(CompanyRow, Base):
    """`revision` counts the changes in the project."""

    __tablename__ = "project"
    __table_args__ = of_company(to_company("calendar_id", "calendar"))

    name: Mapped[str]
    time_zone: Mapped[str]
    start: Mapped[datetime]
    calendar_id: Mapped[str]
    about: Mapped[str]
    ended: Mapped[datetime | None]
    revision: Mapped[int]


class FloorTable(ProjectRow, Base):
    __tablename__ = "floor"
    __table_args__ = of_project()

    name: Mapped[str]
    order: Mapped[int]


class PlaceTable(ProjectRow, Base):
    __tablename__ = "place"
    __table_args__ = of_project(to_project("floor_id", "floor"))

    name: Mapped[str]
    floor_id: Mapped[str]
    order: Mapped[int]
    room_for: Mapped[int]
    open_to: Mapped[tuple[str, ...]]
    air: Mapped[str]


class WayTable(ProjectRow, Base):
    __tablename__ = "way"
    __table_args__ = of_project(to_project("lower_id", "floor"), to_project("upper_id", "floor"))

    name: Mapped[str]
    lower_id: Mapped[str]
    upper_id: Mapped[str]
    carries: Mapped[bool]
    opened: Mapped[datetime | None]
    closed: Mapped[datetime | None]


class GivenTable(ProjectRow, Base):
    __tablename__ = "given"
    __table_args__ = of_project(to_company("person_id", "person"))

    person_id: Mapped[str]
    detail_ids: Mapped[tuple[str, ...]]
