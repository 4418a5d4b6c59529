"""The plan page: each row of the order of work in words, the sides and their layers."""

from dataclasses import dataclass
from datetime import datetime

from server.core.promises import last_of
from server.core.schedule import Schedule
from server.core.warnings import Warning, every, find
from server.core.world import Activity, Dependency, Layer, Side, Snapshot
from server.pages.kit.forms import CLOCK_DAY, DAY
from server.pages.plan.activity_form import KINDS, day_of
from server.pages.plan.writing import number_written, parts_written
from server.pages.shared.buildup import SideShown, sides_shown
from server.pages.shared.notes import NoteShown, notes_shown
from server.pages.shared.opened import Opened
from server.pages.shared.undoing import UndoShown
from server.words import Words

# Where a number that is not the company's own comes from.
TAGS = {"P": "common practice", "M": "from memory"}


@dataclass(frozen=True)
class AfterRow:
    """What an activity comes after, in words."""

    id: str
    name: str
    how: str


@dataclass(frozen=True)
class PlanRow:
    """One activity as the table says it."""

    id: str
    kind: str
    name: str
    who: str
    takes: str
    likely: str
    start: datetime
    finish: datetime
    done: bool
    sets_finish: bool
    after: tuple[AfterRow, ...]
    puts_in: tuple[str, ...]
    hides: tuple[str, ...]
    opens: tuple[str, ...]
    needs_open: tuple[str, ...]
    looked_at_by: str
    tag: str


@dataclass(frozen=True)
class LayerRow:
    """One layer as the list says it."""

    id: str
    name: str
    facts: str


@dataclass(frozen=True)
class SideRow:
    """A side with its layers from the room side to the bearing side, as the drawing stacks them."""

    id: str
    name: str
    layers: tuple[LayerRow, ...]


@dataclass(frozen=True)
class PlanPage:
    """The plan of one detail."""

    detail_id: str
    name: str
    sheet: str
    house_id: str
    house: str
    finish: datetime | None
    last_id: str
    house_finish: datetime
    too_long: tuple[str, ...]
    rows: tuple[PlanRow, ...]
    sides: tuple[SideRow, ...]
    drawn: tuple[SideShown, ...]
    kinds: tuple[tuple[str, str], ...]
    notes: tuple[NoteShown, ...]
    project_id: str
    back: str
    undo: UndoShown


def plan_page(opened: Opened, undo: UndoShown) -> PlanPage:
    """The plan of the detail that is open, and what can be undone there."""
    snapshot, schedule = opened.snapshot, opened.schedule
    detail = snapshot.details[opened.detail_id]
    chain = snapshot.chain_of(detail.id)
    rows = tuple(_row(snapshot, schedule, opened.words, a) for a in chain)
    ids = {a.id for a in chain}
    last = last_of(snapshot, schedule, detail.id)
    names = snapshot.activities
    return PlanPage(
        detail_id=detail.id,
        name=detail.name,
        sheet=detail.sheet,
        house_id=opened.project_id,
        house=snapshot.project.name,
        finish=schedule[last.id].early_finish if last else None,
        last_id=last.id if last else "",
        house_finish=schedule.finish,
        too_long=tuple(
            f"{names[d.after].name} cannot start as soon after {names[d.before].name} as it should."
            for d in schedule.too_long
            if d.after in ids
        ),
        rows=rows,
        sides=tuple(
            _side(snapshot, s) for s in snapshot.sides.values() if s.detail_id == detail.id
        ),
        drawn=sides_shown(snapshot, schedule, detail.id, opened.words, opened.now),
        kinds=tuple(KINDS.items()),
        notes=notes_shown(opened, _of_the_plan(opened)),
        project_id=opened.project_id,
        back=f"/d/{detail.id}/plan",
        undo=undo,
    )


def _of_the_plan(opened: Opened) -> tuple[Warning, ...]:
    """What is only about how the plan of this detail is drawn."""
    of_plan = {rule.id for rule in every() if rule.plan_only}
    return find(
        opened.snapshot,
        opened.schedule,
        lambda warning: warning.rule in of_plan,
        detail_id=opened.detail_id,
        plan=True,
    )


def layers_of_detail(snapshot: Snapshot, detail_id: str) -> tuple[Layer, ...]:
    """The layers of a detail that are not ended, side by side, from the bearing side."""
    order = {side.id: side.order for side in snapshot.sides.values()}
    mine = (x for x in snapshot.layers.values() if x.detail_id == detail_id and not x.ended)
    return tuple(sorted(mine, key=lambda layer: (order[layer.side_id], layer.order)))


def how_after(words: Words, d: Dependency) -> str:
    """How something comes after another, in words; nothing where it just follows."""
    said = {
        "FS": "",
        "SS": "starts with it, or after its start",
        "FF": "is done after it is done",
        "SF": "is done after it starts",
    }[d.type]
    day = DAY if d.lag_on == "work" else CLOCK_DAY
    between = ""
    if d.lag:
        span = words.span(abs(d.lag), day)
        between = f"{span} sooner" if d.lag < 0 else f"wait between {span}"
        between += " of work" if d.lag_on == "work" else ""
    within = f"within {words.span(d.most)}" if d.most is not None else ""
    return ", ".join(part for part in (said, between, within) if part)


def _row(snapshot: Snapshot, schedule: Schedule, words: Words, a: Activity) -> PlanRow:
    dates, day = schedule[a.id], day_of(a.kind)
    low, high = (words.span(m, day) if m is not None else "" for m in (a.low, a.high))
    likely = f"{low or '?'} to {high or '?'}" if low or high else ""
    return PlanRow(
        id=a.id,
        kind=KINDS[a.kind],
        name=a.name,
        who=_who(snapshot, a),
        takes=words.span(a.work, day) if a.work else "",
        likely=likely,
        start=dates.early_start,
        finish=dates.early_finish,
        done=a.finished is not None,
        sets_finish=dates.critical,
        after=tuple(
            AfterRow(d.id, _name(snapshot, a, d.before_id), how_after(words, d))
            for d in snapshot.before.get(a.id, ())
        ),
        puts_in=_layers(snapshot, a, "puts in"),
        hides=_layers(snapshot, a, "covers"),
        opens=_layers(snapshot, a, "opens"),
        needs_open=_layers(snapshot, a, "needs open"),
        looked_at_by=_looked_at_by(snapshot, a),
        tag=TAGS.get(a.tag, ""),
    )


def _name(snapshot: Snapshot, activity: Activity, before_id: str) -> str:
    before = snapshot.activities[before_id]
    if before.detail_id == activity.detail_id:
        return before.name
    return f"{before.name} ({snapshot.details[before.detail_id].name})"


def _who(snapshot: Snapshot, a: Activity) -> str:
    hold = snapshot.hold_of.get(a.id)
    crews = [a.crew_id, *a.with_crew_ids] if hold is None else [hold.marks_crew_id]
    names = [snapshot.crews[id].name for id in crews if id]
    if a.person_id:
        names.append(snapshot.people[a.person_id].name)
    return " with ".join(names)


def _layers(snapshot: Snapshot, a: Activity, verb: str) -> tuple[str, ...]:
    effects = (e for e in snapshot.effects_of.get(a.id, ()) if e.verb == verb)
    return tuple(
        snapshot.layers[e.layer_id].name + (f" {parts_written(e.parts)}" if e.parts else "")
        for e in effects
    )


def _looked_at_by(snapshot: Snapshot, a: Activity) -> str:
    hold = snapshot.hold_of.get(a.id)
    if hold is None:
        return ""
    if hold.authority:
        return "an outside inspector"
    person = snapshot.people.get(hold.releases_id or "")
    return person.name if person else "the super"


def _side(snapshot: Snapshot, side: Side) -> SideRow:
    layers = (x for x in layers_of_detail(snapshot, side.detail_id) if x.side_id == side.id)
    rows = tuple(LayerRow(x.id, x.name, _facts(snapshot, x)) for x in layers)
    return SideRow(side.id, side.name, rows[::-1])


def _facts(snapshot: Snapshot, layer: Layer) -> str:
    within = snapshot.layers.get(layer.within_id or "")
    facts = (
        layer.material,
        f"{number_written(layer.thickness)} in" if layer.thickness else "",
        f"{layer.parts} {layer.part_name or 'parts'}" if layer.parts else "",
        f"within {within.name}" if within else "",
        "passes through" if layer.passes_through else "",
        "must be seen" if layer.must_be_seen else "",
        "finished face" if layer.finished else "",
        "tried before it is hidden" if layer.powered else "",
        TAGS.get(layer.tag, "") if layer.thickness else "",
    )
    return " · ".join(fact for fact in facts if fact)
