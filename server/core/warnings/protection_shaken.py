"""The warning of nailing, heavy loading or cutting after plaster is in."""

from collections.abc import Iterable, Iterator

from server.core.climate import place_of
from server.core.coming import Coming, coming
from server.core.finished import OPEN, changes, plaster_in
from server.core.refusals import message
from server.core.schedule import Schedule
from server.core.standing import places_of
from server.core.states import ahead, layer_state
from server.core.warnings.base import Bad, Mend, Warning, identity, warns
from server.core.warnings.making import with_facts
from server.core.world import Activity, Layer, Snapshot

RULE = "shaken after plaster"
TITLE = message("warning.shaken_after_plaster.title")


@warns(RULE, title=TITLE, bad="lost work", family="protection")
def shaken_after_plaster(snapshot: Snapshot, schedule: Schedule) -> Iterable[Warning]:
    """Work that shakes or loads what carries plaster is at hand after the plaster is in.

    In the same detail or place; not the plastering itself. Where the plan puts that work after the
    plaster all the same, it is watched: somebody has thought of it.
    """
    coats = tuple(plaster_in(snapshot))
    if not coats:
        return
    plaster = frozenset(layer.id for layer, _ in coats)
    for work in snapshot.chain:
        if not (work.shakes or work.heavy) or changes(snapshot, work, plaster):
            continue
        at_hand = coming(snapshot, schedule, work)
        shaken = _shaken(snapshot, work, coats) if at_hand else ()
        if at_hand and shaken:
            yield _warning(snapshot, schedule, at_hand, shaken)


def _shaken(
    snapshot: Snapshot, work: Activity, coats: tuple[tuple[Layer, str | None], ...]
) -> tuple[Layer, ...]:
    """The coats in the same detail or place; of work off site none."""
    place_id = place_of(snapshot, work)
    if place_id is None and snapshot.details[work.detail_id].place_id is not None:
        return ()
    return tuple(
        layer
        for layer, place in coats
        if layer.detail_id == work.detail_id or (place is not None and place == place_id)
    )


def _warning(
    snapshot: Snapshot, schedule: Schedule, at_hand: Coming, shaken: tuple[Layer, ...]
) -> Warning:
    work = at_hand.work
    ids = tuple(layer.id for layer in shaken)
    bad: Bad = "watch" if _planned(snapshot, work, ids) else "lost work"
    open_ones = [layer for layer in shaken if layer_state(snapshot, layer) in OPEN]
    names = tuple(dict.fromkeys(layer.name for layer in open_ones or shaken))
    return Warning(
        rule=RULE,
        bad=bad,
        title=TITLE,
        sentence=message(
            "warning.shaken_after_plaster.planned"
            if bad == "watch"
            else "warning.shaken_after_plaster.said",
            work=at_hand.said,
            coats=names,
        ),
        subject=(work.id,),
        identity=identity(RULE, bad, *at_hand.fact, *sorted(ids)),
        at=max(schedule.status, at_hand.at),
        detail_id=work.detail_id,
        activity_ids=(work.id,),
        layer_ids=ids,
        place_ids=places_of(snapshot, (work.id,)),
        crew_id=work.crew_id,
        mends=tuple(_mends(snapshot, work)),
    )


def _planned(snapshot: Snapshot, work: Activity, layer_ids: tuple[str, ...]) -> bool:
    """Whether the plan puts a task after what puts in each of these."""
    before = ahead(snapshot, work.id)
    return all(
        any(
            e.verb == "puts in" and e.activity_id in before for e in snapshot.effects_on.get(id, ())
        )
        for id in layer_ids
    )


def _mends(snapshot: Snapshot, work: Activity) -> Iterator[Mend]:
    """Only another way to do it helps: the plaster is in."""
    if work.shakes and not work.heavy:
        label = message("warning.without_shaking", work=work.name)
        yield Mend(label, (with_facts(snapshot, work, shakes=False),))
