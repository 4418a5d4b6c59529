"""Short tasks of one crew that could be done in one coming."""

from server.core.grouping import one_visit
from server.core.world.network import forecast
from tests.worlds import DAY, HOUR, World, a_project, on

CREW, OTHER = "Cricket Post", "Thimble Hill"
NOW = on("Dec 3 10:45")
WORLD = (
    a_project()
    .with_crew(CREW, trade="painting")
    .with_crew(OTHER)
    .with_detail("Garden stair rail")
    .with_task("Touch up", HOUR, crew=CREW)
    .with_task("Caulk", HOUR, crew=CREW, not_before=on("Dec 4"))
    .with_detail("Main flight")
    .with_task("Oil the rail", 90, crew=CREW, not_before=on("Dec 5"))
    .with_task("Paint it all", 3 * DAY, crew=CREW)
)


def grouped(world: World) -> tuple[str, ...]:
    snapshot = world.snapshot()
    found = one_visit(snapshot, forecast(snapshot, NOW), snapshot.crews["cricket-post"])
    return tuple(a.name for a in found.tasks) if found else ()


def test_short_tasks_of_several_details_go_in_one_visit() -> None:
    snapshot = WORLD.snapshot()
    found = one_visit(snapshot, forecast(snapshot, NOW), snapshot.crews["cricket-post"])
    assert found is not None
    assert [a.name for a in found.tasks] == ["Touch up", "Caulk", "Oil the rail"]
    assert (found.start, found.finish) == (on("Dec 5"), on("Dec 5 11:00"))


def test_what_is_ready_later_than_in_two_days_is_another_visit() -> None:
    assert grouped(WORLD.with_changed("Oil the rail", not_before=on("Dec 9"))) == (
        "Touch up",
        "Caulk",
    )


def test_what_is_asked_for_already_is_left_alone() -> None:
    world = WORLD.with_booking(CREW, "Caulk", on("Dec 4"), on("Dec 4 11:00"))
    assert grouped(world) == ("Touch up", "Oil the rail")


def test_work_of_others_between_two_of_them_keeps_them_apart() -> None:
    world = WORLD.with_task("Sand", HOUR, crew=OTHER, after="Touch up").with_dependency(
        "Sand", "Caulk"
    )
    assert "Caulk" not in grouped(world) or "Touch up" not in grouped(world)


def test_one_after_the_other_they_still_go_together() -> None:
    world = WORLD.with_dependency("Touch up", "Caulk")
    assert grouped(world) == ("Touch up", "Caulk", "Oil the rail")


def test_one_short_task_alone_is_no_group() -> None:
    world = WORLD.with_changed("Caulk", started=on("Dec 3")).with_changed(
        "Oil the rail", finished=on("Dec 2"), started=on("Dec 2")
    )
    assert grouped(world) == ()
