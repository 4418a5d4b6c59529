"""Finish work ahead of the sample that it must match."""

from tests.core.warnings.finding import mended, of, one
from tests.worlds import World, a_project, on

SAMPLE = "sample not accepted"
CREW = "Ninepail Plaster"
WORLD = (
    a_project()
    .with_crew(CREW)
    .with_person("Ada Quill")
    .with_detail("Garden stair rail")
    .with_decision("Sample of the finish accepted", "Ada Quill")
    .with_task("Base coat", started=on("Dec 1"))
    .with_task(
        "Finish coat", crew=CREW, after="Base coat", sample_id="sample-of-the-finish-accepted"
    )
)
READY = WORLD.with_changed("Base coat", finished=on("Dec 2"))
HELD = READY.with_dependency("Sample of the finish accepted", "Finish coat")


def booked(world: World, day: str) -> World:
    return world.with_booking(CREW, "Finish coat", on(day), on(f"{day} 15:30"), state="coming")


def test_work_that_is_ready_before_its_sample_is_accepted_is_lost_work() -> None:
    found = one(SAMPLE, READY)
    assert (found.bad, found.person_id) == ("lost work", "ada-quill")
    assert found.activity_ids == ("finish-coat", "sample-of-the-finish-accepted")


def test_work_that_is_far_off_or_held_by_the_sample_is_not() -> None:
    assert not of(SAMPLE, WORLD)
    assert not of(SAMPLE, HELD)


def test_a_visit_for_it_is_told() -> None:
    assert one(SAMPLE, booked(WORLD, "Dec 12")).at == on("Dec 12")


def test_a_visit_that_the_plan_holds_is_told_within_its_crews_notice() -> None:
    held = WORLD.with_changed("Base coat", finished=on("Dec 2")).with_dependency(
        "Sample of the finish accepted", "Finish coat"
    )
    assert one(SAMPLE, booked(held, "Dec 4"))
    assert not of(SAMPLE, booked(held, "Dec 8"))


def test_work_under_way_is_told_until_the_sample_is_accepted() -> None:
    begun = READY.with_changed("Finish coat", started=on("Dec 3"))
    assert one(SAMPLE, begun).sentence.id == "warning.sample_not_accepted.begun"
    accepted = {"started": on("Dec 3"), "finished": on("Dec 3"), "answer": "Yes"}
    assert not of(SAMPLE, begun.with_changed("Sample of the finish accepted", **accepted))


def test_the_order_or_another_day_mends_it() -> None:
    for world in (READY, booked(READY, "Dec 4"), booked(HELD, "Dec 4")):
        found = one(SAMPLE, world)
        ways = [mend.goto_activity_id for mend in found.mends]
        assert ways == [None, "sample-of-the-finish-accepted"]
        assert all(SAMPLE not in left for left in mended(world, found))
