"""Temporary works that nobody has looked at today; a temporary stair without rails."""

from datetime import datetime
from fractions import Fraction
from typing import Any

import pytest

from server.core.world import Look, TemporaryWork
from tests.core.warnings.finding import NOW, mended, of, one
from tests.worlds import PROJECT, World, a_project, on

LOOK, STAIR = "temporary work not looked at", "temporary stair without rails"
CREW = "Thimble Hill Framing"
WORLD = (
    a_project()
    .with_crew(CREW)
    .with_place("Main flight")
    .with_place("Upper landing", floor="Upper floor")
    .with_detail("Main stair", place_id="main-flight")
)


def work(world: World, kind: str, id: str = "t1", **fields: Any) -> World:
    said = {"name": "Scaffold in the well", "put_in": on("Dec 1"), "place_id": "main-flight"}
    return world.put(TemporaryWork(id=id, project_id=PROJECT, kind=kind, **{**said, **fields}))


def looked(world: World, at: datetime, id: str = "l1", **fields: Any) -> World:
    look = Look(id=id, project_id=PROJECT, temporary_id="t1", by_id="rufus-orme", at=at, **fields)
    return world.put(look)


SCAFFOLD = work(WORLD, "scaffold")

# -- not looked at ----------------------------------------------------------------------------


@pytest.mark.parametrize("kind", ["rail", "guard", "shore", "scaffold", "deck", "stair"])
def test_a_temporary_work_that_nobody_has_looked_at_today_is_a_danger(kind: str) -> None:
    found = one(LOOK, work(WORLD, kind))
    assert (found.bad, found.at, found.subject) == ("danger", on("Dec 3"), ("t1",))
    assert found.person_id == "rufus-orme"


@pytest.mark.parametrize("kind", ["cover", "heat"])
def test_what_nobody_stands_on_needs_no_daily_look(kind: str) -> None:
    assert not of(LOOK, work(WORLD, kind))


def test_a_look_of_today_is_enough_yesterdays_is_not() -> None:
    assert not of(LOOK, looked(SCAFFOLD, on("Dec 3 6:40")))
    assert of(LOOK, looked(SCAFFOLD, on("Dec 2 6:40")))


def test_it_is_asked_for_from_the_first_shift_on() -> None:
    assert not of(LOOK, SCAFFOLD, on("Dec 3 6:45"))
    assert of(LOOK, SCAFFOLD, on("Dec 3 7:00"))


def test_a_day_on_which_nobody_works_asks_for_none() -> None:
    saturday = on("Dec 6 9:00")
    assert not of(LOOK, SCAFFOLD, saturday)
    world = SCAFFOLD.with_task("Treads", crew=CREW)
    comes = world.with_booking(CREW, "Treads", on("Dec 6 8:00"), on("Dec 6 12:00"))
    assert of(LOOK, comes, saturday)


@pytest.mark.parametrize(
    "fields",
    [{"daily": False}, {"put_in": None}, {"put_in": on("Dec 4")}, {"taken_out": on("Dec 2")}],
    ids=["not daily", "not in", "not in yet", "out"],
)
def test_what_is_not_in_use_or_not_looked_at_daily_asks_for_none(fields: dict[str, Any]) -> None:
    assert not of(LOOK, work(WORLD, "scaffold", **fields))


def test_a_look_that_found_it_not_in_order_is_told_until_one_finds_it_is() -> None:
    wrong = looked(SCAFFOLD, on("Dec 3 6:50"), in_order=False, note="A plank is split")
    assert one(LOOK, wrong).sentence.values["note"] == "A plank is split"
    assert not of(LOOK, looked(wrong, on("Dec 3 7:20"), "l2"))


def test_whose_it_is_should_look() -> None:
    found = one(LOOK, work(WORLD, "scaffold", crew_id="thimble-hill-framing"))
    assert (found.crew_id, found.person_id) == ("thimble-hill-framing", None)


def test_looking_at_it_mends_it() -> None:
    found = one(LOOK, SCAFFOLD)
    assert [LOOK in left for left in mended(SCAFFOLD, found)] == [False]


def test_it_is_told_anew_each_day() -> None:
    assert one(LOOK, SCAFFOLD).identity == one(LOOK, SCAFFOLD, on("Dec 3 14:00")).identity
    assert one(LOOK, SCAFFOLD).identity != one(LOOK, SCAFFOLD, on("Dec 4 8:00")).identity


# -- temporary stair without rails -------------------------------------------------------------


def stair(**fields: Any) -> World:
    return work(WORLD, "stair", daily=False, **fields)


@pytest.mark.parametrize("fields", [{"risers": 4}, {"rise": Fraction(61, 2)}])
def test_a_stair_of_four_risers_or_over_30_inches_without_a_rail_is_a_danger(
    fields: dict[str, Any],
) -> None:
    found = one(STAIR, stair(**fields))
    assert (found.bad, found.subject) == ("danger", ("t1",))


@pytest.mark.parametrize("fields", [{}, {"risers": 3}, {"risers": 3, "rise": Fraction(30)}])
def test_a_lower_one_needs_none(fields: dict[str, Any]) -> None:
    assert not of(STAIR, stair(**fields))


@pytest.mark.parametrize("kind", ["rail", "guard"])
def test_a_rail_in_its_place_is_enough(kind: str) -> None:
    bare = stair(risers=9)
    assert not of(STAIR, work(bare, kind, "t2"))
    assert of(STAIR, work(bare, kind, "t2", place_id="upper-landing"))
    assert of(STAIR, work(bare, kind, "t2", taken_out=NOW))


def test_a_stair_that_is_out_needs_none() -> None:
    assert not of(STAIR, stair(risers=9, taken_out=on("Dec 2")))


def test_a_stair_of_a_detail_is_in_the_place_of_its_detail() -> None:
    bare = stair(risers=9, place_id=None, detail_id="main-stair")
    assert of(STAIR, bare)
    assert not of(STAIR, work(bare, "rail", "t2"))


def test_a_stair_without_a_place_takes_the_rails_of_its_detail() -> None:
    placeless = WORLD.with_changed("Main stair", place_id=None)
    bare = work(placeless, "stair", daily=False, risers=9, place_id=None, detail_id="main-stair")
    assert of(STAIR, bare)
    assert not of(STAIR, work(bare, "rail", "t2", place_id=None, detail_id="main-stair"))


@pytest.mark.parametrize("where", [{}, {"place_id": None, "detail_id": "main-stair"}])
def test_rails_that_are_in_and_looked_at_mend_it(where: dict[str, Any]) -> None:
    world = stair(risers=9, **where)
    found = one(STAIR, world)
    assert [{LOOK, STAIR} & set(left) for left in mended(world, found)] == [set()]
