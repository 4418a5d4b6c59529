"""Hold points with what they ask, their attempts, numbers and photos."""

from datetime import datetime
from fractions import Fraction

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


class HoldTable(ProjectRow, Base):
    __tablename__ = "hold"
    __table_args__ = of_project(
        UniqueConstraint("activity_id"),
        to_project("activity_id", "activity"),
        to_company("marks_crew_id", "crew"),
        to_company("releases_id", "person"),
    )

    activity_id: Mapped[str]
    what: Mapped[str]
    datum: Mapped[str]
    tool: Mapped[str]
    photos: Mapped[int]
    photo_note: Mapped[str]
    source: Mapped[str]
    marks_crew_id: Mapped[str | None]
    releases_id: Mapped[str | None]
    authority: Mapped[bool]
    witness: Mapped[bool]
    own_mark_ok: Mapped[bool]
    notice: Mapped[int]
    called: Mapped[datetime | None]
    layer_ids: Mapped[tuple[str, ...]]
    part_name: Mapped[str]
    parts: Mapped[int]
    tag: Mapped[str]


class AskTable(ProjectRow, Base):
    __tablename__ = "ask"
    __table_args__ = of_project(to_project("hold_id", "hold"))

    hold_id: Mapped[str]
    order: Mapped[int]
    label: Mapped[str]
    unit: Mapped[str]
    part: Mapped[int | None]
    nominal: Mapped[Fraction | None]
    low: Mapped[Fraction | None]
    high: Mapped[Fraction | None]
    far_low: Mapped[Fraction | None]
    far_high: Mapped[Fraction | None]
    tag: Mapped[str]


class AttemptTable(ProjectRow, Base):
    __tablename__ = "attempt"
    __table_args__ = of_project(
        UniqueConstraint("hold_id", "no"),
        to_project("hold_id", "hold"),
        to_project("sheet_id", "sheet"),
        to_company("marked_by_id", "person"),
        to_company("decided_by_id", "person"),
        to_company("opened_by_id", "person"),
        one_of("state", "marked", "released", "look again", "rejected", "opened again"),
    )

    hold_id: Mapped[str]
    no: Mapped[int]
    state: Mapped[str]
    marked_by_id: Mapped[str]
    marked_at: Mapped[datetime]
    parts: Mapped[tuple[int, ...]]
    note: Mapped[str]
    decided_by_id: Mapped[str | None]
    decided_at: Mapped[datetime | None]
    inspector: Mapped[str]
    left_out: Mapped[tuple[int, ...]]
    again_by: Mapped[datetime | None]
    reason: Mapped[str]
    opened_by_id: Mapped[str | None]
    opened_at: Mapped[datetime | None]
    opened_reason: Mapped[str]
    sheet_id: Mapped[str | None]


class MeasurementTable(ProjectRow, Base):
    __tablename__ = "measurement"
    __table_args__ = of_project(to_project("attempt_id", "attempt"), to_project("ask_id", "ask"))

    attempt_id: Mapped[str]
    ask_id: Mapped[str]
    typed: Mapped[str]
    value: Mapped[Fraction]


class PhotoTable(ProjectRow, Base):
    __tablename__ = "photo"
    __table_args__ = of_project(
        to_project("hold_id", "hold"),
        to_project("attempt_id", "attempt"),
        to_company("by_id", "person"),
    )

    sha256: Mapped[str]
    width: Mapped[int]
    height: Mapped[int]
    by_id: Mapped[str]
    at: Mapped[datetime]
    taken: Mapped[datetime | None]
    hold_id: Mapped[str | None]
    attempt_id: Mapped[str | None]
    note: Mapped[str]
