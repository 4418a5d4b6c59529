"""Warnings of work overhead: somebody below, and no deck between."""

from collections.abc import Iterable, Iterator, Sequence

from server.core.refusals import message
from server.core.schedule import Schedule
from server.core.standing import Stand, firm_stands, meeting
from server.core.warnings.base import Mend, Warning, identity, warns
from server.core.warnings.space_mends import elsewhen, in_place, put_in
from server.core.world import Activity, Place, Snapshot

OVERHEAD = "work overhead"
OVERHEAD_TITLE = message("warning.work_overhead.title")


@warns(OVERHEAD, title=OVERHEAD_TITLE, bad="danger", family="space")
def work_overhead(snapshot: Snapshot, schedule: Schedule) -> Iterable[Warning]:
    """Overhead work in a place that is open to one below where somebody is at the same hours.

    Not where a deck is in, above or below. A crew that is asked for both places and can man only
    one is told as being in two places.
    """
    if not any(place.open_to for place in snapshot.places.values()):
        return
    stands = firm_stands(snapshot, schedule)
    for place in snapshot.places.values():
        above = [s for s in stands if s.overhead and s.place_id == place.id]
        for below_id in place.open_to if above else ():
            if below_id not in snapshot.places or _decked(snapshot, schedule, place, below_id):
                continue
            below = [s for s in stands if s.place_id == below_id]
            yield from _over(snapshot, schedule, stands, above, below)


def _decked(snapshot: Snapshot, schedule: Schedule, place: Place, below_id: str) -> bool:
    return in_place(snapshot, {"deck"}, {place.id, below_id}, schedule.status)


def _over(
    snapshot: Snapshot,
    schedule: Schedule,
    stands: Sequence[Stand],
    above: Sequence[Stand],
    below: Sequence[Stand],
) -> Iterator[Warning]:
    """One note for each overhead task, whoever is below it."""
    found: dict[str, list[tuple[Stand, Stand]]] = {}
    upper = {id(stand) for stand in above}
    for one, other in meeting((*above, *below)):
        if (id(one) in upper) == (id(other) in upper):
            continue
        high, low = (one, other) if id(one) in upper else (other, one)
        if high.crew_id == low.crew_id and snapshot.crews[high.crew_id].can_field < 2:
            continue
        task = next(i for i in high.activity_ids if snapshot.activities[i].overhead)
        found.setdefault(task, []).append((high, low))
    for task_id, pairs in found.items():
        yield _overhead(snapshot, schedule, stands, snapshot.activities[task_id], pairs)


def _overhead(
    snapshot: Snapshot,
    schedule: Schedule,
    stands: Sequence[Stand],
    task: Activity,
    pairs: list[tuple[Stand, Stand]],
) -> Warning:
    high, low = pairs[0]
    at = max(high.start, low.start)
    place, below = snapshot.places[high.place_id], snapshot.places[low.place_id]
    crews = tuple(dict.fromkeys(under.crew_id for _, under in pairs))
    ids = tuple(dict.fromkeys((task.id, *(i for _, s in pairs for i in s.activity_ids))))
    return Warning(
        rule=OVERHEAD,
        bad="danger",
        title=OVERHEAD_TITLE,
        sentence=message(
            "warning.work_overhead.said",
            work=task.name,
            place=place.name,
            below=below.name,
            crews=tuple(snapshot.crews[id].name for id in crews),
            when=at,
        ),
        subject=(task.id, below.id),
        identity=identity(OVERHEAD, task.id, place.id, below.id, at.date(), *crews),
        at=at,
        detail_id=task.detail_id,
        activity_ids=ids,
        place_ids=(place.id, below.id),
        crew_id=high.crew_id,
        mends=tuple(_mends(snapshot, schedule, stands, task, pairs)),
    )


def _mends(
    snapshot: Snapshot,
    schedule: Schedule,
    stands: Sequence[Stand],
    task: Activity,
    pairs: list[tuple[Stand, Stand]],
) -> Iterator[Mend]:
    """Nobody below while it is done; whoever is below on another day; or a deck."""
    high, low = pairs[0]
    place = snapshot.places[high.place_id]
    mend = elsewhen(snapshot, schedule, stands, high, {low.place_id})
    if mend is not None:
        yield mend
    if len({under.crew_id for _, under in pairs}) == 1:
        over = {high.place_id} | {
            p.id for p in snapshot.places.values() if low.place_id in p.open_to
        }
        mend = elsewhen(snapshot, schedule, stands, low, over)
        if mend is not None:
            yield mend
    yield Mend(
        message("warning.deck_in", place=place.name, below=snapshot.places[low.place_id].name),
        put_in(snapshot, schedule, "deck", place, crew_id=task.crew_id, base=task.id),
    )
