"""What comes of a marked check: OK to cover, look again, reject; and opened again."""

from dataclasses import replace
from fractions import Fraction
from typing import Any

import pytest

from server.core.changes.holds import CallForLook, LookAgain, OpenAgain, Reject, Release
from server.core.states import hold_state, left_out
from server.core.world import Measurement, Snapshot
from server.core.world.network import forecast
from tests.core.changes.pressing import NOW, pressed, refused
from tests.worlds import CLOCK_DAY, DAY, HOUR, PROJECT, World, a_project, on

DONE = {"started": on("Dec 1"), "finished": on("Dec 1 13:00")}
CREW = "Ore Street Metal"
LEAD = "Ore Street Metal lead"
BY_CREW = {"marked_by_id": "ore-street-metal-lead", "marked_at": on("Dec 3 9:00")}
WORLD = (
    a_project()
    .with_crew(CREW, trade="metal")
    .with_crew("Ninepail Plaster", trade="plaster")
    .with_person("Ada Quill")
    .with_place("Garden stair")
    .with_detail("Garden stair rail")
    .with_layer("Blocking")
    .with_layer("Stand-offs", "steel", parts=7)
    .with_task("Blocking in", puts_in="Blocking", **DONE)
    .with_task(
        "Set the stand-offs",
        after="Blocking in",
        crew=CREW,
        puts_in="Stand-offs",
        place_id="garden-stair",
        hot=True,
        **DONE,
    )
    .with_check(
        "Height",
        after="Set the stand-offs",
        layers=("Stand-offs", "Blocking"),
        marks=CREW,
        parts=7,
        called=on("Dec 2"),
    )
    .with_ask("Height", low="35 7/8", high="36 1/8", part=3)
    .with_ask("Threads taped", unit="yes")
    .with_task("Hang board", crew="Ninepail Plaster", after="Height", covers="Stand-offs")
)
MARKED = WORLD.with_attempt("Height", **BY_CREW)
RELEASE = Release(hold_id="height-check")
REJECT = Reject(hold_id="height-check", rework_id="r1", reason="No. 3 is 1/4 low", rework=2 * HOUR)


def measured(value: str | int, ask: str = "height-1") -> World:
    number = Measurement(
        id="n1", project_id=PROJECT, attempt_id="height-attempt-1", ask_id=ask, typed=str(value),
        value=Fraction(value),
    )  # fmt: skip
    return MARKED.put(number)


def released(*left: int, **fields: Any) -> World:
    at = {"started": NOW, "finished": NOW}
    decided = {"decided_by_id": "rufus-orme", "decided_at": NOW, "left_out": left}
    world = WORLD.with_attempt("Height", "released", **{**BY_CREW, **decided, **fields})
    return world.with_changed("Height", **at)


def state(snapshot: Snapshot) -> str:
    return hold_state(snapshot, snapshot.holds["height-check"], forecast(snapshot, NOW))


def ready(snapshot: Snapshot) -> bool:
    return forecast(snapshot, NOW)["hang-board"].ready


# -- OK to cover --------------------------------------------------------------------------------


def test_what_follows_a_check_is_ready_once_it_is_ok_to_cover() -> None:
    assert not ready(MARKED.snapshot())
    after = pressed(MARKED, RELEASE)
    assert ready(after)
    assert state(after) == "released"


def test_a_release_keeps_who_and_when() -> None:
    attempt = pressed(MARKED, RELEASE).attempts["height-attempt-1"]
    assert (attempt.decided_by_id, attempt.decided_at) == ("rufus-orme", NOW)


def test_all_but_one_part_can_be_ok_and_what_follows_may_start() -> None:
    after = pressed(MARKED, replace(RELEASE, left_out=(3,)))
    assert left_out(after, after.holds["height-check"]) == (3,)
    assert ready(after)


def test_parts_that_were_not_marked_are_left_out_too() -> None:
    after = pressed(WORLD.with_attempt("Height", parts=(1, 2), **BY_CREW), RELEASE)
    assert left_out(after, after.holds["height-check"]) == (3, 4, 5, 6, 7)


def test_a_part_that_was_left_out_is_ok_once_it_was_marked_and_released_itself() -> None:
    world = released(3).with_attempt("Height", parts=(3,), **BY_CREW)
    after = pressed(world, RELEASE)
    assert left_out(after, after.holds["height-check"]) == ()
    assert after.activities["height"].finished == NOW


def test_leaving_out_every_part_is_no_release() -> None:
    command = replace(RELEASE, left_out=(1, 2, 3, 4, 5, 6, 7))
    assert refused(MARKED, command) == ("holds.nothing_left", "left_out")


def test_a_part_that_there_is_not_cannot_be_left_out() -> None:
    command = replace(RELEASE, left_out=(8,))
    assert refused(MARKED, command) == ("holds.no_such_part", "left_out")


def test_a_check_that_nobody_marked_is_not_released() -> None:
    assert refused(WORLD, RELEASE) == ("holds.not_marked", None)


def test_the_second_of_two_who_release_one_check_hears_who_did() -> None:
    assert refused(released(), RELEASE) == ("holds.already_released", None)


def test_whoever_releases_the_rest_before_it_is_marked_hears_that() -> None:
    assert refused(released(3), RELEASE) == ("holds.rest_not_marked", None)


def test_nobody_releases_their_own_mark() -> None:
    own = WORLD.with_attempt("Height")
    assert refused(own, RELEASE) == ("holds.own_mark", None)


def test_nor_that_of_their_own_crew() -> None:
    world = WORLD.with_person("Nell Ore", role="crew", crew_id="ore-street-metal")
    world = world.with_changed("height-check", releases_id="nell-ore")
    assert refused(world.with_attempt("Height", **BY_CREW), RELEASE, "Nell Ore") == (
        "holds.own_mark",
        None,
    )


def test_unless_the_check_says_so() -> None:
    own = WORLD.with_changed("height-check", own_mark_ok=True).with_attempt("Height")
    assert state(pressed(own, RELEASE)) == "released"


def test_only_the_person_named_releases() -> None:
    world = MARKED.with_changed("height-check", releases_id="ada-quill")
    assert refused(world, RELEASE) == ("rights.not_your_check", None)
    assert state(pressed(world, RELEASE, "Ada Quill")) == "released"


def test_a_number_out_of_tolerance_needs_a_reason() -> None:
    assert refused(measured(37), RELEASE) == ("holds.out_needs_reason", "reason")
    command = replace(RELEASE, reason="The engineer takes it")
    assert pressed(measured(37), command).attempts["height-attempt-1"].reason


def test_a_number_on_its_limit_needs_none() -> None:
    assert state(pressed(measured("289/8"), RELEASE)) == "released"


def test_a_number_out_of_tolerance_on_a_part_left_out_needs_none() -> None:
    assert state(pressed(measured(37), replace(RELEASE, left_out=(3,)))) == "released"


def test_a_no_needs_a_reason() -> None:
    assert refused(measured(0, "height-2"), RELEASE) == ("holds.out_needs_reason", "reason")
    assert state(pressed(measured(1, "height-2"), RELEASE)) == "released"


def test_an_outside_look_needs_the_name_of_its_inspector() -> None:
    world = MARKED.with_changed("height-check", authority=True)
    assert refused(world, RELEASE) == ("holds.who_looked", "inspector")
    after = pressed(world, replace(RELEASE, inspector="Mr. Bell, county"))
    assert after.attempts["height-attempt-1"].inspector == "Mr. Bell, county"


def test_the_super_records_an_outside_look_at_what_the_super_marked() -> None:
    world = WORLD.with_changed("height-check", authority=True).with_attempt("Height")
    assert state(pressed(world, replace(RELEASE, inspector="Mr. Bell"))) == "released"


# -- look again ---------------------------------------------------------------------------------


def test_looking_again_by_a_time_moves_no_date() -> None:
    command = LookAgain(hold_id="height-check", by=on("Dec 3 16:00"))
    after = pressed(MARKED, command)
    assert state(after) == "look again"
    assert after.attempts["height-attempt-1"].again_by == on("Dec 3 16:00")
    assert forecast(after, NOW).finish == forecast(MARKED.snapshot(), NOW).finish


def test_looking_again_needs_a_time_still_to_come() -> None:
    command = LookAgain(hold_id="height-check", by=NOW)
    assert refused(MARKED, command) == ("holds.by_in_the_past", "by")


def test_only_what_is_marked_is_looked_at_again() -> None:
    command = LookAgain(hold_id="height-check", by=on("Dec 3 16:00"))
    assert refused(WORLD, command) == ("holds.not_marked", None)


def test_what_is_put_right_is_marked_anew_before_it_is_ok() -> None:
    again = WORLD.with_attempt("Height", "look again", **BY_CREW)
    assert refused(again, RELEASE) == ("holds.not_marked", None)


# -- reject -------------------------------------------------------------------------------------


def test_a_rejection_moves_the_dates_by_its_rework() -> None:
    before, after = MARKED.snapshot(), pressed(MARKED, REJECT)
    # 10:52 and two working hours, noon to 12:30 off
    assert forecast(before, NOW)["hang-board"].early_start == NOW
    assert forecast(after, NOW)["hang-board"].early_start == on("Dec 3 13:22")


def test_a_rejected_attempt_stays_as_it_was_marked() -> None:
    before, after = measured(37).snapshot(), pressed(measured(37), REJECT)
    assert after.attempts["height-attempt-1"].state == "rejected"
    assert after.attempts["height-attempt-1"].marked_at == on("Dec 3 9:00")
    assert after.measurements == before.measurements


def test_rework_is_for_the_crew_that_did_it_in_its_place_on_the_layers_looked_at() -> None:
    after = pressed(MARKED, REJECT)
    rework = after.activities["r1"]
    assert (rework.kind, rework.crew_id, rework.place_id) == (
        "task",
        "ore-street-metal",
        "garden-stair",
    )
    assert rework.hot
    assert (rework.work, rework.rework_of_id) == (2 * HOUR, "height-attempt-1")
    puts_in = {(e.verb, e.layer_id, e.parts) for e in after.effects_of["r1"]}
    assert puts_in == {
        ("puts in", "stand-offs", (1, 2, 3, 4, 5, 6, 7)),
        ("puts in", "blocking", ()),
    }


def test_rework_of_some_parts_is_on_those_parts() -> None:
    after = pressed(WORLD.with_attempt("Height", parts=(3,), **BY_CREW), REJECT)
    assert {e.layer_id: e.parts for e in after.effects_of["r1"]}["stand-offs"] == (3,)


def test_rework_stands_before_its_check_and_after_what_came_before() -> None:
    after = pressed(MARKED, REJECT)
    names = [a.id for a in after.chain_of("garden-stair-rail")]
    assert names.index("set-the-stand-offs") < names.index("r1") < names.index("height")
    arrows = {(d.before_id, d.after_id, d.type) for d in after.dependencies.values()}
    assert {("set-the-stand-offs", "r1", "FS"), ("r1", "height", "FS")} <= arrows


def test_a_rejection_leaves_what_happened_as_it_is() -> None:
    before, after = MARKED.snapshot(), pressed(MARKED, REJECT)
    for id in ("blocking-in", "set-the-stand-offs"):
        assert after.activities[id].finished == before.activities[id].finished


def test_a_rejected_check_is_to_check_again_once_its_rework_is_done() -> None:
    after = pressed(MARKED, REJECT)
    assert state(after) == "rejected"
    done = replace(after.activities["r1"], started=NOW, finished=NOW)
    assert state(after.put(done)) == "to check"


def test_a_rejection_needs_a_reason_and_an_honest_length() -> None:
    assert refused(MARKED, replace(REJECT, reason=" ")) == ("input.no_reason", "reason")
    assert refused(MARKED, replace(REJECT, rework=0)) == ("input.number_outside", "rework")
    assert refused(MARKED, replace(REJECT, rework=900 * DAY))[1] == "rework"


def test_what_was_not_put_right_in_time_can_be_rejected() -> None:
    again = WORLD.with_attempt("Height", "look again", **BY_CREW)
    assert state(pressed(again, REJECT)) == "rejected"


def test_after_a_rejection_the_inspector_has_to_be_called_again() -> None:
    assert pressed(MARKED, REJECT).holds["height-check"].called is None


# -- opened again -------------------------------------------------------------------------------

OPEN = OpenAgain(hold_id="height-check", reason="A screw was found loose")


def test_a_check_opened_again_holds_what_follows_again() -> None:
    after = pressed(released(), OPEN)
    assert state(after) == "to check"
    assert not ready(after)


def test_who_opened_it_and_why_is_kept_beside_the_release() -> None:
    attempt = pressed(released(), OPEN).attempts["height-attempt-1"]
    assert (attempt.state, attempt.decided_at) == ("opened again", NOW)
    assert (attempt.opened_by_id, attempt.opened_reason) == ("rufus-orme", OPEN.reason)


def test_opening_again_opens_every_part() -> None:
    world = released(3).with_attempt("Height", "released", parts=(3,), **BY_CREW)
    after = pressed(world, OPEN)
    assert {a.state for a in after.attempts.values()} == {"opened again"}


def test_what_has_started_behind_a_check_stays_a_fact_when_it_is_opened_again() -> None:
    world = released().with_changed("Hang board", started=NOW)
    assert pressed(world, OPEN).activities["hang-board"].started == NOW


def test_only_what_was_ok_is_opened_again_and_with_a_reason() -> None:
    assert refused(MARKED, OPEN) == ("holds.not_released", None)
    assert refused(released(), replace(OPEN, reason="")) == ("input.no_reason", "reason")


def test_a_mark_that_waits_is_answered_before_its_check_is_opened_again() -> None:
    world = released(3).with_attempt("Height", parts=(3,), **BY_CREW)
    assert refused(world, OPEN) == ("holds.decide_first", None)


# -- called -------------------------------------------------------------------------------------


def test_a_look_comes_its_notice_after_the_call() -> None:
    world = WORLD.with_changed("height-check", notice=CLOCK_DAY, called=None)
    after = pressed(world, CallForLook(hold_id="height-check", called=on("Dec 3 9:00")), LEAD)
    assert forecast(after, NOW)["height"].early_start == on("Dec 4 9:00")


@pytest.mark.parametrize(
    ("world", "called", "why"),
    [
        (WORLD, on("Dec 4"), "actuals.in_the_future"),
        (WORLD, on("Dec 1").replace(year=2015), "input.far_off"),
        (released(), on("Dec 3"), "holds.already_released"),
    ],
)
def test_a_call_that_cannot_be_is_refused(world: World, called: Any, why: str) -> None:
    assert refused(world, CallForLook(hold_id="height-check", called=called))[0] == why
