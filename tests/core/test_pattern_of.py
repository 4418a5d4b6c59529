"""A detail taken as a pattern: what is planned goes in, what happened and who does it do not."""

from dataclasses import replace
from datetime import datetime
from typing import Any

import pytest

from server.core.changes.plan import AddDetailFromPattern
from server.core.pattern_of import taken_of
from server.core.patterns import Pattern, PatternActivity
from server.core.world import Snapshot, TemporaryWork, WorkCalendar
from server.core.world.network import forecast
from server.data.patterns import all_patterns, pattern
from tests.core.changes.pressing import pressed
from tests.pages.at_the_wall import garden_rail
from tests.worlds import COMPANY, DAY, PROJECT, World, a_project, id_of, on

NAMED: dict[str, str] = {"id": "own", "name": "Own", "about": "Ours.", "source": "Own numbers."}
each = pytest.mark.parametrize("one", all_patterns(), ids=lambda p: p.id)


def a_house_for(one: Pattern) -> World:
    """A house with a crew for each trade, a person for each role and each way up."""
    world = a_project().with_place("Stairwell")
    for trade in one.trades:
        world = world.with_crew(f"{trade} crew", trade=trade)
    for role in one.roles:
        world = world.with_person(f"{role} person", title=role)
    for way in one.ways:
        world = world.with_way(way)
    return world


def copied(world: World, one: Pattern, id: str = "d9") -> Snapshot:
    """The world with a detail made from a pattern, every open word filled."""
    return pressed(
        world,
        AddDetailFromPattern(
            id=id,
            name=f"New {id}",
            sheet="D9",
            place_id="stairwell",
            content=one,
            crews={trade: id_of(f"{trade} crew") for trade in one.trades},
            people={role: id_of(f"{role} person") for role in one.roles},
            ways={way: id_of(way) for way in one.ways},
        ),
    )


def plain(one: Pattern) -> Pattern:
    """The pattern with numbers for keys, and without what a detail does not keep."""
    keys = [layer.key for layer in one.layers] + [a.key for a in one.chain]
    no = {key: f"k{number}" for number, key in enumerate(keys)} | {"": ""}

    def activity(a: PatternActivity) -> PatternActivity:
        done: dict[str, Any] = {
            field: {no[key]: parts for key, parts in getattr(a, field).items()}
            for field in ("puts_in", "covers", "opens", "needs_open")
        }
        check = a.check and replace(a.check, looks_at=tuple(no[key] for key in a.check.looks_at))
        after = sorted((replace(d, before=no[d.before]) for d in a.after), key=str)
        other = {"sample": no[a.sample], "measured_from": no[a.measured_from]}
        return replace(a, key=no[a.key], after=tuple(after), check=check, **done, **other)

    sides = tuple(
        replace(
            side,
            layers=tuple(
                replace(layer, key=no[layer.key], within=no[layer.within]) for layer in side.layers
            ),
        )
        for side in one.sides
    )
    chain = tuple(activity(a) for a in one.chain)
    return replace(one, id="", name="", about="", source="", sides=sides, chain=chain)


@each
def test_a_copy_taken_as_a_pattern_is_the_pattern_it_was_made_from(one: Pattern) -> None:
    after = copied(a_house_for(one), one)
    assert plain(taken_of(after, "d9", **NAMED).pattern) == plain(one)


@each
def test_a_copy_of_a_copy_has_the_dates_of_the_first(one: Pattern) -> None:
    first = copied(a_house_for(one), one)
    taken = taken_of(first, "d9", **NAMED, apart=True)
    both = pressed(
        World(first),
        AddDetailFromPattern(
            id="d8",
            name="Second",
            sheet="D8",
            place_id="stairwell",
            content=replace(taken.pattern, id=one.id),
            crews=taken.crews,
            people=taken.people,
            ways=taken.ways,
            calendars=taken.calendars,
        ),
    )
    schedule = forecast(both, on("Dec 1"))
    dates = [
        [(schedule[a.id].early_start, schedule[a.id].early_finish) for a in both.chain_of(id)]
        for id in ("d9", "d8")
    ]
    assert dates[0] == dates[1]


def test_nothing_of_what_happened_goes_in() -> None:
    world = (
        garden_rail()
        .with_attempt("Height", state="released", decided_at=on("Dec 3 10:40"))
        .with_changed("Hang board", not_before=on("Dec 4"), finish_by=on("Dec 9"))
    )
    told = repr(taken_of(world.snapshot(), "garden-stair-rail", **NAMED).pattern)
    for said in ("datetime", "Ninepail", "Ore Street", "Thimble", "Rufus", "Lou Vance", "555"):
        assert said not in told


def test_what_is_left_out_is_counted() -> None:
    world = (
        garden_rail()
        .with_place("Landing")
        .with_changed("Garden stair rail", place_id="garden-stair")
        .with_changed("Hang board", not_before=on("Dec 4"), place_id="landing")
        .with_detail("Landing glass")
        .with_decision("Sample")
        .with_task("Shoe", after="Base coat")
        .with_changed("Set stand-offs", sample_id="sample", sheet_id="a-402")
    )
    deck = TemporaryWork(
        id="deck", project_id=PROJECT, name="Deck", kind="deck", crew_id="thimble-hill-framing"
    )
    world = world.put(deck).with_changed("Blocking", temporary="sets", temporary_id="deck")
    left = taken_of(world.snapshot(), "garden-stair-rail", **NAMED).left_out
    assert {what: number for what, number in left.items() if number} == {
        "orders": 1, "places": 1, "dates": 1, "samples": 1, "drawings": 1, "temporary": 1,
    }  # fmt: skip


def test_an_order_to_another_detail_is_left_out() -> None:
    world = garden_rail().with_detail("Landing glass").with_task("Shoe", after="Base coat")
    (shoe,) = taken_of(world.snapshot(), "landing-glass", **NAMED).pattern.chain
    assert shoe.after == ()


def test_ended_layers_and_work_are_left_out_with_what_was_done_to_them() -> None:
    world = (
        garden_rail()
        .with_changed("Board", ended=on("Dec 2"))
        .with_changed("Base coat dries", ended=on("Dec 2"))
    )
    one = taken_of(world.snapshot(), "garden-stair-rail", **NAMED).pattern
    assert "board" not in {layer.key for layer in one.layers}
    assert [a.name for a in one.chain if a.kind == "wait"] == []
    (hang,) = [a for a in one.chain if a.name == "Hang board"]
    assert (dict(hang.puts_in), list(hang.covers)) == ({}, ["stand-offs", "studs-and-blocking"])


def test_rework_is_left_out_and_the_order_around_it_holds() -> None:
    world = (
        garden_rail()
        .with_attempt("Height", state="rejected")
        .with_task("Height: low", after="Set stand-offs", rework_of_id="height-attempt-1")
        .with_dependency("Height: low", "Height")
    )
    taken = taken_of(world.snapshot(), "garden-stair-rail", **NAMED)
    (height,) = [a for a in taken.pattern.chain if a.name == "Height"]
    assert [d.before for d in height.after] == ["set-stand-offs"]
    assert taken.left_out["rework"] == 1


def test_a_number_asked_of_every_part_is_said_once() -> None:
    one = taken_of(garden_rail().snapshot(), "garden-stair-rail", **NAMED).pattern
    (check,) = [a.check for a in one.chain if a.check]
    (ask,) = check.asks
    assert (ask.each, ask.part, check.parts) == (True, None, 7)


def test_a_number_asked_of_some_parts_names_each() -> None:
    world = (
        a_project().with_detail("Rail").with_check("Height", parts=3)
        .with_ask("Height", part=1, nominal=36).with_ask("Height", part=3, nominal=36)
        .with_ask("Straight", unit="yes")
    )  # fmt: skip
    (a,) = taken_of(world.snapshot(), "rail", **NAMED).pattern.chain
    assert a.check is not None
    assert [(ask.label, ask.each, ask.part) for ask in a.check.asks] == [
        ("Height", False, 1),
        ("Height", False, 3),
        ("Straight", False, None),
    ]


TWO_CREWS = (
    a_project()
    .with_crew("Ninepail Plaster", trade="plaster")
    .with_crew("Gable Plaster", trade="plaster")
    .with_person("Ines Abel", title="Engineer")
    .with_person("Mara Quint", title="Engineer")
    .with_detail("Guard")
    .with_task("Base", crew="Ninepail Plaster", with_crew_ids=("gable-plaster",))
    .with_task("Finish", crew="Gable Plaster", after="Base")
    .with_decision("Section", "Ines Abel")
    .with_decision("Sample", "Mara Quint")
)


def test_two_crews_of_one_trade_become_one_in_a_pattern_that_is_kept() -> None:
    one = taken_of(TWO_CREWS.snapshot(), "guard", **NAMED).pattern
    assert one.trades == ("plaster",)
    assert [(a.who, a.along) for a in one.chain[:2]] == [("plaster", ()), ("plaster", ())]


def test_two_crews_of_one_trade_stay_apart_in_a_copy() -> None:
    taken = taken_of(TWO_CREWS.snapshot(), "guard", **NAMED, apart=True)
    base, finish, *_ = taken.pattern.chain
    assert (base.who, base.along, finish.who) == (
        "Ninepail Plaster", ("Gable Plaster",), "Gable Plaster",
    )  # fmt: skip
    assert taken.crews == {
        "Ninepail Plaster": "ninepail-plaster", "Gable Plaster": "gable-plaster"
    }  # fmt: skip


def test_two_people_of_one_title_are_two_roles() -> None:
    taken = taken_of(TWO_CREWS.snapshot(), "guard", **NAMED)
    assert taken.pattern.roles == ("engineer", "engineer 2")
    assert taken.people == {"engineer": "ines-abel", "engineer 2": "mara-quint"}


def test_keys_are_readable_and_each_stands_once() -> None:
    world = (
        a_project().with_detail("Stair").with_layer("Größe & Co").with_layer("階段")
        .with_task("Größe, co").with_task("—")
    )  # fmt: skip
    one = taken_of(world.snapshot(), "stair", **NAMED).pattern
    keys = [layer.key for layer in one.layers] + [a.key for a in one.chain]
    assert keys == ["große-co", "階段", "große-co-2", "task"]


def test_an_invited_look_stays_one_that_stops_nobody() -> None:
    world = garden_rail()
    hold = replace(world.snapshot().holds["height-check"], witness=True, own_mark_ok=True)
    one = taken_of(world.put(hold).snapshot(), "garden-stair-rail", **NAMED).pattern
    (check,) = [a.check for a in one.chain if a.check]
    after = copied(a_house_for(one), one)
    (copy,) = after.holds.values()
    assert (check.witness, check.own_mark_ok) == (copy.witness, copy.own_mark_ok) == (True, True)


def test_hours_of_their_own_and_ways_in_are_taken_along() -> None:
    night = WorkCalendar(id="night", company_id=COMPANY, name="Night", shifts=("0 18:00 22:00",))
    world = (
        a_project(datetime(2025, 12, 1, 7)).put(night).with_way("Main stair")
        .with_detail("Stair").with_delivery("Treads", DAY, calendar_id="night")
        .with_changed("Treads", way_in_id="main-stair")
    )  # fmt: skip
    taken = taken_of(world.snapshot(), "stair", **NAMED)
    (treads,) = taken.pattern.chain
    assert (treads.hours, treads.way_in) == ("Night", "Main stair")
    assert (taken.calendars, taken.ways) == ({"Night": "night"}, {"Main stair": "main-stair"})


def test_the_same_detail_gives_the_same_pattern() -> None:
    after = copied(a_house_for(pattern("wall-rail")), pattern("wall-rail"))
    assert taken_of(after, "d9", **NAMED).pattern == taken_of(after, "d9", **NAMED).pattern
