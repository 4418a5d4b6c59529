"""Names and password hashes of those who sign in, and the sign-ins that failed."""

from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any, Literal

from sqlalchemy import ColumnElement, Connection, and_, delete, insert, select, update
from sqlalchemy.dialects import postgresql, sqlite

from server.store.accounts.people import company_of
from server.store.tables import CREDENTIAL, FAILURE


@dataclass(frozen=True)
class Credential:
    """What a person signs in with. `login` is in lower case."""

    person_id: str
    company_id: str
    login: str
    password_hash: str
    changed: datetime


@dataclass(frozen=True)
class Failures:
    """How many sign-ins failed in a row, and when the last one did."""

    count: int = 0
    last: datetime | None = None


REMEMBERED = timedelta(days=30)
Kind = Literal["account", "address"]


def set_credential(
    connection: Connection, person_id: str, login: str, password_hash: str, now: datetime
) -> None:
    """Gives a person a login and a password, or other ones.

    At the end of the transaction `CannotKeep` if the login is somebody else's.
    """
    values = {"login": login.strip().lower(), "password_hash": password_hash, "changed": now}
    theirs = CREDENTIAL.c.person_id == person_id
    if connection.execute(update(CREDENTIAL).where(theirs).values(values)).rowcount:
        return
    company_id = company_of(connection, person_id)
    row = values | {"person_id": person_id, "company_id": company_id}
    connection.execute(insert(CREDENTIAL).values(row))


def credential(connection: Connection, login: str) -> Credential | None:
    """Whose login this is."""
    return _credential(connection, CREDENTIAL.c.login == login.strip().lower())


def credential_of(connection: Connection, person_id: str) -> Credential | None:
    """What a person signs in with, if anything."""
    return _credential(connection, CREDENTIAL.c.person_id == person_id)


def failures(connection: Connection, kind: Kind, who: str) -> Failures:
    """The sign-ins that failed, for an account's name or from an address."""
    row = connection.execute(
        select(FAILURE.c.count, FAILURE.c.last).where(_counter(kind, who))
    ).one_or_none()
    return Failures(*row) if row else Failures()


def count_try(connection: Connection, kind: Kind, who: str, now: datetime) -> Failures:
    """The failures so far, with this try counted as one more until `forget_failures`.

    Tries of one account or address wait for each other here, so that none is judged by a count
    that another is about to raise.
    """
    dialect: Any = sqlite if connection.dialect.name == "sqlite" else postgresql
    row = dialect.insert(FAILURE).values(kind=kind, who=who, count=0, last=now)
    connection.execute(row.on_conflict_do_nothing())
    chosen = select(FAILURE.c.count, FAILURE.c.last).where(_counter(kind, who))
    before = Failures(*connection.execute(chosen.with_for_update()).one())
    add_failure(connection, kind, who, now)
    return before


def add_failure(connection: Connection, kind: Kind, who: str, now: datetime) -> int:
    """Counts one more, and says how many there are; forgets what was counted long ago."""
    connection.execute(delete(FAILURE).where(FAILURE.c.last < now - REMEMBERED))
    # One statement: two requests may count the first failure of an account at the same time.
    dialect: Any = sqlite if connection.dialect.name == "sqlite" else postgresql
    first = dialect.insert(FAILURE).values(kind=kind, who=who, count=1, last=now)
    one_more = first.on_conflict_do_update(
        index_elements=[FAILURE.c.kind, FAILURE.c.who],
        set_={"count": FAILURE.c.count + 1, "last": now},
    )
    count: int = connection.execute(one_more.returning(FAILURE.c.count)).scalar_one()
    return count


def forget_failures(connection: Connection, kind: Kind, who: str) -> None:
    """Begins to count anew."""
    connection.execute(delete(FAILURE).where(_counter(kind, who)))


def _counter(kind: str, who: str) -> ColumnElement[bool]:
    return and_(FAILURE.c.kind == kind, FAILURE.c.who == who)


def _credential(connection: Connection, where: ColumnElement[bool]) -> Credential | None:
    row = connection.execute(
        select(*(CREDENTIAL.c[name] for name in Credential.__dataclass_fields__)).where(where)
    ).one_or_none()
    return Credential(*row) if row else None
