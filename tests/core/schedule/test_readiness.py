"""What may start now."""

from dataclasses import replace

from server.core.schedule import Activity, Dependency, Kind
from tests.core.schedule.chains import DAY, MONDAY, TUESDAY, WEDNESDAY, at, computed

FRAMED = Activity("frame", DAY, started=at(MONDAY), finished=at(MONDAY, "15:30"))
FRAMING = replace(FRAMED, finished=None, remaining=60)
BOARD = Activity("board", DAY)
LOOK = Activity("look", 0, kind=Kind.HOLD)
RELEASED = replace(LOOK, finished=at(MONDAY, "15:30"))


def is_ready(id: str, activities: list[Activity], dependencies: list[Dependency]) -> bool:
    return computed(activities, dependencies, status=at(TUESDAY))[id].ready


def test_with_nothing_before_it_it_is_ready() -> None:
    assert is_ready("board", [BOARD], [])


def test_what_has_started_is_no_longer_ready() -> None:
    assert not is_ready("frame", [FRAMING], [])


def test_after_something_finished_it_is_ready_and_after_something_unfinished_not() -> None:
    after = [Dependency("frame", "board")]
    assert is_ready("board", [FRAMED, BOARD], after)
    assert not is_ready("board", [FRAMING, BOARD], after)


def test_a_start_to_start_asks_only_that_it_started() -> None:
    together = [Dependency("frame", "board", "SS")]
    assert is_ready("board", [FRAMING, BOARD], together)
    assert not is_ready("board", [Activity("frame", DAY), BOARD], together)


def test_the_lag_must_have_passed() -> None:
    assert is_ready("board", [FRAMED, BOARD], [Dependency("frame", "board", lag=15 * 60)])
    assert not is_ready("board", [FRAMED, BOARD], [Dependency("frame", "board", lag=16 * 60)])


def test_a_working_lag_must_have_passed_in_working_time() -> None:
    lag = Dependency("frame", "board", lag=60, lag_on="work")
    assert not is_ready("board", [FRAMED, BOARD], [lag])


def test_its_own_date_must_have_come() -> None:
    assert is_ready("board", [replace(BOARD, not_before=at(TUESDAY))], [])
    assert not is_ready("board", [replace(BOARD, not_before=at(WEDNESDAY))], [])


def test_a_finish_to_finish_holds_only_the_finish() -> None:
    together = [Dependency("frame", "board", "FF")]
    assert is_ready("board", [FRAMING, BOARD], together)


def test_after_a_check_it_is_ready_only_when_that_is_released() -> None:
    after = [Dependency("look", "board")]
    assert is_ready("board", [RELEASED, BOARD], after)
    assert not is_ready("board", [LOOK, BOARD], after)


def test_an_unreleased_check_holds_through_what_is_done_too() -> None:
    chain = [Dependency("look", "frame"), Dependency("frame", "board")]
    assert not is_ready("board", [LOOK, FRAMED, BOARD], chain)


def test_an_unreleased_check_far_before_by_its_finish_alone_still_holds() -> None:
    chain = [Dependency("look", "frame", "FF"), Dependency("frame", "board", "SS")]
    assert not is_ready("board", [LOOK, FRAMED, BOARD], chain)


def test_an_unreleased_check_that_holds_only_the_finish_lets_it_start() -> None:
    assert is_ready("board", [LOOK, BOARD], [Dependency("look", "board", "FF")])


def test_after_a_wait_it_is_ready_when_the_time_has_passed() -> None:
    cure = Activity("cure", 15 * 60, "clock", Kind.WAIT)
    chain = [Dependency("frame", "cure"), Dependency("cure", "board")]
    assert is_ready("board", [FRAMED, cure, BOARD], chain)
    assert not is_ready("board", [FRAMED, replace(cure, work=16 * 60), BOARD], chain)


def test_a_wait_under_way_has_started_by_itself() -> None:
    cure = Activity("cure", 5 * 1440, "clock", Kind.WAIT)
    chain = [Dependency("frame", "cure"), Dependency("cure", "board", "SS", lag=60)]
    assert not is_ready("cure", [FRAMED, cure, BOARD], chain)
    assert is_ready("board", [FRAMED, cure, BOARD], chain)
