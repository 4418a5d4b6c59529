"""A check is marked ready to look at: when, with which numbers and photos, for which parts."""

from dataclasses import replace
from fractions import Fraction
from typing import Any

import pytest

from server.core.changes import change
from server.core.changes.holds import AddPhoto, DropPhoto, Mark
from server.core.changes.marking import NumbersMissing
from server.core.world import Photo, Sheet, Snapshot
from server.words import say
from tests.core.changes.pressing import NOW, pressed, refused
from tests.worlds import CLOCK_DAY, PROJECT, World, a_project, actor, on

DONE = {"started": on("Dec 1"), "finished": on("Dec 1 13:00")}
CREW = "Ore Street Metal"
LEAD = "Ore Street Metal lead"
WORLD = (
    a_project()
    .with_crew(CREW, trade="metal")
    .with_crew("Ninepail Plaster", trade="plaster")
    .with_detail("Garden stair rail")
    .with_layer("Stand-offs", "steel", parts=3)
    .with_task("Set the stand-offs", crew=CREW, puts_in="Stand-offs", **DONE)
    .with_check(
        "Height", after="Set the stand-offs", layers="Stand-offs", marks=CREW, parts=3, photos=1
    )
    .with_ask("Height", nominal=36, low="35 7/8", high="36 1/8", part=1)
    .with_ask("Height", nominal=36, low="35 7/8", high="36 1/8", part=2)
    .with_ask("Height", nominal=36, low="35 7/8", high="36 1/8", part=3)
    .with_ask("Threads taped", unit="yes")
)


def photo(id: str = "p1", by: str = "ore-street-metal-lead", **fields: Any) -> Photo:
    return Photo(
        id=id, project_id=PROJECT, sha256="a" * 64, width=800, height=600, by_id=by, at=NOW,
        **{"hold_id": "height-check", **fields},
    )  # fmt: skip


WITH_PHOTO = WORLD.put(photo())
GOOD = {"height-1": "36", "height-2": "36 1/16", "height-3": "35-15/16", "height-4": "yes"}
MARK = Mark(id="m1", hold_id="height-check", numbers=GOOD, photo_ids=("p1",))


def all_refused(world: World, command: Mark) -> list[tuple[str, str | None]]:
    before = world.snapshot()
    with pytest.raises(NumbersMissing) as caught:
        change(before, actor(before, LEAD), command, NOW)
    assert all(say(one.message) for one in caught.value.all)
    return [(one.id, one.field) for one in caught.value.all]


def values(snapshot: Snapshot) -> list[Fraction]:
    return [m.value for m in snapshot.measurements.values()]


def left_out() -> World:
    """The check is released, all but No. 3."""
    at = on("Dec 2")
    decided = {"decided_by_id": "rufus-orme", "decided_at": at, "left_out": (3,)}
    return WITH_PHOTO.with_attempt("Height", "released", **decided).with_changed(
        "Height", started=at, finished=at
    )


def test_a_mark_keeps_each_number_as_it_was_typed_and_as_a_fraction() -> None:
    after = pressed(WITH_PHOTO, MARK, LEAD)
    assert [m.typed for m in after.measurements.values()] == ["36", "36 1/16", "35-15/16", "yes"]
    assert values(after) == [36, Fraction(577, 16), Fraction(575, 16), 1]


def test_a_mark_is_an_attempt_of_its_own_with_who_and_when() -> None:
    attempt = pressed(WITH_PHOTO, MARK, LEAD).attempts["m1"]
    assert (attempt.no, attempt.state, attempt.parts) == (1, "marked", ())
    assert (attempt.marked_by_id, attempt.marked_at) == ("ore-street-metal-lead", NOW)


def test_a_mark_takes_its_draft_photos_with_it() -> None:
    assert pressed(WITH_PHOTO, MARK, LEAD).photos["p1"].attempt_id == "m1"


def test_the_drawing_that_counts_now_is_kept_with_the_mark() -> None:
    old = Sheet(id="s1", project_id=PROJECT, detail_id="garden-stair-rail", number="A-7",
                revision="1", replaced_id="s2")  # fmt: skip
    new = replace(old, id="s2", revision="2", replaced_id=None)
    assert pressed(WITH_PHOTO.put(old, new), MARK, LEAD).attempts["m1"].sheet_id == "s2"


def test_the_super_may_mark_too() -> None:
    world = WORLD.put(photo(by="rufus-orme"))
    assert pressed(world, MARK).attempts["m1"].marked_by_id == "rufus-orme"


def test_another_crew_may_not_mark() -> None:
    assert refused(WITH_PHOTO, MARK, "Ninepail Plaster lead")[0] in {
        "rights.hidden",
        "rights.not_your_check",
        "rights.not_your_check_super",
    }


def test_a_check_is_not_marked_before_what_it_looks_at_is_done() -> None:
    world = WITH_PHOTO.with_changed("Set the stand-offs", finished=None)
    assert refused(world, MARK, LEAD) == ("holds.not_done_yet", None)


def test_a_check_is_not_marked_before_a_layer_it_looks_at_is_in_though_no_arrow_says_so() -> None:
    world = WITH_PHOTO.with_task("Set the last stand-off", puts_in="Stand-offs")
    assert refused(world, MARK, LEAD) == ("holds.not_done_yet", None)


def test_what_puts_more_in_after_the_check_does_not_hold_it() -> None:
    world = WITH_PHOTO.with_task("Set the covers", after="Height", puts_in="Stand-offs")
    assert pressed(world, MARK, LEAD).attempts["m1"]


def test_a_check_behind_a_wait_is_marked_once_the_wait_has_run_out_by_itself() -> None:
    dries = WITH_PHOTO.with_wait("Epoxy cures", CLOCK_DAY, after="Set the stand-offs")
    assert pressed(dries.with_dependency("Epoxy cures", "Height"), MARK, LEAD).attempts["m1"]
    long = WITH_PHOTO.with_wait("Epoxy cures", 9 * CLOCK_DAY, after="Set the stand-offs")
    world = long.with_dependency("Epoxy cures", "Height")
    assert refused(world, MARK, LEAD) == ("holds.not_done_yet", None)


def test_a_check_that_is_marked_is_not_marked_again() -> None:
    assert refused(WITH_PHOTO.with_attempt("Height"), MARK, LEAD)[0] == "holds.already_marked"


def test_a_check_that_is_released_whole_is_not_marked_again() -> None:
    world = WITH_PHOTO.with_attempt("Height", "released", decided_at=NOW)
    assert refused(world, MARK, LEAD)[0] == "holds.already_released"


@pytest.mark.parametrize("state", ["look again", "rejected", "opened again"])
def test_a_check_that_was_sent_back_is_marked_as_the_next_attempt(state: str) -> None:
    after = pressed(WITH_PHOTO.with_attempt("Height", state), MARK, LEAD)
    assert after.attempts["m1"].no == 2
    assert after.attempts["height-attempt-1"].state == state


def test_a_missing_number_is_named_by_its_field() -> None:
    command = replace(MARK, numbers={**GOOD, "height-2": " "})
    assert refused(WITH_PHOTO, command, LEAD) == ("measure.empty", "ask-height-2")


def test_all_that_is_missing_is_told_at_once() -> None:
    command = Mark(id="m1", hold_id="height-check", numbers={"height-1": "1/0", "height-2": "36"})
    assert all_refused(WORLD, command) == [
        ("measure.over_zero", "ask-height-1"),
        ("measure.empty", "ask-height-3"),
        ("holds.yes_or_no", "ask-height-4"),
        ("holds.photos_missing", "photos"),
    ]


@pytest.mark.parametrize(
    ("typed", "id"),
    [
        ("1/0", "measure.over_zero"),
        ("36,06", "measure.decimal_comma"),
        ("1,016", "measure.thousands_comma"),
        ("914", "measure.maybe_mm"),
        ("about 36", "measure.not_a_number"),
    ],
)
def test_a_number_that_cannot_be_read_is_refused_beside_its_field(typed: str, id: str) -> None:
    command = replace(MARK, numbers={**GOOD, "height-1": typed})
    assert refused(WITH_PHOTO, command, LEAD) == (id, "ask-height-1")


def test_bare_millimeters_are_asked_about_where_only_limits_are_known() -> None:
    world = WITH_PHOTO.with_changed("height-1", nominal=None, low=Fraction(34), high=Fraction(38))
    command = replace(MARK, numbers={**GOOD, "height-1": "914"})
    assert refused(world, command, LEAD) == ("measure.maybe_mm", "ask-height-1")


def test_a_number_out_of_tolerance_may_be_marked() -> None:
    command = replace(MARK, numbers={**GOOD, "height-1": "37", "height-4": "no"})
    assert values(pressed(WITH_PHOTO, command, LEAD))[0] == 37


def test_too_few_photos_are_refused() -> None:
    assert refused(WITH_PHOTO, replace(MARK, photo_ids=()), LEAD) == (
        "holds.photos_missing",
        "photos",
    )


def test_one_photo_named_twice_is_one_photo() -> None:
    world = WITH_PHOTO.with_changed("height-check", photos=2)
    command = replace(MARK, photo_ids=("p1", "p1"))
    assert refused(world, command, LEAD) == ("holds.photos_missing", "photos")


@pytest.mark.parametrize(
    "other",
    [
        photo(by="rufus-orme"),
        photo(hold_id=None),
        photo(attempt_id="m0"),
    ],
    ids=["another person's", "of no check", "of an earlier mark"],
)
def test_only_drafts_that_the_same_person_took_for_this_check_count(other: Photo) -> None:
    assert refused(WORLD.put(other), MARK, LEAD) == ("holds.other_photo", "photos")


def test_some_parts_can_be_marked_and_only_their_numbers_are_asked() -> None:
    numbers = {"height-2": "36", "height-4": "yes"}
    command = replace(MARK, parts=(2,), numbers=numbers)
    after = pressed(WITH_PHOTO, command, LEAD)
    assert after.attempts["m1"].parts == (2,)
    assert len(after.measurements) == 2


def test_a_part_that_there_is_not_is_refused() -> None:
    assert refused(WITH_PHOTO, replace(MARK, parts=(4,)), LEAD) == ("holds.no_such_part", "parts")


def test_parts_that_were_left_out_are_marked_again_with_their_own_numbers() -> None:
    after = pressed(left_out(), replace(MARK, numbers={"height-3": "36"}), LEAD)
    assert after.attempts["m1"].parts == (3,)
    assert values(after) == [36]


def test_a_part_that_is_ok_already_is_not_marked_again() -> None:
    assert refused(left_out(), replace(MARK, parts=(1,)), LEAD) == ("holds.no_such_part", "parts")


def test_a_photo_comes_in_as_a_draft_of_its_check() -> None:
    command = AddPhoto(id="p9", hold_id="height-check", sha256="b" * 64, width=800, height=600)
    taken = pressed(WORLD, command, LEAD).photos["p9"]
    assert (taken.hold_id, taken.attempt_id, taken.by_id) == (
        "height-check",
        None,
        "ore-street-metal-lead",
    )


def test_a_draft_can_be_taken_away_again() -> None:
    assert not pressed(WITH_PHOTO, DropPhoto(photo_id="p1"), LEAD).photos


def test_a_photo_that_went_with_a_mark_stays() -> None:
    world = WORLD.put(photo(attempt_id="m0"))
    assert refused(world, DropPhoto(photo_id="p1"), LEAD) == ("holds.photo_is_evidence", "photos")


def test_a_check_that_left_the_chain_is_gone() -> None:
    world = WITH_PHOTO.with_changed("Height", ended=NOW)
    assert refused(world, MARK)[0] == "change.gone"
