"""Sessions: who is behind a cookie. Only the hash of its secret is kept."""

from dataclasses import dataclass
from datetime import datetime, timedelta

from sqlalchemy import Connection, insert, select, update

from server.core.world import Person
from server.store.accounts.links import Device, device, link
from server.store.accounts.people import company_of, person
from server.store.tables import SESSION

IDLE = timedelta(days=90)
"""A session that nobody uses for so long is over."""


@dataclass(frozen=True)
class Signed:
    """An open session: the person, the phone, and for a link the projects it is for."""

    hash: str
    person: Person
    company_id: str
    device: Device | None
    link_id: str | None
    project_ids: tuple[str, ...] | None
    made: datetime
    last_used: datetime


def add_session(
    connection: Connection,
    hash: str,
    person_id: str,
    now: datetime,
    device_id: str | None = None,
    link_id: str | None = None,
) -> None:
    """Opens a session."""
    connection.execute(
        insert(SESSION).values(
            hash=hash,
            company_id=company_of(connection, person_id),
            person_id=person_id,
            device_id=device_id,
            link_id=link_id,
            made=now,
            last_used=now,
        )
    )


def find_session(
    connection: Connection, hash: str, now: datetime, idle: timedelta = IDLE
) -> Signed | None:
    """Who is behind this cookie.

    None if there is no such session, if it was not used for `idle`, or if it, its person, link
    or phone has ended.
    """
    row = connection.execute(select(SESSION).where(SESSION.c.hash == hash)).one_or_none()
    if row is None or row.ended is not None or now - row.last_used > idle:
        return None
    who = person(connection, row.person_id)
    if who is None or who.ended is not None:
        return None
    came_by = link(connection, row.link_id) if row.link_id else None
    phone = device(connection, row.device_id) if row.device_id else None
    if any(found is not None and found.ended is not None for found in (came_by, phone)):
        return None
    return Signed(
        hash=row.hash,
        person=who,
        company_id=row.company_id,
        device=phone,
        link_id=row.link_id,
        project_ids=came_by.project_ids if came_by else None,
        made=row.made,
        last_used=row.last_used,
    )


def touch_session(connection: Connection, hash: str, now: datetime) -> None:
    """Notes that a session was used."""
    connection.execute(update(SESSION).where(SESSION.c.hash == hash).values(last_used=now))


def end_session(connection: Connection, hash: str, now: datetime) -> None:
    """Signs out."""
    row = update(SESSION).where(SESSION.c.hash == hash, SESSION.c.ended.is_(None))
    connection.execute(row.values(ended=now))


def end_sessions(connection: Connection, person_id: str, now: datetime) -> None:
    """Signs a person out everywhere."""
    rows = update(SESSION).where(SESSION.c.person_id == person_id, SESSION.c.ended.is_(None))
    connection.execute(rows.values(ended=now))
