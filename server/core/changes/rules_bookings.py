"""Rules about visits and promised dates."""

from dataclasses import replace
from datetime import datetime

from server.core.changes.base import Actor, Outcome, find, rule
from server.core.changes.bookings import AgreeDates, AnswerVisit, AskVisit, EndVisit, MoveVisit
from server.core.changes.inputs import BadInput, ids_after, new_id, reason_of, text_of
from server.core.refusals import Refusal, message
from server.core.world import Activity, Agreed, Booking, Detail, Snapshot
from server.core.world.clock import status_of
from server.core.world.network import forecast


class NoVisit(Refusal):
    """A visit that cannot be asked for, answered or moved."""


@rule(AskVisit)
def ask(snapshot: Snapshot, actor: Actor, command: AskVisit, at: datetime) -> Outcome:
    """A crew is asked to come for tasks of its own that are not done."""
    tasks = [find(snapshot, Activity, id) for id in dict.fromkeys(command.activity_ids)]
    if not tasks:
        raise BadInput("bookings.for_what", field="activity_ids")
    crews = {a.crew_id for a in tasks}
    crew_id = tasks[0].crew_id
    if crew_id is None:
        raise BadInput("bookings.nobody", field="activity_ids", work=tasks[0].name)
    if len(crews) > 1:
        raise BadInput("bookings.two_crews", field="activity_ids")
    for task in tasks:
        if task.finished is not None or task.ended is not None:
            raise BadInput("bookings.done_already", field="activity_ids", work=task.name)
        _not_twice(snapshot, task)
    start, finish = _span(command.start, command.finish, at)
    crew = snapshot.crews[crew_id]
    booking = Booking(
        id=new_id(snapshot, Booking, command.id),
        project_id=snapshot.project.id,
        crew_id=crew_id,
        activity_ids=tuple(a.id for a in tasks),
        start=start,
        finish=finish,
        state="asked",
        asked_by_id=actor.person_id,
        asked_at=at.replace(second=0, microsecond=0),
    )
    said = message("log.asked", crew=crew.name, when=start, work=tuple(a.name for a in tasks))
    return Outcome(snapshot.put(booking), said)


@rule(AnswerVisit)
def answer(snapshot: Snapshot, actor: Actor, command: AnswerVisit, at: datetime) -> Outcome:
    """Coming, or can't come; the last answer counts."""
    booking = _wanted(snapshot, command.booking_id)
    if command.other_day is not None and (command.coming or command.other_day <= at):
        raise BadInput("bookings.other_day", field="other_day")
    answered = replace(
        booking,
        state="coming" if command.coming else "can't come",
        answered_by_id=actor.person_id,
        answered_at=at.replace(second=0, microsecond=0),
        by_phone=command.by_phone or actor.role == "super",
        other_day=command.other_day,
        reason=text_of(command.reason, "reason"),
    )
    crew = snapshot.crews[booking.crew_id].name
    if command.coming:
        said = message("log.coming", crew=crew, when=booking.start)
    elif command.other_day:
        said = message("log.cannot_but", crew=crew, when=booking.start, other=command.other_day)
    else:
        said = message("log.cannot", crew=crew, when=booking.start)
    return Outcome(snapshot.put(answered), said)


@rule(MoveVisit)
def move(snapshot: Snapshot, actor: Actor, command: MoveVisit, at: datetime) -> Outcome:
    """The crew is asked for another time, and answers again."""
    booking = _wanted(snapshot, command.booking_id)
    start, finish = _span(command.start, command.finish, at)
    moved = replace(
        booking,
        start=start,
        finish=finish,
        state="asked",
        asked_by_id=actor.person_id,
        asked_at=at.replace(second=0, microsecond=0),
        answered_by_id=None,
        answered_at=None,
        by_phone=False,
        other_day=None,
        reason="",
    )
    crew = snapshot.crews[booking.crew_id].name
    said = message("log.visit_moved", crew=crew, when=booking.start, to=start)
    return Outcome(snapshot.put(moved), said)


@rule(EndVisit)
def end(snapshot: Snapshot, actor: Actor, command: EndVisit, at: datetime) -> Outcome:
    """The visit is not wanted any more."""
    booking = _wanted(snapshot, command.booking_id)
    now = at.replace(second=0, microsecond=0)
    ended = replace(booking, ended=now, reason=text_of(command.reason, "reason"))
    crew = snapshot.crews[booking.crew_id].name
    return Outcome(snapshot.put(ended), message("log.visit_ended", crew=crew, when=booking.start))


@rule(AgreeDates)
def agree(snapshot: Snapshot, actor: Actor, command: AgreeDates, at: datetime) -> Outcome:
    """The forecast dates of a detail become its promised dates."""
    detail = find(snapshot, Detail, command.detail_id)
    chain = snapshot.chain_of(detail.id)
    if not chain:
        raise BadInput("bookings.nothing_to_promise")
    rounds = [a.round for a in snapshot.agreed.values() if a.detail_id == detail.id]
    reason = reason_of(command.reason) if rounds else text_of(command.reason, "reason")
    schedule = forecast(snapshot, status_of(at))
    ids = ids_after(f"{detail.id}r{max(rounds, default=0) + 1}", snapshot.agreed)
    rows = [
        Agreed(
            id=next(ids),
            project_id=detail.project_id,
            activity_id=activity.id,
            detail_id=detail.id,
            round=max(rounds, default=0) + 1,
            start=schedule[activity.id].early_start,
            finish=schedule[activity.id].early_finish,
            by_id=actor.person_id,
            at=at.replace(second=0, microsecond=0),
            reason=reason,
        )
        for activity in chain
    ]
    said = message("log.promised", detail=detail.name, finish=max(r.finish for r in rows))
    return Outcome(snapshot.put(*rows), said)


def _not_twice(snapshot: Snapshot, task: Activity) -> None:
    for booking in snapshot.bookings.values():
        wanted = booking.ended is None and booking.state != "can't come"
        if wanted and task.id in booking.activity_ids:
            raise NoVisit(
                "bookings.asked_already",
                field="activity_ids",
                work=task.name,
                when=booking.start,
            )


def _span(start: datetime, finish: datetime, at: datetime) -> tuple[datetime, datetime]:
    if start <= at:
        raise BadInput("bookings.in_the_past", field="start", when=start)
    if finish <= start:
        raise BadInput("bookings.ends_before", field="finish")
    return start.replace(second=0, microsecond=0), finish.replace(second=0, microsecond=0)


def _wanted(snapshot: Snapshot, id: str) -> Booking:
    booking = find(snapshot, Booking, id)
    if booking.ended is not None:
        raise NoVisit("bookings.not_wanted")
    return booking
