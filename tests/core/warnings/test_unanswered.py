"""A visit that a crew has not answered."""

from typing import Any

from tests.core.warnings.finding import mended, of, one
from tests.worlds import CLOCK_DAY, World, a_project, on

SILENT = "no answer"
CREW = "Ninepail Plaster"
WORLD = a_project().with_crew(CREW).with_detail("Garden stair rail").with_task("Lath", crew=CREW)


def asked(day: str, world: World = WORLD, **fields: Any) -> World:
    return world.with_booking(CREW, "Lath", on(day), on(f"{day} 15:30"), **fields)


def test_a_crew_that_has_not_answered_late_before_its_visit_is_in_the_way() -> None:
    found = one(SILENT, asked("Dec 4"))
    assert (found.bad, found.crew_id, found.at) == ("in the way", "ninepail-plaster", on("Dec 4"))


def test_two_days_before_there_is_still_time() -> None:
    assert not of(SILENT, asked("Dec 8"), on("Dec 6"))
    assert one(SILENT, asked("Dec 8"), on("Dec 6 7:15"))


def test_a_crew_with_a_longer_notice_has_to_answer_earlier() -> None:
    world = WORLD.with_changed(CREW, notice=4 * CLOCK_DAY)
    assert one(SILENT, asked("Dec 8", world), on("Dec 5"))


def test_before_half_the_time_has_passed_a_crew_may_think() -> None:
    assert not of(SILENT, asked("Dec 4", asked_at=on("Dec 3 10:00")))


def test_an_answer_is_enough_whatever_it_is() -> None:
    assert not of(SILENT, asked("Dec 4", state="coming"))
    assert not of(SILENT, asked("Dec 4", state="can't come"))
    assert not of(SILENT, asked("Dec 4", ended=on("Dec 3")))


def test_a_crew_that_has_begun_has_answered() -> None:
    assert not of(SILENT, asked("Dec 4", WORLD.with_changed("Lath", started=on("Dec 3"))))


def test_each_answer_heard_by_phone_and_taking_it_back_mend_it() -> None:
    found = one(SILENT, asked("Dec 4"))
    assert len(found.mends) == 3
    assert all(SILENT not in left for left in mended(asked("Dec 4"), found))


def test_the_number_to_call_is_said() -> None:
    world = asked("Dec 4", WORLD.with_changed(CREW, phone="555-0103"))
    assert one(SILENT, world).sentence.values["phone"] == "555-0103"
