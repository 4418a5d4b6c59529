"""The warnings of one detail, found among what hangs together with it, are those of the whole."""

from dataclasses import replace
from datetime import timedelta

import pytest

from server.core.schedule import Schedule
from server.core.warnings import every, find
from server.core.warnings.base import RULES
from server.core.warnings.nearby import NEARBY, around
from server.core.world import Snapshot
from server.core.world.clock import status_of
from server.core.world.network import forecast
from tests.bench.big_house import NOW, big_house

HOUSE = big_house().snapshot()


@pytest.mark.parametrize("days", [0, 4, 11, 33])
def test_the_warnings_of_each_detail_are_those_of_the_house(days: int) -> None:
    schedule = forecast(HOUSE, status_of(NOW + timedelta(days=days)))
    everywhere = find(HOUSE, schedule)
    assert len(everywhere) > 5
    for detail_id in HOUSE.details:
        here = tuple(w for w in everywhere if w.detail_id == detail_id)
        assert find(HOUSE, schedule, detail_id=detail_id) == here


def test_three_details_tied_by_dependencies_hang_together_and_no_others() -> None:
    assert HOUSE.hanging_together["detail-2"] == {"detail-1", "detail-2", "detail-3"}
    assert HOUSE.hanging_together["detail-4"] == {"detail-4", "detail-5", "detail-6"}


def test_a_visit_for_two_details_ties_them() -> None:
    visit = next(iter(HOUSE.bookings.values()))
    one, other = HOUSE.chain_of("detail-1")[0], HOUSE.chain_of("detail-40")[0]
    tied = HOUSE.put(replace(visit, id="both", activity_ids=(one.id, other.id)))
    assert {"detail-1", "detail-40"} <= tied.hanging_together["detail-3"]


def test_a_family_that_looks_further_has_the_whole_house_looked_at(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    def nothing(snapshot: Snapshot, schedule: Schedule) -> tuple[()]:
        return ()

    assert len(around(HOUSE, "detail-2").details) == 3
    further = replace(every()[0], id="crowded", family="place", find=nothing)
    assert further.family not in NEARBY
    monkeypatch.setitem(RULES, "crowded", further)
    assert around(HOUSE, "detail-2") is HOUSE
