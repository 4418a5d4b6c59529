"""Changes to plans at random, of every kind that can be undone, and some that cannot."""

from collections.abc import Callable
from dataclasses import replace
from datetime import datetime, timedelta
from fractions import Fraction
from random import Random

from server.core.changes import Command, change
from server.core.changes.actuals import Finish, Start
from server.core.changes.bookings import AgreeDates, AskVisit
from server.core.changes.calendars import DropCalendar, GiveCrewHours, KeepHolidays, SetDays
from server.core.changes.holds import Mark
from server.core.changes.kept_figures import (
    EndFigure,
    KeepFigure,
    StackFacts,
    StackPartFacts,
    TieFigure,
    TieToWait,
    UntieFigure,
)
from server.core.changes.own_patterns import EndPattern, KeepPattern
from server.core.changes.people import EndCrew, KeepCrew
from server.core.changes.places import AddFloor, ChangeFloor, KeepCalendar, KeepPlace, KeepWay
from server.core.changes.plan import (
    ActivityFacts,
    AddActivity,
    AddDependency,
    AddDetail,
    AddDetailFromPattern,
    AddLayer,
    AddSide,
    AskFacts,
    ChangeActivity,
    ChangeDependency,
    ChangeDetail,
    ChangeLayer,
    CheckFacts,
    EndActivity,
    EndDependency,
    EndDetail,
    EndLayer,
    LayerFacts,
)
from server.core.changes.plan_rows import (
    ChangeSide,
    CopyActivities,
    EndSide,
    MergeActivities,
    MoveActivities,
    MoveActivity,
    MoveLayer,
    SplitActivity,
)
from server.core.changes.pushing import ChangeWork, PutOff
from server.core.refusals import Refusal
from server.core.world import Activity, Layer, Person, Snapshot
from server.data.patterns import all_patterns
from tests.worlds import COMPANY, DAY, HOUR, WEEK, a_project, actor

RUFUS, INES = "rufus-orme", "ines-halloran"


def a_planned_house() -> Snapshot:
    """Two rails with three layers and a check each, two crews, a place; Rufus and Ines run it."""
    ines = Person(id=INES, company_id=COMPANY, name="Ines Halloran", role="super")
    world = a_project().put(ines).with_place("Landing").with_way("Main stair")
    world = world.with_crew("Ninepail Plaster").with_crew("Ore Street Metal")
    for rail in ("North rail", "South rail"):
        world = (
            world.with_detail(rail)
            .with_layer(f"{rail} studs", parts=4)
            .with_layer(f"{rail} board", parts=4)
            .with_layer(f"{rail} plaster")
            .with_task(f"{rail} framing", crew="Ore Street Metal", puts_in=f"{rail} studs")
            .with_check(f"{rail} look", after=f"{rail} framing", layers=f"{rail} studs", parts=4)
            .with_ask("Height", low=35, high=37)
            .with_task(f"{rail} boarding", crew="Ninepail Plaster", after=f"{rail} look",
                       puts_in=f"{rail} board", covers=f"{rail} studs")
            .with_task(f"{rail} coat", after=f"{rail} boarding", puts_in=f"{rail} plaster")
        )  # fmt: skip
    return world.snapshot()


Draw = Callable[[Snapshot, Random, str], Command]


def a_change(snapshot: Snapshot, who: str, dice: Random, at: datetime, id: str) -> Command:
    """A change that this person can make now."""
    for _ in range(500):
        try:
            command = dice.choice(DRAWS)(snapshot, dice, id)
            change(snapshot, actor(snapshot, who), command, at)
        except (Refusal, IndexError):  # refused, or nothing there that it could be about
            continue
        return command
    raise AssertionError("everything is refused")


def _activity(s: Snapshot, dice: Random) -> Activity:
    return dice.choice(s.chain)


def _detail(s: Snapshot, dice: Random) -> str:
    return dice.choice([d.id for d in s.details.values() if d.ended is None])


def _layer(s: Snapshot, dice: Random, detail_id: str | None = None) -> Layer:
    found = [x for x in s.layers.values() if not x.ended and detail_id in (None, x.detail_id)]
    return dice.choice(found)


def _facts(s: Snapshot, dice: Random, detail_id: str, name: str, kind: str) -> ActivityFacts:
    facts = ActivityFacts(
        name=name,
        kind=kind,
        work=0 if kind == "hold" else dice.choice([2 * HOUR, DAY, 3 * DAY]),
        crew_id=dice.choice([None, *(c.id for c in s.crews.values() if c.ended is None)]),
        place_id=dice.choice([None, *s.places]),
        opens_way_id=dice.choice([None, None, *s.ways]),
    )
    if kind != "task":
        return facts
    one, other = _layer(s, dice, detail_id), _layer(s, dice, detail_id)
    parts = (dice.randint(1, one.parts),) if one.parts else ()
    covers = {other.id: ()} if other.id != one.id else {}
    return replace(facts, puts_in={one.id: parts}, covers=covers)


def _check(s: Snapshot, dice: Random, detail_id: str) -> CheckFacts:
    labels = dice.sample(["Height", "Gap", "Plumb"], dice.randint(1, 3))
    asks = tuple(AskFacts(label=label, low=Fraction(1), high=Fraction(40)) for label in labels)
    layer = _layer(s, dice, detail_id)
    parts = dice.randint(1, 6)
    return CheckFacts(what="Look", layer_ids=(layer.id,), parts=parts, asks=asks, own_mark_ok=True)


def _add(s: Snapshot, dice: Random, id: str) -> Command:
    detail_id, kind = _detail(s, dice), dice.choice(["task", "task", "wait", "hold"])
    chain = [a.id for a in s.chain_of(detail_id)]
    return AddActivity(
        id=id,
        detail_id=detail_id,
        facts=_facts(s, dice, detail_id, f"Work {id}", kind),
        behind_id=dice.choice([None, *chain]),
        after=tuple(dice.sample(chain, min(1, len(chain)))),
        hold_id=f"{id}h" if kind == "hold" else None,
        check=_check(s, dice, detail_id) if kind == "hold" else None,
    )


def _alter(s: Snapshot, dice: Random, id: str) -> Command:
    activity = _activity(s, dice)
    facts = _facts(s, dice, activity.detail_id, activity.name, activity.kind)
    check = _check(s, dice, activity.detail_id) if activity.kind == "hold" else None
    return ChangeActivity(activity_id=activity.id, facts=facts, check=check)


def _tie(s: Snapshot, dice: Random, id: str) -> Command:
    type, lag = dice.choice(["FS", "SS", "FF"]), dice.choice([0, 60])
    before, after = _activity(s, dice), _activity(s, dice)
    return AddDependency(id=id, before_id=before.id, after_id=after.id, type=type, lag=lag)


def _retie(s: Snapshot, dice: Random, id: str) -> Command:
    tie, type = dice.choice(list(s.dependencies)), dice.choice(["FS", "SS", "FF"])
    return ChangeDependency(dependency_id=tie, type=type, lag=dice.choice([0, 30, 90]))


def _layer_facts(s: Snapshot, dice: Random, side_id: str, name: str) -> LayerFacts:
    inside = [x.id for x in s.layers.values() if x.side_id == side_id and not x.ended]
    within = dice.choice([None, *inside])
    return LayerFacts(name=name, material="board", parts=dice.randint(0, 6), within_id=within)


def _add_layer(s: Snapshot, dice: Random, id: str) -> Command:
    side = dice.choice(list(s.sides))
    over = [x.id for x in s.layers.values() if x.side_id == side and not x.ended]
    facts = _layer_facts(s, dice, side, f"Layer {id}")
    return AddLayer(id=id, side_id=side, facts=facts, over_id=dice.choice([None, *over]))


def _alter_layer(s: Snapshot, dice: Random, id: str) -> Command:
    layer = _layer(s, dice)
    return ChangeLayer(
        layer_id=layer.id, facts=_layer_facts(s, dice, layer.side_id, f"{layer.name[:20]} {id}")
    )


def _add_detail(s: Snapshot, dice: Random, id: str) -> Command:
    place_id = dice.choice([None, *s.places])
    if dice.random() < 0.5:
        pattern = dice.choice(list(all_patterns()))
        return AddDetailFromPattern(id=id, name=id, sheet="D9", content=pattern, place_id=place_id)
    return AddDetail(id=id, name=dice.choice([f"Rail {id}", "Bench"]), sheet="D9")


def _alter_detail(s: Snapshot, dice: Random, id: str) -> Command:
    place_id = dice.choice([None, *s.places])
    return ChangeDetail(detail_id=_detail(s, dice), name=id, sheet="D8", place_id=place_id)


def _place(s: Snapshot, dice: Random, id: str) -> Command:
    below = tuple(dice.sample(list(s.places), dice.randint(0, min(2, len(s.places)))))
    which = dice.choice([id, *s.places])
    return KeepPlace(
        id=which, name=f"Place {id}", floor_id=dice.choice(list(s.floors)), open_to=below
    )


def _way(s: Snapshot, dice: Random, id: str) -> Command:
    lower, upper = dice.sample(list(s.floors), 2)
    return KeepWay(id=dice.choice([id, *s.ways]), name=id, lower_id=lower, upper_id=upper)


def _crew(s: Snapshot, dice: Random, id: str) -> Command:
    calendar_id = dice.choice([None, *s.calendars])
    trade = dice.choice(["plaster", "metal", "glass"])
    which = dice.choice([id, *s.crews])
    return KeepCrew(id=which, name=f"Crew {id}", trade=trade, calendar_id=calendar_id)


def _calendar(s: Snapshot, dice: Random, id: str) -> Command:
    days = dice.sample(range(10), 8)
    shifts = tuple(WEEK[day] for day in sorted(days))
    which, follows = dice.choice([id, *s.calendars]), dice.choice([None, *s.calendars])
    if follows is not None and dice.random() < 0.5:
        shifts = ()
    return KeepCalendar(id=which, name=id, shifts=shifts, based_on_id=follows)


def _days(s: Snapshot, dice: Random, id: str) -> Command:
    first = s.project.start.date() + timedelta(days=dice.randint(0, 20))
    to = dice.choice(["closed", "hours", "week", "followed"])
    return SetDays(
        calendar_id=dice.choice(list(s.calendars)),
        first=first,
        last=first + timedelta(days=dice.randint(0, 3)),
        to=to,
        shifts=("08:00 12:00",) if to == "hours" else (),
        name=dice.choice(["", f"Days {id}"]),
    )


def _holidays(s: Snapshot, dice: Random, id: str) -> Command:
    days = ("2025-12-24 Christmas Eve", "2025-12-25 Christmas Day", "2026-01-01 New Year's Day")
    return KeepHolidays(
        calendar_id=dice.choice(list(s.calendars)),
        place=dice.choice(["US-MA", "US"]),
        days=days[dice.randint(0, 2) :],
        worked=dice.choice([(), ("Christmas Eve",)]),
    )


def _hours(s: Snapshot, dice: Random, id: str) -> Command:
    crew_id, follows = dice.choice(list(s.crews)), dice.choice(list(s.calendars))
    return GiveCrewHours(id=id, crew_id=crew_id, follows_id=follows)


def _pattern(s: Snapshot, dice: Random, id: str) -> Command:
    which, name = dice.choice([id, *s.own_patterns]), dice.choice([f"Pattern {id}", "Our rail"])
    return KeepPattern(id=which, name=name, text=f"# {id}")


def _put_off(s: Snapshot, dice: Random, id: str) -> Command:
    until = s.project.start + timedelta(days=dice.randint(5, 30))
    return PutOff(activity_id=_activity(s, dice).id, until=until)


def _behind(s: Snapshot, dice: Random, detail_id: str) -> str | None:
    return dice.choice([None, *(a.id for a in s.chain_of(detail_id))])


def _move(s: Snapshot, dice: Random, id: str) -> Command:
    activity = _activity(s, dice)
    return MoveActivity(activity_id=activity.id, behind_id=_behind(s, dice, activity.detail_id))


def _rows(s: Snapshot, dice: Random) -> tuple[str, ...]:
    ids = [a.id for a in s.chain_of(_detail(s, dice))]
    return tuple(dice.sample(ids, min(len(ids), dice.randint(1, 3))))


def _move_rows(s: Snapshot, dice: Random, id: str) -> Command:
    to = _detail(s, dice)
    return MoveActivities(
        activity_ids=_rows(s, dice), to_detail_id=to, behind_id=_behind(s, dice, to)
    )


def _copy_rows(s: Snapshot, dice: Random, id: str) -> Command:
    to, rows = _detail(s, dice), _rows(s, dice)
    return CopyActivities(id=id, activity_ids=rows, to_detail_id=to, behind_id=_behind(s, dice, to))


def _split(s: Snapshot, dice: Random, id: str) -> Command:
    task = _activity(s, dice)
    first = task.work // 2
    return SplitActivity(
        id=id, activity_id=task.id, name=task.name, work=first, second_name=f"Rest {id}"
    )


def _merge(s: Snapshot, dice: Random, id: str) -> Command:
    """Two that are tied, as those are that were split; two at random mostly do not go together."""
    kinds = {a.id: a.kind for a in s.activities.values()}
    ties = [d for d in s.dependencies.values() if d.type == "FS"]
    tie = dice.choice([d for d in ties if kinds[d.before_id] == kinds[d.after_id] == "task"])
    return MergeActivities(first_id=tie.before_id, second_id=tie.after_id)


def _change_side(s: Snapshot, dice: Random, id: str) -> Command:
    side = dice.choice(list(s.sides.values()))
    others = [x.id for x in s.sides.values() if x.detail_id == side.detail_id and x.id != side.id]
    return ChangeSide(side_id=side.id, name=f"Side {id}", behind_id=dice.choice([None, *others]))


def _end_side(s: Snapshot, dice: Random, id: str) -> Command:
    full = {x.side_id for x in s.layers.values() if not x.ended}
    return EndSide(side_id=dice.choice([id for id in s.sides if id not in full]))


def _move_layer(s: Snapshot, dice: Random, id: str) -> Command:
    layer = _layer(s, dice)
    over = [x.id for x in s.layers.values() if x.side_id == layer.side_id and not x.ended]
    return MoveLayer(layer_id=layer.id, over_id=dice.choice([None, *over]))


def _start(s: Snapshot, dice: Random, id: str) -> Command:
    when = s.project.start + timedelta(hours=2)
    return Start(activity_id=_activity(s, dice).id, when=when, anyway="They were here")


def _finish(s: Snapshot, dice: Random, id: str) -> Command:
    start = s.project.start + timedelta(hours=2)
    when = start + timedelta(hours=1)
    return Finish(activity_id=_activity(s, dice).id, when=when, started=start, anyway="They did")


def _visit(s: Snapshot, dice: Random, id: str) -> Command:
    start = s.project.start + timedelta(days=14)
    ids = (_activity(s, dice).id,)
    return AskVisit(id=id, activity_ids=ids, start=start, finish=start + timedelta(hours=8))


def _mark(s: Snapshot, dice: Random, id: str) -> Command:
    hold = dice.choice(list(s.holds.values()))
    numbers = {ask.id: "20" for ask in s.asks_of.get(hold.id, ())}
    return Mark(id=id, hold_id=hold.id, numbers=numbers)


def _keep(s: Snapshot, dice: Random, id: str) -> Command:
    detail_id = _detail(s, dice)
    known = [k for k in s.kept_figures.values() if k.ended is None]
    if known and dice.random() < 0.5:
        id, detail_id = (chosen := dice.choice(known)).id, chosen.detail_id
    inputs = f"rise={dice.randint(6, 8)}"
    holds = [s.hold_of[a.id].id for a in s.chain_of(detail_id) if a.id in s.hold_of]
    parts = tuple(
        StackPartFacts(
            name=f"Part {no}", counts=Fraction(1), nominal=Fraction(no), plus=Fraction(1, 8),
            minus=Fraction(1, 8), hold_id=dice.choice([None, *holds]), label="Height",
        )
        for no in range(1, dice.randint(1, 4))
    )  # fmt: skip
    return KeepFigure(
        id=id, detail_id=detail_id, figure="standoffs", name=f"Rail {id}", inputs=inputs,
        stack=StackFacts(parts=parts) if parts else None,
    )  # fmt: skip


def _hang(s: Snapshot, dice: Random, id: str) -> Command:
    """A check or a wait is tied to a figure, or nothing any more."""
    kept = dice.choice([k for k in s.kept_figures.values() if k.ended is None])
    chain = s.chain_of(kept.detail_id)
    tied = [a for a in chain if a.kind in ("hold", "wait")]
    if not tied or dice.random() < 0.3:
        return dice.choice([UntieFigure, EndFigure])(figure_id=kept.id)
    waits = [a for a in tied if a.kind == "wait"]
    activity = dice.choice(waits or tied)
    if activity.kind == "wait":
        return TieToWait(figure_id=kept.id, activity_id=activity.id)
    asks = tuple(
        AskFacts(label="Height", part=part, low=Fraction(1), high=Fraction(40))
        for part in range(1, dice.randint(2, 5))
    )
    hold = s.hold_of[activity.id]
    return TieFigure(figure_id=kept.id, hold_id=hold.id, inputs=kept.inputs, asks=asks, datum=id)


PLANNED: tuple[Draw, ...] = (
    _add,
    _add,
    _alter,
    _alter,
    _tie,
    _retie,
    _add_layer,
    _alter_layer,
    _add_detail,
    _alter_detail,
    _place,
    _way,
    _crew,
    _calendar,
    _calendar,
    _days,
    _holidays,
    _hours,
    _pattern,
    _put_off,
    _move,
    _move_rows,
    _copy_rows,
    _split,
    _split,
    _merge,
    _merge,
    _change_side,
    _move_layer,
    lambda s, dice, new: ChangeWork(activity_id=_activity(s, dice).id, work=dice.choice([60, DAY])),
    lambda s, dice, new: EndActivity(activity_id=_activity(s, dice).id, reason="Not needed"),
    lambda s, dice, new: EndDependency(dependency_id=dice.choice(list(s.dependencies))),
    lambda s, dice, new: EndLayer(layer_id=_layer(s, dice).id),
    lambda s, dice, new: EndDetail(detail_id=_detail(s, dice), reason="Cut"),
    lambda s, dice, new: AddSide(id=new, detail_id=_detail(s, dice), name=f"Side {new}"),
    _end_side,
    _keep,
    _hang,
    _hang,
    lambda s, dice, new: AddFloor(id=new, name=f"Floor {new}"),
    lambda s, dice, new: ChangeFloor(floor_id=dice.choice(list(s.floors)), name=f"Level {new}"),
    lambda s, dice, new: DropCalendar(calendar_id=dice.choice(list(s.calendars))),
    lambda s, dice, new: EndPattern(pattern_id=dice.choice(list(s.own_patterns))),
)
HAPPENED: tuple[Draw, ...] = (
    _start,
    _finish,
    lambda s, dice, new: EndCrew(crew_id=dice.choice(list(s.crews))),
    _visit,
    _mark,
    lambda s, dice, new: AgreeDates(detail_id=_detail(s, dice), reason="Again"),
)
DRAWS = PLANNED * 2 + HAPPENED
