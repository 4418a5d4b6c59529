"""What was recorded by mistake is taken back, the last of it first."""

from dataclasses import replace

from server.core.changes.actuals import TakeBack
from server.core.changes.rules_actuals import ON_THE_WAY
from tests.core.changes.pressing import NOW, pressed, refused
from tests.core.changes.test_actuals import LEAD, RELEASED, UNDER_WAY, WORLD
from tests.worlds import World, on

BACK = TakeBack(activity_id="hang-board", reason="Wrong task")


def test_the_finish_goes_first_and_then_the_start() -> None:
    world = UNDER_WAY.with_changed("Hang board", finished=on("Dec 3 9:30"))
    once = pressed(world, BACK)
    assert once.activities["hang-board"].finished is None
    assert once.activities["hang-board"].started == on("Dec 3 9:00")
    twice = pressed(World(once), BACK).activities["hang-board"]
    assert twice.started is None


def test_a_reason_to_start_anyway_goes_with_the_start() -> None:
    world = UNDER_WAY.with_changed("Hang board", anyway="They were on it")
    assert pressed(world, BACK).activities["hang-board"].anyway == ""


def test_an_arrival_is_taken_back_with_its_count_and_the_order_stays() -> None:
    world = WORLD.with_delivery(
        "Rail", ordered=on("Dec 1"), started=on("Dec 1"), finished=NOW, counted=NOW
    )
    rail = pressed(world, replace(BACK, activity_id="rail")).activities["rail"]
    assert (rail.finished, rail.counted, rail.ordered) == (None, None, on("Dec 1"))


def test_an_answer_is_taken_back() -> None:
    world = WORLD.with_decision("Profile", started=NOW, finished=NOW, answer="Round")
    profile = pressed(world, replace(BACK, activity_id="profile")).activities["profile"]
    assert (profile.finished, profile.started, profile.answer) == (None, None, "")


def test_the_stages_of_a_delivery_go_one_by_one_the_latest_first() -> None:
    world = WORLD.with_delivery(
        "Rail", measured=on("Nov 20"), drawn=on("Nov 24"), ordered=on("Nov 24"),
        approved=on("Nov 26"), promised=on("Dec 20"),
    )  # fmt: skip
    left = []
    for _ in range(4):
        world = World(pressed(world, replace(BACK, activity_id="rail")))
        rail = world.snapshot().activities["rail"]
        left.append([name for name in ON_THE_WAY if getattr(rail, name)])
    assert left == [["measured", "drawn", "ordered"], ["measured", "drawn"], ["measured"], []]
    assert rail.promised is None
    assert refused(world, replace(BACK, activity_id="rail"))[0] == "actuals.nothing_to_take_back"


def test_with_the_start_goes_that_the_circuit_was_dead() -> None:
    facts = {"circuit": "12", "circuit_dead": on("Dec 3 8:50")}
    begun = pressed(UNDER_WAY.with_changed("Hang board", **facts), BACK).activities["hang-board"]
    assert (begun.started, begun.circuit_dead) == (None, None)
    waiting = pressed(RELEASED.with_changed("Hang board", **facts), BACK)
    assert waiting.activities["hang-board"].circuit_dead is None


def test_taking_back_needs_something_and_a_reason() -> None:
    assert refused(RELEASED, BACK) == ("actuals.nothing_to_take_back", None)
    assert refused(UNDER_WAY, replace(BACK, reason="")) == ("input.no_reason", "reason")


def test_a_check_is_opened_again_and_not_taken_back() -> None:
    command = replace(BACK, activity_id="height")
    assert refused(RELEASED, command) == ("actuals.check_is_opened_again", None)


def test_what_a_check_has_looked_at_is_not_taken_back_under_it() -> None:
    command = replace(BACK, activity_id="set-the-stand-offs")
    assert refused(RELEASED, command) == ("actuals.looked_at_since", None)


def test_a_crew_takes_nothing_back() -> None:
    assert refused(UNDER_WAY, BACK, LEAD)[0] == "rights.role"
