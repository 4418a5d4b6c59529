"""Why dates moved, kept in the words of whoever said so."""

from collections.abc import Iterable, Iterator
from datetime import date, datetime

from server.core.changes.base import Actor
from server.core.changes.held import minute
from server.core.changes.inputs import ids_after
from server.core.world import Cause, Snapshot


def causes(
    snapshot: Snapshot,
    actor: Actor,
    at: datetime,
    text: str,
    detail_ids: Iterable[str],
    *,
    activity_id: str | None = None,
    day: date | None = None,
    base: str = "",
) -> Iterator[Cause]:
    """A row for each of these details, of today if no day is given; none without a text."""
    ids = ids_after(base or f"{activity_id or ''}c{at:%y%m%d%H%M}", snapshot.causes)
    for detail_id in dict.fromkeys(detail_ids) if text else ():
        yield Cause(
            id=next(ids),
            project_id=snapshot.project.id,
            detail_id=detail_id,
            day=day or at.date(),
            text=text,
            activity_id=activity_id,
            by_id=actor.person_id,
            at=minute(at),
        )
