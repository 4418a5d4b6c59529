"""Too cold, too hot and dry, and not read: the air around wet work."""

from typing import Any

import pytest

from server.core.changes.bookings import MoveVisit
from server.core.warnings import Warning
from tests.core.warnings.finding import commands, mended, of, one
from tests.core.warnings.readings import CREW, DONE, a_house, read, visit, wet_wall
from tests.worlds import CLOCK_DAY, World, on

COLD, HOT, UNREAD = "too cold", "too hot and dry", "no reading"
TODAY = "Dec 3 7:40"
CURING = wet_wall()
TO_COME = a_house().with_task("Base coat", crew=CREW, wet=True, stuff="gypsum")
SOON = visit(TO_COME, "Base coat", "Dec 4")


def moved_to(found: Warning) -> object:
    """The day that its only mend asks for."""
    ((command,),) = commands(found)
    assert isinstance(command, MoveVisit)
    return command.start


# -- too cold -----------------------------------------------------------------------------------


def test_a_coat_that_is_not_dry_in_a_cold_room_is_lost_work() -> None:
    found = one(COLD, read(CURING, "air", 46, TODAY))
    assert (found.bad, found.activity_ids, found.person_id) == (
        "lost work",
        ("base-coat",),
        "rufus-orme",
    )
    assert (found.sentence.values["value"], found.sentence.values["limit"]) == (46, 50)


def test_at_the_least_that_it_wants_it_is_not_too_cold() -> None:
    assert not of(COLD, read(CURING, "air", 50, TODAY))


def test_once_it_is_dry_the_cold_does_it_nothing() -> None:
    assert not of(COLD, read(CURING, "air", 46, "Dec 9 7:40"), on("Dec 9"))


def test_the_newest_reading_counts_and_not_one_before_it() -> None:
    assert not of(COLD, read(read(CURING, "air", 46, "Dec 3 6:40"), "air", 55, TODAY))


def test_a_reading_of_the_same_air_counts_where_the_place_has_none_of_its_own() -> None:
    landing = read(CURING, "air", 46, TODAY, place="Landing")
    assert one(COLD, landing)
    assert not of(COLD, read(landing, "air", 55, "Dec 2 8:00"))
    assert not of(COLD, read(CURING, "air", 46, TODAY, place="Loft"))


def test_work_under_way_in_the_cold_is_lost_work() -> None:
    world = TO_COME.with_changed("Base coat", started=on("Dec 3"))
    assert one(COLD, read(world, "air", 46, TODAY))


def test_dry_work_in_the_cold_is_not() -> None:
    world = TO_COME.with_changed("Base coat", started=on("Dec 3"), wet=False)
    assert not of(COLD, read(world, "air", 46, TODAY))


def test_a_crew_that_comes_within_its_notice_finds_the_room_too_cold() -> None:
    assert one(COLD, read(SOON, "air", 46, TODAY))
    assert not of(COLD, read(visit(TO_COME, "Base coat", "Dec 8"), "air", 46, TODAY))


def test_compound_wants_a_warm_room_for_two_days_before() -> None:
    cold = read(visit(TO_COME, "Base coat", "Dec 5"), "air", 46, TODAY)
    assert not of(COLD, cold)
    assert one(COLD, cold.with_changed("Base coat", stuff="compound"))


def test_asking_the_crew_for_a_day_that_leaves_time_to_warm_the_room_mends_it() -> None:
    world = read(SOON, "air", 46, TODAY)
    assert moved_to(one(COLD, world)) == on("Dec 5")
    assert all(COLD not in left for left in mended(world, one(COLD, world)))
    compound = world.with_changed("Base coat", stuff="compound")
    assert moved_to(one(COLD, compound)) == on("Dec 8")


def test_what_is_on_the_wall_can_only_be_kept_warm() -> None:
    assert one(COLD, read(CURING, "air", 46, TODAY)).mends == ()
    both = visit(CURING.with_task("Beads in mud", crew=CREW, wet=True), "Beads in mud", "Dec 4")
    assert one(COLD, read(both, "air", 46, TODAY)).mends == ()


def test_all_wet_work_that_one_reading_is_wrong_for_is_one_note() -> None:
    world = CURING.with_task("Patch", crew=CREW, wet=True, started=on("Dec 3"))
    assert set(one(COLD, read(world, "air", 46, TODAY)).activity_ids) == {"base-coat", "patch"}


def test_a_wait_that_says_its_stuff_is_kept_warm_though_the_work_before_it_was_dry() -> None:
    world = (
        a_house()
        .with_task("Set the nosing", **DONE)
        .with_wait("Adhesive cures", 4 * CLOCK_DAY, after="Set the nosing")
    )
    assert not of(COLD, read(world, "air", 46, TODAY))
    stuff = world.with_changed("Adhesive cures", stuff="adhesive")
    assert one(COLD, read(stuff, "air", 46, TODAY)).activity_ids == ("adhesive-cures",)
    assert not of(COLD, read(stuff.with_changed("Set the nosing", finished=None), "air", 46, TODAY))


def test_cement_with_no_wait_drawn_is_kept_warm_for_seven_days() -> None:
    world = a_house().with_task("Scratch coat", crew=CREW, wet=True, stuff="cement", **DONE)
    assert one(COLD, read(world, "air", 46, TODAY))
    assert not of(COLD, read(world.with_changed("Scratch coat", stuff=""), "air", 46, TODAY))
    assert not of(COLD, read(world, "air", 46, "Dec 9 16:00"), on("Dec 9 16:00"))


def test_work_off_site_is_not_in_the_air_of_the_house() -> None:
    world = TO_COME.with_changed("Base coat", started=on("Dec 3"))
    pattern = world.with_changed("Stair wall", pattern="wall-rail")
    assert not of(COLD, read(pattern, "air", 46, TODAY))
    assert one(COLD, read(pattern.with_changed("Base coat", place_id="stair"), "air", 46, TODAY))


def test_its_identity_is_the_same_for_the_same_value_read_again() -> None:
    first = read(CURING, "air", 46, TODAY)
    again, other = (read(first, "air", value, "Dec 3 9:00") for value in (46, 44))
    assert one(COLD, first).identity == one(COLD, again).identity
    assert one(COLD, first).identity != one(COLD, other).identity
    assert one(COLD, first).subject == one(COLD, other).subject


# -- too hot and dry ----------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("stuff", "what", "value", "fires"),
    [
        ("lime", "air", 91, True),
        ("lime", "air", 90, False),
        ("lime", "humidity", 39, True),
        ("lime", "humidity", 40, False),
        ("cement", "humidity", 39, True),
        ("gypsum", "air", 81, True),
        ("gypsum", "air", 80, False),
        ("gypsum", "humidity", 20, False),
        ("compound", "air", 95, False),
        ("", "humidity", 20, False),
    ],
)
def test_each_stuff_has_its_own_limits(stuff: str, what: str, value: int, fires: bool) -> None:
    world = CURING.with_changed("Base coat", stuff=stuff)
    found = of(HOT, read(world, what, value, TODAY))
    assert [w.bad for w in found] == (["lost work"] if fires else [])


def test_the_stuff_may_be_said_of_the_wait_behind_it() -> None:
    assert one(HOT, read(CURING.with_changed("Base dries", stuff="lime"), "humidity", 30, TODAY))


def test_a_room_too_hot_is_mended_by_asking_for_a_later_day() -> None:
    world = read(SOON, "air", 88, TODAY)
    assert moved_to(one(HOT, world)) == on("Dec 5")
    assert all(HOT not in left for left in mended(world, one(HOT, world)))


# -- no reading ---------------------------------------------------------------------------------


def test_a_coat_that_dries_in_air_that_nobody_reads_is_watched() -> None:
    found = one(UNREAD, CURING)
    assert (found.bad, found.mends) == ("watch", ())


@pytest.mark.parametrize(
    ("at", "fires"), [("Dec 1 17:00", True), ("Dec 2 7:00", False), (TODAY, False)]
)
def test_a_reading_of_yesterday_is_enough(at: str, fires: bool) -> None:
    assert bool(of(UNREAD, read(CURING, "air", 55, at))) is fires


@pytest.mark.parametrize("fields", [{"place": "Loft"}, {"what": "humidity"}])
def test_a_reading_of_other_air_or_of_something_else_is_not(fields: dict[str, Any]) -> None:
    asked = {"what": "air", "value": 55, "at": TODAY, **fields}
    assert one(UNREAD, read(CURING, **asked))


@pytest.mark.parametrize("stuff", ["grout", "adhesive"])
def test_nobody_has_to_read_the_air_for_glue_and_grout(stuff: str) -> None:
    assert not of(UNREAD, CURING.with_changed("Base coat", stuff=stuff))


def test_air_that_no_wet_work_needs_yet_does_not_have_to_be_read() -> None:
    assert not of(UNREAD, TO_COME)
    assert not of(UNREAD, visit(TO_COME, "Base coat", "Dec 8"))


def test_a_visit_within_notice_is_watched_and_a_later_day_mends_it() -> None:
    assert moved_to(one(UNREAD, SOON)) == on("Dec 5")
    assert all(UNREAD not in left for left in mended(SOON, one(UNREAD, SOON)))


def test_rooms_that_share_their_air_are_one_note() -> None:
    world: World = CURING.with_task(
        "Patch", crew=CREW, wet=True, started=on("Dec 3"), place_id="landing"
    )
    assert set(one(UNREAD, world).activity_ids) == {"base-coat", "patch"}
