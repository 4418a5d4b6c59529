"""Why a date is where it is: what sets it, what else holds it, and the date without."""

from collections.abc import Sequence
from datetime import datetime

import pytest

from server.core.schedule import (
    Activity,
    Dependency,
    Explanation,
    Kind,
    Network,
    compute,
    explain,
)
from tests.core.schedule.chains import (
    CALENDARS,
    DAY,
    FRIDAY,
    MONDAY,
    NEXT_MONDAY,
    SATURDAY,
    START,
    SUNDAY,
    THURSDAY,
    TUESDAY,
    WEDNESDAY,
    at,
    computed,
)


def why(
    id: str,
    activities: Sequence[Activity],
    dependencies: Sequence[Dependency] = (),
    status: datetime | None = None,
) -> Explanation:
    network = Network(activities, dependencies, CALENDARS, START, status)
    return explain(network, compute(network), id)


def kinds(explanation: Explanation) -> list[str]:
    return [bound.kind for bound in explanation.bounds]


def test_a_wait_that_is_over_on_sunday_gives_a_monday() -> None:
    coat = Activity("coat", 4 * DAY + 60)
    dries = Activity("dries", 2 * 1440, "clock", Kind.WAIT)
    found = why(
        "next",
        [coat, dries, Activity("next", 60)],
        [Dependency("coat", "dries"), Dependency("dries", "next")],
    )
    assert found.driver.dependency == Dependency("dries", "next")
    assert (found.driver.at, found.start) == (at(SUNDAY, "08:00"), at(NEXT_MONDAY))
    assert found.without == at(MONDAY)


def test_without_what_sets_it_the_next_latest_does() -> None:
    found = why(
        "board",
        [Activity("wire", 2 * DAY), Activity("pipe", 3 * DAY), Activity("board", 60)],
        [Dependency("wire", "board"), Dependency("pipe", "board")],
    )
    assert found.driver.dependency == Dependency("pipe", "board")
    assert (found.start, found.without) == (at(THURSDAY), at(WEDNESDAY))
    assert kinds(found) == ["dependency", "dependency", "status", "start"]


def test_a_bound_on_the_finish_gives_the_start_from_which_it_is_kept() -> None:
    found = why(
        "board",
        [Activity("pipe", 3 * DAY), Activity("board", DAY)],
        [Dependency("pipe", "board", "FF")],
    )
    assert found.driver.on_finish
    assert (found.driver.at, found.start) == (at(WEDNESDAY, "15:30"), at(WEDNESDAY))
    assert found.without == at(MONDAY)


def test_what_is_on_its_way_comes_when_it_is_promised() -> None:
    rail = Activity(
        "rail", DAY, kind=Kind.DELIVERY, ordered=at(MONDAY), promised=at(FRIDAY, "10:00")
    )
    found = why("rail", [rail], status=at(TUESDAY))
    assert (found.driver.kind, found.start) == ("promised", at(FRIDAY, "10:00"))
    assert found.without == at(TUESDAY)


def test_what_is_ordered_without_a_promise_comes_after_its_lead() -> None:
    rail = Activity("rail", 2 * DAY, kind=Kind.DELIVERY, ordered=at(MONDAY))
    found = why("rail", [rail], status=at(TUESDAY))
    assert (found.driver.kind, found.start) == ("actual", at(TUESDAY, "15:30"))


def test_a_promise_that_has_passed_leaves_the_status() -> None:
    rail = Activity("rail", DAY, kind=Kind.DELIVERY, ordered=at(MONDAY), promised=at(TUESDAY))
    found = why("rail", [rail], status=at(WEDNESDAY, "09:00"))
    assert (found.driver.kind, found.start) == ("status", at(WEDNESDAY, "09:00"))
    assert found.without == at(TUESDAY)


def test_a_promise_without_an_order_is_held_by_what_comes_before() -> None:
    rail = Activity("rail", DAY, kind=Kind.DELIVERY, promised=at(TUESDAY))
    found = why("rail", [Activity("template", 3 * DAY), rail], [Dependency("template", "rail")])
    assert found.driver.dependency == Dependency("template", "rail")
    assert (found.start, found.without) == (at(WEDNESDAY, "15:30"), at(TUESDAY))


def test_what_nothing_holds_can_go_as_of_the_status() -> None:
    found = why("wire", [Activity("wire", 60)], status=at(SATURDAY))
    assert (found.driver.kind, found.driver.at) == ("status", at(SATURDAY))
    assert found.start == at(NEXT_MONDAY)
    assert found.without == at(MONDAY)


@pytest.mark.parametrize(
    ("called", "first"),
    [(None, at(WEDNESDAY, "09:00")), (at(MONDAY, "14:00"), at(TUESDAY, "14:00"))],
)
def test_a_look_has_its_notice_from_the_call_or_from_now(
    called: datetime | None, first: datetime
) -> None:
    look = Activity("look", 0, kind=Kind.HOLD, notice=1440, called=called)
    found = why("look", [look], status=at(TUESDAY, "09:00"))
    assert (found.driver.kind, found.driver.at, found.start) == ("notice", first, first)
    assert found.without == at(TUESDAY, "09:00")


def test_a_date_from_outside_holds_it() -> None:
    found = why("wire", [Activity("wire", 60, not_before=at(WEDNESDAY, "13:00"))])
    assert (found.driver.kind, found.start) == ("not_before", at(WEDNESDAY, "13:00"))
    assert found.without == at(MONDAY)


def test_what_is_done_is_where_it_was_done() -> None:
    done = Activity("wire", 60, started=at(TUESDAY), finished=at(WEDNESDAY))
    found = why("wire", [done], status=at(FRIDAY))
    assert (found.start, kinds(found), found.without) == (at(TUESDAY), ["actual"], None)


def test_what_is_under_way_goes_on_as_of_the_status() -> None:
    begun = Activity("board", DAY, started=at(MONDAY), remaining=60)
    found = why("board", [begun], status=at(TUESDAY, "10:00"))
    assert (found.start, kinds(found), found.without) == (at(TUESDAY, "10:00"), ["actual"], None)


def test_what_is_under_way_waits_for_what_must_be_done_before_its_end() -> None:
    begun = Activity("board", DAY, started=at(MONDAY), remaining=60)
    found = why(
        "board", [Activity("wire", DAY), begun], [Dependency("wire", "board", "FF")], at(TUESDAY)
    )
    assert kinds(found) == ["dependency", "actual"]
    assert (found.start, found.without) == (at(TUESDAY, "14:30"), at(TUESDAY))


def test_of_two_equal_bounds_the_first_is_told_and_the_date_stays_without_it() -> None:
    found = why(
        "board",
        [Activity("wire", DAY), Activity("pipe", DAY), Activity("board", 60)],
        [Dependency("pipe", "board"), Dependency("wire", "board")],
    )
    assert found.driver.dependency == Dependency("pipe", "board")
    assert found.without == found.start == at(TUESDAY)


def test_what_must_not_come_long_before_another_is_held_back_by_it() -> None:
    keeps = Dependency("mix", "pour", most=60)
    found = why(
        "mix",
        [Activity("mix", 60), Activity("form", 2 * DAY), Activity("pour", 60)],
        [keeps, Dependency("form", "pour")],
    )
    assert (found.driver.kind, found.driver.dependency) == ("most", keeps)
    assert (found.driver.at, found.driver.on_finish) == (at(WEDNESDAY, "06:00"), True)
    assert (found.start, found.without) == (at(TUESDAY, "14:31"), at(MONDAY))


def test_without_the_one_that_holds_it_back_another_may() -> None:
    found = why(
        "mix",
        [
            Activity("mix", 60),
            Activity("pour", 60, not_before=at(THURSDAY)),
            Activity("test", 60, not_before=at(TUESDAY, "10:00")),
        ],
        [Dependency("mix", "pour", most=1440), Dependency("mix", "test", most=60)],
    )
    assert found.driver.dependency == Dependency("mix", "pour", most=1440)
    assert found.without == at(TUESDAY, "08:00")


def test_a_schedule_explains_its_own_network_only() -> None:
    one, other = (Network([Activity("a", 60)], (), CALENDARS, START) for _ in range(2))
    with pytest.raises(ValueError, match="another network"):
        explain(one, compute(other), "a")


def test_what_is_not_there_is_not_explained() -> None:
    schedule = computed([Activity("a", 60)])
    with pytest.raises(KeyError):
        explain(schedule.plan.network, schedule, "b")
