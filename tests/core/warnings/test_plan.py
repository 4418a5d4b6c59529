"""How the plan is drawn: ends, times between, what is said twice. Told on its own page only."""

import random
from typing import Any

import pytest

from server.core.warnings.plan_needless import implied
from tests.core.warnings.drawn import drawn, left, only
from tests.core.warnings.finding import all_of, of
from tests.worlds import CLOCK_DAY, DAY, HOUR, World, a_project, on

IN, OUT = "no way in", "no way out"
WAIT, NEEDLESS = "wait without a reason", "needless dependency"
DONE = {"started": on("Dec 1"), "finished": on("Dec 2")}
WORLD = (
    a_project()
    .with_crew("Ninepail Plaster")
    .with_detail("Garden stair rail")
    .with_task("Lath", crew="Ninepail Plaster")
    .with_task("Base coat", crew="Ninepail Plaster", after="Lath")
    .with_task("Finish coat", crew="Ninepail Plaster", after="Base coat")
)


def test_what_is_about_the_plan_is_told_on_its_page_only() -> None:
    world = WORLD.with_dependency("Lath", "Finish coat")
    assert drawn(NEEDLESS, world)
    assert not of(NEEDLESS, world)
    assert not {w.rule for w in all_of(world.snapshot())} & {IN, OUT, WAIT, NEEDLESS}


# -- ends ---------------------------------------------------------------------------------------


def test_a_chain_that_begins_and_ends_once_is_whole() -> None:
    assert not drawn(IN, WORLD)
    assert not drawn(OUT, WORLD)


def test_work_that_nothing_comes_before_is_told_but_for_what_the_detail_begins_with() -> None:
    world = WORLD.with_task("Beads").with_dependency("Beads", "Finish coat")
    assert only(IN, world).activity_ids == ("beads",)


@pytest.mark.parametrize("fields", [{"not_before": on("Dec 9")}, {"started": on("Dec 2")}])
def test_work_that_has_a_day_or_has_begun_needs_nothing_before_it(fields: dict[str, Any]) -> None:
    world = WORLD.with_task("Beads", **fields).with_dependency("Beads", "Finish coat")
    assert not drawn(IN, world)


@pytest.mark.parametrize("kind", ["delivery", "decision"])
def test_what_can_be_ordered_or_decided_from_the_first_day_needs_nothing_before_it(
    kind: str,
) -> None:
    world = WORLD.with_task("Beads", kind=kind).with_dependency("Beads", "Finish coat")
    assert not drawn(IN, world)


def test_work_that_nothing_comes_after_is_told_but_for_what_the_detail_ends_with() -> None:
    world = WORLD.with_changed("Base coat>Finish coat", before_id="lath")
    assert only(OUT, world).activity_ids == ("base-coat",)
    assert not drawn(OUT, world.with_changed("Lath", **DONE).with_changed("Base coat", **DONE))


def test_an_invited_look_stops_nobody_and_needs_nothing_after_it() -> None:
    looked = WORLD.with_check("Owner looks", after="Base coat")
    assert only(OUT, looked).activity_ids == ("finish-coat",)
    assert not drawn(OUT, looked.with_changed("owner-looks-check", witness=True))


def test_what_has_left_the_chain_comes_neither_before_nor_after() -> None:
    world = WORLD.with_task("Beads", ended=on("Dec 1"), after="Finish coat")
    assert not drawn(OUT, world)


def test_the_order_in_which_they_are_listed_mends_both() -> None:
    first = WORLD.with_task("Beads").with_dependency("Beads", "Finish coat")
    first = first.with_changed("Beads", order=1).with_changed("Base coat", order=2)
    assert left(IN, first, only(IN, first)) == [0]
    last = WORLD.with_changed("Base coat>Finish coat", before_id="lath")
    assert left(OUT, last, only(OUT, last)) == [0]


# -- time between -------------------------------------------------------------------------------


def between(world: World, lag: int, **fields: Any) -> World:
    return world.with_changed("Lath>Base coat", lag=lag, **fields)


@pytest.mark.parametrize(
    ("lag", "on_", "fires"),
    [
        (5 * CLOCK_DAY, "clock", False),
        (5 * CLOCK_DAY + 1, "clock", True),
        (5 * DAY, "work", False),
        (6 * DAY, "work", True),
        (-HOUR, "clock", True),
        (0, "clock", False),
    ],
)
def test_more_than_five_days_and_overlaps_want_a_reason(lag: int, on_: str, fires: bool) -> None:
    assert bool(drawn(WAIT, between(WORLD, lag, lag_on=on_))) is fires


def test_a_source_or_a_wait_says_why() -> None:
    assert not drawn(WAIT, between(WORLD, 9 * CLOCK_DAY, tag="P"))
    waits = between(WORLD, 9 * CLOCK_DAY).with_changed("Base coat", kind="wait")
    assert not drawn(WAIT, waits)


def test_what_has_begun_has_had_its_time() -> None:
    world = between(WORLD, 9 * CLOCK_DAY).with_changed("Base coat", started=on("Dec 3"))
    assert not drawn(WAIT, world)


def test_a_wait_of_its_own_or_no_time_mends_it() -> None:
    world = between(WORLD, 9 * CLOCK_DAY)
    assert left(WAIT, world, only(WAIT, world)) == [0, 0]
    overlap = between(WORLD, -HOUR)
    assert left(WAIT, overlap, only(WAIT, overlap)) == [0]


# -- said twice ---------------------------------------------------------------------------------


def test_what_a_longer_path_says_already_is_said_twice() -> None:
    found = only(NEEDLESS, WORLD.with_dependency("Lath", "Finish coat"))
    assert found.subject == ("lath>finish-coat",)
    assert not drawn(NEEDLESS, WORLD)


@pytest.mark.parametrize("fields", [{"lag": 60}, {"type": "SS"}, {"type": "FF"}, {"most": 9999}])
def test_a_dependency_that_says_more_is_not(fields: dict[str, Any]) -> None:
    assert not drawn(NEEDLESS, WORLD.with_dependency("Lath", "Finish coat", **fields))


@pytest.mark.parametrize("fields", [{"lag": -60}, {"type": "SS"}, {"type": "FF"}])
def test_a_path_that_overlaps_does_not_say_it(fields: dict[str, Any]) -> None:
    world = WORLD.with_dependency("Lath", "Finish coat")
    assert not drawn(NEEDLESS, world.with_changed("Lath>Base coat", **fields))


def test_what_a_check_holds_may_be_drawn_twice() -> None:
    world = WORLD.with_dependency("Lath", "Finish coat")
    assert not drawn(NEEDLESS, world.with_changed("Lath", kind="hold"))


def test_what_has_begun_is_left_as_it_is() -> None:
    world = WORLD.with_dependency("Lath", "Finish coat")
    assert not drawn(NEEDLESS, world.with_changed("Finish coat", started=on("Dec 3")))


def test_taking_it_out_mends_it() -> None:
    world = WORLD.with_dependency("Lath", "Finish coat")
    assert left(NEEDLESS, world, only(NEEDLESS, world)) == [0]


@pytest.mark.parametrize("seed", range(20))
def test_without_all_that_is_said_twice_the_same_comes_after_the_same(seed: int) -> None:
    dice = random.Random(seed)
    world = a_project().with_detail("Garden stair rail")
    for i in range(12):
        world = world.with_task(f"Task {i}")
    pairs = [(i, j) for i in range(12) for j in range(i + 1, 12) if dice.random() < 0.35]
    for i, j in pairs:
        world = world.with_dependency(f"Task {i}", f"Task {j}")
    twice = {(d.before_id, d.after_id) for d in implied(world.snapshot())}
    kept = [(i, j) for i, j in pairs if (f"task-{i}", f"task-{j}") not in twice]
    assert reach(pairs) == reach(kept)
    # and nothing more could go
    assert all(reach([p for p in kept if p != pair]) != reach(kept) for pair in kept)


def reach(pairs: list[tuple[int, int]]) -> set[tuple[int, int]]:
    """What comes after what, by however many."""
    found = set(pairs)
    for _ in range(12):
        found |= {(i, k) for i, j in found for m, k in pairs if m == j}
    return found
