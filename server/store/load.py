"""Rows into a snapshot: one statement per table, whatever the project holds."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass, fields
from operator import attrgetter
from typing import Any, TypeVar

from sqlalchemy import Column, Connection, Row, Select, bindparam, select

from server.core.changes.base import Gone
from server.core.world import TABLES, Company, Noun, Project, Snapshot
from server.store.tables import COMPANY, NOUNS, PROJECT

N = TypeVar("N", bound=Noun)


@dataclass(frozen=True)
class Revisions:
    """What state a project is in; `project` is None for a company seen by itself."""

    company_id: str
    company: int
    project: int | None = None


def ordered(table: Iterable[N]) -> dict[str, N]:
    """A table as a snapshot keeps it: by `order` where the noun has one, else by id.

    Sorted here and not by the database, whose idea of letters depends on how it was set up.
    """
    nouns = list(table)
    by = ("order", "id") if nouns and hasattr(nouns[0], "order") else ("id",)
    nouns.sort(key=attrgetter(*by))
    return {noun.id: noun for noun in nouns}


def project_revisions(connection: Connection, project_id: str) -> Revisions:
    """The revisions of a project and its company, or `Gone`."""
    row = connection.execute(_PROJECT_REVISIONS, {"id": project_id}).one_or_none()
    if row is None:
        raise Gone("change.gone", what=TABLES[Project])
    return Revisions(*row)


def company_revisions(connection: Connection, company_id: str) -> Revisions:
    """The revision of a company, or `Gone`."""
    row = connection.execute(_COMPANY_REVISION, {"id": company_id}).one_or_none()
    if row is None:
        raise Gone("change.gone", what=TABLES[Company])
    return Revisions(*row)


def load_at(connection: Connection, revisions: Revisions, project_id: str | None) -> Snapshot:
    """What is there at these revisions, which were read in the same transaction."""
    ids = {"company_id": revisions.company_id, "project_id": project_id}
    tables = {
        reader.table: ordered(map(reader.make, connection.execute(reader.statement, ids)))
        for reader in _READERS
        if project_id is not None or not reader.of_project
    }
    return Snapshot(
        company_revision=revisions.company,
        project_revision=revisions.project or 0,
        **tables,  # type: ignore[arg-type]
    )


@dataclass(frozen=True)
class _Reader:
    table: str
    statement: Select[Any]
    make: Callable[[Row[Any]], Noun]
    of_project: bool


def _reader(noun: type[Noun]) -> _Reader:
    table, names = NOUNS[noun], [f.name for f in fields(noun)]
    if noun is Company:
        where = table.c.id == bindparam("company_id")
    elif noun is Project:
        where = table.c.id == bindparam("project_id")
    elif "project_id" in names:
        where = table.c.project_id == bindparam("project_id")
    else:
        where = table.c.company_id == bindparam("company_id")
    return _Reader(
        table=TABLES[noun],
        statement=select(*columns_of(noun)).where(where),
        make=maker(noun),
        of_project=noun is Project or "project_id" in names,
    )


def columns_of(noun: type[Noun]) -> list[Column[Any]]:
    """The columns of a noun, in the order of its fields."""
    return [NOUNS[noun].c[f.name] for f in fields(noun)]


def maker(noun: type[N]) -> Callable[[Iterable[Any]], N]:
    """Makes a noun of a row whose columns stand in the order of its fields."""
    names = [f.name for f in fields(noun)]

    def make(row: Iterable[Any]) -> N:
        return noun(**dict(zip(names, row, strict=True)))

    return make


_READERS = tuple(_reader(noun) for noun in TABLES)
_PROJECT_REVISIONS = (
    select(COMPANY.c.id, COMPANY.c.revision, PROJECT.c.revision)
    .join_from(PROJECT, COMPANY, PROJECT.c.company_id == COMPANY.c.id)
    .where(PROJECT.c.id == bindparam("id"))
)
_COMPANY_REVISION = select(COMPANY.c.id, COMPANY.c.revision).where(COMPANY.c.id == bindparam("id"))
