"""An edge or a hole that is open when the shift ends."""

import pytest

from server.core.world import TemporaryWork
from tests.core.warnings.finding import NOW, mended, of, one
from tests.worlds import DAY, HOUR, PROJECT, World, a_project, on

EDGE = "open edge"
CREW = "Thimble Hill Framing"
WORLD = (
    a_project()
    .with_crew(CREW)
    .with_place("Upper landing", floor="Upper floor")
    .with_place("Main flight")
    .with_detail("Rolled guard", place_id="upper-landing")
    .with_task("Guard off", HOUR, crew=CREW, edge="opens")
    .with_task("Fins and base", DAY, crew=CREW, after="Guard off")
    .with_task("Guard on", HOUR, crew=CREW, after="Fins and base", edge="closes")
)
OPEN = WORLD.with_changed("Guard off", started=on("Dec 3"), finished=on("Dec 3 8:00"))


def temporary(world: World, kind: str, place: str = "upper-landing", **fields: object) -> World:
    work = TemporaryWork(
        id="t1", project_id=PROJECT, kind=kind, name="It", place_id=place, daily=False, put_in=NOW
    )
    return world.put(work).with_changed("t1", **fields)


def test_an_edge_that_is_open_when_the_shift_ends_is_a_danger() -> None:
    found = one(EDGE, OPEN)
    assert (found.bad, found.at, found.crew_id) == (
        "danger",
        on("Dec 3 12:00"),
        "thimble-hill-framing",
    )
    assert found.sentence.values["closes"] == "Guard on"


def test_an_edge_that_is_closed_before_the_shift_ends_is_none() -> None:
    assert not of(EDGE, OPEN.with_changed("Fins and base", ended=NOW))


def test_an_edge_that_has_been_closed_since_is_none() -> None:
    closed = OPEN.with_changed("Guard on", started=on("Dec 3 9:00"), finished=on("Dec 3 10:00"))
    assert not of(EDGE, closed)


def test_what_was_closed_before_it_was_opened_does_not_close_it() -> None:
    before = OPEN.with_changed("Guard on", started=on("Dec 1"), finished=on("Dec 2"))
    assert one(EDGE, before).sentence.id == "warning.open_edge.said"


def test_an_edge_closed_in_the_same_place_by_another_detail_is_closed() -> None:
    world = OPEN.with_changed("Guard on", ended=NOW).with_detail(
        "Wall rail", place_id="main-flight"
    )
    world = world.with_task("Cover", HOUR, edge="closes", started=NOW, place_id="upper-landing")
    assert not of(EDGE, world)
    assert of(EDGE, world.with_changed("Cover", place_id="main-flight"))


@pytest.mark.parametrize("kind", ["rail", "guard", "cover", "deck"])
def test_a_rail_a_guard_a_cover_or_a_deck_there_closes_it(kind: str) -> None:
    assert not of(EDGE, temporary(OPEN, kind))


def test_one_elsewhere_or_out_again_or_of_another_kind_does_not() -> None:
    assert of(EDGE, temporary(OPEN, "guard", place="main-flight"))
    assert of(EDGE, temporary(OPEN, "guard", taken_out=NOW))
    assert of(EDGE, temporary(OPEN, "scaffold"))


def test_an_edge_that_nobody_is_asked_to_open_is_none_yet() -> None:
    assert not of(EDGE, WORLD)


def test_an_edge_that_a_crew_is_asked_to_open_is_foreseen() -> None:
    asked = WORLD.with_booking(CREW, "Guard off", on("Dec 4"), on("Dec 4 15:30"))
    assert one(EDGE, asked).at == on("Dec 4 12:00")


def test_an_edge_that_is_opened_later_than_the_crews_notice_is_not_told_yet() -> None:
    asked = WORLD.with_booking(CREW, "Guard off", on("Dec 8"), on("Dec 8 15:30"))
    assert not of(EDGE, asked)
    assert of(EDGE, asked.with_changed(CREW, notice=5 * 24 * HOUR))


def test_a_guard_that_is_struck_before_the_rail_is_in_leaves_the_edge_open() -> None:
    strikes = {"temporary": "strikes", "temporary_id": "t1", "edge": ""}
    struck = temporary(OPEN, "guard").with_changed("Guard off", **strikes)
    assert of(EDGE, struck)
    assert not of(EDGE, struck.with_changed("Guard on", started=on("Dec 1"), finished=on("Dec 2")))
    assert not of(EDGE, struck.with_changed("t1", kind="scaffold"))


def test_a_guard_that_nothing_is_planned_to_take_the_place_of_is_struck_for_good() -> None:
    strikes = {"temporary": "strikes", "temporary_id": "t1", "edge": ""}
    struck = temporary(OPEN, "guard").with_changed("Guard off", **strikes)
    assert not of(EDGE, struck.with_changed("Guard on", edge=""))


def test_a_rail_or_a_cover_that_is_in_and_looked_at_mends_it() -> None:
    found = one(EDGE, OPEN)
    assert [mend.label.id for mend in found.mends] == ["warning.rail_in", "warning.cover_in"]
    assert all(EDGE not in left for left in mended(OPEN, found))


def test_opening_it_in_the_morning_mends_what_can_be_closed_by_noon() -> None:
    world = WORLD.with_changed("Fins and base", ended=NOW).with_dependency("Guard off", "Guard on")
    world = world.with_changed("Guard off", work=2 * HOUR).with_changed("Guard on", work=2 * HOUR)
    begun = world.with_task("Set out", 2 * HOUR, crew=CREW, started=on("Dec 3"))
    found = one(EDGE, begun)
    assert found.mends[-1].label.id == "warning.put_off"
    assert all(EDGE not in left for left in mended(begun, found))
