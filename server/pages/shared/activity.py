"""The activity that an address names, in the detail that was opened."""

from server.core.rights import Hidden
from server.core.world import Activity
from server.pages.shared.opened import Opened


def activity_in(opened: Opened, activity_id: str) -> Activity:
    """The activity, or `Hidden` where this detail's chain has none of this id."""
    found = opened.snapshot.activities.get(activity_id)
    if found is None or found.detail_id != opened.detail_id or found.ended is not None:
        raise Hidden("rights.hidden")
    return found
