"""About to be hidden, and hidden while a check was open."""

from typing import Any

import pytest

from server.core.cover import last_look
from server.core.world import Agreed
from server.core.world.network import forecast
from tests.core.warnings.finding import NOW, of, one
from tests.worlds import CLOCK_DAY, DAY, PROJECT, World, a_project, on

ABOUT, HIDDEN = "about to be hidden", "hidden open"
DONE = {"started": on("Dec 1"), "finished": on("Dec 2")}
METAL, BOARD = "Ore Street Metal", "Thimble Hill"
WORLD = (
    a_project()
    .with_crew(METAL, least_visit=120)
    .with_crew(BOARD)
    .with_person("Ada Quill", answers_in=1)
    .with_place("Garden stair")
    .with_detail("Garden stair rail", place_id="garden-stair")
    .with_layer("Stand-offs", parts=3)
    .with_task("Set the stand-offs", crew=METAL, puts_in="Stand-offs", **DONE)
    .with_check(
        "Height",
        after="Set the stand-offs",
        layers="Stand-offs",
        marks=METAL,
        releases="Ada Quill",
        parts=3,
    )
    .with_task("Prime", after=())
    .with_task("Hang board", crew=BOARD, after=("Height", "Prime"), covers="Stand-offs")
)
BUSY = WORLD.with_changed("Prime", work=5 * DAY)
"""The board cannot come before Dec 10, whatever is released."""
READY = WORLD.with_changed("Prime", **DONE)
"""The board waits for nothing but the check."""
MARKED = {"marked_by_id": "ore-street-metal-lead", "marked_at": on("Dec 3 9:00")}


def booked(world: World, day: str, **fields: Any) -> World:
    return world.with_booking(BOARD, "Hang board", on(day), on(f"{day} 15:30"), **fields)


def promised(world: World, day: str, round: int = 1) -> World:
    return world.put(
        Agreed(
            id=f"agreed-{round}",
            project_id=PROJECT,
            activity_id="hang-board",
            detail_id="garden-stair-rail",
            round=round,
            start=on(day),
            finish=on(day),
            by_id="rufus-orme",
            at=NOW,
        )
    )


def look(world: World) -> tuple[Any, str] | None:
    snapshot = world.snapshot()
    found = last_look(snapshot, forecast(snapshot, NOW), snapshot.holds["height-check"])
    return (found.at, found.why) if found else None


# -- the last look ------------------------------------------------------------------------------


def test_the_last_look_is_before_the_visit_of_who_covers() -> None:
    assert look(booked(BUSY, "Dec 8")) == (on("Dec 8"), "visit")


def test_or_before_its_promised_start_if_that_is_earlier() -> None:
    assert look(promised(booked(BUSY, "Dec 8"), "Dec 5")) == (on("Dec 5"), "promise")


def test_or_before_its_earliest_start_as_if_the_check_were_released_now() -> None:
    assert look(booked(BUSY, "Dec 15")) == (on("Dec 10 10:45"), "forecast")


def test_behind_an_open_check_the_last_look_does_not_slide() -> None:
    slow = BUSY.with_changed("height-check", notice=20 * CLOCK_DAY)
    assert look(slow) == (on("Dec 10 10:45"), "forecast")


def test_the_other_checks_on_the_layer_do_not_put_it_off_either() -> None:
    other = BUSY.with_check(
        "Rough", after="Set the stand-offs", layers="Stand-offs", notice=20 * CLOCK_DAY
    ).with_dependency("Rough", "Hang board")
    assert look(other) == (on("Dec 10 10:45"), "forecast")


def test_a_check_of_another_layer_does_put_it_off() -> None:
    other = (
        BUSY.with_layer("Wire")
        .with_check("Wire check", layers="Wire", notice=14 * CLOCK_DAY)
        .with_dependency("Wire check", "Hang board")
    )
    assert look(other) == (on("Dec 17 10:45"), "forecast")


@pytest.mark.parametrize(
    "world",
    [
        booked(BUSY, "Dec 8", state="can't come"),
        booked(BUSY, "Dec 8", ended=NOW),
        booked(BUSY, "Dec 2"),
        promised(BUSY, "Dec 2"),
        promised(promised(BUSY, "Dec 5"), "Dec 12", round=2),
    ],
    ids=["refused", "taken back", "over", "promise passed", "promised anew for later"],
)
def test_a_visit_or_promise_that_does_not_count_says_nothing(world: World) -> None:
    assert look(world) == (on("Dec 10 10:45"), "forecast")


def test_what_nothing_covers_has_no_last_look() -> None:
    assert look(BUSY.with_changed("Hang board", ended=NOW)) is None
    assert look(BUSY.with_changed("Hang board-covers-Stand-offs", verb="opens")) is None


def test_what_covers_only_parts_that_are_ok_does_not_count() -> None:
    released = BUSY.with_attempt("Height", "released", left_out=(3,)).with_changed("Height", **DONE)
    assert look(released) == (on("Dec 10 10:45"), "forecast")
    assert look(released.with_changed("Hang board-covers-Stand-offs", parts=(1, 2))) is None


def test_a_check_that_comes_after_the_cover_has_no_last_look_before_it() -> None:
    knock = BUSY.with_attempt("Height", "released").with_check(
        "Knock", after="Hang board", layers="Stand-offs"
    )
    snapshot = knock.snapshot()
    assert last_look(snapshot, forecast(snapshot, NOW), snapshot.holds["knock-check"]) is None


# -- about to be hidden -------------------------------------------------------------------------


def test_a_check_nobody_marked_with_board_coming_tomorrow_is_lost_work() -> None:
    soon = BUSY.with_changed("height-check", notice=CLOCK_DAY)
    found = one(ABOUT, booked(soon, "Dec 4"))
    assert (found.bad, found.at) == ("lost work", on("Dec 4"))
    assert (found.hold_id, found.layer_ids) == ("height-check", ("stand-offs",))
    assert (found.crew_id, found.place_ids) == ("ore-street-metal", ("garden-stair",))


def test_a_check_that_is_marked_and_not_looked_at_is_its_releasers_to_move() -> None:
    found = one(ABOUT, booked(BUSY, "Dec 4").with_attempt("Height", **MARKED))
    assert (found.bad, found.person_id, found.crew_id) == ("lost work", "ada-quill", None)


def test_a_marked_check_is_only_watched_while_its_releaser_has_time_as_usual() -> None:
    marked = booked(BUSY, "Dec 8").with_attempt("Height", **MARKED)
    assert one(ABOUT, marked).bad == "watch"
    assert one(ABOUT, marked.with_changed("Ada Quill", answers_in=7)).bad == "lost work"


def test_time_for_a_look_and_a_repair_is_no_lost_work() -> None:
    # 10:45 to 3:30 on Wednesday: 4 h 15; a look and the metal crew's least visit take 2 1/2 h
    assert one(ABOUT, booked(BUSY, "Dec 4")).bad == "watch"
    slow = BUSY.with_changed(METAL, least_visit=240)
    assert one(ABOUT, booked(slow, "Dec 4")).bad == "lost work"


def test_ample_time_is_no_warning() -> None:
    assert not of(ABOUT, booked(BUSY, "Dec 5"))
    assert not of(ABOUT, BUSY)


def test_the_night_is_no_time_to_look() -> None:
    assert one(ABOUT, booked(BUSY, "Dec 4"), on("Dec 3 15:30")).bad == "lost work"


def test_a_look_that_was_called_has_less_notice_left_to_run() -> None:
    called = BUSY.with_changed("height-check", notice=2 * CLOCK_DAY)
    assert one(ABOUT, booked(called, "Dec 5")).bad == "lost work"
    done = called.with_changed("height-check", called=on("Dec 2"))
    assert one(ABOUT, booked(done, "Dec 5")).bad == "watch"


def test_where_only_the_forecast_says_when_it_is_watched() -> None:
    assert one(ABOUT, READY).bad == "watch"
    assert one(ABOUT, READY.with_attempt("Height", **MARKED)).bad == "watch"


def test_a_visit_that_leaves_time_is_not_lost_though_the_forecast_comes_first() -> None:
    assert one(ABOUT, booked(READY, "Dec 15").with_attempt("Height", **MARKED)).bad == "watch"
    assert one(ABOUT, booked(READY, "Dec 15")).bad == "watch"


def test_a_promised_day_counts_as_a_visit_does() -> None:
    slow = BUSY.with_changed(METAL, least_visit=240)
    assert one(ABOUT, promised(slow, "Dec 4")).bad == "lost work"


@pytest.mark.parametrize("state", ["look again", "opened again"])
def test_a_check_sent_back_is_still_open(state: str) -> None:
    sent = booked(BUSY, "Dec 4").with_attempt("Height", state, again_by=on("Dec 3 16:00"))
    assert one(ABOUT, sent)


def test_a_released_check_warns_of_nothing() -> None:
    released = booked(BUSY, "Dec 4").with_attempt("Height", "released")
    assert not of(ABOUT, released.with_changed("Height", **DONE))


def test_parts_that_were_left_out_are_about_to_be_hidden() -> None:
    released = booked(BUSY, "Dec 4").with_attempt("Height", "released", left_out=(3,))
    found = one(ABOUT, released.with_changed("Height", **DONE), on("Dec 3 15:30"))
    assert found.bad == "lost work"


def test_parts_left_out_are_about_to_be_hidden_while_the_cover_is_under_way() -> None:
    released = WORLD.with_attempt("Height", "released", left_out=(3,)).with_changed(
        "Height", **DONE
    )
    world = released.with_changed("Hang board", started=on("Dec 3")).with_changed("Prime", **DONE)
    assert one(ABOUT, world).bad == "lost work"
    assert not of(HIDDEN, world)


def test_what_is_not_in_yet_is_not_about_to_be_hidden() -> None:
    world = booked(BUSY, "Dec 4").with_changed("Set the stand-offs", finished=None)
    assert not of(ABOUT, world)


def test_an_invited_look_warns_of_nothing() -> None:
    assert not of(ABOUT, booked(BUSY.with_changed("height-check", witness=True), "Dec 4"))


def test_only_a_look_mends_it() -> None:
    (mend,) = one(ABOUT, booked(BUSY, "Dec 4")).mends
    assert (mend.goto_hold_id, mend.commands) == ("height-check", ())


def test_its_identity_is_the_same_as_time_goes_on_and_changes_with_the_visit() -> None:
    def identity(world: World, at: str = "Dec 3 10:45") -> str:
        return one(ABOUT, world, on(at)).identity

    assert identity(READY) == identity(READY, "Dec 3 14:00")
    slow = BUSY.with_changed(METAL, least_visit=240)
    assert identity(booked(slow, "Dec 4")) == identity(booked(slow, "Dec 4"), "Dec 3 14:00")
    marked = booked(slow, "Dec 4").with_attempt("Height", **MARKED)
    assert identity(booked(slow, "Dec 4")) != identity(marked)


# -- hidden open --------------------------------------------------------------------------------

COVERED = WORLD.with_changed("Hang board", started=on("Dec 2"), finished=on("Dec 3"))


def test_what_was_covered_while_its_check_was_open_is_hidden_open() -> None:
    found = one(HIDDEN, COVERED)
    assert (found.bad, found.hold_id, found.person_id) == (
        "lost work",
        "height-check",
        "ada-quill",
    )
    assert found.layer_ids == ("stand-offs",)


def test_it_is_told_once_and_not_as_about_to_be_hidden_nor_out_of_order_too() -> None:
    assert not of(ABOUT, COVERED)
    ahead = COVERED.with_changed("Prime", **DONE)
    assert not of("out of order", ahead)


def test_what_is_being_covered_with_nothing_ok_is_hidden_open() -> None:
    world = WORLD.with_changed("Hang board", started=on("Dec 3"))
    assert one(HIDDEN, world)
    assert not of(ABOUT, world)


def test_covered_after_the_release_is_no_warning() -> None:
    released = COVERED.with_attempt("Height", "released").with_changed("Height", **DONE)
    assert not of(HIDDEN, released)


def test_a_part_that_was_left_out_and_covered_is_hidden_open() -> None:
    released = COVERED.with_attempt("Height", "released", left_out=(3,)).with_changed(
        "Height", **DONE
    )
    assert one(HIDDEN, released).sentence.values["parts"] == ("No. 3",)
    other = released.with_changed("Hang board-covers-Stand-offs", parts=(1, 2))
    assert not of(HIDDEN, other)


def test_opening_it_up_clears_it() -> None:
    opened = COVERED.with_task(
        "Open up", opens="Stand-offs", started=on("Dec 3"), finished=on("Dec 3 9:00")
    )
    assert not of(HIDDEN, opened)
    earlier = COVERED.with_task(
        "Open up", opens="Stand-offs", started=on("Dec 1"), finished=on("Dec 1 9:00")
    )
    assert of(HIDDEN, earlier)


def test_a_check_opened_again_behind_the_cover_is_hidden_open() -> None:
    assert one(HIDDEN, COVERED.with_attempt("Height", "opened again"))


def test_a_check_that_no_arrow_ties_to_the_cover_is_hidden_all_the_same() -> None:
    world = WORLD.with_task("Tile", covers="Stand-offs", **DONE)
    assert one(HIDDEN, world)


def test_a_check_that_comes_after_the_cover_is_not_hidden_by_it() -> None:
    released = COVERED.with_attempt("Height", "released").with_changed("Height", **DONE)
    assert not of(HIDDEN, released.with_check("Knock", after="Hang board", layers="Stand-offs"))


def test_an_invited_look_is_not_hidden_open() -> None:
    assert not of(HIDDEN, COVERED.with_changed("height-check", witness=True))


def test_the_way_to_the_check_is_what_there_is_to_press() -> None:
    assert [m.goto_hold_id for m in one(HIDDEN, COVERED).mends] == ["height-check"]
