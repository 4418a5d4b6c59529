"""The warning of a figure of a stair, a rail or a guard that lies outside its limits."""

from collections.abc import Iterable

from server.core.refusals import message
from server.core.schedule import Schedule
from server.core.warnings.base import RULES, Mend, Warning, identity, warns
from server.core.world import KeptFigure, Snapshot

OUTSIDE = "figure outside its limits"
OUTSIDE_TITLE = message("warning.figure_outside.title")


@warns(OUTSIDE, title=OUTSIDE_TITLE, bad="danger", family="check")
def figure_outside(snapshot: Snapshot, schedule: Schedule) -> Iterable[Warning]:
    """A figure that is kept with a detail comes out beyond the limits it was held against."""
    for kept in snapshot.kept_figures.values():
        detail = snapshot.details.get(kept.detail_id)
        if kept.ended is None and kept.outside and detail is not None and detail.ended is None:
            yield _about(snapshot, kept)


def _about(snapshot: Snapshot, kept: KeptFigure) -> Warning:
    hold = snapshot.holds.get(kept.hold_id or "")
    limits = tuple(message("figures.limit_said", what=what) for what in kept.outside)
    return Warning(
        rule=OUTSIDE,
        bad=RULES[OUTSIDE].bad,
        title=OUTSIDE_TITLE,
        sentence=message(
            "warning.figure_outside.said", figure=kept.name, what=limits, limits=kept.limits
        ),
        subject=(kept.id,),
        identity=identity(OUTSIDE, kept.id, kept.limits, *kept.outside, kept.inputs),
        detail_id=kept.detail_id,
        activity_ids=(hold.activity_id,) if hold is not None else (),
        hold_id=hold.id if hold is not None else None,
        mends=(Mend(message("warning.open_figure"), goto_figure_id=kept.id),),
    )
