"""The warnings of one detail, found among what hangs together with it, are those of the whole."""

from dataclasses import replace
from datetime import timedelta

import pytest

from server.core.warnings import every, find
from server.core.warnings.nearby import NEARBY, seen_from
from server.core.world.clock import status_of
from server.core.world.network import forecast
from tests.bench.big_house import NOW, big_house

HOUSE = big_house().snapshot()


@pytest.mark.parametrize("days", [0, 11])
def test_the_warnings_of_a_detail_are_those_of_the_house(days: int) -> None:
    schedule = forecast(HOUSE, status_of(NOW + timedelta(days=days)))
    everywhere = find(HOUSE, schedule)
    with_warnings = {w.detail_id for w in everywhere if w.detail_id}
    assert len(with_warnings) > 5
    for detail_id in [*sorted(with_warnings)[:8], "detail-2"]:
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


def test_a_family_that_looks_further_is_asked_of_the_whole_house() -> None:
    seen = seen_from(HOUSE, "detail-2")
    assert len(seen.near.details) == 3
    for rule in every():
        assert (seen.by(rule) is HOUSE) == (rule.family not in NEARBY)
