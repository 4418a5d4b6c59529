"""Who goes next: ready, then soon, then what sets the finish and who can move it."""

from typing import Any

import pytest

from server.core.next import Going, who_goes_next
from server.core.world.network import forecast
from tests.worlds import CLOCK_DAY, DAY, World, a_project, on

NOW = on("Dec 3 10:45")
DONE = {"started": on("Dec 1"), "finished": on("Dec 2")}
METAL, PLASTER = "Ore Street Metal", "Ninepail Plaster"
WORLD = (
    a_project()
    .with_crew(METAL)
    .with_crew(PLASTER)
    .with_person("Ada Quill")
    .with_detail("Garden stair rail")
    .with_decision("Profile", person="Ada Quill")
    .with_task("Set the stand-offs", 3 * DAY, crew=METAL, after="Profile")
    .with_check("Height", after="Set the stand-offs", marks=METAL, releases="Ada Quill")
    .with_task("Hang board", crew=PLASTER, after="Height")
    .with_wait("Board rests", CLOCK_DAY, after="Hang board")
    .with_task("Base coat", crew=PLASTER, after="Board rests")
)
SET = WORLD.with_changed("Profile", **DONE).with_changed("Set the stand-offs", **DONE)


def going(world: World, **which: Any) -> dict[str, Going]:
    snapshot = world.snapshot()
    found = who_goes_next(snapshot, forecast(snapshot, NOW), NOW, **which)
    return {g.activity.id: g for g in found}


def stands(world: World, **which: Any) -> list[tuple[str, str]]:
    return [(id, g.standing) for id, g in going(world, **which).items()]


def test_what_is_ready_comes_before_what_waits() -> None:
    assert stands(WORLD)[0] == ("profile", "ready")


def test_a_decision_is_moved_by_whoever_owes_it() -> None:
    assert going(WORLD)["profile"].person_id == "ada-quill"


def test_what_waits_names_the_one_thing_it_waits_for_and_who_can_move_that() -> None:
    found = going(WORLD)["base-coat"]
    assert (found.standing, found.waits_for_id, found.person_id) == (
        "waits",
        "profile",
        "ada-quill",
    )


def test_a_check_that_nobody_marked_is_its_crews_to_move() -> None:
    found = going(SET)
    assert (found["height"].crew_id, found["height"].person_id) == ("ore-street-metal", None)
    assert found["hang-board"].crew_id == "ore-street-metal"


def test_a_check_that_is_marked_is_its_releasers_to_move() -> None:
    found = going(SET.with_attempt("Height"))
    assert (found["height"].crew_id, found["height"].person_id) == (None, "ada-quill")


def test_what_is_ready_within_its_crews_notice_is_soon() -> None:
    assert ("hang-board", "soon") in stands(SET)
    assert ("base-coat", "waits") in stands(SET)


def test_ready_work_goes_by_its_latest_start() -> None:
    world = WORLD.with_task("Long", 20 * DAY, crew=PLASTER).with_task("Short", crew=METAL)
    assert [id for id, standing in stands(world) if standing == "ready"] == [
        "long",
        "profile",
        "short",
    ]


def test_of_what_waits_the_house_is_told_only_what_sets_its_finish() -> None:
    world = WORLD.with_task("Tag", crew=METAL, after="Profile", not_before=on("Dec 8"))
    assert "tag" not in going(world)
    assert "tag" in going(world, detail_id="garden-stair-rail")
    assert "tag" in going(world, crew_id="ore-street-metal")


def test_a_detail_and_a_crew_see_their_own_side_of_it() -> None:
    world = WORLD.with_detail("Main flight").with_task("Treads", crew=METAL)
    assert set(going(world, detail_id="main-flight")) == {"treads"}
    assert set(going(world, crew_id="ore-street-metal")) == {
        "treads",
        "set-the-stand-offs",
        "height",
    }


def test_joint_work_is_seen_by_each_of_its_crews() -> None:
    world = WORLD.with_changed("Hang board", with_crew_ids=("ore-street-metal",))
    assert "hang-board" in going(world, crew_id="ore-street-metal")


@pytest.mark.parametrize("id", ["board-rests", "profile"])
def test_neither_a_wait_nor_what_is_done_goes_next(id: str) -> None:
    assert id not in going(SET, detail_id="garden-stair-rail")


def test_a_delivery_on_its_way_is_nobodys_to_move() -> None:
    assert "rail" not in going(WORLD.with_delivery("Rail", ordered=on("Dec 1")))
    assert going(WORLD.with_delivery("Rail"))["rail"].person_id == "rufus-orme"


def test_what_waits_for_the_clock_alone_is_nobodys_to_move() -> None:
    board = {"started": on("Dec 3 9:00"), "finished": on("Dec 3 10:00")}
    world = SET.with_changed("Height", **DONE).with_changed("Hang board", **board)
    found = going(world, detail_id="garden-stair-rail")["base-coat"]
    assert (found.waits_for_id, found.crew_id, found.person_id) == ("board-rests", None, None)


def test_a_visit_says_when() -> None:
    world = SET.with_booking(PLASTER, "Hang board", on("Dec 5"), on("Dec 5 15:30"))
    found = going(world)["hang-board"]
    assert (found.when, found.booking and found.booking.state) == (on("Dec 5"), "asked")


def test_a_visit_that_was_refused_is_told_and_says_no_time() -> None:
    world = SET.with_booking(
        PLASTER, "Hang board", on("Dec 5"), on("Dec 5 15:30"), state="can't come"
    )
    found = going(world)["hang-board"]
    assert found.booking is not None
    assert found.when == NOW


def test_work_under_way_comes_first() -> None:
    world = SET.with_task("Tag", crew=METAL, started=on("Dec 3"))
    assert stands(world)[0] == ("tag", "under way")


def test_what_a_check_far_back_holds_waits_for_that_check() -> None:
    opened = SET.with_changed("Hang board", **DONE).with_changed("Board rests", work=60)
    assert going(opened)["base-coat"].waits_for_id == "height"


def test_the_parts_that_a_check_left_out_are_its_crews_to_put_right_and_mark_again() -> None:
    world = SET.with_changed("height-check", parts=3).with_attempt(
        "Height", "released", left_out=(3,)
    )
    left = world.with_changed("Height", **DONE)
    assert ("height", "ready") in stands(left, crew_id="ore-street-metal")
    whole = SET.with_attempt("Height", "released").with_changed("Height", **DONE)
    assert "height" not in going(whole, crew_id="ore-street-metal")
