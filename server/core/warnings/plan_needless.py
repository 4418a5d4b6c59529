"""How the plan is drawn: order that other order says already."""

from collections.abc import Iterable, Iterator

from server.core.changes.plan import EndDependency
from server.core.refusals import message
from server.core.schedule import Schedule
from server.core.warnings.base import Mend, Warning, warns
from server.core.warnings.making import about
from server.core.world import Dependency, Snapshot

NEEDLESS = "needless dependency"
NEEDLESS_TITLE = message("warning.needless.title")

SEEN = ("hold", "decision")


@warns(NEEDLESS, title=NEEDLESS_TITLE, bad="watch", family="sequence", plan_only=True)
def needless_dependency(snapshot: Snapshot, schedule: Schedule) -> Iterable[Warning]:
    """Finish to start with no time between, and what lies between the two says it already.

    Only while what comes after has not begun. What a check or a decision holds may well be drawn
    beside it, though something between holds it too.
    """
    for dependency in implied(snapshot):
        before = snapshot.activities[dependency.before_id]
        after = snapshot.activities[dependency.after_id]
        if after.started or after.finished or before.kind in SEEN:
            continue
        yield about(
            snapshot,
            NEEDLESS,
            message("warning.needless.said", before=before.name, after=after.name),
            (after, before),
            subject=(dependency.id,),
            facts=(),
            at=schedule[after.id].early_start,
            mends=[
                Mend(
                    message("warning.not_after", work=after.name, before=before.name),
                    (EndDependency(dependency_id=dependency.id),),
                )
            ],
        )


def implied(snapshot: Snapshot) -> Iterator[Dependency]:
    """The plain dependencies that a longer path of finish to start ones says already.

    What each activity leads to is one whole number with a bit for each activity, so that the union
    of two is one operation, also of 10,000 activities. All of these may go at once: a path that
    says one of them never needs another.
    """
    bit = {a.id: 1 << i for i, a in enumerate(snapshot.chain)}
    after: dict[str, list[Dependency]] = {id: [] for id in bit}
    for d in snapshot.dependencies.values():
        if d.type == "FS" and d.lag >= 0 and d.before_id in bit and d.after_id in bit:
            after[d.before_id].append(d)
    reached: dict[str, int] = {}
    for id in _last_first(after):
        further = 0
        for d in after[id]:
            further |= reached[d.after_id]
        reached[id] = further
        for d in after[id]:
            reached[id] |= bit[d.after_id]
            if not d.lag and d.most is None and further & bit[d.after_id]:
                yield d


def _last_first(after: dict[str, list[Dependency]]) -> list[str]:
    """The activities, each behind all that come after it; what runs in a ring is left out."""
    open_before = dict.fromkeys(after, 0)
    for dependencies in after.values():
        for d in dependencies:
            open_before[d.after_id] += 1
    ordered = [id for id, count in open_before.items() if not count]
    for id in ordered:
        for d in after[id]:
            open_before[d.after_id] -= 1
            if not open_before[d.after_id]:
                ordered.append(d.after_id)
    return ordered[::-1]
