"""Who may do what: command x role, in one table, checked in every change and on every read.

A crew sees the details it works on; a rep what it was given; the super everything of the company.
"""

from typing import TYPE_CHECKING

from server.core.refusals import Refusal
from server.core.world import HoldPoint, Snapshot

if TYPE_CHECKING:
    from server.core.changes.base import Actor, Command

SUPER = frozenset({"super"})
OWN = frozenset({"super", "crew"})
ANYONE = frozenset({"super", "crew", "rep"})

ROLES: dict[str, frozenset[str]] = {
    # holds: whose check it is, is asked in `_theirs`
    "CallForLook": OWN,
    "AddPhoto": ANYONE,
    "DropPhoto": ANYONE,
    "Mark": OWN,
    "Release": ANYONE,
    "LookAgain": ANYONE,
    "Reject": ANYONE,
    "OpenAgain": ANYONE,
    # what happened
    "Start": OWN,
    "Finish": OWN,
    "SetRemaining": OWN,
    "TakeBack": SUPER,
    "Order": SUPER,
    "Arrive": OWN,
    "CountOver": OWN,
    "StageDelivery": OWN,
    "CircuitDead": OWN,
    "Answer": ANYONE,
    "AddReading": OWN,
    "AddSheet": SUPER,
    "AddTemporary": SUPER,
    "LookAtTemporary": OWN,
    "TakeOutTemporary": SUPER,
    "AcceptWarning": SUPER,
    # what it pushes
    "PutOff": SUPER,
    "ChangeWork": SUPER,
    "GiveCause": SUPER,
    "AgreePush": SUPER,
    "Hear": OWN,
    # visits
    "AskVisit": SUPER,
    "AnswerVisit": OWN,
    "MoveVisit": SUPER,
    "ChangeVisitWork": SUPER,
    "EndVisit": SUPER,
    "WasteVisit": OWN,
    "AgreeDates": SUPER,
    # the plan
    "AddDetail": SUPER,
    "AddDetailFromPattern": SUPER,
    "ChangeDetail": SUPER,
    "EndDetail": SUPER,
    "AddSide": SUPER,
    "AddLayer": SUPER,
    "ChangeLayer": SUPER,
    "EndLayer": SUPER,
    "AddActivity": SUPER,
    "ChangeActivity": SUPER,
    "EndActivity": SUPER,
    "AddDependency": SUPER,
    "ChangeDependency": SUPER,
    "EndDependency": SUPER,
    "MoveActivity": SUPER,
    "MoveActivities": SUPER,
    "CopyActivities": SUPER,
    "SplitActivity": SUPER,
    "MergeActivities": SUPER,
    "ChangeSide": SUPER,
    "EndSide": SUPER,
    "MoveLayer": SUPER,
    # figures kept with a detail
    "KeepFigure": SUPER,
    "TieFigure": SUPER,
    "TieToWait": SUPER,
    "UntieFigure": SUPER,
    "EndFigure": SUPER,
    # the house and its people
    "StartProject": SUPER,
    "ChangeProject": SUPER,
    "KeepCalendar": SUPER,
    "SetDays": SUPER,
    "KeepHolidays": SUPER,
    "GiveCrewHours": SUPER,
    "DropCalendar": SUPER,
    "AddFloor": SUPER,
    "ChangeFloor": SUPER,
    "KeepPlace": SUPER,
    "KeepWay": SUPER,
    "MoveClock": SUPER,
    "KeepCrew": SUPER,
    "EndCrew": SUPER,
    "KeepPerson": SUPER,
    "ChangeOwnWays": ANYONE,
    "EndPerson": SUPER,
    "KeepPattern": SUPER,
    "EndPattern": SUPER,
    "KeepLimits": SUPER,
    "EndLimits": SUPER,
    "Give": SUPER,
    "TakeAway": SUPER,
    # back again
    "Undo": SUPER,
    "Redo": SUPER,
}


class NotTheirs(Refusal):
    """The person may not do this (403), or may not even know of it (404, `hidden`)."""

    hidden: bool = False


class Hidden(NotTheirs):
    """What this person cannot see does not exist for them."""

    hidden = True


def details_seen(snapshot: Snapshot, actor: "Actor") -> frozenset[str]:
    """The ids of the details this person may look at."""
    if actor.role == "super":
        return frozenset(snapshot.details)
    given = [g for g in snapshot.given.values() if g.person_id == actor.person_id]
    if actor.role == "rep":
        if any(not g.detail_ids for g in given):
            return frozenset(snapshot.details)
        return frozenset(d for g in given for d in g.detail_ids) | _asked_of(snapshot, actor)
    if not actor.crew_id or not given:
        return frozenset()
    return frozenset(
        a.detail_id
        for a in snapshot.chain
        if actor.crew_id in (a.crew_id, *a.with_crew_ids) or _marks(snapshot, a.id, actor)
    )


def sees_project(snapshot: Snapshot, actor: "Actor") -> bool:
    """Whether this project exists for this person."""
    return actor.role == "super" or any(
        g.person_id == actor.person_id for g in snapshot.given.values()
    )


def releases(snapshot: Snapshot, actor: "Actor", hold: HoldPoint) -> bool:
    """Whether it is this person who says OK to cover at this check.

    A check without a named releaser, and an outside look, are the super's to record.
    """
    if hold.releases_id is not None:
        return hold.releases_id == actor.person_id
    return actor.role == "super"


def marks(snapshot: Snapshot, actor: "Actor", hold: HoldPoint) -> bool:
    """Whether this person may mark this check ready to look at."""
    if actor.role == "super":
        return True
    return actor.role == "crew" and hold.marks_crew_id == actor.crew_id is not None


def allowed(snapshot: Snapshot, actor: "Actor", command: "Command") -> None:
    """Nothing if this person may give this command; else `NotTheirs` or `Hidden`."""
    if actor.role not in ROLES[type(command).__name__]:
        raise NotTheirs("rights.role")
    if not actor.confirmed:
        raise NotTheirs("rights.only_look")
    detail_id = _detail_of(snapshot, command)
    if detail_id is not None and detail_id not in details_seen(snapshot, actor):
        raise Hidden("rights.hidden")
    if actor.role != "super" or type(command).__name__ in DECIDES:
        _theirs(snapshot, actor, command)


DECIDES = frozenset({"Release", "LookAgain", "Reject", "OpenAgain"})


def _theirs(snapshot: Snapshot, actor: "Actor", command: "Command") -> None:
    name = type(command).__name__
    hold = snapshot.holds.get(getattr(command, "hold_id", ""))
    if hold is not None:
        if name in DECIDES:
            ok = releases(snapshot, actor, hold)
        elif name in {"AddPhoto", "DropPhoto"}:
            ok = marks(snapshot, actor, hold) or releases(snapshot, actor, hold)
        else:
            ok = marks(snapshot, actor, hold)
        if not ok:
            whose = _whose(snapshot, hold)
            if not whose:
                raise NotTheirs("rights.not_your_check_super")
            raise NotTheirs("rights.not_your_check", whose=whose)
    activity = snapshot.activities.get(getattr(command, "activity_id", ""))
    if activity is not None and name == "Answer" and activity.person_id != actor.person_id:
        raise NotTheirs("rights.not_your_decision")
    if (
        activity is not None
        and name != "Answer"
        and actor.crew_id not in (activity.crew_id, *activity.with_crew_ids)
    ):
        raise NotTheirs("rights.not_your_work")
    _their_things(snapshot, actor, command)


def _their_things(snapshot: Snapshot, actor: "Actor", command: "Command") -> None:
    """Visits, tellings, temporary works and photos are of one crew or person."""
    booking = snapshot.bookings.get(getattr(command, "booking_id", ""))
    if booking is not None and booking.crew_id != actor.crew_id:
        raise Hidden("rights.hidden")
    tellings = (snapshot.tellings.get(id) for id in getattr(command, "telling_ids", ()))
    if any(telling is not None and telling.crew_id != actor.crew_id for telling in tellings):
        raise Hidden("rights.hidden")
    temporary = snapshot.temporary.get(getattr(command, "temporary_id", ""))
    if temporary is not None and temporary.crew_id != actor.crew_id:
        raise NotTheirs("rights.not_your_work")
    photo = snapshot.photos.get(getattr(command, "photo_id", ""))
    if photo is not None and photo.by_id != actor.person_id:
        raise NotTheirs("rights.not_your_photo")


def _whose(snapshot: Snapshot, hold: HoldPoint) -> str:
    person = snapshot.people.get(hold.releases_id or "")
    return person.name if person else ""


def _detail_of(snapshot: Snapshot, command: "Command") -> str | None:
    hold = snapshot.holds.get(getattr(command, "hold_id", None) or "")
    activity_id = hold.activity_id if hold else getattr(command, "activity_id", None)
    activity = snapshot.activities.get(activity_id or "")
    if activity is not None:
        return activity.detail_id
    detail_id: str | None = getattr(command, "detail_id", None)
    return detail_id if detail_id in snapshot.details else None


def _marks(snapshot: Snapshot, activity_id: str, actor: "Actor") -> bool:
    hold = snapshot.hold_of.get(activity_id)
    return hold is not None and hold.marks_crew_id == actor.crew_id


def _asked_of(snapshot: Snapshot, actor: "Actor") -> frozenset[str]:
    """Details with a check or a decision that is this rep's."""
    return frozenset(
        a.detail_id
        for a in snapshot.chain
        if a.person_id == actor.person_id
        or ((h := snapshot.hold_of.get(a.id)) is not None and h.releases_id == actor.person_id)
    )
