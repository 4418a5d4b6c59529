"""Figures that are kept with a detail."""

from datetime import datetime
from fractions import Fraction

from sqlalchemy.orm import Mapped

from server.store.tables.base import Base, ProjectRow, of_project, to_project


class KeptFigureTable(ProjectRow, Base):
    __tablename__ = "kept_figure"
    __table_args__ = of_project(
        to_project("detail_id", "detail"),
        to_project("hold_id", "hold"),
        to_project("activity_id", "activity"),
    )

    detail_id: Mapped[str]
    figure: Mapped[str]
    name: Mapped[str]
    inputs: Mapped[str]
    limits: Mapped[str]
    outside: Mapped[tuple[str, ...]]
    least: Mapped[Fraction | None]
    most: Mapped[Fraction | None]
    units: Mapped[str]
    hold_id: Mapped[str | None]
    activity_id: Mapped[str | None]
    taken: Mapped[str]
    ended: Mapped[datetime | None]


class StackPartTable(ProjectRow, Base):
    __tablename__ = "stack_part"
    __table_args__ = of_project(
        to_project("figure_id", "kept_figure"), to_project("hold_id", "hold")
    )

    figure_id: Mapped[str]
    order: Mapped[int]
    name: Mapped[str]
    counts: Mapped[Fraction]
    nominal: Mapped[Fraction]
    plus: Mapped[Fraction]
    minus: Mapped[Fraction]
    measured: Mapped[Fraction | None]
    hold_id: Mapped[str | None]
    label: Mapped[str]
