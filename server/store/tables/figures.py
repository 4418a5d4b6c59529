"""Figures that are kept with a detail."""

from datetime import datetime

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
    hold_id: Mapped[str | None]
    activity_id: Mapped[str | None]
    taken: Mapped[str]
    ended: Mapped[datetime | None]
