"""Forms that were answered already: the same key again gets the same answer."""

import hashlib
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any

from sqlalchemy import Connection, delete, insert, select

from server.core.changes import Command
from server.core.refusals import Message
from server.store.clock import utc_now
from server.store.codec import decode, encode
from server.store.refusals import AlreadyUsed
from server.store.tables import ANSWER

KEPT = timedelta(days=90)


@dataclass(frozen=True)
class Sent:
    """A form: whose, its one-time key, and a hash of what it says."""

    company_id: str
    person_id: str
    key: str
    content_hash: str


@dataclass(frozen=True)
class Answer:
    """What it was answered, and when by the project's clock."""

    said: tuple[Message, ...]
    revision: int
    at: datetime


def content_hash(project_id: str | None, commands: tuple[Command, ...], content: str | None) -> str:
    """A hash of what is sent: of `content` if it is given, else of the commands themselves."""
    said: object = content if content is not None else commands
    return hashlib.sha256(encode((project_id, said)).encode()).hexdigest()


def find(connection: Connection, sent: Sent) -> Answer | None:
    """The first answer to this form; None if it is new. Raises `AlreadyUsed`."""
    chosen = select(ANSWER.c.content_hash, ANSWER.c.said, ANSWER.c.revision, ANSWER.c.at)
    row: Any = connection.execute(
        chosen.where(
            ANSWER.c.company_id == sent.company_id,
            ANSWER.c.person_id == sent.person_id,
            ANSWER.c.key == sent.key,
        )
    ).one_or_none()
    if row is None:
        return None
    if row.content_hash != sent.content_hash:
        raise AlreadyUsed("store.already_used", at=row.at)
    return Answer(decode(row.said), row.revision, row.at)


def keep(connection: Connection, sent: Sent, answer: Answer) -> None:
    """Keeps the answer, and forgets those that are older than 90 days."""
    server_at = utc_now()
    connection.execute(delete(ANSWER).where(ANSWER.c.server_at < server_at - KEPT))
    connection.execute(
        insert(ANSWER).values(
            company_id=sent.company_id,
            person_id=sent.person_id,
            key=sent.key,
            content_hash=sent.content_hash,
            said=encode(answer.said),
            revision=answer.revision,
            at=answer.at,
            server_at=server_at,
        )
    )
