"""The store as everything above it sees it: read a project, make a change, read the log."""

from contextlib import AbstractContextManager
from datetime import datetime
from typing import TypeVar

from sqlalchemy import ColumnElement, Connection, select

from server.core.changes import Actor, Command
from server.core.world import (
    Company,
    Given,
    Noun,
    Photo,
    Project,
    Snapshot,
)
from server.settings import Settings
from server.store import log
from server.store.apply import Applied, Request, apply, begin_company
from server.store.cache import Cache
from server.store.clock import now_in
from server.store.engine import Database
from server.store.load import (
    columns_of,
    company_revisions,
    maker,
    ordered,
    project_revisions,
)
from server.store.log import LogRow
from server.store.tables import NOUNS, PROJECT
from server.store.undoing import Turns, turns

N = TypeVar("N", bound=Noun)


class Store:
    """What the program remembers. Safe to share between threads.

    Everything may raise `Unavailable`; reading a project that is not there raises `Gone`.
    """

    def __init__(self, database: Database) -> None:
        self._database = database
        self._cache = Cache()

    def reading(self) -> AbstractContextManager[Connection]:
        """One read transaction, for `accounts` and the like."""
        return self._database.reading()

    def writing(self) -> AbstractContextManager[Connection]:
        """One write transaction, for `accounts` and the like; committed when the block ends."""
        return self._database.writing()

    def close(self) -> None:
        """Lets go of the database."""
        self._database.close()

    # -- what is --------------------------------------------------------------------------------

    def snapshot(self, project_id: str) -> Snapshot:
        """A project with what it shares with its company, as of one moment."""
        with self.reading() as connection:
            revisions = project_revisions(connection, project_id)
            return self._cache.load(connection, revisions, project_id)

    def company_snapshot(self, company_id: str) -> Snapshot:
        """A company's own things, without a project."""
        with self.reading() as connection:
            revisions = company_revisions(connection, company_id)
            return self._cache.load(connection, revisions, None)

    def revisions(self, project_id: str) -> tuple[int, int]:
        """The revisions of the company and of the project."""
        with self.reading() as connection:
            at = project_revisions(connection, project_id)
        return at.company, at.project or 0

    def company_of(self, project_id: str) -> str | None:
        """The company a project belongs to."""
        with self.reading() as connection:
            chosen = select(PROJECT.c.company_id).where(PROJECT.c.id == project_id)
            return connection.execute(chosen).scalar_one_or_none()

    def where_is(self, noun: type[Noun], id: str) -> str | None:
        """The project that a detail, a check … of this id belongs to."""
        table = NOUNS[noun]
        with self.reading() as connection:
            chosen = select(table.c.project_id).where(table.c.id == id)
            return connection.execute(chosen).scalar_one_or_none()

    def companies(self) -> tuple[Company, ...]:
        """All companies there are."""
        return self._all(Company)

    def projects(self, company_id: str, given_to: str | None = None) -> tuple[Project, ...]:
        """The projects of a company, by name; `given_to`: those given to this person."""
        where = [PROJECT.c.company_id == company_id]
        if given_to is not None:
            given = NOUNS[Given]
            chosen = select(given.c.project_id).where(given.c.person_id == given_to)
            where.append(PROJECT.c.id.in_(chosen))
        return tuple(sorted(self._all(Project, *where), key=lambda project: project.name))

    def photo_hashes(self) -> frozenset[str]:
        """The sha256 of every photo that a row names, of all companies."""
        with self.reading() as connection:
            return frozenset(connection.scalars(select(NOUNS[Photo].c.sha256)))

    def now(self, company: Company, project: Project | None = None) -> datetime:
        """Now by the project's wall clock, without a zone; a frozen company's clock stands."""
        return now_in(company, project)

    # -- what happened --------------------------------------------------------------------------

    def log(
        self,
        project_id: str,
        since: datetime | None = None,
        detail_id: str | None = None,
        limit: int = 100,
    ) -> list[LogRow]:
        """A project's changes, newest first: since a time by its clock, about one detail."""
        with self.reading() as connection:
            return log.of_project(connection, project_id, since, detail_id, limit)

    def changed_last(self, project_id: str, id: str) -> LogRow | None:
        """The newest change of a row of the plan, or of what hangs on it."""
        with self.reading() as connection:
            return log.newest_of_row(connection, project_id, id)

    def turns(self, person_id: str, company_id: str, project_id: str | None) -> Turns:
        """The entries that a person would undo and redo next, in a project or the company alone."""
        with self.reading() as connection:
            return turns(connection, company_id, project_id, person_id)

    # -- changes --------------------------------------------------------------------------------

    def apply(
        self,
        actor: Actor,
        project_id: str | None,
        *commands: Command,
        company_id: str | None = None,
        key: str | None = None,
        content: str | None = None,
        device: str = "",
        phone_clock: datetime | None = None,
        at: datetime | None = None,
    ) -> Applied:
        """Makes all of these changes, or none: on disk when this returns.

        `project_id` None is a change of the company `company_id` alone, or a new project. `key`
        is the one-time key of a form; with `content`, the form as it was sent, a form that comes
        again is known by that and not by its commands. `at` is now by the project's clock.

        Raises the rules' refusals, `Hidden`, `Gone`, `AlreadyUsed`, `CannotKeep`, `Unavailable`.
        """
        request = Request(
            actor=actor,
            project_id=project_id,
            commands=commands,
            company_id=company_id,
            key=key,
            content=content,
            device=device,
            phone_clock=phone_clock,
            at=at,
        )
        with self.writing() as connection:
            applied = apply(connection, request, self._cache.load)
        self._cache.keep(applied.after)
        return applied

    def found_company(self, company: Company, *nouns: Noun) -> None:
        """Keeps a new company with its first people and calendars (and perhaps a project)."""
        with self.writing() as connection:
            begin_company(connection, Snapshot().put(company, *nouns))

    def _all(self, noun: type[N], *where: ColumnElement[bool]) -> tuple[N, ...]:
        chosen = select(*columns_of(noun)).where(*where)
        with self.reading() as connection:
            return tuple(ordered(map(maker(noun), connection.execute(chosen))).values())


def open_store(database: Settings | str) -> Store:
    """The store of these settings, or at the address of a database that is migrated already."""
    url = database if isinstance(database, str) else database.database_url
    return Store(Database(url))
