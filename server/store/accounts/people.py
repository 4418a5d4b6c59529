"""Persons, for those who only have an id of one."""

from sqlalchemy import Connection, select

from server.core.changes.base import Gone
from server.core.world import TABLES, Person
from server.store.load import columns_of, maker
from server.store.tables import PERSON


def person(connection: Connection, id: str) -> Person | None:
    """The person of this id, ended or not."""
    row = connection.execute(select(*columns_of(Person)).where(PERSON.c.id == id)).one_or_none()
    return maker(Person)(row) if row else None


def company_of(connection: Connection, person_id: str) -> str:
    """The company a person belongs to, or `Gone`."""
    found = person(connection, person_id)
    if found is None:
        raise Gone("change.gone", what=TABLES[Person])
    return found.company_id
