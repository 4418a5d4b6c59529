"""Personal links, and the phones that opened them. Only the hash of a link's secret is kept."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import ColumnElement, Connection, insert, select, update

from server.store.accounts.people import company_of
from server.store.tables import DEVICE, LINK, LINK_PROJECT, SESSION


@dataclass(frozen=True)
class Link:
    """A way in for one person to chosen projects. `by_id` None: made on the command line."""

    id: str
    company_id: str
    person_id: str
    made: datetime
    by_id: str | None
    ended: datetime | None
    project_ids: tuple[str, ...]


@dataclass(frozen=True)
class Device:
    """A phone. While `confirmed` is None it may only look."""

    id: str
    company_id: str
    person_id: str
    link_id: str | None
    label: str
    made: datetime
    confirmed: datetime | None
    confirmed_by_id: str | None
    ended: datetime | None


def add_link(
    connection: Connection,
    id: str,
    hash: str,
    person_id: str,
    project_ids: Iterable[str],
    by_id: str | None,
    now: datetime,
) -> None:
    """A new link for a person to projects of the same company."""
    company_id = company_of(connection, person_id)
    connection.execute(
        insert(LINK).values(
            id=id, company_id=company_id, person_id=person_id, hash=hash, made=now, by_id=by_id
        )
    )
    for project_id in project_ids:
        row = {"link_id": id, "project_id": project_id, "company_id": company_id}
        connection.execute(insert(LINK_PROJECT).values(row))


def find_link(connection: Connection, hash: str) -> Link | None:
    """The link with this secret, ended or not."""
    return next(iter(_links(connection, LINK.c.hash == hash)), None)


def link(connection: Connection, id: str) -> Link | None:
    """The link of this id, ended or not."""
    return next(iter(_links(connection, LINK.c.id == id)), None)


def links_of(connection: Connection, person_id: str) -> tuple[Link, ...]:
    """All links of a person, the newest first."""
    return _links(connection, LINK.c.person_id == person_id)


def lock_link(connection: Connection, id: str) -> None:
    """Lets no other transaction that locks this link go on before this one has ended."""
    connection.execute(select(LINK.c.id).where(LINK.c.id == id).with_for_update())


def end_link(connection: Connection, id: str, now: datetime) -> None:
    """Ends a link, and every session that came in by it."""
    connection.execute(
        update(LINK).where(LINK.c.id == id, LINK.c.ended.is_(None)).values(ended=now)
    )
    _end_sessions(connection, SESSION.c.link_id == id, now)


def add_device(
    connection: Connection,
    id: str,
    person_id: str,
    link_id: str | None,
    label: str,
    now: datetime,
    confirmed: datetime | None,
) -> None:
    """A phone seen for the first time."""
    connection.execute(
        insert(DEVICE).values(
            id=id,
            company_id=company_of(connection, person_id),
            person_id=person_id,
            link_id=link_id,
            label=label,
            made=now,
            confirmed=confirmed,
        )
    )


def device(connection: Connection, id: str) -> Device | None:
    """The phone of this id, ended or not."""
    return next(iter(_devices(connection, DEVICE.c.id == id)), None)


def devices_of(connection: Connection, person_id: str) -> tuple[Device, ...]:
    """All phones of a person, the newest first."""
    return _devices(connection, DEVICE.c.person_id == person_id)


def confirm_device(connection: Connection, id: str, by_id: str, now: datetime) -> None:
    """ "That is them": this phone may press, too."""
    row = update(DEVICE).where(DEVICE.c.id == id)
    connection.execute(row.values(confirmed=now, confirmed_by_id=by_id))


def end_device(connection: Connection, id: str, now: datetime) -> None:
    """This phone does not come in any more."""
    row = update(DEVICE).where(DEVICE.c.id == id, DEVICE.c.ended.is_(None))
    connection.execute(row.values(ended=now))
    _end_sessions(connection, SESSION.c.device_id == id, now)


def _end_sessions(connection: Connection, which: ColumnElement[bool], now: datetime) -> None:
    open_ones = update(SESSION).where(which, SESSION.c.ended.is_(None))
    connection.execute(open_ones.values(ended=now))


def _links(connection: Connection, where: ColumnElement[bool]) -> tuple[Link, ...]:
    names = [name for name in Link.__dataclass_fields__ if name != "project_ids"]
    rows = connection.execute(
        select(*(LINK.c[name] for name in names)).where(where).order_by(LINK.c.made.desc())
    ).all()
    projects: dict[str, list[str]] = {row.id: [] for row in rows}
    chosen = select(LINK_PROJECT.c.link_id, LINK_PROJECT.c.project_id)
    for link_id, project_id in connection.execute(
        chosen.where(LINK_PROJECT.c.link_id.in_(projects)).order_by(LINK_PROJECT.c.project_id)
    ):
        projects[link_id].append(project_id)
    return tuple(Link(**row._mapping, project_ids=tuple(projects[row.id])) for row in rows)


def _devices(connection: Connection, where: ColumnElement[bool]) -> tuple[Device, ...]:
    columns = [DEVICE.c[name] for name in Device.__dataclass_fields__]
    chosen = select(*columns).where(where).order_by(DEVICE.c.made.desc())
    return tuple(Device(*row) for row in connection.execute(chosen))
