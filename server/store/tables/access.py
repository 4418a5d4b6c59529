"""Who may come in: credentials, personal links, devices, sessions, and counted failures.

Secrets are kept only as hashes. Datetimes are UTC.
"""

from datetime import datetime

from sqlalchemy import UniqueConstraint
from sqlalchemy.orm import Mapped, mapped_column

from server.store.tables.base import Base, of_company, one_of, reference, to_company


class CredentialTable(Base):
    __tablename__ = "credential"
    __table_args__ = (UniqueConstraint("login"), to_company("person_id", "person"))

    person_id: Mapped[str] = mapped_column(primary_key=True)
    company_id: Mapped[str]
    login: Mapped[str]
    password_hash: Mapped[str]
    changed: Mapped[datetime]


class FailureTable(Base):
    """Sign-ins that failed, for an account's name or from an address."""

    __tablename__ = "failure"
    __table_args__ = (one_of("kind", "account", "address"),)

    kind: Mapped[str] = mapped_column(primary_key=True)
    who: Mapped[str] = mapped_column(primary_key=True)
    count: Mapped[int]
    last: Mapped[datetime]


class LinkTable(Base):
    __tablename__ = "link"
    __table_args__ = of_company(
        UniqueConstraint("hash"),
        to_company("person_id", "person"),
        to_company("by_id", "person"),
    )

    id: Mapped[str] = mapped_column(primary_key=True)
    company_id: Mapped[str]
    person_id: Mapped[str] = mapped_column(index=True)
    hash: Mapped[str]
    made: Mapped[datetime]
    by_id: Mapped[str | None]
    ended: Mapped[datetime | None]


class LinkProjectTable(Base):
    """The projects a link is for."""

    __tablename__ = "link_project"
    __table_args__ = (to_company("link_id", "link"), to_company("project_id", "project"))

    link_id: Mapped[str] = mapped_column(primary_key=True)
    project_id: Mapped[str] = mapped_column(primary_key=True)
    company_id: Mapped[str]


class DeviceTable(Base):
    """A phone that opened a link. Until it is confirmed it may only look."""

    __tablename__ = "device"
    __table_args__ = of_company(
        to_company("person_id", "person"),
        to_company("link_id", "link"),
        to_company("confirmed_by_id", "person"),
    )

    id: Mapped[str] = mapped_column(primary_key=True)
    company_id: Mapped[str]
    person_id: Mapped[str] = mapped_column(index=True)
    link_id: Mapped[str | None]
    label: Mapped[str]
    made: Mapped[datetime]
    confirmed: Mapped[datetime | None]
    confirmed_by_id: Mapped[str | None]
    ended: Mapped[datetime | None]


class SessionTable(Base):
    __tablename__ = "session"
    __table_args__ = (
        reference(["company_id"], "company", ["id"]),
        to_company("person_id", "person"),
        to_company("device_id", "device"),
        to_company("link_id", "link"),
    )

    hash: Mapped[str] = mapped_column(primary_key=True)
    company_id: Mapped[str]
    person_id: Mapped[str] = mapped_column(index=True)
    device_id: Mapped[str | None]
    link_id: Mapped[str | None]
    made: Mapped[datetime]
    last_used: Mapped[datetime]
    ended: Mapped[datetime | None]
