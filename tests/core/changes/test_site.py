"""Readings, drawings, temporary works, accepted notes."""

from dataclasses import replace
from datetime import date
from fractions import Fraction
from typing import Any

import pytest

from server.core.changes.actuals import (
    AcceptWarning,
    AddReading,
    AddSheet,
    AddTemporary,
    LookAtTemporary,
    TakeOutTemporary,
)
from server.core.world import TemporaryWork
from tests.core.changes.pressing import NOW, pressed, refused
from tests.worlds import PROJECT, World, a_project, on

WORLD = (
    a_project()
    .with_crew("Thimble Hill Framing")
    .with_crew("Ninepail Plaster")
    .with_place("Garden stair")
    .with_detail("Garden stair rail")
    .with_detail("Main flight")
)
READING = AddReading(id="r1", place_id="garden-stair", what="wood", typed="8.5%")
SHEET = AddSheet(id="s2", detail_id="garden-stair-rail", number="A-7", revision="2")
SHORE = TemporaryWork(
    id="t1",
    project_id=PROJECT,
    kind="shore",
    name="Shores under the flight",
    crew_id="thimble-hill-framing",
    put_in=on("Dec 1"),
)
STANDING = WORLD.put(SHORE)
LOOK = LookAtTemporary(id="l1", temporary_id="t1")
OUT = TakeOutTemporary(temporary_id="t1", when=on("Dec 3"))
ACCEPT = AcceptWarning(id="w1", warning="x|y", reason="Known", until=date(2025, 12, 10))


def test_a_reading_is_kept_exactly_in_the_unit_of_what_was_read() -> None:
    reading = pressed(WORLD, READING).readings["r1"]
    assert (reading.value, reading.unit, reading.at) == (Fraction("8.5"), "%", NOW)


def test_degrees_are_read_in_either_scale() -> None:
    command = replace(READING, what="air", typed="20 °C")
    assert pressed(WORLD, command).readings["r1"].value == 68


@pytest.mark.parametrize(
    ("what", "typed", "field"),
    [("wood", "120", "typed"), ("wood", "8,5", "typed"), ("mood", "8", "what")],
)
def test_a_reading_that_cannot_be_is_refused(what: str, typed: str, field: str) -> None:
    assert refused(WORLD, replace(READING, what=what, typed=typed))[1] == field


def test_a_new_revision_of_a_drawing_replaces_the_one_before_it() -> None:
    first = pressed(WORLD, replace(SHEET, id="s1", revision="1"))
    after = pressed(World(first), replace(SHEET, replaces_id="s1"))
    assert after.sheets["s1"].replaced_id == "s2"
    assert refused(World(after), replace(SHEET, id="s3", revision="3", replaces_id="s1")) == (
        "site.replaced_already",
        "replaces_id",
    )


def test_a_drawing_replaces_none_of_another_detail() -> None:
    first = pressed(WORLD, replace(SHEET, id="s1", detail_id="main-flight"))
    command = replace(SHEET, replaces_id="s1")
    assert refused(World(first), command) == ("site.replaced_already", "replaces_id")


def test_one_revision_is_there_once() -> None:
    first = pressed(WORLD, replace(SHEET, id="s1", number="a-7"))
    assert refused(World(first), SHEET) == ("site.sheet_there", "revision")


def test_a_temporary_work_is_in_from_now_unless_it_says_since_when() -> None:
    command = AddTemporary(id="t2", kind="stair", name="Temporary stair")
    assert pressed(WORLD, command).temporary["t2"].put_in == NOW
    assert refused(WORLD, replace(command, put_in=on("Dec 4"))) == (
        "actuals.in_the_future",
        "put_in",
    )
    assert refused(WORLD, replace(command, kind="crane"))[1] == "kind"


def test_a_temporary_stair_has_risers_and_a_rise() -> None:
    command = AddTemporary(
        id="t2", kind="stair", name="Temporary stair", risers=14, rise=Fraction(217, 2)
    )
    stair = pressed(WORLD, command).temporary["t2"]
    assert (stair.risers, stair.rise) == (14, Fraction(217, 2))


@pytest.mark.parametrize(
    ("other", "id", "field"),
    [
        ({"kind": "deck", "risers": 3}, "site.risers_of_a_stair", "risers"),
        ({"kind": "rail", "rise": Fraction(36)}, "site.no_rise", "rise"),
        ({"risers": 41}, "input.number_outside", "risers"),
        ({"risers": -1}, "input.number_outside", "risers"),
        ({"rise": Fraction(0)}, "site.absurd_rise", "rise"),
        ({"rise": Fraction(481)}, "site.absurd_rise", "rise"),
    ],
)
def test_what_has_no_risers_or_rise_or_not_so_many_is_refused(
    other: dict[str, Any], id: str, field: str
) -> None:
    command = AddTemporary(**{"id": "t2", "kind": "stair", "name": "Temporary stair", **other})
    assert refused(WORLD, command) == (id, field)


def test_its_crew_looks_at_a_temporary_work() -> None:
    look = pressed(STANDING, LOOK, "Thimble Hill Framing lead").looks["l1"]
    assert (look.by_id, look.at, look.in_order) == ("thimble-hill-framing-lead", NOW, True)


def test_another_crew_does_not() -> None:
    assert refused(STANDING, LOOK, "Ninepail Plaster lead")[0] == "rights.not_your_work"


def test_a_look_that_finds_something_says_what() -> None:
    assert refused(STANDING, replace(LOOK, in_order=False)) == ("site.what_is_wrong", "note")
    found = replace(LOOK, in_order=False, note="A wedge is loose")
    assert not pressed(STANDING, found).looks["l1"].in_order


def test_what_is_out_is_neither_looked_at_nor_taken_out_again() -> None:
    gone = World(pressed(STANDING, OUT))
    assert gone.snapshot().temporary["t1"].taken_out == on("Dec 3")
    assert refused(gone, LOOK)[0] == refused(gone, OUT)[0] == "site.out_already"


def test_a_temporary_work_is_taken_out_after_it_was_put_in_and_not_in_the_future() -> None:
    assert refused(STANDING, replace(OUT, when=on("Nov 28"))) == ("site.out_before_in", "when")
    assert refused(STANDING, replace(OUT, when=on("Dec 4"))) == ("actuals.in_the_future", "when")


def test_a_note_is_accepted_with_a_reason_until_a_day() -> None:
    accepted = pressed(WORLD, ACCEPT).accepted["w1"]
    assert (accepted.warning, accepted.until, accepted.by_id) == (
        "x|y",
        date(2025, 12, 10),
        "rufus-orme",
    )


@pytest.mark.parametrize("until", [date(2025, 12, 2), date(2026, 2, 2)])
def test_a_note_is_accepted_from_today_to_sixty_days(until: date) -> None:
    assert refused(WORLD, replace(ACCEPT, until=until)) == ("site.accept_until", "until")
    assert pressed(WORLD, replace(ACCEPT, until=date(2026, 2, 1)))


def test_a_note_is_not_accepted_without_a_reason_nor_by_a_crew() -> None:
    assert refused(WORLD, replace(ACCEPT, reason="")) == ("input.no_reason", "reason")
    assert refused(WORLD, ACCEPT, "Ninepail Plaster lead")[0] == "rights.role"
