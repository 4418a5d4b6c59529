"""The warning of dirty work beside or above a finished face."""

from collections.abc import Iterable

from server.core.changes.actuals import AddTemporary
from server.core.changes.held import super_of
from server.core.changes.inputs import ids_after
from server.core.climate import place_of
from server.core.coming import Coming, coming
from server.core.finished import above, changes, finished_faces
from server.core.refusals import message
from server.core.schedule import Schedule
from server.core.warnings.base import Mend, Warning, identity, warns
from server.core.world import Activity, Layer, Snapshot

RULE = "finished, then dirty"
TITLE = message("warning.finished_then_dirty.title")


@warns(RULE, title=TITLE, bad="lost work", family="protection")
def finished_then_dirty(snapshot: Snapshot, schedule: Schedule) -> Iterable[Warning]:
    """A finished face lies open with no cover, and dirty, wet, hot or heavy work is at hand beside
    or above it.

    Not the work that is done to that face itself. One note for each place; where nobody has said
    where a face is, for each detail.
    """
    faces: dict[tuple[str | None, str], list[Layer]] = {}
    for layer, place_id in finished_faces(snapshot):
        faces.setdefault((place_id, "" if place_id else layer.detail_id), []).append(layer)
    if not faces:
        return
    beside = {place_id: above(snapshot, place_id) for place_id, _ in faces if place_id}
    places = frozenset[str]().union(*beside.values())
    details = {detail_id for _, detail_id in faces}
    dirty = tuple(
        at_hand
        for work in snapshot.chain
        if _is_dirty(work)
        and (place_of(snapshot, work) in places or work.detail_id in details)
        and (at_hand := coming(snapshot, schedule, work))
    )
    for (place_id, detail_id), layers in faces.items():
        near = beside.get(place_id or "", frozenset())
        works = tuple(
            at_hand
            for at_hand in dirty
            if place_of(snapshot, at_hand.work) in near or at_hand.work.detail_id == detail_id
        )
        yield from _told(snapshot, schedule, place_id, layers, works)


def _is_dirty(work: Activity) -> bool:
    """Whether it would hurt a finished face; sparks that somebody watches do not."""
    return work.dirty or work.wet or work.heavy or (work.hot and not work.fire_watch)


def _told(
    snapshot: Snapshot,
    schedule: Schedule,
    place_id: str | None,
    layers: list[Layer],
    works: tuple[Coming, ...],
) -> Iterable[Warning]:
    """The note, if there is a face that some of the work is not done to."""
    pairs = [
        (layer, one)
        for layer in layers
        for one in works
        if not changes(snapshot, one.work, frozenset((layer.id,)))
    ]
    if not pairs:
        return
    faces = tuple(dict.fromkeys(layer for layer, _ in pairs))
    coming_ones = tuple(dict.fromkeys(one for _, one in pairs))
    where = snapshot.places[place_id] if place_id else snapshot.details[faces[0].detail_id]
    person = super_of(snapshot)
    yield Warning(
        rule=RULE,
        bad="lost work",
        title=TITLE,
        sentence=message(
            "warning.finished_then_dirty.said",
            where=where.name,
            faces=tuple(dict.fromkeys(layer.name for layer in faces)),
            work=tuple(one.said for one in coming_ones),
        ),
        subject=(where.id,),
        identity=identity(RULE, where.id, *(f.id for f in faces), *(c.fact for c in coming_ones)),
        at=max(schedule.status, min(one.at for one in coming_ones)),
        detail_id=faces[0].detail_id,
        activity_ids=tuple(one.work.id for one in coming_ones),
        layer_ids=tuple(layer.id for layer in faces),
        place_ids=(place_id,) if place_id else (),
        person_id=person.id if person else None,
        mends=(
            Mend(
                message("warning.face_cover_in", where=where.name),
                (
                    AddTemporary(
                        id=next(ids_after(where.id, snapshot.temporary)),
                        kind="cover",
                        name=where.name,
                        detail_id=None if place_id else faces[0].detail_id,
                        place_id=place_id,
                        daily=False,
                        put_in=schedule.status,
                    ),
                ),
            ),
        ),
    )
