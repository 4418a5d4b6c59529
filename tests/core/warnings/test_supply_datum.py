"""A line that is covered before the last number is taken from it."""

from tests.core.warnings.finding import mended, of, one
from tests.worlds import a_project, on

DATUM = "datum covered"
CREW = "Thimble Hill"
DONE = {"started": on("Dec 1"), "finished": on("Dec 2")}
WORLD = (
    a_project()
    .with_crew(CREW)
    .with_detail("Garden stair rail")
    .with_layer("Benchmark", parts=2)
    .with_task("Strike the benchmark", crew=CREW, puts_in="Benchmark", **DONE)
    .with_task("Hang board", crew=CREW, after="Strike the benchmark", covers="Benchmark")
    .with_task("Set the rail", crew=CREW, after="Hang board", measured_from_id="benchmark")
)
MOVING = WORLD.with_task("Move the line", crew=CREW, carries_datum=True).with_changed(
    "Move the line", measured_from_id="benchmark"
)


def test_what_is_measured_from_a_line_that_is_covered_first_is_lost_work() -> None:
    found = one(DATUM, WORLD)
    assert (found.bad, found.layer_ids) == ("lost work", ("benchmark",))
    assert found.activity_ids == ("set-the-rail", "hang-board")


def test_what_is_measured_before_the_cover_is_not() -> None:
    world = WORLD.with_changed("Hang board>Set the rail", before_id="strike-the-benchmark")
    assert not of(DATUM, world)


def test_what_covers_a_part_of_it_leaves_the_rest() -> None:
    assert not of(DATUM, WORLD.with_changed("Hang board-covers-Benchmark", parts=(1,)))


def test_a_line_that_was_moved_or_is_moved_before_the_cover_is_no_loss() -> None:
    assert not of(DATUM, MOVING.with_changed("Move the line", **DONE))
    assert not of(DATUM, MOVING.with_dependency("Move the line", "Hang board"))
    assert of(DATUM, MOVING)


def test_what_was_measured_already_needs_no_line() -> None:
    assert not of(DATUM, WORLD.with_changed("Set the rail", **DONE))


def test_a_line_that_is_covered_in_fact_is_told_whatever_the_plan_says() -> None:
    world = WORLD.with_changed("Hang board>Set the rail", before_id="strike-the-benchmark")
    covered = world.with_changed("Hang board", **DONE)
    assert one(DATUM, covered).sentence.id == "warning.datum_covered.done"
    opened = covered.with_task(
        "Open up", opens="Benchmark", started=on("Dec 3"), finished=on("Dec 3 9:00")
    )
    assert not of(DATUM, opened)


def test_a_check_that_has_lost_its_line_leads_to_its_page() -> None:
    world = WORLD.with_changed("Set the rail", measured_from_id=None).with_check(
        "Height", after="Hang board"
    )
    found = one(DATUM, world.with_changed("Height", measured_from_id="benchmark"))
    assert found.mends[-1].goto_hold_id == "height-check"


def test_moving_the_line_first_or_measuring_first_mends_it() -> None:
    for world, labels in (
        (WORLD, ["warning.move_the_line", "warning.first_before"]),
        (MOVING, ["warning.first_before", "warning.first_before"]),
    ):
        found = one(DATUM, world)
        assert [m.label.id for m in found.mends] == labels
        assert all(DATUM not in left for left in mended(world, found))
