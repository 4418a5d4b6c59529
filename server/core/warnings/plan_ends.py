"""How the plan is drawn: what nothing comes before, and what nothing comes after."""

from collections.abc import Iterable, Iterator, Sequence

from server.core.changes.inputs import ids_after
from server.core.changes.plan import AddDependency
from server.core.refusals import message
from server.core.schedule import Schedule
from server.core.states import ahead, behind
from server.core.warnings.base import Mend, Warning, warns
from server.core.warnings.making import about
from server.core.world import Activity, Snapshot

IN = "no way in"
IN_TITLE = message("warning.no_way_in.title")
OUT = "no way out"
OUT_TITLE = message("warning.no_way_out.title")

BY_ITSELF = ("delivery", "decision")
"""What can be ordered or decided from the first day on, with nothing before it."""


@warns(IN, title=IN_TITLE, bad="watch", family="sequence", plan_only=True)
def no_way_in(snapshot: Snapshot, schedule: Schedule) -> Iterable[Warning]:
    """Nothing comes before it, nor a day, and it is not what its detail begins with.

    So it can begin on the first day of the house, whatever it needs.
    """
    for chain in _chains(snapshot):
        ends = [a for a in chain if a.kind not in BY_ITSELF and not _follows(snapshot, a)]
        for activity in ends[1:]:
            if activity.started or activity.finished or activity.not_before:
                continue
            later = behind(snapshot, activity.id)
            before = [a for a in chain if a.order < activity.order and a.id not in later]
            yield about(
                snapshot,
                IN,
                message("warning.no_way_in.said", work=activity.name),
                (activity,),
                facts=(),
                at=schedule[activity.id].early_start,
                mends=_mends(snapshot, before[-1:], (activity,)),
            )


@warns(OUT, title=OUT_TITLE, bad="watch", family="sequence", plan_only=True)
def no_way_out(snapshot: Snapshot, schedule: Schedule) -> Iterable[Warning]:
    """Nothing comes after it, and it is not what its detail ends with.

    So it can be as late as it likes, and nobody is told. An invited look stops nobody.
    """
    for chain in _chains(snapshot):
        ends = [a for a in chain if not _leads(snapshot, a) and not _invited(snapshot, a)]
        for activity in ends[:-1]:
            if activity.finished is not None or activity.id in schedule.done:
                continue
            first = ahead(snapshot, activity.id)
            after = (
                a
                for a in chain
                if a.order > activity.order and a.id not in first
                if a.started is None and a.finished is None and not _invited(snapshot, a)
            )
            then = next(after, None)
            yield about(
                snapshot,
                OUT,
                message("warning.no_way_out.said", work=activity.name),
                (activity,),
                facts=(),
                at=schedule[activity.id].early_finish,
                mends=_mends(snapshot, (activity,), (then,) if then else ()),
            )


def _chains(snapshot: Snapshot) -> Iterator[tuple[Activity, ...]]:
    for detail_id in dict.fromkeys(a.detail_id for a in snapshot.chain):
        yield snapshot.chain_of(detail_id)


def _follows(snapshot: Snapshot, activity: Activity) -> bool:
    """Whether something that stands comes before it."""
    found = (snapshot.activities[d.before_id] for d in snapshot.before.get(activity.id, ()))
    return any(a.ended is None for a in found)


def _leads(snapshot: Snapshot, activity: Activity) -> bool:
    """Whether something that stands comes after it."""
    found = (snapshot.activities[d.after_id] for d in snapshot.after.get(activity.id, ()))
    return any(a.ended is None for a in found)


def _invited(snapshot: Snapshot, activity: Activity) -> bool:
    hold = snapshot.hold_of.get(activity.id)
    return hold is not None and hold.witness


def _mends(
    snapshot: Snapshot, before: Sequence[Activity], after: Sequence[Activity]
) -> tuple[Mend, ...]:
    """The order in which they are listed becomes the order of work."""
    if not before or not after:
        return ()
    first, then = before[0], after[0]
    id = next(ids_after(then.id, snapshot.dependencies))
    label = message("warning.first_before", work=(first.name,), after=then.name)
    return (Mend(label, (AddDependency(id=id, before_id=first.id, after_id=then.id),)),)
