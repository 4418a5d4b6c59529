"""A line of "who goes next": when, who, what, how it stands, and one press."""

from dataclasses import dataclass
from datetime import datetime

from server.core.next import Going
from server.core.refusals import Message, message
from server.core.schedule import Schedule
from server.core.states import hold_state
from server.pages.shared.crews import crews_said
from server.pages.shared.opened import Opened


@dataclass(frozen=True)
class GoesRow:
    """One line. `phone` is whoever can move it; `press` leads to the page where it is done.

    `forecast` is the day it can begin by the forecast, where that is still to come.
    """

    now: bool
    when: datetime
    who: str
    work: str
    detail: str
    stands: str
    press: str
    href: str
    phone: str
    detail_id: str
    activity_id: str
    forecast: str


def goes_row(opened: Opened, schedule: Schedule, going: Going) -> GoesRow:
    """The line of one activity."""
    snapshot, activity = opened.snapshot, going.activity
    hold = snapshot.hold_of.get(activity.id)
    crew = snapshot.crews.get(going.crew_id or "")
    person = snapshot.people.get(going.person_id or "")
    own = crews_said(snapshot, activity, opened.words)
    press, href = "morning.open", f"/d/{activity.detail_id}/a/{activity.id}"
    if hold is not None:
        press, href = "morning.look", f"/h/{hold.id}"
    elif own and going.booking is None and activity.started is None:
        press, href = "morning.ask", f"/d/{activity.detail_id}/visit?activity={activity.id}"
    says = [_standing(opened, going)]
    if going.booking is not None and activity.started is None:
        says.append(message("morning.visit", state=going.booking.state))
    elif own and going.standing in ("ready", "soon") and activity.kind == "task":
        says.append(message("morning.nobody_asked"))
    if going.sets_finish:
        says.append(message("morning.sets_finish"))
    return GoesRow(
        now=going.standing == "under way" or (hold is not None and going.standing == "ready"),
        when=going.when,
        who=own if own else person.name if person else crew.name if crew else "",
        work=activity.name,
        detail=snapshot.details[activity.detail_id].name,
        stands=" · ".join(opened.words.say(one, now=opened.now) for one in says),
        press=opened.words.say(Message(press)),
        href=href,
        phone=crew.phone if crew else person.phone if person else "",
        detail_id=activity.detail_id,
        activity_id=activity.id,
        forecast=_forecast(opened, schedule, going),
    )


def _forecast(opened: Opened, schedule: Schedule, going: Going) -> str:
    """When it can begin, or when work under way is done; nothing where a day would say nothing."""
    dates, words, now = schedule[going.activity.id], opened.words, opened.now
    if going.standing == "under way":
        return words.say(message("morning.till", till=dates.early_finish.date()), now=now)
    if going.activity.kind == "task" or going.standing in ("soon", "waits"):
        return words.say(message("morning.can_be", start=dates.early_start.date()), now=now)
    return ""


def _standing(opened: Opened, going: Going) -> Message:
    snapshot = opened.snapshot
    hold = snapshot.hold_of.get(going.activity.id)
    person = snapshot.people.get(going.person_id or "")
    crew = snapshot.crews.get(going.crew_id or "")
    whose = crew.name if crew else person.name if person else ""
    if going.standing == "under way":
        return message("morning.under_way")
    if going.waits_for_id:
        waits = snapshot.activities[going.waits_for_id]
        return message("morning.waits_for", what=waits.name, whose=whose)
    if hold is not None:
        state = hold_state(snapshot, hold, opened.schedule)
        return message("morning.check", state=state, whose=whose)
    if going.standing == "ready":
        return message("morning.ready")
    return message("morning.from", when=going.when)
