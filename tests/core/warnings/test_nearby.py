"""The warnings of one detail, found among what hangs together with it, are those of the whole."""

from dataclasses import replace
from datetime import timedelta

import pytest

from server.core.warnings import every, find
from server.core.warnings.nearby import FURTHER, NEARBY, seen_from, touched
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


def test_what_is_measured_elsewhere_or_has_its_sample_there_ties_two() -> None:
    task = next(a for a in HOUSE.chain_of("detail-1") if a.kind == "task")
    layer = next(x for x in HOUSE.layers.values() if x.detail_id == "detail-40")
    sample = HOUSE.chain_of("detail-20")[0]
    measured = HOUSE.put(replace(task, measured_from_id=layer.id))
    assert {"detail-1", "detail-40"} <= measured.hanging_together["detail-3"]
    like = measured.put(replace(task, measured_from_id=layer.id, sample_id=sample.id))
    assert {"detail-40", "detail-20"} <= like.hanging_together["detail-3"]
    assert like.put(task).hanging_together["detail-3"] == HOUSE.hanging_together["detail-3"]


def test_a_family_that_looks_further_is_asked_of_the_whole_house() -> None:
    seen = seen_from(HOUSE, "detail-2")
    assert len(seen.near.details) == 3
    for rule in every():
        further = rule.family not in NEARBY or rule.id in FURTHER
        assert (seen.by(rule) is HOUSE) == further


def test_rows_are_touched_in_the_details_of_their_work() -> None:
    task = next(a for a in HOUSE.chain_of("detail-2") if a.kind == "task")
    visit = replace(next(iter(HOUSE.bookings.values())), id="new", activity_ids=(task.id,))
    attempt = next(iter(HOUSE.attempts.values()))
    of_check = HOUSE.activities[HOUSE.holds[attempt.hold_id].activity_id].detail_id
    for noun, detail_id in (
        (replace(task, work=1), "detail-2"),
        (visit, "detail-2"),
        (replace(HOUSE.details["detail-4"], note="Another"), "detail-4"),
        (replace(attempt, note="Another"), of_check),
    ):
        assert touched(HOUSE, HOUSE.put(noun)) == {detail_id}


def test_a_crew_or_a_calendar_touches_everything() -> None:
    task = next(a for a in HOUSE.chain_of("detail-2") if a.kind == "task")
    for noun in (next(iter(HOUSE.crews.values())), HOUSE.calendars["site"]):
        changed = HOUSE.put(replace(noun, name="Another"), replace(task, work=1))
        assert touched(HOUSE, changed) == frozenset()
