"""The id of a row that a form adds."""

from server.pages.kit.forms import Form
from server.people.viewer import Viewer
from server.store.ids import ids_from, new_id


def row_id(viewer: Viewer, form: Form) -> str:
    """A new id; of a form that is sent again with its key, the same as the first time."""
    return next(ids_from(viewer.person.id, form.key)) if form.key else new_id()
