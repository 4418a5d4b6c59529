"""Rule: rows of the order of work copied, with their checks and what they do to layers."""

import re
from collections.abc import Container, Iterator, Mapping
from dataclasses import replace
from datetime import datetime

from server.core.changes.base import Actor, Outcome, rule
from server.core.changes.inputs import LONGEST_NAME, BadInput, ids_after, there
from server.core.changes.matching import Carried, carried, layers_named
from server.core.changes.orders import placed
from server.core.changes.plan_rows import CopyActivities
from server.core.changes.rules_plan_activities import PLAIN
from server.core.changes.rules_plan_rows import chosen, last_or
from server.core.refusals import Value, message
from server.core.world import Activity, Dependency, Detail, HoldPoint, Noun, Snapshot

DATED = ("not_before", "finish_by")
"""Facts that are about the one piece of work, not about work of that kind: a copy has none."""


@rule(CopyActivities)
def copy_activities(
    snapshot: Snapshot, actor: Actor, command: CopyActivities, at: datetime
) -> Outcome:
    """The same rows once more, with nothing of what happened to them.

    What comes after what among them is copied. In its own detail a copy also comes after whatever
    its original comes after, but for "within … of": that could pull the earlier work later. Nothing
    comes after a copy, so no early date of anything else changes.
    """
    detail = there(snapshot, Detail, command.to_detail_id, "to_detail_id")
    if not command.id:
        raise BadInput("input.id_taken", field="id")
    rows = chosen(snapshot, command.activity_ids)
    ids = ids_after(command.id, snapshot.activities)
    copy_of = {activity.id: next(ids) for activity in rows}
    along = {activity.id: carried(snapshot, activity, detail) for activity in rows}
    chain = list(snapshot.chain_of(detail.id))
    names = {a.name for a in chain}
    copies: list[Activity] = []
    for activity in rows:
        copy = _copied(snapshot, activity, detail, copy_of, along[activity.id])
        copies.append(replace(copy, name=free_name(copy.name, names)))
        names.add(copies[-1].name)
    behind_id = command.behind_id
    if behind_id is None and detail.id == rows[-1].detail_id:
        behind_id = rows[-1].id
    made: list[Noun] = [*placed(chain, copies, last_or(chain, behind_id))]
    for activity in rows:
        made += _doing(snapshot, copy_of[activity.id], along[activity.id])
        made += _check(snapshot, activity, copy_of[activity.id], along[activity.id])
    made += _dependencies(snapshot, rows, copy_of, detail, command.id)
    said: dict[str, Value] = {"rows": tuple(a.name for a in rows), "detail": detail.name}
    if left := [one for a in rows for one in along[a.id].left_out]:
        layers = layers_named(snapshot, left)
        return Outcome(
            snapshot.put(*made), message("log.rows_copied_without", **said, layers=layers)
        )
    return Outcome(snapshot.put(*made), message("log.rows_copied", **said))


def free_name(name: str, taken: Container[str]) -> str:
    """The name, or where something is called so already, the name with the next number.

    >>> free_name("Hang board", {"Hang board", "Hang board 2"})
    'Hang board 3'
    """
    if name not in taken:
        return name
    numbered = re.fullmatch(r"(.*\S) \d{1,3}", name)
    base = numbered[1] if numbered and numbered[1] in taken else name
    base, number = base[: LONGEST_NAME - 4].rstrip(), 2
    while f"{base} {number}" in taken:
        number += 1
    return f"{base} {number}"


def _copied(
    snapshot: Snapshot,
    activity: Activity,
    detail: Detail,
    copy_of: Mapping[str, str],
    along: Carried,
) -> Activity:
    """The activity with its facts alone. A crew or a person that comes no more is left open."""
    facts = {name: getattr(activity, name) for name in PLAIN if name not in DATED}
    facts["crew_id"] = _still(snapshot.crews, activity.crew_id)
    together = [id for id in activity.with_crew_ids if _still(snapshot.crews, id)]
    facts["with_crew_ids"] = tuple(together)
    if facts["crew_id"] is None and together:
        facts["crew_id"], facts["with_crew_ids"] = together[0], tuple(together[1:])
    facts["person_id"] = _still(snapshot.people, activity.person_id)
    facts["place_id"] = along.place_id
    facts["measured_from_id"] = along.measured_from_id
    facts["sample_id"] = copy_of.get(activity.sample_id or "", activity.sample_id)
    return Activity(
        id=copy_of[activity.id],
        project_id=activity.project_id,
        detail_id=detail.id,
        order=0,
        tag=activity.tag,
        **facts,
    )


def _still(table: Mapping[str, Noun], id: str | None) -> str | None:
    row = table.get(id or "")
    return None if row is None or getattr(row, "ended", None) is not None else row.id


def _doing(snapshot: Snapshot, copy_id: str, along: Carried) -> Iterator[Noun]:
    ids = ids_after(copy_id, snapshot.effects)
    for effect in along.effects:
        yield replace(effect, id=next(ids), activity_id=copy_id, version=1)


def _check(
    snapshot: Snapshot, activity: Activity, copy_id: str, along: Carried
) -> Iterator[HoldPoint | Noun]:
    """The hold point and all it asks; nobody is called to it yet."""
    hold = snapshot.hold_of.get(activity.id)
    if hold is None:
        return
    id = next(ids_after(copy_id, snapshot.holds))
    yield replace(
        hold,
        id=id,
        activity_id=copy_id,
        layer_ids=along.looks_at,
        marks_crew_id=_still(snapshot.crews, hold.marks_crew_id),
        releases_id=_still(snapshot.people, hold.releases_id),
        called=None,
        version=1,
    )
    ids = ids_after(id, snapshot.asks)
    for ask in snapshot.asks_of.get(hold.id, ()):
        yield replace(ask, id=next(ids), hold_id=id, version=1)


def _dependencies(
    snapshot: Snapshot,
    rows: tuple[Activity, ...],
    copy_of: Mapping[str, str],
    detail: Detail,
    base: str,
) -> Iterator[Dependency]:
    ids, chain = ids_after(base, snapshot.dependencies), {a.id for a in snapshot.chain}
    for activity in rows:
        for d in snapshot.before.get(activity.id, ()):
            if d.before_id in copy_of:
                changed = replace(d, before_id=copy_of[d.before_id])
            elif activity.detail_id == detail.id and d.before_id in chain:
                changed = replace(d, most=None)
            else:
                continue
            yield replace(changed, id=next(ids), after_id=copy_of[activity.id], version=1)
