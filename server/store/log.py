"""The log: one entry per change, written by `apply`, read by pages. It only grows."""

import json
from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from sqlalchemy import Connection, Row, Select, Text, insert, or_, select, type_coerce

from server.core.changes.undoing import RowId
from server.core.refusals import Message
from server.core.world import Difference, Noun
from server.store.codec import decode, decode_differences, encode, encode_differences
from server.store.tables import LOG


@dataclass(frozen=True, kw_only=True)
class LogRow:
    """One change: who, when, from which device, and what is said of it.

    `at` is wall-clock time of the project, `server_at` UTC, `phone_clock` the phone's own time.
    `revision` and `project_id` are None for a change of the company alone. `person_id` is None
    for the command line. `of_id` is the entry that this one has put back, if it undid or redid one.
    """

    id: str
    company_id: str
    company_revision: int
    project_id: str | None
    revision: int | None
    at: datetime
    server_at: datetime
    person_id: str | None
    person_name: str
    device: str
    phone_clock: datetime | None
    commands: tuple[str, ...]
    detail_ids: tuple[str, ...]
    said: tuple[Message, ...]
    of_id: str | None = None


def add(connection: Connection, row: LogRow, found: tuple[Difference, ...]) -> None:
    """Adds the entry of a change and of the rows that it touched."""
    values = {name: getattr(row, name) for name in _NAMES}
    values |= {"said": encode(row.said), "rows": encode_differences(found)}
    connection.execute(insert(LOG), values)


def of_project(
    connection: Connection,
    project_id: str,
    since: datetime | None,
    detail_id: str | None,
    limit: int,
) -> list[LogRow]:
    """The newest entries of a project, newest first: since a time, about a detail."""
    chosen = _ENTRIES.where(LOG.c.project_id == project_id).order_by(LOG.c.revision.desc())
    if since is not None:
        chosen = chosen.where(LOG.c.at >= since)
    rows: Sequence[Row[Any]]
    if detail_id is None:
        rows = connection.execute(chosen.limit(limit)).all()
    else:
        # The ids are a short list in JSON; a sign that means something to LIKE is escaped.
        as_text = type_coerce(LOG.c.detail_ids, Text())
        named = as_text.contains(json.dumps(detail_id), autoescape=True)
        rows = connection.execute(chosen.where(named).limit(limit)).all()
    return [_log_row(row) for row in rows]


def of_person(
    connection: Connection, company_id: str, project_id: str | None, person_id: str
) -> Iterator[LogRow]:
    """What a person has changed in a project, or in the company alone, newest first.

    Without the entries that changed nothing. Read piece by piece: mostly the first will do.
    """
    chosen = (
        _ENTRIES.where(LOG.c.company_id == company_id, LOG.c.person_id == person_id)
        .where(LOG.c.project_id == project_id, or_(LOG.c.rows != "[]", LOG.c.of_id.is_not(None)))
        .order_by(LOG.c.company_revision.desc())
        .limit(PIECE)
    )
    found = connection.execute(chosen).all()
    while found:
        yield from map(_log_row, found)
        last = found[-1].company_revision
        found = connection.execute(chosen.where(LOG.c.company_revision < last)).all()


def entry(connection: Connection, company_id: str, id: str) -> LogRow | None:
    """One entry of a company's log."""
    chosen = _ENTRIES.where(LOG.c.company_id == company_id, LOG.c.id == id)
    row = connection.execute(chosen).one_or_none()
    return _log_row(row) if row is not None else None


def newest_about(
    connection: Connection, company_id: str, noun: type[Noun], id: str, since: int
) -> LogRow | None:
    """The newest change of a row after a revision of the company, in whatever project."""
    for row in _standing(connection, company_id, (f'"id":{json.dumps(id)}',), since):
        changed = (d.after or d.before for d in rows_of(connection, row.id))
        if any(type(one) is noun and one.id == id for one in changed if one is not None):
            return row
    return None


def changed_about(
    connection: Connection, company_id: str, ids: Collection[str], since: int
) -> tuple[Difference, ...]:
    """What came of the rows changed after a revision, with one that names one of these ids."""
    if not ids:
        return ()
    texts = tuple(json.dumps(id) for id in ids)
    found: dict[RowId, Difference] = {}
    for row in reversed([*_standing(connection, company_id, texts, since)]):
        for d in rows_of(connection, row.id):
            if (one := d.after or d.before) is not None:
                first = found.setdefault((type(one), one.id), d)
                found[type(one), one.id] = Difference(first.before, d.after)
    return tuple(found.values())


def _standing(
    connection: Connection, company_id: str, texts: Sequence[str], since: int
) -> Iterator[LogRow]:
    """The entries after a revision with one of these texts in their rows, newest first.

    What was put back since, and what put it back, have come to nothing together and do not count.
    """
    later = (LOG.c.company_id == company_id, LOG.c.company_revision > since)
    named = or_(*(LOG.c.rows.contains(text, autoescape=True) for text in texts))
    chosen = _ENTRIES.where(*later, named).order_by(LOG.c.company_revision.desc())
    found = [_log_row(row) for row in connection.execute(chosen)]
    known, put_back = {row.id: row for row in found}, {row.of_id for row in found}
    for row in found:
        turns, first = 1, row
        while first.of_id in known:
            turns, first = turns + 1, known[first.of_id]
        if row.id not in put_back and turns % 2:
            yield row


def newest_of_row(connection: Connection, project_id: str, id: str) -> LogRow | None:
    """The newest change of a row of the plan, or of what it comes after and does to layers."""
    named = (f'"{field}":{json.dumps(id)}' for field in ("id", "after_id", "activity_id"))
    about = or_(*(LOG.c.rows.contains(text, autoescape=True) for text in named))
    chosen = _ENTRIES.where(LOG.c.project_id == project_id, about)
    row = connection.execute(chosen.order_by(LOG.c.revision.desc()).limit(1)).one_or_none()
    return _log_row(row) if row is not None else None


def rows_of(connection: Connection, id: str) -> tuple[Difference, ...]:
    """What an entry changed; empty if there is no such entry."""
    text = connection.execute(select(LOG.c.rows).where(LOG.c.id == id)).scalar_one_or_none()
    return decode_differences(text) if text is not None else ()


PIECE = 50
_NAMES = tuple(LogRow.__dataclass_fields__)
_ENTRIES: Select[Any] = select(*(LOG.c[name] for name in _NAMES))


def _log_row(row: Row[Any]) -> LogRow:
    values = dict(zip(_NAMES, row, strict=True))
    return LogRow(**{**values, "said": decode(values["said"])})
