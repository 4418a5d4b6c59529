"""One activity of a detail: how it stands, what holds it, and what can be recorded of it."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from datetime import datetime

from server.core.changes.held import releaser_of
from server.core.changes.rules_actuals import last_stage
from server.core.refusals import message
from server.core.rights import ROLES
from server.core.states import holding, open_before
from server.core.world import Activity
from server.pages.detail.facts import facts_of, next_stage
from server.pages.detail.looking import Looking
from server.pages.kit import Form
from server.pages.shared.rope import order_of_work

COMMANDS = {
    "start": "Start",
    "finish": "Finish",
    "remaining": "SetRemaining",
    "order": "Order",
    "arrive": "Arrive",
    "count": "CountOver",
    "stage": "StageDelivery",
    "dead": "CircuitDead",
    "answer": "Answer",
    "back": "TakeBack",
}


@dataclass(frozen=True)
class Holding:
    """A check or work that has to come first: whose it is, and how to reach them."""

    name: str
    href: str
    whose: str
    phone: str
    text: str


@dataclass(frozen=True)
class ActivityPage:
    """One activity. `can` names the forms this person gets; `forms` holds what was sent.

    `stage` is the stage of a delivery that its form starts with.
    """

    detail_id: str
    detail: str
    sheet: str
    activity_id: str
    name: str
    kind: str
    state: str
    stands: str
    facts: tuple[tuple[str, str], ...]
    note: str
    answer: str
    anyway: str
    holding: tuple[Holding, ...]
    stage: str
    can: tuple[str, ...]
    main: str
    asks_anyway: bool
    at: datetime
    forms: Mapping[str, Form] = field(default_factory=dict)


def activity_page(
    looking: Looking, activity: Activity, forms: Mapping[str, Form] | None = None
) -> ActivityPage:
    """The page of one activity, with a form for each thing that can be recorded now."""
    given = forms or {}
    detail = looking.detail
    can = tuple(_can(looking, activity))
    row = next(
        row
        for row in order_of_work(
            looking.snapshot, looking.schedule, detail.id, looking.words, looking.now
        )
        if row.id == activity.id
    )
    held = tuple(_holding(looking, activity))
    return ActivityPage(
        detail_id=detail.id,
        detail=detail.name,
        sheet=detail.sheet,
        activity_id=activity.id,
        name=activity.name,
        kind=activity.kind,
        state=row.state,
        stands=row.who,
        facts=tuple(facts_of(looking, activity)),
        note=activity.note,
        answer=activity.answer,
        anyway=activity.anyway,
        holding=held,
        stage=next_stage(activity),
        can=can,
        main=can[0] if can else "",
        asks_anyway=looking.actor.role == "super" and bool(held),
        at=looking.now.replace(second=0, microsecond=0),
        forms={name: given.get(name, Form()) for name in COMMANDS},
    )


def _can(looking: Looking, activity: Activity) -> Iterator[str]:
    """What this person may record of it as it stands, the likeliest first."""
    for name in _possible(activity):
        if looking.actor.confirmed and _theirs(looking, activity, name):
            yield name


def _possible(activity: Activity) -> tuple[str, ...]:
    done, begun = activity.finished is not None, activity.started is not None
    match activity.kind:
        case "task" if done:
            return ("back",)
        case "task":
            dead = ("dead",) if activity.circuit else ()
            if begun:
                return ("finish", "remaining", *dead, "back")
            back = ("back",) if activity.circuit_dead else ()
            return ("start", *dead, "finish", *back)
        case "delivery" if done:
            return ("back",) if activity.counted else ("count", "back")
        case "delivery":
            if activity.ordered:
                return ("arrive", "stage", "order", "back")
            return ("order", "stage", "arrive", *(("back",) if last_stage(activity) else ()))
        case "decision":
            return ("back",) if done else ("answer",)
        case "wait":
            return ("back",) if done else ("finish",)
    return ()


def _theirs(looking: Looking, activity: Activity, name: str) -> bool:
    if looking.actor.role not in ROLES[COMMANDS[name]]:
        return False
    if looking.actor.role == "super":
        return True
    if name == "answer":
        return activity.person_id == looking.actor.person_id
    return looking.own(activity)


def _holding(looking: Looking, activity: Activity) -> Iterator[Holding]:
    """What is still open before it, for work that has not begun."""
    if activity.started is not None or activity.kind != "task":
        return
    snapshot = looking.snapshot
    for hold in holding(snapshot, activity.id):
        name = snapshot.activities[hold.activity_id].name
        person = releaser_of(snapshot, hold)
        who, phone = (person.name, person.phone) if person else ("", "")
        phone = "" if who == looking.actor.name else phone
        ask = message("detail.sms_check", detail=looking.detail.name, check=name)
        yield Holding(name, f"/h/{hold.id}", who, phone, looking.say(ask))
    for before in open_before(snapshot, activity.id, looking.schedule):
        if before.kind == "hold":
            continue
        crew = snapshot.crews.get(before.crew_id or "")
        href = f"/d/{before.detail_id}/a/{before.id}"
        ask = message("detail.sms_work", detail=looking.detail.name, work=before.name)
        phone = crew.phone if crew and not looking.own(before) else ""
        yield Holding(before.name, href, crew.name if crew else "", phone, looking.say(ask))
