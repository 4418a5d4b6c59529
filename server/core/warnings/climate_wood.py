"""The warning of finish wood that comes into a wet house."""

from collections.abc import Iterable, Iterator
from datetime import datetime, timedelta

from server.core.changes.bookings import MoveVisit
from server.core.changes.held import super_of
from server.core.changes.inputs import ids_after
from server.core.changes.plan import AddDependency
from server.core.changes.pushing import PutOff
from server.core.coming import later, notice_of
from server.core.drying import Dry, dry, wet_in_air
from server.core.finish_wood import Against, Wood, against, at_hand, meter_checks, wood_of
from server.core.refusals import Message, message
from server.core.schedule import Schedule
from server.core.states import ahead, is_released
from server.core.visits import first_day
from server.core.warnings.base import Bad, Mend, Warning, identity, places_of, warns
from server.core.world import Snapshot
from server.core.world.hours import first_hour

RULE = "wood into a wet house"
TITLE = message("warning.wood_wet_house.title")
MINUTE = timedelta(minutes=1)


@warns(RULE, title=TITLE, bad="lost work", family="climate")
def wood_into_a_wet_house(snapshot: Snapshot, schedule: Schedule) -> Iterable[Warning]:
    """Finish wood is brought or fitted before the last wet work in the same air is dry.

    By a visit, a supplier's promise, the forecast, or in fact. Once it is near, also where no meter
    check in that air was released since it dried, or the air of the last week is not as wood wants
    it. Watch where only the forecast says so: of the wood, or for wood that is in, of the wet work.
    Bringing and fitting the same wood is told once: of bringing it, till it is in.
    """
    drying: dict[str, tuple[Dry, ...]] = {}
    all_found: list[tuple[Wood, Against]] = []
    for work in snapshot.chain:
        wood = wood_of(snapshot, schedule, work)
        if wood is None:
            continue
        air = snapshot.places[wood.place_id].air
        if air not in drying:
            wet = wet_in_air(snapshot, wood.place_id)
            drying[air] = tuple(dry(snapshot, schedule, coat) for coat in wet)
        found = against(snapshot, schedule, wood, drying[air])
        if found.any:
            all_found.append((wood, found))
    for wood, found in _once(snapshot, all_found):
        yield _warning(snapshot, schedule, wood, found)


def _once(
    snapshot: Snapshot, all_found: list[tuple[Wood, Against]]
) -> Iterator[tuple[Wood, Against]]:
    """Without wood that is told well enough by what comes before it, or once in, after it."""
    before = {wood.work.id: ahead(snapshot, wood.work.id) for wood, _ in all_found}
    for wood, found in all_found:
        id = wood.work.id
        if not any(
            _within(found, more)
            and (
                (other.work.id in before[id] and not other.is_in)
                or (id in before[other.work.id] and wood.is_in)
            )
            for other, more in all_found
        ):
            yield wood, found


def _within(one: Against, other: Against) -> bool:
    """Whether all that speaks against one wood speaks against another too."""
    return (
        {wet.coat.id for wet in one.wet} <= {wet.coat.id for wet in other.wet}
        and (other.unmetered or not one.unmetered)
        and {what for what, *_ in one.air} <= {what for what, *_ in other.air}
    )


def _bad(snapshot: Snapshot, schedule: Schedule, wood: Wood, found: Against) -> Bad:
    if found.unmetered or found.air:
        return "lost work"
    lost = at_hand(snapshot, schedule, found.wet) if wood.is_in else wood.said
    return "lost work" if lost else "watch"


def _warning(snapshot: Snapshot, schedule: Schedule, wood: Wood, found: Against) -> Warning:
    work = wood.work
    ids = (work.id, *(one.coat.id for one in found.wet))
    person = super_of(snapshot)
    bad = _bad(snapshot, schedule, wood, found)
    facts = (
        bad,
        wood.is_in,
        work.promised,
        *((visit.id, visit.start) for visit in wood.visits),
        *sorted(ids),
        found.unmetered,
        *((what, band.off(value) > 0) for what, value, band in found.air),
    )
    return Warning(
        rule=RULE,
        bad=bad,
        title=TITLE,
        sentence=_sentence(wood, found),
        subject=(work.id,),
        identity=identity(RULE, *facts),
        at=wood.at,
        detail_id=work.detail_id,
        activity_ids=ids,
        place_ids=places_of(snapshot, ids),
        crew_id=work.crew_id,
        person_id=person.id if person and not work.crew_id else None,
        mends=tuple(_mends(snapshot, schedule, wood, found)),
    )


def _sentence(wood: Wood, found: Against) -> Message:
    said = tuple(_said(found))
    if not wood.is_in:
        id = "warning.wood_wet_house.comes"
    elif wood.work.kind == "delivery":
        id = "warning.wood_wet_house.is_in"
    else:
        id = "warning.wood_wet_house.begun"
    return message(id, wood=wood.work.name, at=wood.at, against=said)


def _said(found: Against) -> Iterator[Message]:
    """Each thing that speaks against it; of wet work the last that dries."""
    if found.wet:
        last = _last(found)
        yield message("warning.wood_wet_house.wet", coat=last.coat.name, dry=last.at)
    if found.unmetered:
        yield message("warning.wood_wet_house.unmetered")
    for what, value, band in found.air:
        yield message(
            "warning.wood_wet_house.average",
            what=what,
            value=value,
            low=band.low,
            high=band.high,
            unit="°F" if what == "air" else "%",
        )


def _last(found: Against) -> Dry:
    return max(found.wet, key=lambda one: one.at)


def _mends(snapshot: Snapshot, schedule: Schedule, wood: Wood, found: Against) -> Iterator[Mend]:
    """The wood after what has to dry, or not before it is dry, or not within its crew's notice.

    Or the meter check, where that is all. Wood that is in cannot be pressed out again.
    """
    notice = schedule.status + notice_of(snapshot, wood.work)
    until = notice if found.unmetered or found.air else schedule.status
    if found.wet:
        until = max(until, _last(found).at)
    moved = _moved(snapshot, schedule, wood, until)
    on_its_way = wood.work.ordered or wood.work.promised
    if found.wet and not wood.is_in and not on_its_way:
        arrows = _arrows(snapshot, schedule, wood, found)
        coats = tuple(dict.fromkeys(one.coat.name for one in found.wet))
        label = message("warning.wood_after", wood=wood.work.name, coats=coats)
        yield Mend(label, (*arrows, *moved))
    if not wood.is_in:
        day = first_day(snapshot, wood.work, until)
        if wood.work.kind == "delivery":
            day = first_hour(snapshot, wood.work, until)
        label = message("warning.wood_not_before", wood=wood.work.name, day=day)
        yield Mend(label, (PutOff(activity_id=wood.work.id, until=day), *moved))
    if found.unmetered and not found.wet and not found.air:
        for hold in meter_checks(snapshot, wood.place_id):
            if not is_released(snapshot, hold):
                yield Mend(message("warning.open_check"), goto_hold_id=hold.id)
                return


def _arrows(
    snapshot: Snapshot, schedule: Schedule, wood: Wood, found: Against
) -> tuple[AddDependency, ...]:
    """The wood after all that has to dry first, where the plan does not say so."""
    before = ahead(snapshot, wood.work.id)
    ids = ids_after(wood.work.id, snapshot.dependencies)
    last: dict[str, int] = {}
    for one in found.wet:
        dries = one.at - schedule[one.coat.id].early_finish
        last.setdefault((one.wait or one.coat).id, 0 if one.wait else dries // MINUTE)
    return tuple(
        AddDependency(id=next(ids), before_id=id, after_id=wood.work.id, lag=lag)
        for id, lag in last.items()
        if id not in before
    )


def _moved(
    snapshot: Snapshot, schedule: Schedule, wood: Wood, until: datetime
) -> tuple[MoveVisit, ...]:
    """Its visits that come too early, asked for after that."""
    moves = (later(snapshot, schedule, v, until) for v in wood.visits if v.start <= until)
    return tuple(move[1] for move in moves if move)
