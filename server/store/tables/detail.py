"""A detail, its sides and their layers."""

from datetime import datetime
from fractions import Fraction

from sqlalchemy.orm import Mapped

from server.store.tables.base import Base, ProjectRow, of_project, to_project


class DetailTable(ProjectRow, Base):
    __tablename__ = "detail"
    __table_args__ = of_project(to_project("place_id", "place"))

    name: Mapped[str]
    sheet: Mapped[str]
    order: Mapped[int]
    place_id: Mapped[str | None]
    pattern: Mapped[str]
    note: Mapped[str]
    ended: Mapped[datetime | None]


class SideTable(ProjectRow, Base):
    __tablename__ = "side"
    __table_args__ = of_project(to_project("detail_id", "detail"))

    detail_id: Mapped[str]
    name: Mapped[str]
    order: Mapped[int]


class LayerTable(ProjectRow, Base):
    __tablename__ = "layer"
    __table_args__ = of_project(
        to_project("detail_id", "detail"),
        to_project("side_id", "side"),
        to_project("within_id", "layer"),
    )

    detail_id: Mapped[str]
    side_id: Mapped[str]
    order: Mapped[int]
    name: Mapped[str]
    material: Mapped[str]
    thickness: Mapped[Fraction | None]
    part_name: Mapped[str]
    parts: Mapped[int]
    within_id: Mapped[str | None]
    passes_through: Mapped[bool]
    must_be_seen: Mapped[bool]
    finished: Mapped[bool]
    powered: Mapped[bool]
    tag: Mapped[str]
    ended: Mapped[datetime | None]
