"""An activity comes into a chain, is changed, leaves it."""

from dataclasses import replace
from fractions import Fraction
from typing import Any

import pytest

from server.core.changes.plan import (
    ActivityFacts,
    AddActivity,
    AskFacts,
    ChangeActivity,
    CheckFacts,
    EndActivity,
)
from server.core.world import Measurement, Snapshot
from tests.core.changes.pressing import NOW, pressed, refused
from tests.worlds import CLOCK_DAY, DAY, a_project, on

WORLD = (
    a_project()
    .with_crew("Ninepail Plaster", trade="plaster")
    .with_crew("Haymow Insulation", trade="insulation", ended=on("Nov 28"))
    .with_place("Garden stair")
    .with_detail("Main flight")
    .with_layer("Treads")
    .with_detail("Garden stair rail")
    .with_layer("Stand-offs", parts=7)
    .with_layer("Board", "board")
    .with_task("Set the stand-offs", puts_in="Stand-offs", after=())
    .with_check("Height", after="Set the stand-offs", layers="Stand-offs", parts=7)
    .with_ask("Height of No. 1", low="35 7/8", part=1, tag="P")
    .with_task("Hang board", crew="Ninepail Plaster", after="Height", covers="Stand-offs")
    .with_task("Base coat", crew="Ninepail Plaster", after="Hang board")
)


def facts(**other: Any) -> ActivityFacts:
    return ActivityFacts(**{"name": "Tape the joints", "work": 2 * 60, **other})


def added(check: CheckFacts | None = None, **other: Any) -> AddActivity:
    return AddActivity(
        id="a9", detail_id="garden-stair-rail", facts=facts(**other), hold_id="h9", check=check
    )


def changed(name: str, /, **other: Any) -> ChangeActivity:
    """The facts an activity has, but for these."""
    activity = WORLD.snapshot().activities[name]
    covers = {e.layer_id: e.parts for e in WORLD.snapshot().effects_of.get(name, ())}
    same = {"name": activity.name, "work": activity.work, "crew_id": activity.crew_id}
    verb = "covers" if name == "hang-board" else "puts_in"
    return ChangeActivity(activity_id=name, facts=ActivityFacts(**{**same, verb: covers, **other}))


def names(snapshot: Snapshot) -> list[str]:
    return [a.name for a in snapshot.chain_of("garden-stair-rail")]


def arrows(snapshot: Snapshot) -> set[tuple[str, str, str]]:
    return {(d.before_id, d.after_id, d.type) for d in snapshot.dependencies.values()}


def test_an_activity_stands_behind_the_one_it_is_put_behind() -> None:
    after = pressed(WORLD, replace(added(), behind_id="hang-board"))
    assert names(after) == [
        "Set the stand-offs",
        "Height",
        "Hang board",
        "Tape the joints",
        "Base coat",
    ]


def test_an_activity_put_behind_nothing_stands_at_the_end() -> None:
    assert names(pressed(WORLD, added()))[-1] == "Tape the joints"


def test_what_it_comes_after_and_does_come_with_it() -> None:
    command = replace(added(covers={"board": ()}), after=("hang-board", "hang-board", "height"))
    after = pressed(WORLD, command)
    assert {("hang-board", "a9", "FS"), ("height", "a9", "FS")} <= arrows(after)
    assert [(e.verb, e.layer_id) for e in after.effects_of["a9"]] == [("covers", "board")]
    assert len(after.before["a9"]) == 2


def test_a_check_comes_with_its_hold_point_and_asks() -> None:
    check = CheckFacts(
        what=" The joints ",
        layer_ids=("board",),
        parts=2,
        asks=(AskFacts(label="Gap", high=Fraction(1, 16)), AskFacts(label="Taped", unit="yes")),
    )
    after = pressed(WORLD, added(check, kind="hold", work=0))
    assert after.hold_of["a9"].id == "h9"
    assert after.hold_of["a9"].what == "The joints"
    assert [ask.label for ask in after.asks_of["h9"]] == ["Gap", "Taped"]


@pytest.mark.parametrize(
    ("other", "id", "field"),
    [
        ({"name": ""}, "input.no_name", "name"),
        ({"name": "x" * 121}, "input.long_name", "name"),
        ({"note": "x" * 2001}, "input.long_text", "note"),
        ({"kind": "milestone"}, "input.not_a_choice", "kind"),
        ({"kind": "hold"}, "plan.check_needed", "kind"),
        ({"work": 0}, "plan.no_time", "work"),
        ({"work": -1}, "plan.negative_time", "work"),
        ({"work": 2 * 52 * 5 * 480 + 1}, "plan.absurd_time", "work"),
        ({"kind": "wait", "work": 2 * 365 * CLOCK_DAY + 1}, "plan.absurd_time", "work"),
        ({"low": 121}, "plan.low_over_work", "low"),
        ({"low": -1}, "plan.negative_time", "low"),
        ({"high": 119}, "plan.high_under_work", "high"),
        ({"crew_id": "nobody"}, "change.gone", "crew_id"),
        ({"crew_id": "haymow-insulation"}, "change.gone", "crew_id"),
        (
            {"crew_id": "ninepail-plaster", "with_crew_ids": ("ninepail-plaster",)},
            "plan.crew_twice",
            "with_crew_ids",
        ),
        ({"with_crew_ids": ("nobody",)}, "change.gone", "with_crew_ids"),
        ({"person_id": "nobody"}, "change.gone", "person_id"),
        ({"place_id": "roof"}, "change.gone", "place_id"),
        ({"calendar_id": "nights"}, "change.gone", "calendar_id"),
        ({"opens_way_id": "chute"}, "change.gone", "opens_way_id"),
        ({"edge": "ajar"}, "input.not_a_choice", "edge"),
        ({"not_before": on("Dec 9").replace(year=2052)}, "input.far_off", "not_before"),
        (
            {"not_before": on("Dec 9"), "finish_by": on("Dec 9")},
            "plan.finish_before_start",
            "finish_by",
        ),
        ({"work": DAY + 1, "one_day": True}, "plan.longer_than_a_day", "work"),
        ({"puts_in": {"attic": ()}}, "change.gone", "puts_in"),
        ({"covers": {"treads": ()}}, "plan.layer_elsewhere", "covers"),
        ({"measured_from_id": "treads"}, "plan.layer_elsewhere", "measured_from_id"),
        ({"opens": {"stand-offs": (0,)}}, "plan.no_such_part", "opens"),
        ({"opens": {"stand-offs": (8,)}}, "plan.no_such_part", "opens"),
        ({"opens": {"board": (1,)}}, "plan.no_such_part", "opens"),
        ({"kind": "wait", "covers": {"board": ()}}, "plan.only_a_task", "covers"),
        (
            {"puts_in": {"board": ()}, "covers": {"board": ()}},
            "plan.puts_in_and_covers",
            "covers",
        ),
    ],
)
def test_a_wrong_fact_is_refused_at_its_field(other: Any, id: str, field: str) -> None:
    assert refused(WORLD, added(**other)) == (id, field)


@pytest.mark.parametrize(
    "other",
    [
        {"work": DAY, "one_day": True},
        {"work": 2 * 52 * 5 * 480},
        {"low": 120, "high": 120},
        {"opens": {"stand-offs": (7, 1, 7)}},
    ],
)
def test_what_lies_on_a_limit_is_taken(other: Any) -> None:
    assert "a9" in pressed(WORLD, added(**other)).activities


def test_parts_stand_in_order_each_once() -> None:
    after = pressed(WORLD, added(opens={"stand-offs": (7, 1, 7)}))
    assert after.effects_of["a9"][0].parts == (1, 7)


def test_crews_that_never_work_at_the_same_hours_are_not_put_together() -> None:
    nights = {"shifts": ("0 20:00 24:00",), "name": "Nights", "id": "nights"}
    week = WORLD.snapshot().calendars["site"]
    world = WORLD.put(replace(week, **nights)).with_crew("Night Glass", calendar_id="nights")
    command = added(crew_id="ninepail-plaster", with_crew_ids=("night-glass",))
    assert refused(world, command) == ("plan.never_together", "with_crew_ids")


@pytest.mark.parametrize(
    ("other", "id", "field"),
    [
        ({"what": ""}, "input.no_name", "what"),
        ({"photos": 51}, "input.number_outside", "photos"),
        ({"parts": -1}, "input.number_outside", "parts"),
        ({"notice": -60}, "input.number_outside", "notice"),
        ({"layer_ids": ("treads",)}, "plan.layer_elsewhere", "layer_ids"),
        ({"marks_crew_id": "nobody"}, "change.gone", "marks_crew_id"),
        ({"releases_id": "nobody"}, "change.gone", "releases_id"),
        (
            {"releases_id": "rufus-orme", "authority": True},
            "plan.authority_and_person",
            "releases_id",
        ),
        ({"asks": (AskFacts(label=""),)}, "input.no_name", "label"),
        ({"asks": (AskFacts(label="Gap", unit="cubits"),)}, "input.not_a_choice", "unit"),
        ({"asks": (AskFacts(label="Gap", part=1),)}, "plan.no_part_of_check", "part"),
        (
            {"asks": (AskFacts(label="Fast", unit="yes", low=Fraction(1)),)},
            "plan.question_with_limits",
            "unit",
        ),
        (
            {"asks": (AskFacts(label="Gap", far_high=Fraction(1)),)},
            "plan.second_band_alone",
            "low",
        ),
        (
            {"asks": (AskFacts(label="Gap", low=Fraction(2), high=Fraction(1)),)},
            "measure.limits_reversed",
            None,
        ),
        (
            {"asks": (AskFacts(label="Gap", high=Fraction(2), far_high=Fraction(1)),)},
            "measure.bands_cross",
            "far_low",
        ),
    ],
)
def test_a_wrong_check_is_refused_at_its_field(other: Any, id: str, field: str) -> None:
    check = CheckFacts(**{"what": "The joints", **other})
    assert refused(WORLD, added(check, kind="hold", work=0)) == (id, field)


def test_an_activity_comes_only_after_what_is_in_a_chain() -> None:
    world = WORLD.with_changed("Hang board", ended=NOW)
    command = replace(added(), after=("hang-board",))
    assert refused(world, command) == ("change.gone", "after")


def test_a_changed_activity_keeps_the_rows_that_stay_as_they_were() -> None:
    after = pressed(WORLD, changed("hang-board", work=DAY // 2))
    assert after.activities["hang-board"].work == DAY // 2
    assert after.effects == WORLD.snapshot().effects


def test_effects_that_are_not_named_any_more_go() -> None:
    after = pressed(WORLD, changed("hang-board", covers={"board": ()}))
    assert [(e.verb, e.layer_id) for e in after.effects_of["hang-board"]] == [("covers", "board")]


def test_another_time_is_no_longer_common_practice() -> None:
    world = WORLD.with_changed("Hang board", tag="P")
    other_name = pressed(world, changed("hang-board", name="Hang the board"))
    other_time = pressed(world, changed("hang-board", work=DAY // 2))
    assert other_name.activities["hang-board"].tag == "P"
    assert other_time.activities["hang-board"].tag == ""


def test_the_kind_stays() -> None:
    assert refused(WORLD, changed("hang-board", kind="wait", covers={})) == (
        "plan.kind_stays",
        "kind",
    )


def test_a_done_activity_may_be_called_otherwise() -> None:
    world = WORLD.with_changed("Hang board", started=on("Dec 1"), finished=on("Dec 1 15:30"))
    after = pressed(world, changed("hang-board", name="Board hung", note="In two goes"))
    assert after.activities["hang-board"].name == "Board hung"
    assert after.activities["hang-board"].note == "In two goes"


@pytest.mark.parametrize(
    ("other", "field"),
    [({"work": 60}, "work"), ({"crew_id": None}, "crew_id"), ({"covers": {}}, "covers")],
)
def test_nothing_else_of_a_done_activity_changes(other: Any, field: str) -> None:
    world = WORLD.with_changed("Hang board", started=on("Dec 1"), finished=on("Dec 1 15:30"))
    assert refused(world, changed("hang-board", **other)) == ("plan.done_already", field)


HEIGHT = AskFacts(label="Height of No. 1", part=1, low=Fraction(287, 8))


def a_changed_check(*asks: AskFacts, **other: Any) -> ChangeActivity:
    check = CheckFacts(what="Height", layer_ids=("stand-offs",), parts=7, asks=asks, **other)
    return ChangeActivity(
        activity_id="height", facts=facts(name="Height", kind="hold", work=0), check=check
    )


def test_an_ask_that_stays_keeps_its_row_and_where_its_number_is_from() -> None:
    after = pressed(WORLD, a_changed_check(AskFacts(label="Plumb", unit="yes"), HEIGHT))
    plumb, height = after.asks_of["height-check"]
    assert (plumb.label, plumb.tag) == ("Plumb", "")
    assert (height.id, height.tag) == ("height-1", "P")


def test_an_ask_with_another_limit_is_no_longer_common_practice() -> None:
    after = pressed(WORLD, a_changed_check(replace(HEIGHT, low=Fraction(35))))
    assert after.asks["height-1"].tag == ""


def test_an_ask_that_was_measured_stays() -> None:
    world = WORLD.with_attempt("Height").put(
        Measurement(
            id="m1",
            project_id="quarry-road",
            attempt_id="height-attempt-1",
            ask_id="height-1",
            typed="36",
            value=Fraction(36),
        )
    )
    assert refused(world, a_changed_check()) == ("plan.ask_has_numbers", "asks")


def test_an_ended_activity_leaves_the_chain_and_keeps_its_row() -> None:
    after = pressed(WORLD, EndActivity(activity_id="hang-board"))
    assert "Hang board" not in names(after)
    assert after.activities["hang-board"].ended == NOW


def test_what_followed_an_ended_check_still_follows_what_came_before_it() -> None:
    after = pressed(WORLD, EndActivity(activity_id="height"))
    assert ("set-the-stand-offs", "hang-board", "FS") in arrows(after)


def test_a_bridge_carries_no_time_when_several_lead_over_it() -> None:
    world = (
        WORLD.with_task("Clear the room")
        .with_dependency("Clear the room", "Hang board")
        .with_changed("Hang board>Base coat", lag=600)
    )
    after = pressed(world, EndActivity(activity_id="hang-board"))
    bridges = [d for d in after.dependencies.values() if d.after_id == "base-coat"]
    assert {(d.before_id, d.lag) for d in bridges} == {("height", 0), ("clear-the-room", 0)}


def test_the_only_bridge_carries_the_times_of_both() -> None:
    world = WORLD.with_changed("Hang board>Base coat", lag=600)
    after = pressed(world, EndActivity(activity_id="hang-board"))
    (bridge,) = after.before["base-coat"]
    assert (bridge.before_id, bridge.lag) == ("height", 600)


def test_a_bridge_keeps_the_ends_that_were_tied() -> None:
    world = WORLD.with_changed("Height>Hang board", type="SS")
    after = pressed(world, EndActivity(activity_id="hang-board"))
    assert ("height", "base-coat", "SS") in arrows(after)


def test_an_order_that_holds_already_gets_no_bridge() -> None:
    world = WORLD.with_dependency("Height", "Base coat")
    after = pressed(world, EndActivity(activity_id="hang-board"))
    assert len(after.before["base-coat"]) == 1


def test_work_that_was_done_keeps_what_it_did() -> None:
    world = WORLD.with_changed("Set the stand-offs", started=on("Dec 1"))
    after = pressed(world, EndActivity(activity_id="set-the-stand-offs", reason="Done over"))
    assert after.effects_of["set-the-stand-offs"]


def test_work_that_was_only_planned_takes_along_what_it_would_have_done() -> None:
    after = pressed(WORLD, EndActivity(activity_id="set-the-stand-offs"))
    assert "set-the-stand-offs" not in after.effects_of


def test_a_check_that_was_marked_is_ended_only_with_a_reason() -> None:
    world = WORLD.with_attempt("Height")
    assert refused(world, EndActivity(activity_id="height")) == ("input.no_reason", "reason")
    after = pressed(world, EndActivity(activity_id="height", reason="Looked at with the string"))
    assert after.activities["height"].ended_reason == "Looked at with the string"
    assert "height-attempt-1" in after.attempts


@pytest.mark.parametrize("state", ["asked", "coming"])
def test_what_a_crew_is_to_come_for_is_not_ended(state: str) -> None:
    world = WORLD.with_booking(
        "Ninepail Plaster", "Hang board", on("Dec 4"), on("Dec 4 15:30"), state=state
    )
    assert refused(world, EndActivity(activity_id="hang-board"))[0] == "plan.still_booked"


def test_what_a_crew_cannot_come_for_may_be_ended() -> None:
    world = WORLD.with_booking(
        "Ninepail Plaster", "Hang board", on("Dec 4"), on("Dec 4 15:30"), state="can't come"
    )
    assert pressed(world, EndActivity(activity_id="hang-board")).activities["hang-board"].ended
