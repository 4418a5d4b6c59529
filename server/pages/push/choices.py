"""The usual other dates of an activity, as presses that show what each would push."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, time, timedelta
from urllib.parse import urlencode

from server.core.refusals import Message, message
from server.core.schedule import Schedule
from server.core.visits import is_open, visit_for, visit_of_crew
from server.core.world import Activity, Booking
from server.core.world.hours import first_hour
from server.pages.shared.opened import Opened

CLOCK_DAY = 24 * 60
WORK_DAY = 8 * 60


@dataclass(frozen=True)
class Choice:
    """One other date: what it is called, and the page that shows what it pushes."""

    label: str
    href: str


def choices(opened: Opened, schedule: Schedule, activity: Activity) -> tuple[Choice, ...]:
    """The other dates that people name most for something that is not done."""
    address = f"/d/{activity.detail_id}/push/{activity.id}"
    return tuple(
        Choice(opened.words.say(label, now=opened.now), f"{address}?{urlencode(asked)}")
        for label, asked in _choices(opened, schedule, activity)
    )


def what_can_be(activity: Activity) -> tuple[str, ...]:
    """The ways in which an activity's date can be moved, as it stands."""
    begun = activity.started is not None
    match activity.kind:
        case "task" if begun:
            return ("takes", "done")
        case "task":
            return ("later", "day", "takes", "done")
        case "wait":
            return ("takes", "done")
        case "delivery":
            return ("later", "day") if activity.ordered else ("later", "day", "takes")
    return ("later", "day")


def visit_of(opened: Opened, activity: Activity) -> Booking | None:
    """The visit of a task that may be asked for another day: open, or the crew can't come."""
    visit = visit_for(opened.snapshot, activity.id)
    if visit is None or activity.kind != "task":
        return None
    movable = visit.state == "can't come" or is_open(visit, opened.status)
    return visit if movable else None


def visits_together(opened: Opened, activity: Activity) -> tuple[Booking, ...]:
    """That visit, and for work that crews do together those of all of them: none goes alone."""
    if visit_of(opened, activity) is None:
        return ()
    found = (visit_of_crew(opened.snapshot, activity.id, id) for id in activity.crew_ids)
    movable = [
        visit
        for visit in (visit_of(opened, activity), *found)
        if visit and (visit.state == "can't come" or is_open(visit, opened.status))
    ]
    return tuple({visit.id: visit for visit in movable}.values())


def _choices(
    opened: Opened, schedule: Schedule, activity: Activity
) -> Iterator[tuple[Message, dict[str, str]]]:
    can = what_can_be(activity)
    if visit := visit_of(opened, activity):
        crew = opened.snapshot.crews[visit.crew_id].name
        for day in _other_days(opened, activity, visit):
            when = day.isoformat(timespec="minutes")
            yield message("push.choice.visit", crew=crew, day=day), {"what": "visit", "day": when}
    if "later" in can:
        for days in (1, 3):
            yield message("push.choice.later", days=days), {"what": "later", "days": str(days)}
    if "takes" in can:
        clock = activity.kind == "wait"
        more = 2 * CLOCK_DAY if clock else WORK_DAY
        label = message("push.choice.more_clock" if clock else "push.choice.more", span=more)
        yield label, {"what": "more", "more": f"{more // 60} h"}
    if "done" in can:
        label = message("push.choice.over" if activity.kind == "wait" else "push.choice.done")
        yield label, {"what": "done"}
    if activity.not_before and activity.not_before > schedule.status:
        yield message("push.choice.soon"), {"what": "soon"}


def _other_days(opened: Opened, activity: Activity, visit: Booking) -> Iterator[datetime]:
    """The day that the crew offers, and its two working days after the visit."""
    if visit.other_day is not None and visit.other_day > opened.now:
        yield first_hour(opened.snapshot, activity, visit.other_day)
    day = max(visit.start, opened.now)
    for _ in range(2):
        midnight = datetime.combine(day.date() + timedelta(days=1), time(0))
        day = first_hour(opened.snapshot, activity, midnight)
        if day != visit.other_day:
            yield day
