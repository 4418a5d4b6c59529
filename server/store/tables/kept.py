"""What is kept of every change: the log, and the answers to forms already taken."""

from datetime import datetime

from sqlalchemy import Index, UniqueConstraint
from sqlalchemy.orm import Mapped, mapped_column

from server.store.tables.base import Base, reference, to_company


class LogTable(Base):
    """One row per change; it only grows (triggers refuse UPDATE and DELETE).

    `at` is wall-clock time of the project, `server_at` UTC, `phone_clock` what the phone thought.
    `said` and `rows` are `server.store.codec` text. A change of the company alone has no project.
    `of_id` is the entry that this one has put back: each can be put back once.
    """

    __tablename__ = "log"
    __table_args__ = (
        UniqueConstraint("company_id", "company_revision"),
        UniqueConstraint("project_id", "revision"),
        Index(None, "person_id", "company_revision"),
        reference(["company_id"], "company", ["id"]),
        to_company("project_id", "project"),
        to_company("person_id", "person"),
    )

    id: Mapped[str] = mapped_column(primary_key=True)
    company_id: Mapped[str]
    company_revision: Mapped[int]
    project_id: Mapped[str | None]
    revision: Mapped[int | None]
    at: Mapped[datetime]
    server_at: Mapped[datetime]
    person_id: Mapped[str | None]
    person_name: Mapped[str]
    device: Mapped[str]
    phone_clock: Mapped[datetime | None]
    commands: Mapped[tuple[str, ...]]
    detail_ids: Mapped[tuple[str, ...]]
    said: Mapped[str]
    rows: Mapped[str]
    of_id: Mapped[str | None] = mapped_column(index=True, unique=True)


class AnswerTable(Base):
    """What a form with this key, sent by this person, was answered."""

    __tablename__ = "answer"
    __table_args__ = (reference(["company_id"], "company", ["id"]),)

    company_id: Mapped[str] = mapped_column(primary_key=True)
    person_id: Mapped[str] = mapped_column(primary_key=True)
    key: Mapped[str] = mapped_column(primary_key=True)
    content_hash: Mapped[str]
    said: Mapped[str]
    revision: Mapped[int]
    at: Mapped[datetime]
    server_at: Mapped[datetime] = mapped_column(index=True)
