"""A detail as a pattern: what is planned of it, without whom, without when, without what happened.

To be kept and copied later a pattern names trades and roles. To be copied at once it names crews
and people (`apart`), so that two crews of one trade stay two.
"""

from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from server.core.changes.plan_facts import VERBS
from server.core.pattern_asks import asks_of
from server.core.pattern_who import Who
from server.core.pattern_words import key_of, lines_of
from server.core.patterns import (
    Pattern,
    PatternActivity,
    PatternCheck,
    PatternDependency,
    PatternLayer,
    PatternSide,
)
from server.core.world import Activity, HoldPoint, Layer, Snapshot

FIELDS = {verb: name for name, verb in VERBS.items()}


@dataclass(frozen=True, kw_only=True)
class Taken:
    """A pattern and what was taken for its words.

    `crews`, `people`, `ways` and `calendars` lead from the words of the pattern to ids of the
    detail's own. `left_out` counts what has no place in a pattern: "orders" to other details,
    "rework" tasks, "places" other than the detail's, "dates" that were set, works of or on
    "temporary" works, "drawings", "samples" of other details.
    """

    pattern: Pattern
    crews: Mapping[str, str]
    people: Mapping[str, str]
    ways: Mapping[str, str]
    calendars: Mapping[str, str]
    left_out: Mapping[str, int]


def taken_of(
    snapshot: Snapshot,
    detail_id: str,
    *,
    id: str,
    name: str,
    about: str,
    source: str,
    apart: bool = False,
) -> Taken:
    """The pattern of a detail, whom its words stand for, and what is left out.

    Ended layers, ended activities and rework are not in it. Nothing of what happened is read.
    """
    taking = _Taking(snapshot, detail_id, apart)
    pattern = Pattern(
        id=id,
        name=name,
        about=about,
        source=source,
        sides=tuple(taking.sides()),
        chain=tuple(taking.activity(a) for a in taking.chain),
    )
    return Taken(
        pattern=pattern,
        crews=taking.who.crews.ids,
        people=taking.who.people.ids,
        ways=taking.who.ways.ids,
        calendars=taking.who.calendars.ids,
        left_out=dict(taking.left_out),
    )


class _Taking:
    """One detail being taken: its ids become keys, its crews and people become words."""

    def __init__(self, snapshot: Snapshot, detail_id: str, apart: bool) -> None:
        self.snapshot = snapshot
        self.detail = snapshot.details[detail_id]
        whole = snapshot.chain_of(detail_id)
        self.chain = tuple(a for a in whole if a.rework_of_id is None)
        self.left_out = Counter({"rework": len(whole) - len(self.chain)})
        self.who = Who(snapshot, apart)
        self.layers: dict[str, str] = {}
        self.keys: dict[str, str] = {}
        for layer in snapshot.layers.values():
            if layer.detail_id == detail_id and layer.ended is None:
                self.layers[layer.id] = key_of(layer.name, self.layers.values(), "layer")
        for a in self.chain:
            taken = {*self.layers.values(), *self.keys.values()}
            self.keys[a.id] = key_of(a.name, taken, a.kind)

    def sides(self) -> Iterator[PatternSide]:
        """Each side with its layers from the bearing side to the room side."""
        sides = [s for s in self.snapshot.sides.values() if s.detail_id == self.detail.id]
        for side in sorted(sides, key=lambda side: side.order):
            rows = [
                layer
                for layer in self.snapshot.layers.values()
                if layer.side_id == side.id and layer.id in self.layers
            ]
            rows.sort(key=lambda layer: layer.order)
            yield PatternSide(name=side.name, layers=tuple(self._layer(row) for row in rows))

    def _layer(self, layer: Layer) -> PatternLayer:
        return PatternLayer(
            key=self.layers[layer.id],
            name=layer.name,
            material=layer.material,
            thickness=layer.thickness,
            part_name=layer.part_name,
            parts=layer.parts,
            within=self.layers.get(layer.within_id or "", ""),
            passes_through=layer.passes_through,
            must_be_seen=layer.must_be_seen,
            finished=layer.finished,
            powered=layer.powered,
            tag=layer.tag,
        )

    def activity(self, a: Activity) -> PatternActivity:
        """One activity with its check."""
        self._leave_out(a)
        hold = self.snapshot.hold_of.get(a.id) if a.kind == "hold" else None
        who, along = self.who.of_activity(a)
        low, high = a.low, a.high
        if low is not None or high is not None:  # a range has both ends, and holds what it takes
            low = a.work if low is None else min(low, a.work)
            high = a.work if high is None else max(high, a.work)
        # a detail of a pattern says with no place that work is done elsewhere; see `core.climate`
        off_site = a.place_id is None and bool(self.detail.place_id and self.detail.pattern)
        return PatternActivity(
            key=self.keys[a.id],
            kind=a.kind,
            name=a.name,
            work=a.work,
            low=low,
            high=high,
            note=lines_of(a.note),
            who=who,
            along=along,
            owes=self.who.owes(a.person_id),
            after=tuple(self._dependencies(a)),
            off_site=off_site,
            hours=self.who.hours(a.calendar_id),
            one_day=a.one_day,
            overhead=a.overhead,
            wet=a.wet,
            dirty=a.dirty,
            hot=a.hot,
            heavy=a.heavy,
            opens_way=self.who.way(a.opens_way_id),
            closes_way=self.who.way(a.closes_way_id),
            way_in=self.who.way(a.way_in_id),
            edge=a.edge,
            closes_place=a.closes_place,
            finish_wood=a.finish_wood,
            shakes=a.shakes,
            stuff=a.stuff,
            fire_watch=a.fire_watch,
            circuit=a.circuit,
            sample=self.keys.get(a.sample_id or "", ""),
            carries_datum=a.carries_datum,
            measured_from=self.layers.get(a.measured_from_id or "", ""),
            review=a.review,
            check=self._check(hold) if hold else None,
            tag=a.tag,
            **self._effects(a),
        )

    def _leave_out(self, a: Activity) -> None:
        """Counts what of an activity has no place in a pattern."""
        elsewhere = [
            d
            for d in (*self.snapshot.before.get(a.id, ()), *self.snapshot.after.get(a.id, ()))
            for id in (d.before_id, d.after_id)
            if self.snapshot.activities[id].detail_id != self.detail.id
        ]
        self.left_out["orders"] += len(elsewhere)
        self.left_out["places"] += a.place_id not in (None, self.detail.place_id)
        self.left_out["dates"] += bool(a.not_before) + bool(a.finish_by)
        self.left_out["temporary"] += a.temporary_id is not None
        self.left_out["drawings"] += a.sheet_id is not None
        self.left_out["samples"] += a.sample_id is not None and a.sample_id not in self.keys

    def _dependencies(self, a: Activity) -> Iterator[PatternDependency]:
        """What it comes after in this detail, in the order of the chain."""
        before = [d for d in self.snapshot.before.get(a.id, ()) if d.before_id in self.keys]
        place = {id: number for number, id in enumerate(self.keys)}
        for d in sorted(before, key=lambda d: (place[d.before_id], d.id)):
            yield PatternDependency(
                before=self.keys[d.before_id],
                type=d.type,
                lag=d.lag,
                lag_on=d.lag_on,
                most=d.most,
                tag=d.tag if d.lag or d.most is not None else "P",
            )

    def _effects(self, a: Activity) -> dict[str, dict[str, tuple[int, ...]]]:
        """Field -> key of a layer -> parts; all of it where one of its rows says all."""
        done: dict[str, dict[str, tuple[int, ...]]] = {}
        for e in self.snapshot.effects_of.get(a.id, ()):
            if e.layer_id not in self.layers:
                continue
            on, key = done.setdefault(FIELDS[e.verb], {}), self.layers[e.layer_id]
            some = e.parts and on.get(key, e.parts)
            on[key] = tuple(sorted({*some, *e.parts})) if some else ()
        return done

    def _check(self, hold: HoldPoint) -> PatternCheck:
        return PatternCheck(
            what=lines_of(hold.what),
            datum=lines_of(hold.datum),
            tool=lines_of(hold.tool),
            photos=hold.photos,
            photo_note=lines_of(hold.photo_note),
            source=lines_of(hold.source),
            marks=self.who.crew(hold.marks_crew_id),
            releases=self.who.releases(hold),
            witness=hold.witness,
            own_mark_ok=hold.own_mark_ok,
            notice=hold.notice,
            looks_at=tuple(self.layers[id] for id in hold.layer_ids if id in self.layers),
            part_name=hold.part_name,
            parts=hold.parts,
            asks=asks_of(self.snapshot.asks_of.get(hold.id, ()), hold.parts),
            tag=hold.tag,
        )
