"""Rule: a detail copied from a pattern, with its sides, layers, chain and checks."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import datetime

from server.core.changes.base import Actor, Outcome, rule
from server.core.changes.inputs import BadInput, ids_after, near, there
from server.core.changes.orders import GAP
from server.core.changes.plan import AddDetailFromPattern
from server.core.changes.plan_facts import VERBS, fits_a_day, hours_of
from server.core.changes.rules_plan import new_detail
from server.core.patterns import Pattern, PatternActivity, PatternAsk, PatternCheck
from server.core.refusals import message
from server.core.world import (
    Activity,
    Ask,
    Crew,
    Dependency,
    Detail,
    Effect,
    HoldPoint,
    Layer,
    Noun,
    Person,
    Side,
    Snapshot,
    Way,
    WorkCalendar,
)


@rule(AddDetailFromPattern)
def add_detail_from_pattern(
    snapshot: Snapshot, actor: Actor, command: AddDetailFromPattern, at: datetime
) -> Outcome:
    """All rows of the pattern, for the crews, people and ways that were chosen for it.

    What comes after nothing may not start before `not_before`. Work of one go stays so only where
    a day of its crew is long enough.
    """
    pattern = command.content
    for id in command.crews.values():
        there(snapshot, Crew, id, "crews")
    for id in command.people.values():
        there(snapshot, Person, id, "people")
    for id in command.ways.values():
        there(snapshot, Way, id, "ways")
    for id in command.calendars.values():
        there(snapshot, WorkCalendar, id, "calendars")
    if command.not_before is not None:
        near(command.not_before, snapshot.project.start, "not_before")
    detail = replace(new_detail(snapshot, command), pattern=pattern.id)
    rows = _Copy(snapshot, detail, command).rows()
    after = snapshot.put(*rows)
    if len(after.activities) < len(snapshot.activities) + len(pattern.chain):
        raise BadInput("input.id_taken", field="id")
    said = message(
        "log.detail_copied" if command.copy_of else "log.pattern_added",
        detail=detail.name,
        pattern=command.copy_of or pattern.name,
        tasks=len(pattern.chain),
        checks=pattern.count("hold"),
    )
    return Outcome(after, said)


class _Copy:
    """One copy being made: the keys of the pattern become ids made from the detail's."""

    def __init__(self, snapshot: Snapshot, detail: Detail, command: AddDetailFromPattern) -> None:
        self.snapshot = snapshot
        self.detail = detail
        self.command = command
        self.pattern: Pattern = command.content
        self.ids = ids_after(detail.id)
        self.layer = {layer.key: next(self.ids) for layer in self.pattern.layers}
        self.activity = {a.key: next(self.ids) for a in self.pattern.chain}

    def rows(self) -> list[Noun]:
        """Every row, parents before children."""
        rows: list[Noun] = [self.detail, *self._layers()]
        for order, activity in enumerate(self.pattern.chain):
            rows.append(self._activity(activity, order * GAP))
            rows += self._effects(activity)
            if activity.check is not None:
                rows += self._check(activity, activity.check)
        return [*rows, *self._dependencies()]

    def _layers(self) -> Iterator[Noun]:
        for side_order, side in enumerate(self.pattern.sides):
            row = Side(
                id=next(self.ids),
                project_id=self.detail.project_id,
                detail_id=self.detail.id,
                name=side.name,
                order=side_order * GAP,
            )
            yield row
            for order, layer in enumerate(side.layers):
                yield Layer(
                    id=self.layer[layer.key],
                    project_id=self.detail.project_id,
                    detail_id=self.detail.id,
                    side_id=row.id,
                    order=order * GAP,
                    name=layer.name,
                    material=layer.material,
                    thickness=layer.thickness,
                    part_name=layer.part_name,
                    parts=layer.parts,
                    within_id=self.layer[layer.within] if layer.within else None,
                    passes_through=layer.passes_through,
                    must_be_seen=layer.must_be_seen,
                    finished=layer.finished,
                    powered=layer.powered,
                    tag=layer.tag,
                )

    def _activity(self, a: PatternActivity, order: int) -> Activity:
        crews = self.command.crews
        along = dict.fromkeys(crews[trade] for trade in a.along if trade in crews)
        crew_id = crews.get(a.who)
        with_crew_ids = tuple(id for id in along if id != crew_id)
        calendar_id = self.command.calendars.get(a.hours)
        hours = hours_of(self.snapshot, calendar_id, (crew_id, *with_crew_ids))
        return Activity(
            id=self.activity[a.key],
            project_id=self.detail.project_id,
            detail_id=self.detail.id,
            order=order,
            kind=a.kind,
            name=a.name,
            work=a.work,
            low=a.low,
            high=a.high,
            tag=a.tag,
            note=a.note,
            crew_id=crew_id,
            with_crew_ids=with_crew_ids,
            person_id=self.command.people.get(a.owes),
            place_id=None if a.off_site else self.detail.place_id,
            calendar_id=calendar_id,
            not_before=None if a.after else self.command.not_before,
            one_day=a.one_day and fits_a_day(a.work, hours),
            overhead=a.overhead,
            wet=a.wet,
            dirty=a.dirty,
            hot=a.hot,
            heavy=a.heavy,
            opens_way_id=self.command.ways.get(a.opens_way),
            closes_way_id=self.command.ways.get(a.closes_way),
            way_in_id=self.command.ways.get(a.way_in),
            edge=a.edge,
            closes_place=a.closes_place,
            finish_wood=a.finish_wood,
            shakes=a.shakes,
            stuff=a.stuff,
            fire_watch=a.fire_watch,
            circuit=a.circuit,
            sample_id=self.activity.get(a.sample),
            carries_datum=a.carries_datum,
            measured_from_id=self.layer.get(a.measured_from),
            review=a.review,
        )

    def _effects(self, a: PatternActivity) -> Iterator[Effect]:
        for field, verb in VERBS.items():
            for key, parts in getattr(a, field).items():
                yield Effect(
                    id=next(self.ids),
                    project_id=self.detail.project_id,
                    activity_id=self.activity[a.key],
                    layer_id=self.layer[key],
                    verb=verb,
                    parts=parts,
                )

    def _check(self, a: PatternActivity, check: PatternCheck) -> Iterator[Noun]:
        hold = HoldPoint(
            id=next(self.ids),
            project_id=self.detail.project_id,
            activity_id=self.activity[a.key],
            what=check.what,
            datum=check.datum,
            tool=check.tool,
            photos=check.photos,
            photo_note=check.photo_note,
            source=check.source,
            marks_crew_id=self.command.crews.get(check.marks),
            releases_id=self.command.people.get(check.releases) if check.is_a_roles else None,
            authority=check.releases == "authority",
            witness=check.witness,
            own_mark_ok=check.own_mark_ok,
            notice=check.notice,
            layer_ids=tuple(self.layer[key] for key in check.looks_at),
            part_name=check.part_name,
            parts=check.parts,
            tag=check.tag,
        )
        yield hold
        asked = [
            (ask, part)
            for ask in check.asks
            for part in (range(1, check.parts + 1) if ask.each else (ask.part,))
        ]
        for order, (ask, part) in enumerate(asked):
            yield self._ask(hold, ask, part, order)

    def _ask(self, hold: HoldPoint, ask: PatternAsk, part: int | None, order: int) -> Ask:
        return Ask(
            id=next(self.ids),
            project_id=hold.project_id,
            hold_id=hold.id,
            order=order,
            label=ask.label,
            unit=ask.unit,
            part=part,
            nominal=ask.nominal,
            low=ask.low,
            high=ask.high,
            far_low=ask.far_low,
            far_high=ask.far_high,
            tag=ask.tag,
        )

    def _dependencies(self) -> Iterator[Dependency]:
        for a in self.pattern.chain:
            for dependency in a.after:
                yield Dependency(
                    id=next(self.ids),
                    project_id=self.detail.project_id,
                    before_id=self.activity[dependency.before],
                    after_id=self.activity[a.key],
                    type=dependency.type,
                    lag=dependency.lag,
                    lag_on=dependency.lag_on,
                    most=dependency.most,
                    tag=dependency.tag if dependency.lag or dependency.most is not None else "",
                )
