"""Photos that came with a form become drafts: decoded and kept first, then a row each."""

from starlette.requests import Request

from server.core.changes.holds import AddPhoto, DropPhoto
from server.outside.photos import Limits, PhotoRefused, save
from server.pages.kit import Form, web_of
from server.people.viewer import Viewer
from server.settings import Settings
from server.store.ids import ids_from, new_id

FIELD = "photo"


def take_photos(
    request: Request, viewer: Viewer, project_id: str, hold_id: str, form: Form
) -> None:
    """Keeps every photo of a form as a draft of this check.

    What is refused is told beside the field; the photos before it are kept all the same. Sent
    again, the same form keeps nothing twice.
    """
    web = web_of(request)
    ids = ids_from(viewer.person.id, f"photos {form.key}") if form.key else iter(new_id, "")
    for number, (file, id) in enumerate(zip(form.files.get(FIELD, ()), ids, strict=False)):
        try:
            saved = save(file.file.read(), web.settings.data_dir, _limits(web.settings))
            command = AddPhoto(
                id=id,
                hold_id=hold_id,
                sha256=saved.sha256,
                width=saved.width,
                height=saved.height,
                taken=saved.taken,
            )
            web.store.apply(
                viewer.actor,
                project_id,
                command,
                key=f"{form.key}-{FIELD}-{number}" if form.key else None,
                content=saved.sha256,
                device=viewer.device,
            )
        except PhotoRefused as refusal:
            form.refuse(refusal)


def drop_draft(request: Request, viewer: Viewer, project_id: str, photo_id: str) -> None:
    """Takes a draft away again; one that is gone already stays gone."""
    command = DropPhoto(photo_id=photo_id)
    web_of(request).store.apply(viewer.actor, project_id, command, device=viewer.device)


def _limits(settings: Settings) -> Limits:
    return Limits(
        bytes=settings.photo_limit_bytes,
        pixels=settings.photo_limit_pixels,
        memory=settings.photo_memory_bytes,
        seconds=settings.photo_seconds,
    )
