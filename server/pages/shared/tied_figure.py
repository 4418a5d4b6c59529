"""The figure that a check has its numbers from, as the pages of the check say it."""

from dataclasses import dataclass

from server.core.changes.rules_kept_figures import figure_of_check
from server.core.world import Snapshot


@dataclass(frozen=True)
class TiedFigure:
    """The figure's name and page; `stale` if it was changed since the check took its numbers."""

    name: str
    href: str
    stale: bool


def tied_figure(snapshot: Snapshot, hold_id: str | None) -> TiedFigure | None:
    """The figure of a check; None where its numbers come from none."""
    kept = figure_of_check(snapshot, hold_id) if hold_id else None
    if kept is None:
        return None
    href = f"/d/{kept.detail_id}/figures/{kept.id}"
    return TiedFigure(kept.name, href, kept.taken != kept.inputs)
