"""Warnings of temporary works: nobody has looked today; a stair without rails."""

from collections.abc import Iterable, Iterator
from datetime import datetime
from fractions import Fraction

from server.core.changes.actuals import LookAtTemporary
from server.core.changes.held import super_of
from server.core.changes.inputs import ids_after
from server.core.refusals import message
from server.core.schedule import Schedule
from server.core.shifts import shifts_of, site_hours
from server.core.standing import firm_stands
from server.core.warnings.base import Mend, Warning, identity, warns
from server.core.warnings.space_mends import is_in, place_of_temporary, put_in
from server.core.world import Look, Snapshot, TemporaryWork

LOOK = "temporary work not looked at"
LOOK_TITLE = message("warning.not_looked_at.title")
STAIR = "temporary stair without rails"
STAIR_TITLE = message("warning.bare_stair.title")
DAILY = frozenset({"rail", "guard", "shore", "scaffold", "deck", "stair"})
"""What people stand on, lean on or stand under. 29 CFR 1926.451(f)(3), from memory: a scaffold is
looked at by a competent person before each shift and after what may have weakened it."""
RISERS = 4
RISE_INCHES = Fraction(30)
"""29 CFR 1926.1052(c)(1), from memory: a stair of four or more risers, or of more than 30 in of
rise, has a handrail, and a rail along each side that is open. Whichever of the two is less."""
STAIR_RAIL_INCHES = 36
"""29 CFR 1926.1052(c)(3)(ii), from memory: the least height of a stair rail over the tread."""


@warns(LOOK, title=LOOK_TITLE, bad="danger", family="space")
def not_looked_at(snapshot: Snapshot, schedule: Schedule) -> Iterable[Warning]:
    """A temporary work is in use with no look recorded today, or today's was not in order.

    From the first shift of the day on; on a day that the site is closed only if somebody comes.
    """
    begins = _begins(snapshot, schedule)
    if begins is None or schedule.status < begins:
        return
    looks: dict[str, Look] = {}
    for look in sorted(snapshot.looks.values(), key=lambda one: one.at):
        if look.at.date() == schedule.status.date():
            looks[look.temporary_id] = look
    for work in snapshot.temporary.values():
        if work.kind in DAILY and work.daily and is_in(work, schedule.status):
            today = looks.get(work.id)
            if today is None or not today.in_order:
                yield _not_looked(snapshot, schedule, work, begins, today)


def _begins(snapshot: Snapshot, schedule: Schedule) -> datetime | None:
    """When work begins today; None if there is none."""
    today = schedule.status.date()
    shifts = shifts_of(site_hours(snapshot), today)
    if shifts:
        return shifts[0][0]
    starts = (s.start for s in firm_stands(snapshot, schedule) if s.start.date() == today)
    return min(starts, default=None)


def _not_looked(
    snapshot: Snapshot,
    schedule: Schedule,
    work: TemporaryWork,
    begins: datetime,
    today: Look | None,
) -> Warning:
    sentence = message("warning.not_looked_at.said", what=work.name)
    if today is not None:
        sentence = message("warning.not_looked_at.wrong", what=work.name, note=today.note)
    super_ = super_of(snapshot)
    place_id = place_of_temporary(snapshot, work)
    look = LookAtTemporary(id=next(ids_after(work.id, snapshot.looks)), temporary_id=work.id)
    return Warning(
        rule=LOOK,
        bad="danger",
        title=LOOK_TITLE,
        sentence=sentence,
        subject=(work.id,),
        identity=identity(LOOK, work.id, begins.date(), today.id if today else ""),
        at=begins,
        detail_id=work.detail_id,
        place_ids=(place_id,) if place_id else (),
        crew_id=work.crew_id,
        person_id=None if work.crew_id or super_ is None else super_.id,
        mends=(Mend(message("warning.looked_at", what=work.name), (look,)),),
    )


@warns(STAIR, title=STAIR_TITLE, bad="danger", family="space")
def bare_stair(snapshot: Snapshot, schedule: Schedule) -> Iterable[Warning]:
    """A temporary stair of four or more risers, or of more than 30 in, and no rail where it is."""
    for work in snapshot.temporary.values():
        if work.kind != "stair" or not is_in(work, schedule.status) or not _needs_rails(work):
            continue
        if not _railed(snapshot, schedule, work):
            yield _bare(snapshot, schedule, work)


def _needs_rails(work: TemporaryWork) -> bool:
    return work.risers >= RISERS or (work.rise is not None and work.rise > RISE_INCHES)


def _railed(snapshot: Snapshot, schedule: Schedule, stair: TemporaryWork) -> bool:
    """Whether a rail or a guard is in where the stair is: in its place, else in its detail."""
    place = place_of_temporary(snapshot, stair)
    return any(
        work.kind in ("rail", "guard") and is_in(work, schedule.status)
        for work in snapshot.temporary.values()
        if (
            place_of_temporary(snapshot, work) == place
            if place
            else work.detail_id == stair.detail_id
        )
    )


def _bare(snapshot: Snapshot, schedule: Schedule, stair: TemporaryWork) -> Warning:
    place_id = place_of_temporary(snapshot, stair)
    super_ = super_of(snapshot)
    sentence = message(
        "warning.bare_stair.risers", what=stair.name, risers=stair.risers, most=RISERS
    )
    if stair.risers < RISERS:
        sentence = message(
            "warning.bare_stair.rise",
            what=stair.name,
            rise=stair.rise,
            most=RISE_INCHES,
            unit="in",
        )
    return Warning(
        rule=STAIR,
        bad="danger",
        title=STAIR_TITLE,
        sentence=sentence,
        subject=(stair.id,),
        identity=identity(STAIR, stair.id, stair.put_in, stair.risers, stair.rise),
        at=stair.put_in,
        detail_id=stair.detail_id,
        place_ids=(place_id,) if place_id else (),
        crew_id=stair.crew_id,
        person_id=None if stair.crew_id or super_ is None else super_.id,
        mends=tuple(_rails(snapshot, schedule, stair)),
    )


def _rails(snapshot: Snapshot, schedule: Schedule, stair: TemporaryWork) -> Iterator[Mend]:
    commands = put_in(
        snapshot,
        schedule,
        "rail",
        snapshot.places.get(stair.place_id or ""),
        detail_id=stair.detail_id,
        crew_id=stair.crew_id,
        base=stair.id,
    )
    yield Mend(message("warning.stair_rail_in", high=STAIR_RAIL_INCHES), commands)
