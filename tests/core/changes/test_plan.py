"""Details and their sides: added, changed, ended."""

from typing import Any

import pytest

from server.core.changes.plan import AddDetail, AddSide, ChangeDetail, EndDetail
from tests.core.changes.pressing import NOW, pressed, refused
from tests.worlds import a_project, on

WORLD = (
    a_project()
    .with_place("Garden stair")
    .with_crew("Ninepail Plaster", trade="plaster")
    .with_detail("Garden stair rail")
    .with_task("Hang board", crew="Ninepail Plaster")
)


def a_detail(**other: Any) -> AddDetail:
    return AddDetail(**{"id": "d9", "name": "Main flight", "sheet": "D1", **other})


def test_a_detail_is_listed_behind_the_others() -> None:
    details = pressed(WORLD, a_detail(place_id="garden-stair")).details
    assert details["d9"].order > details["garden-stair-rail"].order
    assert details["d9"].place_id == "garden-stair"


def test_a_name_loses_the_space_around_it() -> None:
    assert pressed(WORLD, a_detail(name="  Main   flight ")).details["d9"].name == "Main flight"


@pytest.mark.parametrize(
    ("other", "id", "field"),
    [
        ({"name": "  "}, "input.no_name", "name"),
        ({"name": "x" * 121}, "input.long_name", "name"),
        ({"name": "garden stair RAIL"}, "input.name_taken", "name"),
        ({"sheet": ""}, "input.no_name", "sheet"),
        ({"place_id": "roof"}, "change.gone", "place_id"),
        ({"id": "garden-stair-rail"}, "input.id_taken", "id"),
        ({"note": "x" * 2001}, "input.long_text", "note"),
    ],
)
def test_a_wrong_detail_is_refused_at_its_field(other: Any, id: str, field: str) -> None:
    assert refused(WORLD, a_detail(**other)) == (id, field)


def test_a_name_of_120_characters_is_taken() -> None:
    assert pressed(WORLD, a_detail(name="x" * 120)).details["d9"].name == "x" * 120


def test_a_detail_may_keep_its_own_name() -> None:
    same = ChangeDetail(detail_id="garden-stair-rail", name="Garden stair rail", sheet="D7")
    assert pressed(WORLD, same).details["garden-stair-rail"].sheet == "D7"


def test_an_ended_detail_takes_its_chain_out() -> None:
    after = pressed(WORLD, EndDetail(detail_id="garden-stair-rail", reason="Not built"))
    assert after.details["garden-stair-rail"].ended == NOW
    assert after.chain == ()
    assert "hang-board" in after.activities


def test_a_detail_is_not_ended_without_a_reason() -> None:
    command = EndDetail(detail_id="garden-stair-rail", reason=" ")
    assert refused(WORLD, command) == ("input.no_reason", "reason")


def test_a_detail_is_not_ended_twice() -> None:
    world = WORLD.with_changed("Garden stair rail", ended=NOW)
    command = EndDetail(detail_id="garden-stair-rail", reason="Not built")
    assert refused(world, command) == ("change.gone", "detail_id")


def test_a_detail_that_another_waits_on_is_not_ended() -> None:
    world = WORLD.with_detail("Main flight").with_task("Set treads", after="Hang board")
    command = EndDetail(detail_id="garden-stair-rail", reason="Not built")
    assert refused(world, command)[0] == "plan.detail_awaited"


def test_a_detail_whose_crew_is_coming_is_not_ended() -> None:
    world = WORLD.with_booking("Ninepail Plaster", "Hang board", on("Dec 4"), on("Dec 4 15:30"))
    command = EndDetail(detail_id="garden-stair-rail", reason="Not built")
    assert refused(world, command)[0] == "plan.still_booked"


def test_sides_of_one_detail_have_names_of_their_own() -> None:
    command = AddSide(id="s9", detail_id="garden-stair-rail", name="stair side")
    assert refused(WORLD, command) == ("input.name_taken", "name")
    after = pressed(WORLD, AddSide(id="s9", detail_id="garden-stair-rail", name="Top"))
    assert after.sides["s9"].order > after.sides["garden-stair-rail-stair-side"].order


def test_only_the_super_builds_the_plan() -> None:
    assert refused(WORLD, a_detail(), "Ninepail Plaster lead")[0] == "rights.role"
