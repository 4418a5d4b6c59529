"""Figures that are kept with a detail, and what hangs on their numbers."""

from dataclasses import dataclass
from datetime import datetime

from server.core.world.noun import OfProject


@dataclass(frozen=True, kw_only=True)
class KeptFigure(OfProject):
    """A figure that somebody filled in for a detail, to come back to and to tie work to.

    `figure` is its name in the address, `inputs` all that was filled in, as a query. `outside`
    names the limits of the profile `limits` that its numbers lie outside of: whoever keeps it has
    worked them out, since the core reads no forms.

    It may give a check its numbers (`hold_id`; `taken` are the inputs they were taken from) or a
    wait its length (`activity_id`).
    """

    detail_id: str
    figure: str
    name: str
    inputs: str
    limits: str = ""
    outside: tuple[str, ...] = ()
    hold_id: str | None = None
    activity_id: str | None = None
    taken: str = ""
    ended: datetime | None = None
