"""A detail copied from a pattern: every row of it, for the crews that were chosen."""

from typing import Any

import pytest

from server.core.changes.plan import AddDetailFromPattern
from server.core.patterns import Pattern
from server.core.world import WorkCalendar
from server.data.patterns import all_patterns, pattern
from tests.core.changes.pressing import pressed, refused
from tests.worlds import COMPANY, PROJECT, a_project, on

WORLD = (
    a_project()
    .with_crew("Thimble Hill Framing", trade="framing")
    .with_crew("Ninepail Plaster", trade="plaster")
    .with_person("Ines Abel", title="engineer")
    .with_place("Garden stair")
    .with_way("Old stair")
)
CREWS = {
    "framing": "thimble-hill-framing",
    "board": "ninepail-plaster",
    "plaster": "ninepail-plaster",
}


def copied(one: Pattern, **other: Any) -> AddDetailFromPattern:
    plain = {"id": "d9", "name": "New one", "sheet": "D1", "place_id": "garden-stair"}
    return AddDetailFromPattern(
        **{**plain, "crews": CREWS, "people": {"engineer": "ines-abel"}, "content": one, **other}
    )


@pytest.mark.parametrize("one", all_patterns(), ids=lambda p: p.id)
def test_every_row_of_the_pattern_is_copied(one: Pattern) -> None:
    after = pressed(WORLD, copied(one))
    checks = [a.check for a in one.chain if a.check]
    asks = sum(c.parts if ask.each else 1 for c in checks for ask in c.asks)
    effects = sum(
        len(a.puts_in) + len(a.covers) + len(a.opens) + len(a.needs_open) for a in one.chain
    )
    counts = {
        "sides": len(one.sides),
        "layers": len(one.layers),
        "activities": len(one.chain),
        "dependencies": sum(len(a.after) for a in one.chain),
        "effects": effects,
        "holds": len(checks),
        "asks": asks,
    }
    assert {table: len(getattr(after, table)) for table in counts} == counts
    assert after.details["d9"].pattern == one.id
    assert [a.name for a in after.chain_of("d9")] == [a.name for a in one.chain]


def test_the_same_command_gives_the_same_rows() -> None:
    command = copied(pattern("wall-rail"))
    assert pressed(WORLD, command) == pressed(WORLD, command)


def test_two_copies_share_no_row() -> None:
    first = pressed(WORLD, copied(pattern("wall-rail")))
    world = type(WORLD)(first)
    both = pressed(world, copied(pattern("wall-rail"), id="d8", name="Second one"))
    assert len(both.activities) == 2 * len(first.activities)
    assert len(both.asks) == 2 * len(first.asks)


def test_work_goes_to_the_crews_chosen_for_its_trade() -> None:
    after = pressed(WORLD, copied(pattern("wall-rail")))
    by_name = {a.name: a for a in after.activities.values()}
    assert by_name["Blocking for the rail"].crew_id == "thimble-hill-framing"
    assert by_name["Hang board"].crew_id == "ninepail-plaster"
    assert by_name["Set the stand-offs"].crew_id is None


def test_checks_go_to_the_people_chosen_for_their_role() -> None:
    after = pressed(WORLD, copied(pattern("rolled-guard")))
    holds = {after.activities[h.activity_id].name: h for h in after.holds.values()}
    assert holds["Bolts, and a push at the top"].releases_id == "ines-abel"
    assert holds["Plane of the skin"].releases_id is None
    assert holds["Final inspection of the guard"].authority
    assert holds["Plane of the skin"].marks_crew_id == "thimble-hill-framing"


def test_a_decision_is_owed_by_the_person_chosen_for_its_role() -> None:
    after = pressed(WORLD, copied(pattern("rolled-guard")))
    (tie_down,) = [a for a in after.chain if a.name == "How the base is tied down"]
    assert tie_down.person_id == "ines-abel"


def test_a_number_asked_of_each_part_is_asked_part_by_part() -> None:
    after = pressed(WORLD, copied(pattern("wall-rail")))
    (hold,) = [h for h in after.holds.values() if h.what.startswith("Height of each stand-off")]
    assert [ask.part for ask in after.asks_of[hold.id]] == [1, 2, 3, 4, 5, 6, 7]
    assert {ask.tag for ask in after.asks_of[hold.id]} == {"P"}


def test_what_is_made_in_a_shop_stands_in_no_place() -> None:
    after = pressed(WORLD, copied(pattern("wall-rail")))
    by_name = {a.name: a for a in after.activities.values()}
    assert by_name["Shop drawing of the rail"].place_id is None
    assert by_name["Hang board"].place_id == "garden-stair"


def test_what_must_match_a_sample_knows_the_decision_that_accepts_it() -> None:
    after = pressed(WORLD, copied(pattern("rolled-guard")))
    by_id = after.activities
    matched = {a.name: by_id[a.sample_id].name for a in by_id.values() if a.sample_id}
    assert matched == {
        "Finish coat, one go from end to end": "Plaster sample accepted and signed",
        "Finish against the signed sample": "Plaster sample accepted and signed",
    }


def test_what_a_pattern_says_of_work_and_layers_is_copied() -> None:
    after = pressed(WORLD, copied(pattern("wall-rail")))
    by_name = {a.name: a for a in after.activities.values()}
    layers = {layer.name: layer for layer in after.layers.values()}
    assert (by_name["Finish coat"].stuff, by_name["Finish coat dries"].stuff) == ("lime", "lime")
    assert by_name["Blocking for the rail"].shakes
    assert by_name["Rail shipped, counted and looked over"].finish_wood
    assert by_name["Move pipes and wires, nail plates"].circuit
    assert by_name["Stand-offs ordered and made, one spare"].review == 7 * 24 * 60
    assert layers["Finish coat"].finished
    assert layers["Pipes and wires moved, nail plates"].powered


def test_a_way_is_closed_by_the_task_that_takes_it_out() -> None:
    ways = {"old stair": "old-stair"}
    after = pressed(WORLD, copied(pattern("self-supporting-stair"), ways=ways))
    (out,) = [a for a in after.chain if a.name == "Old stair out"]
    assert out.closes_way_id == "old-stair"


def test_what_comes_after_nothing_waits_for_the_day_given() -> None:
    after = pressed(WORLD, copied(pattern("wall-rail"), not_before=on("Dec 8")))
    waiting = [a.name for a in after.chain if a.not_before]
    assert waiting == ["Profile, returned ends, clearance"]


def test_work_of_one_go_stays_so_only_where_a_day_is_long_enough() -> None:
    short = WorkCalendar(id="short", company_id=COMPANY, name="Short", shifts=("0 07:00 12:00",))
    world = WORLD.put(short).with_changed("Ninepail Plaster", calendar_id="short")
    long_day = {a.name: a for a in pressed(WORLD, copied(pattern("wall-rail"))).chain}
    short_day = {a.name: a for a in pressed(world, copied(pattern("wall-rail"))).chain}
    name = "Ring grounds, tape joints, base coat"
    assert (long_day[name].one_day, short_day[name].one_day) == (True, False)
    assert short_day["Finish coat"].one_day


@pytest.mark.parametrize(
    ("other", "id", "field"),
    [
        ({"name": ""}, "input.no_name", "name"),
        ({"crews": {"board": "nobody"}}, "change.gone", "crews"),
        ({"people": {"engineer": "nobody"}}, "change.gone", "people"),
        ({"ways": {"old stair": "chute"}}, "change.gone", "ways"),
        ({"place_id": "roof"}, "change.gone", "place_id"),
        ({"not_before": on("Dec 8").replace(year=2052)}, "input.far_off", "not_before"),
    ],
)
def test_a_wrong_choice_is_refused_at_its_field(other: Any, id: str, field: str) -> None:
    assert refused(WORLD, copied(pattern("wall-rail"), **other)) == (id, field)


def test_every_row_belongs_to_the_project() -> None:
    after = pressed(WORLD, copied(pattern("wall-rail")))
    for table in (after.sides, after.layers, after.activities, after.dependencies, after.asks):
        assert {row.project_id for row in table.values()} == {PROJECT}
