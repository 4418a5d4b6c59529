"""The warning of heat that burns into the room: gas for people, water for the finish."""

from collections.abc import Iterable
from datetime import datetime, time, timedelta

from server.core.beforehand import next_day
from server.core.changes.actuals import TakeOutTemporary
from server.core.changes.held import super_of
from server.core.climate import place_of
from server.core.coming import Coming, coming
from server.core.drying import curing
from server.core.heat import heated, in_use, is_direct_fired
from server.core.refusals import Message, message
from server.core.schedule import Schedule
from server.core.states import layer_state
from server.core.warnings.base import Mend, Warning, identity, warns
from server.core.world import Activity, Layer, Snapshot, TemporaryWork

RULE = "direct-fired heat"
TITLE = message("warning.direct_fired_heat.title")


@warns(RULE, title=TITLE, bad="danger", family="climate")
def direct_fired_heat(snapshot: Snapshot, schedule: Schedule) -> Iterable[Warning]:
    """A heater that burns into the room is in use where people work, now or on the next working
    day: danger. Else where plaster is wet or a finished face lies open: lost work.
    """
    for heater in snapshot.temporary.values():
        if not in_use(heater) or not is_direct_fired(heater):
            continue
        places = heated(snapshot, heater)
        people = _people(snapshot, schedule, places)
        wet = [a for a, _ in curing(snapshot, schedule) if place_of(snapshot, a) in places]
        faces = _faces(snapshot, places)
        if people or wet or faces:
            yield _warning(snapshot, schedule, heater, people, wet, faces)


def _people(snapshot: Snapshot, schedule: Schedule, places: tuple[str, ...]) -> tuple[Coming, ...]:
    """The work there at which people are, or come to by the end of the next working day."""
    last = next_day(snapshot, schedule.status) + timedelta(days=1)
    until = datetime.combine(last, time(0))
    found = (
        coming(snapshot, schedule, a) for a in snapshot.chain if place_of(snapshot, a) in places
    )
    return tuple(c for c in found if c and c.how != "soon" and c.at < until)


def _faces(snapshot: Snapshot, places: tuple[str, ...]) -> tuple[Layer, ...]:
    """The finished faces there that lie open."""
    return tuple(
        layer
        for layer in snapshot.layers.values()
        if layer.finished and layer.ended is None
        if snapshot.details[layer.detail_id].ended is None
        if snapshot.details[layer.detail_id].place_id in places
        if layer_state(snapshot, layer) == "in the open"
    )


def _warning(
    snapshot: Snapshot,
    schedule: Schedule,
    heater: TemporaryWork,
    people: tuple[Coming, ...],
    wet: list[Activity],
    faces: tuple[Layer, ...],
) -> Warning:
    works = tuple(dict.fromkeys((*(c.work.id for c in people), *(a.id for a in wet))))
    person = super_of(snapshot)
    ids = tuple(layer.id for layer in faces)
    facts = (*(c.fact for c in people), *(a.id for a in wet), *ids)
    return Warning(
        rule=RULE,
        bad="danger" if people else "lost work",
        title=TITLE,
        sentence=_said(heater, people, wet, faces),
        subject=(heater.id,),
        identity=identity(RULE, heater.id, heater.put_in, *facts),
        at=schedule.status,
        detail_id=heater.detail_id,
        activity_ids=works,
        layer_ids=ids,
        place_ids=heated(snapshot, heater),
        crew_id=heater.crew_id,
        person_id=person.id if person and not heater.crew_id else None,
        mends=(
            Mend(
                message("warning.heat_out", what=heater.name),
                (TakeOutTemporary(temporary_id=heater.id, when=schedule.status),),
            ),
        ),
    )


def _said(
    heater: TemporaryWork,
    people: tuple[Coming, ...],
    wet: list[Activity],
    faces: tuple[Layer, ...],
) -> Message:
    if people:
        said = tuple(c.said for c in people)
        return message("warning.direct_fired_heat.people", what=heater.name, people=said)
    names = (*(a.name for a in wet), *(layer.name for layer in faces))
    return message(
        "warning.direct_fired_heat.finish", what=heater.name, finish=tuple(dict.fromkeys(names))
    )
