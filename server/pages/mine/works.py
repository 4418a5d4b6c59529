"""A crew's tasks: where, when, whether each is ready, and why not."""

from dataclasses import dataclass
from datetime import datetime

from server.core.next import Going
from server.core.refusals import message
from server.core.visits import groups_of
from server.core.world import Activity, Crew, Person
from server.pages.shared.opened import Opened
from server.pages.shared.reach import Reach, reach
from server.words import words as words_of


@dataclass(frozen=True)
class WorkRow:
    """One task of the crew: where, when, whether it is ready, and why not."""

    href: str
    name: str
    along: str
    place: str
    at: datetime
    when: str
    stands: str
    parts: str
    clear: str
    ready: bool
    call: Reach | None
    detail_id: str
    activity_id: str


def work_row(opened: Opened, going: Going, crew_id: str) -> WorkRow:
    """One task as it stands for one of its crews."""
    snapshot, words, now = opened.snapshot, opened.words, opened.now
    activity = going.activity
    waits = snapshot.activities.get(going.waits_for_id or "")
    call, stands = None, message("mine.from", when=going.when)
    if going.standing == "under way":
        stands = message("mine.under_way")
    elif going.standing == "ready":
        stands = message("mine.ready")
    elif waits is not None:
        who = snapshot.people.get(going.person_id or "")
        crew = snapshot.crews.get(going.crew_id or "")
        name = who.name if who else crew.name if crew else ""
        stands = message("mine.waits_for_it", what=waits.name)
        if name:
            stands = message("mine.waits_for", what=waits.name, whose=name)
        call = _call(opened, activity, waits, who or crew, crew_id)
    return WorkRow(
        href=f"/d/{activity.detail_id}/a/{activity.id}",
        name=activity.name,
        along=_along(opened, activity, crew_id),
        place=place_of(opened, activity),
        at=going.when,
        when=words.when(going.when, now),
        stands=words.say(stands, now=now),
        parts=_parts(opened, activity),
        clear=_clear(opened, going),
        ready=going.standing in ("ready", "under way"),
        call=call,
        detail_id=activity.detail_id,
        activity_id=activity.id,
    )


def _call(
    opened: Opened,
    activity: Activity,
    waits: Activity,
    whose: Person | Crew | None,
    crew_id: str,
) -> Reach | None:
    """How to reach whoever moves what the work waits for; nobody where that is the crew itself."""
    if whose is None or whose.id == crew_id:
        return None
    its_words = words_of(whose.language)
    ask = message("mine.sms_waits", work=activity.name, what=waits.name)
    return reach(whose.phone, its_words.say(ask, now=opened.now))


def _along(opened: Opened, activity: Activity, crew_id: str) -> str:
    """The crews that a crew does it with; nothing where it does it alone."""
    crews = tuple(opened.snapshot.crews[id].name for id in activity.crew_ids if id != crew_id)
    return opened.words.say(message("crews.along", crews=crews)) if crews else ""


def _clear(opened: Opened, going: Going) -> str:
    """Whether others are asked to the same place on the day, more than it has room for."""
    snapshot, activity = opened.snapshot, going.activity
    place = snapshot.places.get(_place_id(opened, activity))
    if place is None or going.standing == "under way":
        return ""
    own = set(activity.crew_ids)
    there = [
        b
        for b in snapshot.bookings.values()
        if b.ended is None and b.state != "can't come" and b.crew_id not in own
        if b.start.date() <= going.when.date() <= b.finish.date()
        if any(_place_id(opened, snapshot.activities[id]) == place.id for id in b.activity_ids)
    ]
    if groups_of(there) < place.room_for:
        return opened.words.say(message("mine.place_clear"))
    crews = tuple(snapshot.crews[id].name for id in sorted({b.crew_id for b in there}))
    return opened.words.say(message("mine.place_taken", crews=crews))


def _place_id(opened: Opened, activity: Activity) -> str:
    return activity.place_id or opened.snapshot.details[activity.detail_id].place_id or ""


def place_of(opened: Opened, activity: Activity) -> str:
    """The detail, the place and the house of a task."""
    detail = opened.snapshot.details[activity.detail_id]
    place = opened.snapshot.places.get(_place_id(opened, activity))
    names = (detail.name, place.name if place else "", opened.snapshot.project.name)
    return ", ".join(dict.fromkeys(name for name in names if name))


def _parts(opened: Opened, activity: Activity) -> str:
    """Whether what it needs brought is here, and counted."""
    snapshot = opened.snapshot
    before = (snapshot.activities[d.before_id] for d in snapshot.before.get(activity.id, ()))
    brought = [a for a in before if a.kind == "delivery" and a.ended is None]
    if not brought:
        return ""
    if any(a.finished is None for a in brought):
        return opened.words.say(message("mine.parts_not_here"))
    if any(a.counted is None for a in brought):
        return opened.words.say(message("mine.parts_not_counted"))
    return opened.words.say(message("mine.parts_here"))
