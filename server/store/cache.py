"""Snapshots kept in the process, so that a project that has not changed is not loaded again."""

from collections import OrderedDict
from threading import Lock

from sqlalchemy import Connection

from server.core.world import Snapshot
from server.store.load import Revisions, load_at

KEPT = 16
"""How many projects are kept; those used longest ago go first."""


class Cache:
    """The newest snapshot of each project. What is kept counts only at the revisions it has."""

    def __init__(self) -> None:
        self._kept: OrderedDict[tuple[str, str | None], Snapshot] = OrderedDict()
        self._lock = Lock()

    def load(
        self, connection: Connection, revisions: Revisions, project_id: str | None
    ) -> Snapshot:
        """The snapshot at these revisions, which were read in the connection's transaction."""
        key = (revisions.company_id, project_id)
        with self._lock:
            kept = self._kept.get(key)
            if kept is not None and _is_at(kept, revisions):
                self._kept.move_to_end(key)
                return kept
        loaded = load_at(connection, revisions, project_id)
        self._put(key, loaded)
        return loaded

    def keep(self, snapshot: Snapshot) -> None:
        """Keeps what a change has made, once it is committed."""
        project_id = next(iter(snapshot.projects), None)
        self._put((snapshot.company.id, project_id), snapshot)

    def _put(self, key: tuple[str, str | None], snapshot: Snapshot) -> None:
        with self._lock:
            self._kept[key] = snapshot
            self._kept.move_to_end(key)
            while len(self._kept) > KEPT:
                self._kept.popitem(last=False)


def _is_at(snapshot: Snapshot, revisions: Revisions) -> bool:
    return (snapshot.company_revision, snapshot.project_revision) == (
        revisions.company,
        revisions.project or 0,
    )
