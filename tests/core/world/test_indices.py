"""What is taken along from one snapshot to the next is what would be worked out anew."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import timedelta

import pytest

from server.core.cover import implied, reach
from server.core.states import hold_state, is_released
from server.core.world import Snapshot
from server.core.world.clock import status_of
from server.core.world.indices import MADE_OF
from server.core.world.network import early_if_done, forecast, forecast_of, network_of
from tests.bench.big_house import NOW, big_house

HOUSE = big_house().snapshot()
STATUS = status_of(NOW)
FILLED_WHEN_ASKED = ("drawn_up", "kept_reach", "kept_order", "kept_forecast", "kept_finding")
LOOKED_UP = [name for name in MADE_OF if name not in FILLED_WHEN_ASKED]


def changed() -> Iterator[Snapshot]:
    """One change after the other, to each table that dates are made of."""
    world = HOUSE
    task, other = [a for a in HOUSE.chain if a.kind == "task" and a.started is None][:2]
    check = next(h for a in HOUSE.chain_of("detail-1") if (h := HOUSE.hold_of.get(a.id)))
    crew, calendar = next(iter(HOUSE.crews.values())), HOUSE.calendars["site"]
    for noun in (
        replace(task, work=task.work + 60),
        replace(task, started=NOW, finished=NOW + timedelta(minutes=5)),
        replace(task, started=NOW - timedelta(days=1), remaining=90, remaining_at=NOW),
        replace(other, ended=NOW),
        replace(check, called=NOW),
        replace(check, witness=True),
        replace(crew, notice=crew.notice + 1),
        replace(calendar, shifts=calendar.shifts[:8]),
        replace(HOUSE.project, start=HOUSE.project.start + timedelta(days=1)),
        replace(HOUSE.details["detail-7"], ended=NOW),
        next(iter(HOUSE.bookings.values())),
        next(iter(HOUSE.attempts.values())),
    ):
        looked_at(world)
        world = world.put(noun)
        yield world
    looked_at(world)
    yield world.drop(next(iter(HOUSE.dependencies.values())))


def looked_at(snapshot: Snapshot) -> None:
    """Everything is worked out, so that there is something to take along."""
    for name in LOOKED_UP:
        getattr(snapshot, name)
    forecast(snapshot, STATUS)
    implied(snapshot)


def test_after_any_change_indices_and_networks_are_as_if_made_anew() -> None:
    for snapshot in changed():
        anew = replace(snapshot)
        for name in LOOKED_UP:
            assert getattr(snapshot, name) == getattr(anew, name), name
        assert implied(snapshot) == implied(anew)
        assert reach(snapshot) == reach(anew)
        for status in (STATUS, STATUS - timedelta(days=30)):
            assert network_of(snapshot, status) == network_of(anew, status)
        assert dates(snapshot) == dates(anew)


def dates(snapshot: Snapshot) -> list[object]:
    """All that a forecast says."""
    schedule = forecast(snapshot, STATUS)
    return [(id, d.early_start, d.late_finish, d.ready, d.driver) for id, d in schedule.items()]


@pytest.mark.parametrize("days", [0, 20])
def test_early_dates_as_if_checks_were_made_need_only_what_comes_before(days: int) -> None:
    status = STATUS + timedelta(days=days)
    schedule = forecast(HOUSE, status)
    checks = {
        hold.activity_id
        for hold in HOUSE.holds.values()
        if not is_released(HOUSE, hold) and hold_state(HOUSE, hold, schedule) == "to check"
    }
    assert checks
    done = (replace(HOUSE.activities[id], started=status, finished=status) for id in checks)
    whole = forecast(HOUSE.put(*done), status)
    for activity in HOUSE.chain[::5]:
        part = early_if_done(schedule, checks, [activity.id])
        assert part[activity.id].early_start == whole[activity.id].early_start


@pytest.mark.parametrize("days", [0, 20])
def test_a_forecast_of_one_activity_has_the_early_dates_of_the_whole(days: int) -> None:
    status = STATUS + timedelta(days=days)
    whole = forecast(HOUSE, status)
    for activity in HOUSE.chain[::5]:
        its, of_whole = forecast_of(HOUSE, status, activity.id)[activity.id], whole[activity.id]
        assert (its.early_start, its.early_finish) == (of_whole.early_start, of_whole.early_finish)
        assert its.ready == of_whole.ready
