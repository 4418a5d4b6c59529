"""How the plan is drawn: long times between, and overlaps, that nobody gave a reason for."""

from collections.abc import Iterable, Iterator

from server.core.changes.inputs import LONGEST_NAME, ids_after
from server.core.changes.plan import (
    ActivityFacts,
    AddActivity,
    AddDependency,
    ChangeDependency,
    EndDependency,
)
from server.core.refusals import message
from server.core.schedule import Schedule
from server.core.warnings.base import Mend, Warning, warns
from server.core.warnings.making import about
from server.core.world import Activity, Dependency, Snapshot

WAIT = "wait without a reason"
WAIT_TITLE = message("warning.bare_wait.title")

# Common practice: what is longer than a week of work deserves a line of its own in the plan.
LONG = {"clock": 5 * 24 * 60, "work": 5 * 8 * 60}


@warns(WAIT, title=WAIT_TITLE, bad="watch", family="sequence", plan_only=True)
def wait_without_reason(snapshot: Snapshot, schedule: Schedule) -> Iterable[Warning]:
    """More than five days between two things, or an overlap, with no source and no wait to say why.

    Only while what comes after has not begun.
    """
    for dependency in snapshot.dependencies.values():
        before = snapshot.activities[dependency.before_id]
        after = snapshot.activities[dependency.after_id]
        if before.id not in schedule or after.id not in schedule or after.started or after.finished:
            continue
        long = dependency.lag > LONG[dependency.lag_on]
        if (
            dependency.tag
            or not (long or dependency.lag < 0)
            or "wait" in (before.kind, after.kind)
        ):
            continue
        yield about(
            snapshot,
            WAIT,
            message(
                "warning.bare_wait.long" if long else "warning.bare_wait.negative",
                before=before.name,
                after=after.name,
                wait=abs(dependency.lag),
            ),
            (after, before),
            subject=(dependency.id,),
            facts=(dependency.type, dependency.lag, dependency.lag_on),
            at=schedule[after.id].early_start,
            mends=list(_mends(snapshot, dependency, before, after)),
        )


def _mends(
    snapshot: Snapshot, dependency: Dependency, before: Activity, after: Activity
) -> Iterator[Mend]:
    """A wait that is seen in the plan, where that says the same; or no time between."""
    names = {"before": before.name, "after": after.name}
    if dependency.lag > 0 and dependency.type == "FS" and dependency.lag_on == "clock":
        id = next(ids_after(before.id, snapshot.activities))
        arrow = next(ids_after(f"{id}d", snapshot.dependencies))
        yield Mend(
            message("warning.a_wait_between", **names),
            (
                EndDependency(dependency_id=dependency.id),
                AddActivity(
                    id=id,
                    detail_id=before.detail_id,
                    facts=ActivityFacts(
                        name=f"{before.name} – {after.name}"[:LONGEST_NAME],
                        kind="wait",
                        work=dependency.lag,
                        place_id=before.place_id,
                    ),
                    behind_id=before.id,
                    after=(before.id,),
                ),
                AddDependency(id=arrow, before_id=id, after_id=after.id),
            ),
        )
    yield Mend(
        message("warning.no_time_between", **names),
        (
            ChangeDependency(
                dependency_id=dependency.id, type=dependency.type, most=dependency.most
            ),
        ),
    )
