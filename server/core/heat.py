"""Temporary heat: where it burns, and whether its flame gives its gas and water to the room."""

import re

from server.core.climate import air_of
from server.core.world import Snapshot, TemporaryWork

_DIRECT = re.compile(r"(?<!in)direct[\s-]*fired|salamander|torpedo|unvented|open flame")


def is_direct_fired(work: TemporaryWork) -> bool:
    """Whether a heater burns into the room, by what it is called.

    That is all that is kept of it: one called just "heater" is taken for one that does not.

    >>> heater = TemporaryWork(id="h", project_id="p", kind="heat", name="Indirect-fired heater")
    >>> is_direct_fired(heater)
    False
    """
    return work.kind == "heat" and bool(_DIRECT.search(work.name.casefold()))


def in_use(work: TemporaryWork) -> bool:
    """Whether a temporary work is in, and not out again."""
    return work.put_in is not None and work.taken_out is None


def heated(snapshot: Snapshot, work: TemporaryWork) -> tuple[str, ...]:
    """The places whose air a heater heats; all of the house where nobody said where it stands."""
    detail = snapshot.details.get(work.detail_id or "")
    place_id = work.place_id or (detail.place_id if detail else None)
    return air_of(snapshot, place_id) if place_id else tuple(snapshot.places)
