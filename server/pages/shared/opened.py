"""A project opened for one viewer: found, allowed, computed; what is not theirs does not exist."""

from dataclasses import dataclass
from datetime import datetime
from functools import cached_property

from starlette.requests import Request

from server.core.rights import Hidden, details_seen, sees_project
from server.core.schedule import Schedule
from server.core.world import Detail, HoldPoint, Noun, Snapshot
from server.core.world.clock import status_of
from server.core.world.network import forecast
from server.pages.kit import web_of
from server.people.viewer import Viewer
from server.words import Words, words


@dataclass(frozen=True)
class Opened:
    """A project as it stands now, its forecast, and the viewer's words."""

    project_id: str
    detail_id: str
    snapshot: Snapshot
    now: datetime
    words: Words

    @property
    def status(self) -> datetime:
        """The status date of the forecast."""
        return status_of(self.now)

    @cached_property
    def schedule(self) -> Schedule:
        """The forecast as of now.

        One for each request: asked further it lays out more of its calendars, so no two threads
        may share it.
        """
        return forecast(self.snapshot, self.status)


def open_detail(request: Request, viewer: Viewer, detail_id: str) -> Opened:
    """The project of a detail, or `Hidden` where this viewer may not look."""
    store = web_of(request).store
    project_id = store.where_is(Detail, detail_id)
    return _opened(request, viewer, project_id, detail_id)


def open_project(request: Request, viewer: Viewer, project_id: str) -> Opened:
    """A whole project, or `Hidden` where this viewer may not look."""
    if not _may_open(request, viewer, project_id):
        raise Hidden("rights.hidden")
    store = web_of(request).store
    snapshot = store.snapshot(project_id)
    if not sees_project(snapshot, viewer.actor):
        raise Hidden("rights.hidden")
    now = store.now(snapshot.company, snapshot.project)
    return Opened(project_id, "", snapshot, now, words(viewer.language))


def open_where(request: Request, viewer: Viewer, noun: type[Noun], id: str) -> Opened:
    """The project that a row of this id belongs to."""
    project_id = web_of(request).store.where_is(noun, id)
    if project_id is None:
        raise Hidden("rights.hidden")
    return open_project(request, viewer, project_id)


def open_check(request: Request, viewer: Viewer, hold_id: str) -> Opened:
    """The project of a check, or `Hidden` where this viewer may not look."""
    store = web_of(request).store
    project_id = store.where_is(HoldPoint, hold_id)
    if project_id is None or not _may_open(request, viewer, project_id):
        raise Hidden("rights.hidden")
    snapshot = store.snapshot(project_id)
    activity = snapshot.activities[snapshot.holds[hold_id].activity_id]
    return _opened(request, viewer, project_id, activity.detail_id)


def _opened(request: Request, viewer: Viewer, project_id: str | None, detail_id: str) -> Opened:
    store = web_of(request).store
    if project_id is None or not _may_open(request, viewer, project_id):
        raise Hidden("rights.hidden")
    snapshot = store.snapshot(project_id)
    if detail_id not in details_seen(snapshot, viewer.actor):
        raise Hidden("rights.hidden")
    now = store.now(snapshot.company, snapshot.project)
    return Opened(project_id, detail_id, snapshot, now, words(viewer.language))


def _may_open(request: Request, viewer: Viewer, project_id: str) -> bool:
    company_id = web_of(request).store.company_of(project_id)
    return company_id == viewer.company_id and viewer.may_open(project_id)
