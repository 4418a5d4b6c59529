"""Rules: a detail, its name and its sides."""

from dataclasses import replace
from datetime import datetime

from server.core.changes.base import Actor, Outcome, rule
from server.core.changes.inputs import (
    BadInput,
    name_of,
    new_id,
    not_taken,
    reason_of,
    text_of,
    there,
    there_or_none,
)
from server.core.changes.orders import at_the_end
from server.core.changes.plan import (
    AddDetail,
    AddDetailFromPattern,
    AddSide,
    ChangeDetail,
    EndDetail,
)
from server.core.changes.rules_plan_activities import refuse_booked
from server.core.refusals import message
from server.core.world import Dependency, Detail, Place, Side, Snapshot

LONGEST_SHEET = 40


@rule(AddDetail)
def add_detail(snapshot: Snapshot, actor: Actor, command: AddDetail, at: datetime) -> Outcome:
    """A detail with nothing in it yet."""
    detail = new_detail(snapshot, command)
    return Outcome(snapshot.put(detail), message("log.detail_added", detail=detail.name))


@rule(ChangeDetail)
def change_detail(snapshot: Snapshot, actor: Actor, command: ChangeDetail, at: datetime) -> Outcome:
    """Another name, sheet, place or note."""
    detail = there(snapshot, Detail, command.detail_id, "detail_id")
    there_or_none(snapshot, Place, command.place_id, "place_id")
    changed = replace(
        detail,
        name=not_taken(name_of(command.name), _names(snapshot, besides=detail.id)),
        sheet=name_of(command.sheet, "sheet", LONGEST_SHEET),
        place_id=command.place_id or None,
        note=text_of(command.note, "note"),
    )
    return Outcome(snapshot.put(changed), message("log.detail_changed", detail=changed.name))


@rule(EndDetail)
def end_detail(snapshot: Snapshot, actor: Actor, command: EndDetail, at: datetime) -> Outcome:
    """The detail leaves the plan with all that it left; refused while others wait on it."""
    detail = there(snapshot, Detail, command.detail_id, "detail_id")
    reason = reason_of(command.reason)
    refuse_awaited(snapshot, detail)
    return Outcome(
        snapshot.put(replace(detail, ended=at)),
        message("log.detail_ended", detail=detail.name, reason=reason),
    )


@rule(AddSide)
def add_side(snapshot: Snapshot, actor: Actor, command: AddSide, at: datetime) -> Outcome:
    """A face of the detail, behind those there are."""
    detail = there(snapshot, Detail, command.detail_id, "detail_id")
    sides = [side for side in snapshot.sides.values() if side.detail_id == detail.id]
    side = Side(
        id=new_id(snapshot, Side, command.id),
        project_id=snapshot.project.id,
        detail_id=detail.id,
        name=not_taken(name_of(command.name), (side.name for side in sides)),
        order=at_the_end(sides),
    )
    return Outcome(
        snapshot.put(side), message("log.side_added", side=side.name, detail=detail.name)
    )


def refuse_awaited(snapshot: Snapshot, detail: Detail) -> None:
    """Refuses to end a detail that a crew is asked for, or that another waits on."""
    chain = [a for a in snapshot.activities.values() if a.detail_id == detail.id and not a.ended]
    refuse_booked(snapshot, {a.id for a in chain})
    if (tie := awaited(snapshot, detail)) is not None:
        before, after = (snapshot.activities[id].name for id in (tie.before_id, tie.after_id))
        raise BadInput("plan.detail_awaited", before=before, after=after)


def awaited(snapshot: Snapshot, detail: Detail) -> Dependency | None:
    """What makes open work of another detail wait on open work of this one."""
    for activity in snapshot.activities.values():
        if activity.detail_id != detail.id or activity.ended or activity.finished is not None:
            continue
        for dependency in snapshot.after.get(activity.id, ()):
            after = snapshot.activities[dependency.after_id]
            elsewhere = after.detail_id != detail.id and after in snapshot.chain
            if elsewhere and after.finished is None:
                return dependency
    return None


def new_detail(snapshot: Snapshot, command: AddDetail | AddDetailFromPattern) -> Detail:
    """The row of a new detail, behind those there are."""
    there_or_none(snapshot, Place, command.place_id, "place_id")
    return Detail(
        id=new_id(snapshot, Detail, command.id),
        project_id=snapshot.project.id,
        name=not_taken(name_of(command.name), _names(snapshot)),
        sheet=name_of(command.sheet, "sheet", LONGEST_SHEET),
        order=at_the_end(tuple(snapshot.details.values())),
        place_id=command.place_id or None,
        note=text_of(command.note, "note") if isinstance(command, AddDetail) else "",
    )


def _names(snapshot: Snapshot, besides: str = "") -> list[str]:
    return [d.name for d in snapshot.details.values() if d.ended is None and d.id != besides]
