"""A photo, whole or small: rights on every read, never run as anything but a picture."""

from pathlib import Path

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import FileResponse, Response

from server.core.rights import Hidden
from server.core.world import Photo
from server.outside.photos import path_of
from server.pages.kit import Viewing, web_of
from server.pages.shared.opened import open_check
from server.people.viewer import Viewer

router = APIRouter()

HEADERS = {
    "Content-Security-Policy": "default-src 'none'; sandbox",
    "X-Content-Type-Options": "nosniff",
    "Cache-Control": "private, max-age=31536000, immutable",
    "Vary": "Cookie",
}


@router.get("/photo/{photo_id}")
def whole(request: Request, viewer: Viewing, photo_id: str) -> Response:
    return _sent(request, viewer, photo_id, thumbnail=False)


@router.get("/photo/{photo_id}/small")
def small(request: Request, viewer: Viewing, photo_id: str) -> Response:
    return _sent(request, viewer, photo_id, thumbnail=True)


def _sent(request: Request, viewer: Viewer, photo_id: str, *, thumbnail: bool) -> Response:
    web = web_of(request)
    project_id = web.store.where_is(Photo, photo_id)
    photo = web.store.snapshot(project_id).photos.get(photo_id) if project_id else None
    if photo is None or photo.hold_id is None:
        raise Hidden("rights.hidden")
    open_check(request, viewer, photo.hold_id)
    if photo.attempt_id is None and photo.by_id != viewer.person.id:
        raise Hidden("rights.hidden")
    path: Path = path_of(web.settings.data_dir, photo.sha256, thumbnail=thumbnail)
    if not path.is_file():
        raise Hidden("rights.hidden")
    return FileResponse(path, media_type="image/jpeg", headers=HEADERS)
