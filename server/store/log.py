"""The log: one entry per change, written by `apply`, read by pages. It only grows."""

import json
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from sqlalchemy import Connection, Row, Select, Text, insert, select, type_coerce

from server.core.refusals import Message
from server.core.world import Difference
from server.store.codec import decode, decode_differences, encode, encode_differences
from server.store.tables import LOG


@dataclass(frozen=True, kw_only=True)
class LogRow:
    """One change: who, when, from which device, and what is said of it.

    `at` is wall-clock time of the project, `server_at` UTC, `phone_clock` the phone's own time.
    `revision` and `project_id` are None for a change of the company alone. `person_id` is None
    for the command line.
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


def of_company(connection: Connection, company_id: str, limit: int) -> list[LogRow]:
    """The newest entries of a company and all its projects, newest first."""
    chosen = _ENTRIES.where(LOG.c.company_id == company_id)
    rows = connection.execute(chosen.order_by(LOG.c.company_revision.desc()).limit(limit))
    return [_log_row(row) for row in rows]


def rows_of(connection: Connection, id: str) -> tuple[Difference, ...]:
    """What an entry changed; empty if there is no such entry."""
    text = connection.execute(select(LOG.c.rows).where(LOG.c.id == id)).scalar_one_or_none()
    return decode_differences(text) if text is not None else ()


_NAMES = tuple(LogRow.__dataclass_fields__)
_ENTRIES: Select[Any] = select(*(LOG.c[name] for name in _NAMES))


def _log_row(row: Row[Any]) -> LogRow:
    values = dict(zip(_NAMES, row, strict=True))
    return LogRow(**{**values, "said": decode(values["said"])})
