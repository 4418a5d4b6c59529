"""What sets each start, and the way back from the finish."""

from server.core.schedule import Activity, Dependency, Kind, Schedule
from tests.core.schedule.chains import (
    DAY,
    FRIDAY,
    MONDAY,
    NEXT_MONDAY,
    TUESDAY,
    WEDNESDAY,
    at,
    computed,
)


def kind(schedule: Schedule, id: str) -> str:
    driver = schedule[id].driver
    assert driver is not None
    return driver.kind


def set_by(schedule: Schedule, id: str) -> str:
    driver = schedule[id].driver
    assert driver is not None
    assert driver.dependency is not None
    return driver.dependency.before


def test_the_latest_of_what_comes_before_sets_the_start() -> None:
    schedule = computed(
        [Activity("wire", 60), Activity("pipe", 120), Activity("board", 60)],
        [Dependency("wire", "board"), Dependency("pipe", "board")],
    )
    assert set_by(schedule, "board") == "pipe"
    assert schedule.path("board") == ("pipe", "board")


def test_of_two_that_end_together_the_one_given_first_counts() -> None:
    activities = [Activity("wire", 60), Activity("pipe", 60), Activity("board", 60)]
    into_board = [Dependency("pipe", "board"), Dependency("wire", "board")]
    assert set_by(computed(activities, into_board), "board") == "pipe"
    assert set_by(computed(activities, into_board[::-1]), "board") == "wire"


def test_a_dependency_counts_before_a_date_of_the_same_instant() -> None:
    schedule = computed(
        [Activity("wire", 120), Activity("board", 60, not_before=at(MONDAY, "09:00"))],
        [Dependency("wire", "board")],
    )
    assert kind(schedule, "board") == "dependency"


def test_bounds_are_judged_before_they_are_moved_to_working_time() -> None:
    # The wait ends on Sunday, after the wiring on Friday; both would give Monday morning.
    schedule = computed(
        [Activity("wire", 5 * DAY), Activity("cure", 6 * 1440, "clock"), Activity("board", 60)],
        [Dependency("wire", "board"), Dependency("cure", "board")],
    )
    assert schedule["board"].early_start == at(NEXT_MONDAY)
    assert set_by(schedule, "board") == "cure"


def test_a_bound_on_the_finish_sets_the_start_that_it_asks_for() -> None:
    schedule = computed(
        [Activity("wire", 60), Activity("pipe", 2 * DAY), Activity("board", DAY)],
        [Dependency("wire", "board"), Dependency("pipe", "board", "FF")],
    )
    assert set_by(schedule, "board") == "pipe"
    assert schedule.path("board") == ("pipe", "board")


def test_each_date_is_named() -> None:
    schedule = computed(
        [
            Activity("first", 60),
            Activity("cure", 60, "clock", Kind.WAIT),
            Activity("later", 60, not_before=at(FRIDAY)),
            Activity("look", 0, kind=Kind.HOLD, notice=1440),
            Activity("begun", DAY, started=at(MONDAY), remaining=10),
        ],
        status=at(TUESDAY),
    )
    kinds = {id: kind(schedule, id) for id in schedule}
    assert kinds == {
        "first": "status",
        "cure": "start",
        "later": "not_before",
        "look": "notice",
        "begun": "actual",
    }


def test_the_walk_stops_at_what_happened() -> None:
    schedule = computed(
        [
            Activity("frame", DAY),
            Activity("pour", DAY, started=at(MONDAY), finished=at(MONDAY, "15:30")),
            Activity("cure", 2 * 1440, "clock", Kind.WAIT),
            Activity("tile", DAY),
        ],
        [Dependency("frame", "pour"), Dependency("pour", "cure"), Dependency("cure", "tile")],
        status=at(TUESDAY),
    )
    assert schedule.critical_path == ("pour", "cure", "tile")
    assert not schedule["pour"].critical
    assert schedule["cure"].critical


def test_what_is_under_way_but_held_by_another_is_set_by_it() -> None:
    schedule = computed(
        [
            Activity("wire", 2 * DAY),
            Activity("board", DAY, started=at(MONDAY), remaining=60),
        ],
        [Dependency("wire", "board", "FF")],
        status=at(TUESDAY),
    )
    assert set_by(schedule, "board") == "wire"


def test_each_activity_has_its_own_path() -> None:
    schedule = computed(
        [Activity("wire", 60), Activity("board", 60), Activity("tile", 5 * DAY)],
        [Dependency("wire", "board")],
    )
    assert schedule.critical_path == ("tile",)
    assert schedule.path("board") == ("wire", "board")


def test_of_several_that_finish_last_the_first_given_that_is_not_done_leads_the_path() -> None:
    schedule = computed(
        [
            Activity("done", 60, started=at(MONDAY), finished=at(WEDNESDAY)),
            Activity("look", 0),
            Activity("sign", 0),
        ],
        status=at(WEDNESDAY),
    )
    assert schedule.finish == at(WEDNESDAY)
    assert schedule.critical_path == ("look",)
