"""What holds for every order of work: listing changes no date, a copy none of others', and a task
split and made one again has the dates it had.
"""

from datetime import datetime

from hypothesis import given, settings
from hypothesis import strategies as st

from server.core.changes.plan_rows import (
    CopyActivities,
    MergeActivities,
    MoveActivity,
    SplitActivity,
)
from server.core.world import Snapshot
from server.core.world.network import forecast
from tests.core.changes.pressing import pressed
from tests.worlds import HOUR, World, a_project, on

always_the_same = settings(derandomize=True, max_examples=120, deadline=None, database=None)
AT = on("Dec 1")
CREWS = ("Ninepail Plaster", "Ore Street Metal")


@st.composite
def chains(draw: st.DrawFn, whole_types: bool = True) -> World:
    """Up to seven tasks and waits of one detail, each after some of those before it."""
    world = a_project().with_detail("Garden stair rail")
    for crew in CREWS:
        world = world.with_crew(crew)
    count = draw(st.integers(2, 7))
    for number in range(count):
        name = f"Task {number}"
        if draw(st.integers(0, 4)) == 0:
            world = world.with_wait(name, draw(st.integers(1, 4000)))
        else:
            world = world.with_task(
                name, draw(st.integers(2, 1500)), crew=draw(st.sampled_from(CREWS))
            )
        before = (
            draw(st.lists(st.integers(0, number - 1), unique=True, max_size=3)) if number else []
        )
        for first in before:
            types = ("FS", "SS", "FF", "SF") if whole_types else ("FS", "SS")
            lag = draw(st.integers(-120, 900))
            most = draw(st.none() | st.integers(lag + 600, lag + 9000)) if whole_types else None
            world = world.with_dependency(
                f"Task {first}", name, type=draw(st.sampled_from(types)), lag=lag, most=most
            )
    return world


def early(snapshot: Snapshot) -> dict[str, tuple[datetime, datetime]]:
    schedule = forecast(snapshot, AT)
    return {a.id: (schedule[a.id].early_start, schedule[a.id].early_finish) for a in snapshot.chain}


def every_date(snapshot: Snapshot) -> dict[str, tuple[datetime, ...]]:
    schedule = forecast(snapshot, AT)
    late = {a.id: (schedule[a.id].late_start, schedule[a.id].late_finish) for a in snapshot.chain}
    return {id: (*dates, *late[id]) for id, dates in early(snapshot).items()}


def a_task(data: st.DataObject, world: World) -> str:
    tasks = [a.id for a in world.snapshot().chain if a.kind == "task"]
    return data.draw(st.sampled_from(tasks)) if tasks else ""


@always_the_same
@given(chains(), st.data())
def test_where_a_row_is_listed_changes_no_date(world: World, data: st.DataObject) -> None:
    ids = [a.id for a in world.snapshot().chain]
    which = data.draw(st.sampled_from(ids))
    behind = data.draw(st.none() | st.sampled_from([id for id in ids if id != which]))
    after = pressed(world, MoveActivity(activity_id=which, behind_id=behind))
    listed = [a.id for a in after.chain]
    assert sorted(listed) == sorted(ids)
    assert listed.index(which) == (listed.index(behind) + 1 if behind else 0)
    assert every_date(after) == every_date(world.snapshot())


@always_the_same
@given(chains(), st.data())
def test_copies_change_no_early_date_of_what_was_there(world: World, data: st.DataObject) -> None:
    ids = [a.id for a in world.snapshot().chain]
    which = data.draw(st.lists(st.sampled_from(ids), min_size=1, unique=True))
    command = CopyActivities(
        id="c", activity_ids=tuple(which), to_detail_id="garden-stair-rail", behind_id=None
    )
    before, after = early(world.snapshot()), early(pressed(world, command))
    assert len(after) == len(before) + len(which)
    assert {id: after[id] for id in before} == before


@always_the_same
@given(chains(), st.data())
def test_split_and_made_one_again_a_task_has_the_dates_it_had(
    world: World, data: st.DataObject
) -> None:
    if not (which := a_task(data, world)):
        return
    work = world.snapshot().activities[which].work
    halves = pressed(world, in_two(which, data.draw(st.integers(1, work - 1))))
    again = pressed(World(halves), MergeActivities(first_id=which, second_id="half"))
    assert every_date(again) == every_date(world.snapshot())
    assert again.activities[which].work == work


@always_the_same
@given(chains(whole_types=False), st.data())
def test_where_only_starts_are_held_a_split_changes_no_early_date(
    world: World, data: st.DataObject
) -> None:
    # Where something holds the finish the whole run begins later for it; of two halves only the
    # second does, and what goes by the start of the first may come sooner.
    if not (which := a_task(data, world)):
        return
    work = world.snapshot().activities[which].work
    before = early(world.snapshot())
    after = early(pressed(world, in_two(which, data.draw(st.integers(1, work - 1)))))
    assert after.pop("half")[1] == before[which][1]
    assert after[which][0] == before[which][0]
    rest = before.keys() - {which}
    assert {id: after[id] for id in rest} == {id: before[id] for id in rest}


def in_two(which: str, work: int) -> SplitActivity:
    return SplitActivity(
        id="half", activity_id=which, name="First", work=work, second_name="Second"
    )


def test_a_whole_day_is_split_at_the_hour() -> None:
    world = a_project().with_detail("Rail").with_task("Oil", 8 * HOUR)
    after = early(pressed(world, in_two("oil", 5 * HOUR)))
    assert after["oil"][1] == on("Dec 1 12:00")
    assert after["half"] == (on("Dec 1 12:30"), on("Dec 1 15:30"))
