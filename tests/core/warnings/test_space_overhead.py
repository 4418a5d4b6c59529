"""Work overhead: somebody below at the same hours, and no deck between."""

from datetime import datetime
from typing import Any

from server.core.world import TemporaryWork
from tests.core.warnings.finding import NOW, commands, mended, of, one
from tests.worlds import DAY, PROJECT, World, a_project, on

OVERHEAD = "work overhead"
CREW, OTHER, THIRD = "Ninepail Plaster", "Hobnail Millwork", "Cricket Post Electric"
WORLD = (
    a_project()
    .with_crew(CREW)
    .with_crew(OTHER)
    .with_crew(THIRD)
    .with_place("Main flight", room_for=3)
    .with_place("Upper landing", floor="Upper floor", open_to=("main-flight",))
    .with_detail("Rolled guard", place_id="upper-landing")
    .with_task("Hang board", crew=CREW, overhead=True)
    .with_detail("Main stair", place_id="main-flight")
    .with_task("Set the treads", crew=OTHER)
)


def booked(world: World, crew: str, task: str, start: str, finish: str = "15:30") -> World:
    day = " ".join(start.split()[:2])
    return world.with_booking(crew, task, on(start), on(f"{day} {finish}"))


ABOVE = booked(WORLD, CREW, "Hang board", "Dec 4")
BOTH = booked(ABOVE, OTHER, "Set the treads", "Dec 4")


def decked(world: World, place: str, put_in: datetime | None = NOW, **fields: Any) -> World:
    looked = {"daily": False, **fields}
    return world.put(
        TemporaryWork(
            id="deck",
            project_id=PROJECT,
            kind=looked.pop("kind", "deck"),
            name="Deck",
            place_id=place,
            put_in=put_in,
            **looked,
        )
    )


def test_a_crew_below_work_overhead_is_in_danger() -> None:
    found = one(OVERHEAD, BOTH)
    assert (found.bad, found.at, found.subject) == (
        "danger",
        on("Dec 4"),
        ("hang-board", "main-flight"),
    )
    assert found.sentence.values["crews"] == (OTHER,)


def test_today_counts_too() -> None:
    world = WORLD.with_changed("Hang board", started=on("Dec 3"))
    world = world.with_changed("Set the treads", started=on("Dec 3"))
    assert one(OVERHEAD, world).at == on("Dec 3")


def test_work_that_is_not_overhead_drops_nothing() -> None:
    assert not of(OVERHEAD, BOTH.with_changed("Hang board", overhead=False))


def test_a_place_that_is_not_open_to_the_one_below_drops_nothing_there() -> None:
    assert not of(OVERHEAD, BOTH.with_changed("Upper landing", open_to=()))


def test_who_is_below_when_it_is_over_is_in_no_danger() -> None:
    world = booked(WORLD, CREW, "Hang board", "Dec 4", "12:00")
    assert not of(OVERHEAD, booked(world, OTHER, "Set the treads", "Dec 4 12:30"))


def test_who_works_in_the_same_place_is_not_below() -> None:
    assert not of(OVERHEAD, BOTH.with_changed("Set the treads", place_id="upper-landing"))


def test_a_deck_above_or_below_is_between() -> None:
    assert not of(OVERHEAD, decked(BOTH, "upper-landing"))
    assert not of(OVERHEAD, decked(BOTH, "main-flight"))


def test_a_deck_that_is_not_in_yet_or_out_again_or_no_deck_is_not() -> None:
    assert of(OVERHEAD, decked(BOTH, "main-flight", put_in=None))
    assert of(OVERHEAD, decked(BOTH, "main-flight", taken_out=NOW))
    assert of(OVERHEAD, decked(BOTH, "main-flight", kind="cover"))


def test_one_crew_in_both_places_is_told_as_that() -> None:
    world = booked(
        ABOVE.with_changed("Set the treads", crew_id="ninepail-plaster"),
        CREW,
        "Set the treads",
        "Dec 4",
    )
    assert of("crew in two places", world)
    assert not of(OVERHEAD, world)
    assert of(OVERHEAD, world.with_changed(CREW, can_field=2))


def test_all_who_are_below_are_told_together() -> None:
    world = WORLD.with_task("Wire", crew=THIRD)
    world = booked(booked(world, CREW, "Hang board", "Dec 4"), THIRD, "Wire", "Dec 4")
    found = one(OVERHEAD, booked(world, OTHER, "Set the treads", "Dec 4"))
    assert found.sentence.values["crews"] == (THIRD, OTHER)


def test_another_day_above_or_below_or_a_deck_mends_it() -> None:
    found = one(OVERHEAD, BOTH)
    assert [mend.label.id for mend in found.mends] == [
        "warning.move_visit",
        "warning.move_visit",
        "warning.deck_in",
    ]
    assert [OVERHEAD in left for left in mended(BOTH, found)] == [False, False, False]


def test_what_is_under_way_is_mended_by_a_deck() -> None:
    world = WORLD.with_changed("Hang board", started=on("Dec 3"), work=DAY)
    world = world.with_changed("Set the treads", started=on("Dec 3"))
    found = one(OVERHEAD, world)
    assert [mend.label.id for mend in found.mends] == ["warning.deck_in"]
    assert [OVERHEAD in left for left in mended(world, found)] == [False]


def test_the_deck_is_looked_at_when_it_is_put_in() -> None:
    kinds = [type(command).__name__ for command in commands(one(OVERHEAD, BOTH))[2]]
    assert kinds == ["AddTemporary", "LookAtTemporary"]
