"""A crew that comes and whose parts are not here."""

from typing import Any

from tests.core.warnings.finding import mended, of, one
from tests.worlds import CLOCK_DAY, DAY, World, a_project, on

PARTS, EARLY = "crew coming, parts not here", "booked before ready"
CREW = "Hobnail Millwork"
WORLD = (
    a_project()
    .with_crew(CREW)
    .with_detail("Garden stair rail")
    .with_delivery("Rail shipped", DAY, ordered=on("Dec 1"), promised=on("Dec 4 6:00"))
    .with_wait("Rail acclimates", 60, after="Rail shipped")
    .with_task("Set the rail", crew=CREW, after="Rail acclimates")
)
HERE = {"started": on("Dec 1"), "finished": on("Dec 3 9:00")}


def coming(world: World, day: str = "Dec 4", **fields: Any) -> World:
    return world.with_booking(
        CREW, "Set the rail", on(day), on(f"{day} 15:30"), **{"state": "coming", **fields}
    )


def test_a_crew_that_comes_tomorrow_for_parts_that_are_not_here_is_told() -> None:
    found = one(PARTS, coming(WORLD))
    assert (found.bad, found.at, found.person_id) == ("in the way", on("Dec 4"), "rufus-orme")
    assert found.sentence.values["parts"] == ("Rail shipped",)


def test_one_that_comes_later_than_its_notice_is_not() -> None:
    assert not of(PARTS, coming(WORLD, "Dec 5"))
    assert of(PARTS, coming(WORLD.with_changed(CREW, notice=2 * CLOCK_DAY), "Dec 5"))


def test_parts_that_are_here_have_to_be_counted_and_looked_over() -> None:
    world = coming(WORLD.with_changed("Rail shipped", **HERE))
    assert one(PARTS, world).sentence.id == "warning.parts_not_here.uncounted"
    assert not of(PARTS, world.with_changed("Rail shipped", counted=on("Dec 3 10:00")))


def test_what_is_brought_for_the_work_before_is_not_this_crews() -> None:
    world = WORLD.with_task("Brackets", crew=CREW)
    world = world.with_changed("Rail acclimates>Set the rail", after_id="brackets")
    assert not of(PARTS, coming(world.with_dependency("Brackets", "Set the rail")))


def test_work_that_has_begun_has_its_parts() -> None:
    assert not of(PARTS, coming(WORLD.with_changed("Set the rail", started=on("Dec 3"))))


def test_a_visit_that_does_not_come_needs_none() -> None:
    assert not of(PARTS, coming(WORLD, state="can't come"))


def test_parts_that_come_after_the_visit_are_told_once() -> None:
    world = coming(WORLD.with_changed("Rail shipped", promised=on("Dec 10")))
    assert one(PARTS, world)
    assert not of(EARLY, world)


def test_beyond_its_notice_the_visit_is_told_as_too_early() -> None:
    world = coming(WORLD.with_changed("Rail shipped", promised=on("Dec 10")), "Dec 8")
    assert one(EARLY, world)
    assert not of(PARTS, world)


def test_each_mend_clears_it() -> None:
    found = one(PARTS, coming(WORLD))
    assert [m.label.id for m in found.mends] == [
        "warning.here_and_counted",
        "warning.move_visit",
    ]
    assert all(PARTS not in left for left in mended(coming(WORLD), found))


def test_what_is_here_only_has_to_be_counted() -> None:
    world = coming(WORLD.with_changed("Rail shipped", **HERE))
    found = one(PARTS, world)
    assert [m.label.id for m in found.mends] == ["warning.here_and_counted"]
    assert all(PARTS not in left for left in mended(world, found))
