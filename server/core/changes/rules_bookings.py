"""Rules about visits and promised dates."""

from collections.abc import Iterable
from dataclasses import replace
from datetime import datetime

from server.core.changes.base import Actor, Outcome, find, rule
from server.core.changes.bookings import (
    AgreeDates,
    AnswerVisit,
    AskVisit,
    ChangeVisitWork,
    EndVisit,
    MoveVisit,
    WasteVisit,
)
from server.core.changes.causes import causes
from server.core.changes.held import activity_of, minute
from server.core.changes.inputs import (
    BadInput,
    ids_after,
    near,
    new_id,
    reason_of,
    text_of,
    there,
)
from server.core.refusals import Refusal, message
from server.core.world import Activity, Agreed, Booking, Crew, Detail, Snapshot
from server.core.world.clock import status_of
from server.core.world.network import forecast


class NoVisit(Refusal):
    """A visit that cannot be asked for, answered or moved."""


@rule(AskVisit)
def ask(snapshot: Snapshot, actor: Actor, command: AskVisit, at: datetime) -> Outcome:
    """A crew is asked to come for tasks of its own that are not done."""
    tasks = _tasks(snapshot, command.activity_ids)
    start, finish = _span(command.start, command.finish, at)
    crew = _crew(snapshot, tasks, start, finish, command.crew_id)
    booking = Booking(
        id=new_id(snapshot, Booking, command.id),
        project_id=snapshot.project.id,
        crew_id=crew.id,
        activity_ids=tuple(a.id for a in tasks),
        start=start,
        finish=finish,
        state="asked",
        asked_by_id=actor.person_id,
        asked_at=minute(at),
    )
    said = message("log.asked", crew=crew.name, when=start, work=tuple(a.name for a in tasks))
    return Outcome(snapshot.put(booking), said)


@rule(AnswerVisit)
def answer(snapshot: Snapshot, actor: Actor, command: AnswerVisit, at: datetime) -> Outcome:
    """Coming, or can't come; the last answer counts."""
    booking = _wanted(snapshot, command.booking_id)
    if command.other_day is not None and (command.coming or command.other_day <= at):
        raise BadInput("bookings.other_day", field="other_day")
    if booking.finish <= at:
        raise NoVisit("bookings.over", when=booking.start)
    answered = replace(
        booking,
        state="coming" if command.coming else "can't come",
        answered_by_id=actor.person_id,
        answered_at=minute(at),
        # what is not pressed by the crew itself was heard from it
        by_phone=actor.role != "crew",
        other_day=command.other_day and minute(command.other_day),
        reason=text_of(command.reason, "reason"),
        promised=(booking.promised or booking.start) if command.coming else booking.promised,
    )
    crew = snapshot.crews[booking.crew_id].name
    details = [snapshot.activities[id].detail_id for id in booking.activity_ids]
    why = "" if command.coming else answered.reason
    first = booking.activity_ids[0]
    after = snapshot.put(answered, *causes(snapshot, actor, at, why, details, activity_id=first))
    if command.coming:
        said = message("log.coming", crew=crew, when=booking.start)
    elif command.other_day:
        said = message("log.cannot_but", crew=crew, when=booking.start, other=command.other_day)
    else:
        said = message("log.cannot", crew=crew, when=booking.start)
    return Outcome(after, said)


@rule(MoveVisit)
def move(snapshot: Snapshot, actor: Actor, command: MoveVisit, at: datetime) -> Outcome:
    """The crew is asked for another time, and answers again."""
    booking = _wanted(snapshot, command.booking_id)
    tasks = [snapshot.activities[id] for id in booking.activity_ids]
    if all(a.finished is not None or a.ended is not None for a in tasks):
        raise BadInput("bookings.done_already", work=tasks[0].name)
    start, finish = _span(command.start, command.finish, at)
    moved = replace(
        _asked_again(booking, actor, at),
        start=start,
        finish=finish,
        # a day that the crew could not keep stays the one that it promised
        promised=booking.promised if booking.state == "can't come" else None,
    )
    crew = snapshot.crews[booking.crew_id].name
    said = message("log.visit_moved", crew=crew, when=booking.start, to=start)
    return Outcome(snapshot.put(moved), said)


@rule(ChangeVisitWork)
def change_work(
    snapshot: Snapshot, actor: Actor, command: ChangeVisitWork, at: datetime
) -> Outcome:
    """What is taken out is to be asked for anew; what comes in, the crew says yes to first."""
    booking = _wanted(snapshot, command.booking_id)
    if booking.finish <= at:
        raise NoVisit("bookings.past", when=booking.start)
    before = set(booking.activity_ids)
    # what was done in the meantime is not taken out of the visit that it was done in
    done = tuple(id for id in booking.activity_ids if snapshot.activities[id].finished is not None)
    more = [id for id in command.activity_ids if id not in before]
    new = _tasks(snapshot, more) if more else []
    if other := next((a for a in new if booking.crew_id not in a.crew_ids), None):
        raise BadInput("bookings.another_crew", field="activity_ids", work=other.name)
    if new and (asked := _asked(snapshot, booking.crew_id, new, booking.start, booking.finish)):
        crew = snapshot.crews[booking.crew_id].name
        raise NoVisit("bookings.asked_already", field="activity_ids", crew=crew, when=asked.start)
    kept = {*done, *command.activity_ids}
    ids = tuple(a.id for a in snapshot.chain if a.id in kept)
    if not set(ids) - set(done):
        raise BadInput("bookings.nothing_left", field="activity_ids")
    if set(ids) == before:
        raise BadInput("bookings.same_work", field="activity_ids")
    visit = _asked_again(booking, actor, at) if new else booking
    said = message(
        "log.visit_work",
        crew=snapshot.crews[booking.crew_id].name,
        when=booking.start,
        work=tuple(snapshot.activities[id].name for id in ids),
    )
    return Outcome(snapshot.put(replace(visit, activity_ids=ids)), said)


@rule(EndVisit)
def end(snapshot: Snapshot, actor: Actor, command: EndVisit, at: datetime) -> Outcome:
    """The visit is not wanted any more."""
    booking = _wanted(snapshot, command.booking_id)
    now = minute(at)
    ended = replace(booking, ended=now, reason=text_of(command.reason, "reason"))
    crew = snapshot.crews[booking.crew_id].name
    return Outcome(snapshot.put(ended), message("log.visit_ended", crew=crew, when=booking.start))


@rule(WasteVisit)
def waste(snapshot: Snapshot, actor: Actor, command: WasteVisit, at: datetime) -> Outcome:
    """The crew came and could not work: the visit is over, and kept with why."""
    booking = _wanted(snapshot, command.booking_id)
    if at.date() < booking.start.date():
        raise NoVisit("bookings.not_yet", when=booking.start)
    why = reason_of(command.why, "why")
    now = minute(at)
    wasted = replace(booking, wasted=why, wasted_at=now, ended=now)
    details = [snapshot.activities[id].detail_id for id in booking.activity_ids]
    rows = causes(snapshot, actor, at, why, details, activity_id=booking.activity_ids[0])
    crew = snapshot.crews[booking.crew_id].name
    return Outcome(
        snapshot.put(wasted, *rows), message("log.wasted", crew=crew, when=booking.start, why=why)
    )


@rule(AgreeDates)
def agree(snapshot: Snapshot, actor: Actor, command: AgreeDates, at: datetime) -> Outcome:
    """The forecast dates of a detail become its promised dates."""
    detail = there(snapshot, Detail, command.detail_id, "detail_id")
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
            at=minute(at),
            reason=reason,
        )
        for activity in chain
    ]
    said = message("log.promised", detail=detail.name, finish=max(r.finish for r in rows))
    return Outcome(snapshot.put(*rows), said)


def _tasks(snapshot: Snapshot, ids: Iterable[str]) -> list[Activity]:
    """Work that a crew can be asked to come for."""
    tasks = [activity_of(snapshot, id) for id in dict.fromkeys(ids)]
    if not tasks:
        raise BadInput("bookings.for_what", field="activity_ids")
    for task in tasks:
        if task.kind != "task":
            raise BadInput("bookings.not_a_task", field="activity_ids", work=task.name)
        if task.finished is not None:
            raise BadInput("bookings.done_already", field="activity_ids", work=task.name)
    return tasks


def _asked_again(booking: Booking, actor: Actor, at: datetime) -> Booking:
    """The visit as one that the crew has still to answer."""
    return replace(
        booking,
        state="asked",
        asked_by_id=actor.person_id,
        asked_at=minute(at),
        answered_by_id=None,
        answered_at=None,
        by_phone=False,
        other_day=None,
        reason="",
    )


def _crew(
    snapshot: Snapshot,
    tasks: list[Activity],
    start: datetime,
    finish: datetime,
    crew_id: str | None,
) -> Crew:
    """The crew that all these are for; of those that do a task together, the next not asked yet."""
    if nobody := next((a for a in tasks if a.crew_id is None), None):
        raise BadInput("bookings.nobody", field="activity_ids", work=nobody.name)
    first, *others = (a.crew_ids for a in tasks)
    common = [id for id in first if all(id in other for other in others)]
    if crew_id is not None:
        common = [id for id in common if id == crew_id]
    if not common:
        raise BadInput("bookings.two_crews", field="activity_ids")
    asked: Booking | None = None
    for id in common:
        earlier = _asked(snapshot, id, tasks, start, finish)
        if earlier is None:
            return there(snapshot, Crew, id, "activity_ids")
        asked = asked or earlier
    crew = snapshot.crews[common[0]].name
    when = asked.start if asked else start
    raise NoVisit("bookings.asked_already", field="activity_ids", crew=crew, when=when)


def _asked(
    snapshot: Snapshot, crew_id: str, tasks: list[Activity], start: datetime, finish: datetime
) -> Booking | None:
    """A visit of this crew that is wanted at the same hours for one of these."""
    ids = {a.id for a in tasks}
    for booking in snapshot.bookings.values():
        wanted = booking.ended is None and booking.state != "can't come"
        same = booking.crew_id == crew_id and ids.intersection(booking.activity_ids)
        if wanted and same and booking.start < finish and start < booking.finish:
            return booking
    return None


def _span(start: datetime, finish: datetime, at: datetime) -> tuple[datetime, datetime]:
    if start <= at:
        raise BadInput("bookings.in_the_past", field="start", when=start)
    if finish <= start:
        raise BadInput("bookings.ends_before", field="finish")
    near(start, at, "start", years=2)
    near(finish, start, "finish", years=1)
    return minute(start), minute(finish)


def _wanted(snapshot: Snapshot, id: str) -> Booking:
    booking = find(snapshot, Booking, id)
    if booking.ended is not None:
        raise NoVisit("bookings.not_wanted")
    return booking
