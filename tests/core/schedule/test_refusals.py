"""What no dates are computed from, each with its reason, field and activity."""

from dataclasses import replace
from datetime import datetime

import pytest

from server.core.refusals import Refusal
from server.core.schedule import Activity, Dependency, Kind, Loop, Network, Refused, compute
from tests.core.schedule.chains import CALENDARS, FRIDAY, MONDAY, TUESDAY, at, computed

BOARD = Activity("board", 60)


def refusal(*activities: Activity, dependencies: tuple[Dependency, ...] = ()) -> Refused:
    with pytest.raises(Refused) as refused:
        computed(activities, dependencies, status=at(TUESDAY))
    assert isinstance(refused.value, Refusal)
    return refused.value


@pytest.mark.parametrize(
    ("activity", "id", "field"),
    [
        (replace(BOARD, work=-1), "schedule.negative", "work"),
        (replace(BOARD, notice=-1), "schedule.negative", "notice"),
        (replace(BOARD, rework=-1), "schedule.negative", "rework"),
        (replace(BOARD, started=at(MONDAY), remaining=-1), "schedule.negative", "remaining"),
        (replace(BOARD, calendar="moon"), "schedule.unknown_calendar", "calendar"),
        (replace(BOARD, started=at(FRIDAY)), "schedule.actual_after_status", "started"),
        (
            replace(BOARD, started=at(MONDAY), finished=at(FRIDAY)),
            "schedule.actual_after_status",
            "finished",
        ),
        (
            replace(BOARD, kind=Kind.DELIVERY, ordered=at(FRIDAY)),
            "schedule.actual_after_status",
            "ordered",
        ),
        (replace(BOARD, finished=at(MONDAY)), "schedule.finished_not_started", "finished"),
        (
            replace(BOARD, started=at(TUESDAY), finished=at(MONDAY)),
            "schedule.finished_before_started",
            "finished",
        ),
        (replace(BOARD, remaining=10), "schedule.remaining_not_started", "remaining"),
    ],
)
def test_an_activity_that_contradicts_itself(activity: Activity, id: str, field: str) -> None:
    refused = refusal(activity)
    assert (refused.id, refused.field) == (id, field)
    assert refused.values["activity"] == "board"


def test_zero_work_may_be_finished_without_having_started() -> None:
    schedule = computed([Activity("look", 0, finished=at(MONDAY))], status=at(TUESDAY))
    assert schedule["look"].early_start == at(MONDAY)


def test_an_id_given_twice() -> None:
    refused = refusal(Activity("tile", 1), BOARD, BOARD)
    assert (refused.id, refused.values["activity"]) == ("schedule.doubled_activity", "board")


@pytest.mark.parametrize(
    ("dependency", "field"),
    [(Dependency("ghost", "board"), "before"), (Dependency("board", "ghost"), "after")],
)
def test_a_dependency_on_something_unknown(dependency: Dependency, field: str) -> None:
    refused = refusal(BOARD, dependencies=(dependency,))
    assert (refused.id, refused.field) == ("schedule.unknown_activity", field)
    assert refused.values["activity"] == "ghost"


def test_a_dependency_of_an_unknown_type() -> None:
    wrong = Dependency("board", "tile", "XX")  # type: ignore[arg-type]
    refused = refusal(BOARD, Activity("tile", 1), dependencies=(wrong,))
    assert (refused.id, refused.field) == ("schedule.unknown_type", "type")


def test_a_lag_longer_than_its_most() -> None:
    too_tight = Dependency("board", "tile", lag=61, most=60)
    refused = refusal(BOARD, Activity("tile", 1), dependencies=(too_tight,))
    assert (refused.id, refused.field) == ("schedule.lag_above_most", "most")


def test_a_loop_is_named_in_order() -> None:
    ring = [Dependency("c", "b"), Dependency("b", "d"), Dependency("d", "c"), Dependency("a", "b")]
    with pytest.raises(Loop) as refused:
        computed([Activity(id, 1) for id in "abcde"], [*ring, Dependency("d", "e")])
    assert refused.value.path == ("b", "d", "c")
    assert refused.value.id == "schedule.loop"


def test_an_activity_before_itself_is_a_loop() -> None:
    with pytest.raises(Loop) as refused:
        computed([BOARD], [Dependency("board", "board")])
    assert refused.value.path == ("board",)


@pytest.mark.parametrize("calendar", ["site", "clock"])
def test_work_without_end(calendar: str) -> None:
    endless = [Activity("board", 10**11, calendar)]
    with pytest.raises(Refused) as refused:
        compute(Network(endless, [], CALENDARS, datetime(2025, 12, 1)))
    assert refused.value.id == "schedule.too_far"


def test_an_unknown_id_is_not_in_the_schedule() -> None:
    schedule = computed([BOARD])
    assert "ghost" not in schedule
    with pytest.raises(KeyError):
        schedule["ghost"]
