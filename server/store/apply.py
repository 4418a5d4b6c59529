"""The one way a change is made: lock, load, rules, rows, log, revisions, answer; one transaction.

The rules are pure (`core.changes`): they are given a snapshot and give back another. What differs
is written. When this returns, the change is on disk.
"""

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import datetime

from sqlalchemy import Connection, bindparam, select, update

from server.core.changes import Actor, Command, change
from server.core.kept import keep_days
from server.core.refusals import Message, message
from server.core.rights import Hidden, sees_project
from server.core.world import TABLES, Person, Project, Snapshot, differences
from server.store import answers, log, rows, undoing
from server.store.clock import now_in, utc_now
from server.store.ids import new_id
from server.store.load import Revisions, company_revisions, ordered, project_revisions
from server.store.tables import COMPANY, PROJECT

OPERATOR = Actor(person_id="", name="operator", role="super")
"""Whoever runs the command line of the server: there is no person's row to look at."""

_LOCKED = select(COMPANY.c.id).where(COMPANY.c.id == bindparam("of_id")).with_for_update()
_COMPANY_AT, _PROJECT_AT = (
    update(table).where(table.c.id == bindparam("of_id")).values(revision=bindparam("at"))
    for table in (COMPANY, PROJECT)
)

Loader = Callable[[Connection, Revisions, str | None], Snapshot]


@dataclass(frozen=True, kw_only=True)
class Request:
    """Commands that one person gives in one go, and how they came in.

    `project_id` is None for a change of the company alone, or a new project; then `company_id`
    says which company. `key` is the one-time key of a form, `content` the form as it was sent.
    """

    actor: Actor
    project_id: str | None
    commands: tuple[Command, ...]
    company_id: str | None = None
    key: str | None = None
    content: str | None = None
    device: str = ""
    phone_clock: datetime | None = None
    at: datetime | None = None


@dataclass(frozen=True)
class Applied:
    """The world after a change, what the log says of it, and the revision it has now.

    `first_at` is the time, by the project's clock, when the same form was taken the first time;
    then nothing has been done now, and `said` and `revision` are the first answer.
    """

    after: Snapshot
    said: tuple[Message, ...]
    revision: int
    first_at: datetime | None = None


def apply(connection: Connection, request: Request, load: Loader) -> Applied:
    """Makes a change inside a write transaction, which the caller commits.

    Raises the `Refusal` of a rule, `Hidden` for somebody who cannot see the project, `Gone`,
    `AlreadyUsed`. After any of them the transaction must be rolled back.
    """
    revisions = _lock(connection, request)
    before = load(connection, revisions, request.project_id)
    actor = _known(before, request.actor)
    sent = _sent(request, revisions.company_id)
    if sent and (first := answers.find(connection, sent)):
        return Applied(before, first.said, first.revision, first.at)
    at = request.at or now_in(before.company, _project(before))
    request = replace(request, commands=undoing.filled(connection, before, actor, request.commands))
    after, said = keep_days(before, at), list[Message]()
    for command in request.commands:
        with undoing.told_by_whom(connection, revisions.company_id, command):
            for id, its in undoing.elsewhere(connection, before, command):
                change(load(connection, project_revisions(connection, id), id), actor, its, at)
            outcome = change(after, actor, command, at)
        after, said = outcome.after, [*said, outcome.said]
    if not before.projects and after.projects and request.at is None:
        at = now_in(after.company, after.project)  # a new project brings its own time zone
    made = _Change(replace(request, actor=actor), before, after, tuple(said), at)
    applied = _keep(connection, made)
    if sent:
        answers.keep(connection, sent, answers.Answer(applied.said, applied.revision, at))
    return applied


def begin_company(connection: Connection, world: Snapshot) -> Applied:
    """Keeps a new company with what it begins with, as the operator's doing."""
    request = Request(actor=OPERATOR, project_id=None, commands=())
    said = message("log.company_begun", company=world.company.name)
    at = now_in(world.company, _project(world))
    return _keep(connection, _Change(request, Snapshot(), world, (said,), at))


def _lock(connection: Connection, request: Request) -> Revisions:
    """Waits for the company's other writers; what is read after that stays true."""
    if request.project_id is not None:
        company_id = project_revisions(connection, request.project_id).company_id
    else:
        assert request.company_id is not None, "a change needs a project or a company"
        company_id = request.company_id
    connection.execute(_LOCKED, {"of_id": company_id})
    if request.project_id is not None:
        return project_revisions(connection, request.project_id)
    return company_revisions(connection, company_id)


def _known(world: Snapshot, actor: Actor) -> Actor:
    """The actor as the person's row has it now; `Hidden` for who has no business here."""
    if actor is OPERATOR:
        return actor
    person: Person | None = world.people.get(actor.person_id)
    if person is None or person.ended is not None:
        raise Hidden("rights.hidden")
    known = replace(actor, name=person.name, role=person.role, crew_id=person.crew_id)
    if world.projects and not sees_project(world, known):
        raise Hidden("rights.hidden")
    return known


@dataclass(frozen=True)
class _Change:
    request: Request
    before: Snapshot
    after: Snapshot
    said: tuple[Message, ...]
    at: datetime


def _keep(connection: Connection, made: _Change) -> Applied:
    before, after = made.before, _numbered(made.before, made.after)
    changed = tuple(differences(before, after))
    rows.write(connection, changed, after.company.id)
    _set_revisions(connection, after)
    request, project = made.request, _project(after)
    entry = log.LogRow(
        id=new_id(),
        company_id=after.company.id,
        company_revision=after.company_revision,
        project_id=project.id if project else None,
        revision=after.project_revision if project else None,
        at=made.at,
        server_at=utc_now(),
        person_id=request.actor.person_id or None,
        person_name=request.actor.name,
        device=request.device,
        phone_clock=request.phone_clock,
        commands=tuple(type(command).__name__ for command in request.commands),
        detail_ids=rows.details_of(changed, (after, before)),
        said=made.said,
        of_id=undoing.put_back_by(request.commands),
    )
    log.add(connection, entry, changed)
    return Applied(after, made.said, entry.revision or entry.company_revision)


def _set_revisions(connection: Connection, after: Snapshot) -> None:
    company = {"of_id": after.company.id, "at": after.company_revision}
    connection.execute(_COMPANY_AT, company)
    if project := _project(after):
        connection.execute(_PROJECT_AT, {"of_id": project.id, "at": after.project_revision})


def _numbered(before: Snapshot, after: Snapshot) -> Snapshot:
    """With the next revisions, and its changed tables in the order in which they are loaded."""
    tables = {
        name: ordered(getattr(after, name).values())
        for name in TABLES.values()
        if getattr(after, name) is not getattr(before, name)
    }
    return after.having(
        company_revision=before.company_revision + 1,
        project_revision=before.project_revision + 1 if after.projects else 0,
        **tables,
    )


def _sent(request: Request, company_id: str) -> answers.Sent | None:
    if request.key is None:
        return None
    hash = answers.content_hash(request.project_id, request.commands, request.content)
    return answers.Sent(company_id, request.actor.person_id, request.key, hash)


def _project(world: Snapshot) -> Project | None:
    return next(iter(world.projects.values()), None)
