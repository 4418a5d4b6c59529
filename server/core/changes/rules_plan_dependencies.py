"""Rules: what comes after what."""

from dataclasses import replace
from datetime import datetime

from server.core.changes.base import Actor, Outcome, find, rule
from server.core.changes.inputs import BadInput, new_id, one_of
from server.core.changes.plan import AddDependency, ChangeDependency, EndDependency
from server.core.changes.plan_facts import MOST_CLOCK, YEARS
from server.core.changes.rings import ring
from server.core.changes.rules_plan_activities import in_chain
from server.core.refusals import Refusal, message
from server.core.world import Dependency, Snapshot

TYPES = ("FS", "SS", "FF", "SF")
LAG_ON = ("clock", "work")


class Ring(Refusal):
    """A dependency that would make activities wait for one another; `path` names them in order."""

    def __init__(self, path: tuple[str, ...]) -> None:
        self.path = path
        super().__init__("plan.ring", field="before_id", path=path)


@rule(AddDependency)
def add_dependency(
    snapshot: Snapshot, actor: Actor, command: AddDependency, at: datetime
) -> Outcome:
    """One more arrow, also between two details of the project; refused if it closes a ring."""
    before = in_chain(snapshot, command.before_id, "before_id")
    after = in_chain(snapshot, command.after_id, "after_id")
    if before.id == after.id:
        raise BadInput("plan.after_itself", field="before_id")
    dependency = Dependency(
        id=new_id(snapshot, Dependency, command.id),
        project_id=snapshot.project.id,
        before_id=before.id,
        after_id=after.id,
        type=command.type,
        lag=command.lag,
        lag_on=command.lag_on,
        most=command.most,
    )
    _check(snapshot, dependency)
    if path := ring(snapshot, before.id, after.id):
        raise Ring(tuple(snapshot.activities[id].name for id in path))
    said = message("log.dependency_added", before=before.name, after=after.name)
    return Outcome(snapshot.put(dependency), said)


@rule(ChangeDependency)
def change_dependency(
    snapshot: Snapshot, actor: Actor, command: ChangeDependency, at: datetime
) -> Outcome:
    """Another type or time between; the number is then the company's own."""
    dependency = find(snapshot, Dependency, command.dependency_id)
    changed = replace(
        dependency,
        type=command.type,
        lag=command.lag,
        lag_on=command.lag_on,
        most=command.most,
        tag="",
    )
    _check(snapshot, changed)
    before, after = _names(snapshot, dependency)
    said = message("log.dependency_changed", before=before, after=after)
    return Outcome(snapshot.put(changed), said)


@rule(EndDependency)
def end_dependency(
    snapshot: Snapshot, actor: Actor, command: EndDependency, at: datetime
) -> Outcome:
    """The arrow goes; nothing takes its place."""
    dependency = find(snapshot, Dependency, command.dependency_id)
    before, after = _names(snapshot, dependency)
    said = message("log.dependency_ended", before=before, after=after)
    return Outcome(snapshot.drop(dependency), said)


def _check(snapshot: Snapshot, dependency: Dependency) -> None:
    one_of(dependency.type, TYPES, "type")
    one_of(dependency.lag_on, LAG_ON, "lag_on")
    if abs(dependency.lag) > MOST_CLOCK:
        raise BadInput("plan.absurd_time", field="lag", years=YEARS)
    if dependency.most is not None and dependency.most < dependency.lag:
        raise BadInput("plan.most_below_wait", field="most")
    if dependency.most is not None and dependency.most > MOST_CLOCK:
        raise BadInput("plan.absurd_time", field="most", years=YEARS)
    for other in snapshot.after.get(dependency.before_id, ()):
        same = (other.after_id, other.type) == (dependency.after_id, dependency.type)
        if same and other.id != dependency.id:
            before, after = _names(snapshot, dependency)
            raise BadInput("plan.dependency_doubled", field="before_id", before=before, after=after)


def _names(snapshot: Snapshot, dependency: Dependency) -> tuple[str, str]:
    return (
        snapshot.activities[dependency.before_id].name,
        snapshot.activities[dependency.after_id].name,
    )
