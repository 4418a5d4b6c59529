"""A floor's only way out is out while people stand up there."""

from tests.core.warnings.finding import NOW, mended, of, one
from tests.worlds import DAY, HOUR, World, a_project, on

CUT = "way cut off"
CREW, OTHER = "Ninepail Plaster", "Thimble Hill Framing"
WORLD = (
    a_project()
    .with_crew(CREW)
    .with_crew(OTHER)
    .with_place("Main flight")
    .with_place("Upper landing", floor="Upper floor")
    .with_way("Old stair")
    .with_detail("Main stair", place_id="main-flight")
    .with_task("Old stair out", 2 * DAY, crew=OTHER, closes_way_id="old-stair")
    .with_task("New stair in", 2 * HOUR, crew=OTHER, after="Old stair out")
    .with_detail("Rolled guard", place_id="upper-landing")
    .with_task("Lath", crew=CREW)
)


def booked(world: World, crew: str, task: str, day: str, until: str = "") -> World:
    return world.with_booking(crew, task, on(day), on(f"{until or day} 15:30"))


OUT = booked(WORLD, OTHER, "Old stair out", "Dec 4", "Dec 5")
BOTH = booked(OUT, CREW, "Lath", "Dec 5")


def test_people_on_a_floor_whose_only_way_out_is_out_are_in_danger() -> None:
    found = one(CUT, BOTH)
    assert (found.bad, found.at, found.subject) == (
        "danger",
        on("Dec 5"),
        ("old-stair", "upper-floor"),
    )
    assert found.sentence.values["out"] == on("Dec 4")
    assert found.crew_id == "thimble-hill-framing"


def test_people_who_have_gone_before_it_is_out_are_not() -> None:
    assert not of(CUT, booked(OUT, CREW, "Lath", "Dec 3 12:30", "Dec 3"))


def test_people_below_are_not() -> None:
    assert not of(CUT, BOTH.with_changed("Lath", place_id="main-flight"))


def test_another_way_out_is_enough_also_a_ladder() -> None:
    assert not of(CUT, BOTH.with_way("Scaffold stair"))
    assert not of(CUT, BOTH.with_way("Ladder", carries=False))


def test_a_ladder_is_no_way_for_a_crew_that_carries() -> None:
    world = BOTH.with_way("Ladder", carries=False).with_changed("Lath", heavy=True)
    assert one(CUT, world).sentence.id == "warning.way_cut_off.carry"


def test_another_way_that_is_shut_itself_is_none() -> None:
    assert of(CUT, BOTH.with_way("Scaffold stair", closed=on("Dec 2")))


def test_another_way_that_opens_later_is_none_yet() -> None:
    world = BOTH.with_way("Scaffold stair").with_changed("New stair in")
    later = world.with_changed("New stair in", opens_way_id="scaffold-stair")
    assert of(CUT, later)


def test_a_way_that_is_opened_where_the_other_is_shut_cuts_nobody_off() -> None:
    world = BOTH.with_way("New stair")
    turned = world.with_changed("Old stair out", opens_way_id="new-stair")
    assert not of(CUT, turned)
    assert of(CUT, world.with_changed("New stair in", opens_way_id="new-stair"))


def test_people_who_come_when_a_way_is_open_again_are_not() -> None:
    world = WORLD.with_changed("New stair in", opens_way_id="old-stair")
    world = booked(world, OTHER, "Old stair out", "Dec 4", "Dec 5")
    assert of(CUT, booked(world, CREW, "Lath", "Dec 5"))
    assert not of(CUT, booked(world, CREW, "Lath", "Dec 9"))


def test_a_way_that_is_out_only_within_a_shift_is_let_be() -> None:
    world = WORLD.with_changed("Old stair out", work=HOUR)
    world = world.with_changed("New stair in", work=HOUR, opens_way_id="old-stair")
    both = booked(booked(world, OTHER, "Old stair out", "Dec 4"), CREW, "Lath", "Dec 4")
    assert of(CUT, both.with_changed("New stair in", work=DAY))
    assert not of(CUT, both.with_changed("Old stair out", not_before=on("Dec 4")))


def test_a_way_that_nobody_is_asked_to_take_out_yet_stays() -> None:
    assert not of(CUT, booked(WORLD, CREW, "Lath", "Dec 5"))


def test_a_way_taken_out_is_out_for_whoever_comes() -> None:
    gone = WORLD.with_changed("Old stair out", started=on("Dec 1"), finished=on("Dec 2"))
    assert of(CUT, booked(gone, CREW, "Lath", "Dec 5"))


def test_a_way_recorded_as_closed_is_out_too() -> None:
    gone = WORLD.with_changed("Old stair out", ended=NOW)
    gone = gone.with_changed("Old stair", closed=on("Dec 2"))
    assert one(CUT, booked(gone, CREW, "Lath", "Dec 5")).detail_id is None


def test_a_floor_that_never_had_a_way_written_down_is_not_told() -> None:
    world = WORLD.with_changed("Old stair out", ended=NOW)
    world = world.with_changed("New stair in", opens_way_id="old-stair")
    assert not of(CUT, booked(world, CREW, "Lath", "Dec 5"))


def test_another_day_for_the_work_or_another_way_mends_it() -> None:
    found = one(CUT, BOTH)
    assert [mend.label.id for mend in found.mends] == [
        "warning.move_visit",
        "warning.another_way",
    ]
    assert all(CUT not in left for left in mended(BOTH, found))


def test_coming_when_a_way_is_open_again_mends_it() -> None:
    world = WORLD.with_changed("New stair in", opens_way_id="old-stair")
    world = booked(booked(world, OTHER, "Old stair out", "Dec 4", "Dec 5"), CREW, "Lath", "Dec 5")
    found = one(CUT, world)
    assert [mend.label.values.get("crew") for mend in found.mends] == [OTHER, CREW, None]
    assert all(CUT not in left for left in mended(world, found))
