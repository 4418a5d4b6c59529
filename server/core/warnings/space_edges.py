"""Warnings of open edges: a guard, a rail or a cover is out when the shift ends.

29 CFR 1926.501(b)(1): an unprotected side or edge 6 ft or more over what is below needs a
guardrail, a net or personal fall arrest; (b)(4)(i): so does a hole, or it is covered. 1926.500(b):
a hole is a gap 2 in or more across. 1926.502(b)(1): a top rail stands 42 in up, 3 in more or less.
All of these are from memory.
"""

from collections.abc import Iterable, Iterator
from datetime import datetime, timedelta

from server.core.asked import as_asked, begins
from server.core.changes.pushing import PutOff
from server.core.refusals import Value, message
from server.core.schedule import Schedule
from server.core.shifts import shift_ends, shifts_of, site_hours
from server.core.standing import place_of
from server.core.visits import first_day
from server.core.warnings.base import Mend, Warning, identity, warns
from server.core.warnings.space_mends import is_in, place_of_temporary, put_in
from server.core.world import Activity, Snapshot

EDGE = "open edge"
EDGE_TITLE = message("warning.open_edge.title")
FALL_FEET = 6
"""29 CFR 1926.501(b)(1) and (b)(4)(i), from memory: feet to what is below."""
HOLE_INCHES = 2
"""29 CFR 1926.500(b), from memory: a gap this wide, in inches, in its least dimension."""
TOP_RAIL_INCHES = 42
TOP_RAIL_MORE_OR_LESS = 3
"""29 CFR 1926.502(b)(1), from memory: the height of a top rail in inches."""
GUARDS = frozenset({"rail", "guard", "cover", "deck"})
"""The temporary works that close an edge or a hole."""
RAILS = frozenset({"rail", "guard"})


@warns(EDGE, title=EDGE_TITLE, bad="danger", family="space")
def open_edge(snapshot: Snapshot, schedule: Schedule) -> Iterable[Warning]:
    """A task opens an edge or a hole, and the shift ends before something closes it.

    Of work under way, done, or coming within its crew's notice. A later task in the same place or
    detail closes it, or a rail, guard, cover or deck that is in there. What strikes a temporary
    rail or guard opens its edge too, where a task that closes it is planned: that may be done
    before.
    """
    openers = [a for a in snapshot.chain if a.edge == "opens" or _strikes(snapshot, a)]
    if not openers:
        return
    begin = begins(snapshot, schedule)
    closers = [a for a in snapshot.chain if a.edge == "closes"]
    dates = as_asked(schedule, begin, [a.id for a in closers])
    for opener in openers:
        since = opener.started or begin.get(opener.id)
        if since is None or not _near(snapshot, schedule, opener, since):
            continue
        end = next(shift_ends(site_hours(snapshot), max(since, schedule.status)), since)
        closer = _closer(snapshot, dates, opener, closers, since)
        if closer is None and opener.edge != "opens":
            continue
        if closer is not None and (closer.finished or dates[closer.id].early_finish) <= end:
            continue
        if not _guarded(snapshot, schedule, opener):
            yield _open(snapshot, schedule, opener, since, end, closer)


def _strikes(snapshot: Snapshot, activity: Activity) -> bool:
    """Whether a task takes out a temporary rail or guard."""
    work = snapshot.temporary.get(activity.temporary_id or "")
    return activity.temporary == "strikes" and work is not None and work.kind in RAILS


def _near(snapshot: Snapshot, schedule: Schedule, opener: Activity, since: datetime) -> bool:
    """Begun, or within the notice of its crew, a day where it has none: a rail can be seen to."""
    crew = snapshot.crews.get(opener.crew_id or "")
    notice = timedelta(minutes=crew.notice) if crew else timedelta(days=1)
    return since <= schedule.status + max(notice, timedelta(days=1))


def _closer(
    snapshot: Snapshot,
    dates: Schedule,
    opener: Activity,
    closers: Iterable[Activity],
    since: datetime,
) -> Activity | None:
    """What closes it first after it was opened; what a struck guard stood in for, whenever."""
    place = place_of(snapshot, opener)
    found = [
        a
        for a in closers
        if a.finished is None or a.finished > since or opener.edge != "opens"
        if a.detail_id == opener.detail_id or (place and place_of(snapshot, a) == place)
    ]
    return min(found, key=lambda a: a.finished or dates[a.id].early_finish, default=None)


def _guarded(snapshot: Snapshot, schedule: Schedule, opener: Activity) -> bool:
    """Whether something is in there that closes it, but for what the task itself takes out."""
    place = place_of(snapshot, opener)
    struck = opener.temporary_id if opener.temporary == "strikes" else None
    return any(
        work.kind in GUARDS and is_in(work, schedule.status) and work.id != struck
        for work in snapshot.temporary.values()
        if work.detail_id == opener.detail_id
        or (place is not None and place_of_temporary(snapshot, work) == place)
    )


def _open(
    snapshot: Snapshot,
    schedule: Schedule,
    opener: Activity,
    since: datetime,
    end: datetime,
    closer: Activity | None,
) -> Warning:
    place = snapshot.places.get(place_of(snapshot, opener) or "")
    detail = snapshot.details[opener.detail_id]
    values: dict[str, Value] = {
        "work": opener.name,
        "where": place.name if place else detail.name,
        "end": end,
        "feet": FALL_FEET,
        "inches": HOLE_INCHES,
    }
    sentence = message("warning.open_edge.said", **values)
    if closer is not None:
        sentence = message("warning.open_edge.closes", closes=closer.name, **values)
    return Warning(
        rule=EDGE,
        bad="danger",
        title=EDGE_TITLE,
        sentence=sentence,
        subject=(opener.id,),
        identity=identity(EDGE, opener.id, since.date(), closer.id if closer else ""),
        at=end,
        detail_id=detail.id,
        activity_ids=(opener.id, closer.id) if closer else (opener.id,),
        place_ids=(place.id,) if place else (),
        crew_id=opener.crew_id,
        mends=tuple(_mends(snapshot, schedule, opener, since)),
    )


def _mends(
    snapshot: Snapshot, schedule: Schedule, opener: Activity, since: datetime
) -> Iterator[Mend]:
    """A rail or a cover; or it is opened in the morning, where it is closed again by noon."""
    place = snapshot.places.get(place_of(snapshot, opener) or "")
    rail = message("warning.rail_in", high=TOP_RAIL_INCHES, apart=TOP_RAIL_MORE_OR_LESS)
    labels = {"rail": rail, "cover": message("warning.cover_in")}
    for kind in labels:
        yield Mend(
            labels[kind],
            put_in(
                snapshot,
                schedule,
                kind,
                place,
                detail_id=opener.detail_id,
                crew_id=opener.crew_id,
                base=opener.id,
            ),
        )
    first = shifts_of(site_hours(snapshot), since.date())
    if opener.started is None and first and since > first[0][0]:
        morning = first_day(snapshot, opener, since)
        yield Mend(
            message("warning.put_off", work=opener.name, day=morning),
            (PutOff(activity_id=opener.id, until=morning),),
        )
