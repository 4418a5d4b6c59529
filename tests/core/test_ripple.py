"""What it pushes in all: the house, its details, and the notes that come and go."""

from server.core.changes.bookings import EndVisit, MoveVisit
from server.core.changes.pushing import ChangeWork, PutOff
from server.core.ripple import ripple
from server.core.world.network import forecast
from tests.core.pushes import HOUSE, RAIL_VISIT, VISITED, after, push, rippled
from tests.worlds import DAY, HOUR, on

UNTIL = PutOff(activity_id="base-coat", until=on("Dec 8"))
MOVE = MoveVisit(booking_id=RAIL_VISIT, start=on("Dec 11"), finish=on("Dec 12 15:30"))
EARLY, NOBODY = "booked before ready", "ready, nobody booked"


def test_the_house_finishes_later_by_working_days() -> None:
    found = rippled(HOUSE, UNTIL)
    assert (found.was, found.now, found.days) == (on("Dec 9 10:45"), on("Dec 11 15:30"), 2)


def test_work_with_days_to_spare_does_not_move_the_house() -> None:
    found = rippled(HOUSE, ChangeWork(activity_id="cap", work=2 * DAY))
    assert (found.was, found.days) == (found.now, 0)
    assert [detail.detail_id for detail in found.pushed.details] == ["landing-cap"]


def test_what_is_pushed_is_in_it() -> None:
    assert rippled(VISITED, UNTIL).pushed == push(VISITED, UNTIL)


def test_a_forecast_that_is_known_already_is_taken() -> None:
    before, status = VISITED.snapshot(), on("Dec 3 10:45")
    known = forecast(before, status)
    assert ripple(before, after(VISITED, UNTIL), status, known) == rippled(VISITED, UNTIL)


def test_a_note_comes_with_a_visit_that_breaks() -> None:
    found = rippled(VISITED, UNTIL)
    assert (EARLY, (RAIL_VISIT,)) in [(w.rule, w.subject) for w in found.come]


def test_a_note_goes_with_a_visit_that_moves() -> None:
    found = rippled(VISITED.with_changed("Base coat", not_before=on("Dec 8")), MOVE)
    assert [(w.rule, w.subject) for w in found.go] == [(EARLY, (RAIL_VISIT,))]
    assert found.come == ()


def test_a_note_goes_when_work_is_put_off_that_nobody_is_asked_for() -> None:
    found = rippled(HOUSE, UNTIL)
    assert (NOBODY, ("base-coat", "ninepail-plaster")) in [(w.rule, w.subject) for w in found.go]


def test_a_note_that_goes_on_with_other_facts_neither_comes_nor_goes() -> None:
    world = VISITED.with_changed("Base coat", not_before=on("Dec 8"))
    found = rippled(world, PutOff(activity_id="base-coat", until=on("Dec 9")))
    assert EARLY not in [w.rule for w in (*found.come, *found.go)]


def test_a_visit_taken_back_takes_its_note_along() -> None:
    world = VISITED.with_changed("Base coat", not_before=on("Dec 8"))
    found = rippled(world, EndVisit(booking_id=RAIL_VISIT))
    assert (EARLY, (RAIL_VISIT,)) in [(w.rule, w.subject) for w in found.go]


def test_a_change_of_hours_within_the_day_has_no_notes() -> None:
    found = rippled(VISITED, ChangeWork(activity_id="base-coat", work=DAY - HOUR))
    assert (found.come, found.go) == ((), ())
