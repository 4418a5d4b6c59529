"""Houses at random, and changes at random that a super could make in them."""

from collections.abc import Callable, Mapping
from dataclasses import fields, replace
from datetime import date, datetime, time, timedelta
from random import Random
from typing import Any

from server.core.changes import Command, change
from server.core.changes.actuals import Arrive, Finish, Order, SetRemaining, Start
from server.core.changes.bookings import (
    AgreeDates,
    AnswerVisit,
    AskVisit,
    EndVisit,
    MoveVisit,
    WasteVisit,
)
from server.core.changes.holds import Reject, Release
from server.core.changes.plan import AddDependency, EndActivity, EndDependency
from server.core.changes.pushing import ChangeWork, PutOff
from server.core.refusals import Refusal
from server.core.world import Activity, Booking, Noun, Snapshot, WorkCalendar
from tests.store.worlds import nouns_of
from tests.worlds import CLOCK_DAY, COMPANY, DAY, HOUR, World, a_project, actor, on

CREWS = ("Ninepail Plaster", "Hobnail Millwork", "Ore Street Metal")
BEGIN = on("Dec 3 10:52")
CLOSED = (date(2025, 12, 9), date(2025, 12, 25), date(2025, 12, 26))
LATE_WEEK = tuple(f"{day} 09:00 17:00" for day in range(1, 6))


def a_random_house(seed: int) -> Snapshot:
    """Two or three details with all that there is in a chain; ids begin with the seed."""
    dice = Random(seed)
    world = a_project().with_changed("site", closed=CLOSED)
    late = WorkCalendar(id="late", company_id=COMPANY, name="Late week", shifts=LATE_WEEK)
    world = world.put(late)
    for crew, calendar in zip(CREWS, (None, "late", None), strict=True):
        world = world.with_crew(crew, calendar_id=calendar)
    for number in range(dice.randint(2, 3)):
        world = _a_detail(world, dice, f"D{number}")
    before = dice.choice(list(world.snapshot().chain_of("d0")))
    world = world.with_dependency(before.id, f"d1-{dice.randint(1, 3)}")
    world = _with_visits(world, dice)
    return prefixed(world.snapshot(), f"h{seed}-")


def prefixed(snapshot: Snapshot, prefix: str) -> Snapshot:
    """The same with other ids, so that many houses have room in one database."""
    made = Snapshot()
    for noun in nouns_of(snapshot):
        made = made.put(replace(noun, **_renamed(noun, prefix)))
    return made


def _renamed(noun: Noun, prefix: str) -> dict[str, Any]:
    renamed: dict[str, Any] = {}
    for field in fields(noun):
        value = getattr(noun, field.name)
        if value and (field.name == "id" or field.name.endswith("_id")):
            renamed[field.name] = prefix + value
        elif field.name.endswith("_ids"):
            renamed[field.name] = tuple(prefix + one for one in value)
    return renamed


def _a_detail(world: World, dice: Random, name: str) -> World:
    """Six to nine in a chain, the first of them done or under way."""
    world = world.with_detail(name)
    done = dice.randint(0, 2)
    for number in range(dice.randint(6, 9)):
        title, after = f"{name} {number}", f"{name} {number - 1}" if number else ()
        kind = (
            "task"
            if number <= done
            else dice.choice(["task", "task", "task", "wait", "delivery", "hold"])
        )
        if kind == "task":
            with_crews = (dice.choice(CREWS[1:]).lower().replace(" ", "-"),)
            world = world.with_task(
                title,
                dice.choice([2 * HOUR, DAY, DAY, 2 * DAY, 3 * DAY]),
                crew=dice.choice(CREWS),
                after=after,
                with_crew_ids=with_crews if dice.random() < 0.15 else (),
                **_happened(number, done),
            )
        elif kind == "wait":
            world = world.with_wait(
                title, dice.choice([6 * HOUR, CLOCK_DAY, 3 * CLOCK_DAY]), after=after
            )
        elif kind == "delivery":
            promised = on(f"Dec {dice.randint(5, 16)} 9:00") if dice.random() < 0.6 else None
            ordered = on("Dec 2") if promised and dice.random() < 0.6 else None
            world = world.with_delivery(title, 4 * DAY, promised=promised, ordered=ordered)
        else:
            world = world.with_check(title, after=after, own_mark_ok=True)
            if dice.random() < 0.7:
                world = world.with_attempt(title)
        if number > 2 and dice.random() < 0.3:
            type = dice.choice(["FS", "SS", "FF"])
            first = f"{name} {dice.randint(0, number - 2)}"
            world = world.with_dependency(first, title, type=type, lag=dice.choice([0, 0, 480]))
    return world


def _happened(number: int, done: int) -> dict[str, Any]:
    if number < done:
        return {"started": on(f"Dec {number + 1}"), "finished": on(f"Dec {number + 1} 15:00")}
    return {"started": on("Dec 3 7:30")} if number == done and done else {}


def _with_visits(world: World, dice: Random) -> World:
    chain = [a for a in world.snapshot().chain if a.kind == "task" and a.started is None]
    for activity in dice.sample(chain, min(5, len(chain))):
        start = datetime.combine(date(2025, 12, dice.randint(3, 19)), time(dice.randint(7, 10)))
        crew = next(c for c in CREWS if c.lower().replace(" ", "-") == activity.crew_id)
        state = dice.choice(["asked", "coming", "coming", "can't come"])
        promised = start if state == "coming" else None
        finish = start + timedelta(hours=dice.choice([4, 8, 30]))
        world = world.with_booking(crew, activity.id, start, finish, state=state, promised=promised)
    for detail in world.snapshot().details:
        if dice.random() < 0.6:
            before = world.snapshot()
            promised_too = change(before, actor(before), AgreeDates(detail_id=detail), BEGIN).after
            world = World(promised_too)
    return world


# -- changes -------------------------------------------------------------------------------------

Draw = Callable[[Snapshot, Random, datetime, str], Command]


def a_random_change(snapshot: Snapshot, dice: Random, at: datetime, id: str) -> Command:
    """A change that is not refused."""
    rufus = next(p.id for p in snapshot.people.values() if p.role == "super")
    for _ in range(500):
        draw = DRAWS[dice.choice(list(DRAWS))]
        try:
            command = draw(snapshot, dice, at, id)
            change(snapshot, actor(snapshot, rufus), command, at)
        except (Refusal, IndexError):  # refused, or nothing there that it could be about
            continue
        return command
    raise AssertionError("everything is refused")


def _one(snapshot: Snapshot, dice: Random, *kinds: str) -> Activity:
    found = [a for a in snapshot.chain if not kinds or a.kind in kinds]
    return dice.choice([a for a in found if a.finished is None] or found)


def _visit(snapshot: Snapshot, dice: Random) -> Booking:
    return dice.choice(
        [b for b in snapshot.bookings.values() if b.ended is None] or [*snapshot.bookings.values()]
    )


def _soon(dice: Random, at: datetime) -> datetime:
    day = at.date() + timedelta(days=dice.randint(0, 16))
    return datetime.combine(day, time(dice.choice([7, 7, 9, 13]), dice.choice([0, 0, 30])))


def _past(dice: Random, at: datetime) -> datetime:
    return at - timedelta(minutes=dice.choice([0, 5, 60, 200, 1440]))


def _put_off(s: Snapshot, dice: Random, at: datetime, id: str) -> Command:
    until = _soon(dice, at) if dice.random() < 0.85 else None
    return PutOff(activity_id=_one(s, dice).id, until=until)


def _work(s: Snapshot, dice: Random, at: datetime, id: str) -> Command:
    return ChangeWork(activity_id=_one(s, dice).id, work=dice.choice([60, DAY, 2 * DAY, 5 * DAY]))


def _move(s: Snapshot, dice: Random, at: datetime, id: str) -> Command:
    visit, start = _visit(s, dice), _soon(dice, at)
    start = visit.start if dice.random() < 0.2 else start
    return MoveVisit(booking_id=visit.id, start=start, finish=start + timedelta(hours=8))


def _end_visit(s: Snapshot, dice: Random, at: datetime, id: str) -> Command:
    return EndVisit(booking_id=_visit(s, dice).id)


def _ask(s: Snapshot, dice: Random, at: datetime, id: str) -> Command:
    start, hours = _soon(dice, at), timedelta(hours=dice.choice([4, 8, 32]))
    ids = (_one(s, dice, "task").id,)
    return AskVisit(id=f"{id}v", activity_ids=ids, start=start, finish=start + hours)


def _answer(s: Snapshot, dice: Random, at: datetime, id: str) -> Command:
    coming = dice.random() < 0.5
    return AnswerVisit(booking_id=_visit(s, dice).id, coming=coming, reason="" if coming else "Ill")


def _waste(s: Snapshot, dice: Random, at: datetime, id: str) -> Command:
    return WasteVisit(booking_id=_visit(s, dice).id, why="Nobody was there")


def _start(s: Snapshot, dice: Random, at: datetime, id: str) -> Command:
    anyway = "They were here" if dice.random() < 0.3 else ""
    return Start(activity_id=_one(s, dice, "task").id, when=_past(dice, at), anyway=anyway)


def _finish(s: Snapshot, dice: Random, at: datetime, id: str) -> Command:
    activity, when = _one(s, dice, "task", "wait"), _past(dice, at)
    started = when - timedelta(hours=dice.randint(0, 4)) if dice.random() < 0.5 else None
    return Finish(activity_id=activity.id, when=when, started=started)


def _remaining(s: Snapshot, dice: Random, at: datetime, id: str) -> Command:
    ids = [a.id for a in s.chain if a.started and not a.finished]
    if dice.random() < 0.5:
        return SetRemaining(activity_id=dice.choice(ids), done=dice.randint(0, 99), cause="Rain")
    return SetRemaining(activity_id=dice.choice(ids), remaining=dice.choice([30, DAY, 3 * DAY]))


def _hold(s: Snapshot, dice: Random) -> str:
    return dice.choice([a.hold_id for a in s.attempts.values() if a.state == "marked"])


def _release(s: Snapshot, dice: Random, at: datetime, id: str) -> Command:
    return Release(hold_id=_hold(s, dice))


def _reject(s: Snapshot, dice: Random, at: datetime, id: str) -> Command:
    return Reject(hold_id=_hold(s, dice), rework_id=f"{id}r", reason="Low", rework=DAY)


def _tie(s: Snapshot, dice: Random, at: datetime, id: str) -> Command:
    type, lag = dice.choice(["FS", "SS", "FF"]), dice.choice([0, 0, 60, CLOCK_DAY])
    before, after = _one(s, dice).id, _one(s, dice).id
    return AddDependency(id=f"{id}d", before_id=before, after_id=after, type=type, lag=lag)


def _untie(s: Snapshot, dice: Random, at: datetime, id: str) -> Command:
    return EndDependency(dependency_id=dice.choice(list(s.dependencies)))


def _end(s: Snapshot, dice: Random, at: datetime, id: str) -> Command:
    return EndActivity(activity_id=_one(s, dice).id, reason="Not needed")


def _agree(s: Snapshot, dice: Random, at: datetime, id: str) -> Command:
    return AgreeDates(detail_id=dice.choice(list(s.details)), reason="Again")


def _order(s: Snapshot, dice: Random, at: datetime, id: str) -> Command:
    promised = _soon(dice, at) if dice.random() < 0.6 else None
    return Order(activity_id=_one(s, dice, "delivery").id, when=at, promised=promised)


def _arrive(s: Snapshot, dice: Random, at: datetime, id: str) -> Command:
    return Arrive(activity_id=_one(s, dice, "delivery").id, when=_past(dice, at))


DRAWS: Mapping[str, Draw] = {
    "PutOff": _put_off,
    "ChangeWork": _work,
    "MoveVisit": _move,
    "EndVisit": _end_visit,
    "AskVisit": _ask,
    "AnswerVisit": _answer,
    "WasteVisit": _waste,
    "Start": _start,
    "Finish": _finish,
    "SetRemaining": _remaining,
    "Release": _release,
    "Reject": _reject,
    "AddDependency": _tie,
    "EndDependency": _untie,
    "EndActivity": _end,
    "AgreeDates": _agree,
    "Order": _order,
    "Arrive": _arrive,
}
