"""Activities, dependencies, and what tasks do to layers."""

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


class ActivityTable(ProjectRow, Base):
    __tablename__ = "activity"
    __table_args__ = of_project(
        to_project("detail_id", "detail"),
        to_project("place_id", "place"),
        to_project("opens_way_id", "way"),
        to_project("closes_way_id", "way"),
        to_project("measured_from_id", "layer"),
        to_project("temporary_id", "temporary"),
        to_project("way_in_id", "way"),
        to_project("sample_id", "activity"),
        to_project("sheet_id", "sheet"),
        to_project("rework_of_id", "attempt", in_a_ring=True),
        to_company("crew_id", "crew"),
        to_company("person_id", "person"),
        to_company("calendar_id", "calendar"),
        one_of("kind", "task", "wait", "hold", "delivery", "decision"),
        one_of("edge", "", "opens", "closes"),
        one_of("temporary", "", "sets", "strikes", "stands on"),
    )

    detail_id: Mapped[str]
    order: Mapped[int]
    kind: Mapped[str]
    name: Mapped[str]
    work: Mapped[int]
    low: Mapped[int | None]
    high: Mapped[int | None]
    tag: Mapped[str]
    note: Mapped[str]
    crew_id: Mapped[str | None]
    with_crew_ids: Mapped[tuple[str, ...]]
    person_id: Mapped[str | None]
    place_id: Mapped[str | None]
    calendar_id: Mapped[str | None]
    not_before: Mapped[datetime | None]
    finish_by: Mapped[datetime | None]
    one_day: Mapped[bool]
    overhead: Mapped[bool]
    wet: Mapped[bool]
    dirty: Mapped[bool]
    hot: Mapped[bool]
    heavy: Mapped[bool]
    opens_way_id: Mapped[str | None]
    closes_way_id: Mapped[str | None]
    edge: Mapped[str]
    closes_place: Mapped[bool]
    finish_wood: Mapped[bool]
    shakes: Mapped[bool]
    stuff: Mapped[str]
    fire_watch: Mapped[bool]
    circuit: Mapped[str]
    circuit_dead: Mapped[datetime | None]
    temporary: Mapped[str]
    temporary_id: Mapped[str | None]
    way_in_id: Mapped[str | None]
    sample_id: Mapped[str | None]
    sheet_id: Mapped[str | None]
    carries_datum: Mapped[bool]
    measured_from_id: Mapped[str | None]
    review: Mapped[int]
    measured: Mapped[datetime | None]
    drawn: Mapped[datetime | None]
    approved: Mapped[datetime | None]
    shipped: Mapped[datetime | None]
    ordered: Mapped[datetime | None]
    promised: Mapped[datetime | None]
    counted: Mapped[datetime | None]
    answer: Mapped[str]
    started: Mapped[datetime | None]
    finished: Mapped[datetime | None]
    remaining: Mapped[int | None]
    remaining_at: Mapped[datetime | None]
    anyway: Mapped[str]
    rework_of_id: Mapped[str | None]
    ended: Mapped[datetime | None]
    ended_reason: Mapped[str]


class DependencyTable(ProjectRow, Base):
    __tablename__ = "dependency"
    __table_args__ = of_project(
        to_project("before_id", "activity"),
        to_project("after_id", "activity"),
        one_of("type", "FS", "SS", "FF", "SF"),
        one_of("lag_on", "clock", "work"),
    )

    before_id: Mapped[str]
    after_id: Mapped[str]
    type: Mapped[str]
    lag: Mapped[int]
    lag_on: Mapped[str]
    most: Mapped[int | None]
    tag: Mapped[str]


class EffectTable(ProjectRow, Base):
    __tablename__ = "effect"
    __table_args__ = of_project(
        to_project("activity_id", "activity"),
        to_project("layer_id", "layer"),
        one_of("verb", "puts in", "covers", "opens", "needs open"),
    )

    activity_id: Mapped[str]
    layer_id: Mapped[str]
    verb: Mapped[str]
    parts: Mapped[tuple[int, ...]]
