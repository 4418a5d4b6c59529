"""Rails and guards that the shipped limits ask for, on both sides of each number."""

import pytest

from server.core.figures.stairs import rails_asked
from server.data.limits import all_profiles

IRC, K = all_profiles()


def names(count: int, rise: float) -> set[str]:
    return {one.name for one in rails_asked(IRC, count, rise)}


def test_a_handrail_is_asked_for_from_four_risers() -> None:
    assert "handrail_from" not in names(3, 22)
    assert {"handrail_from", "temporary_rail_from"} <= names(4, 29)


@pytest.mark.parametrize(("rise", "asked"), [(30.0, False), (30.1, True)])
def test_a_guard_and_a_temporary_rail_only_over_thirty_inches(rise: float, asked: bool) -> None:
    assert ("guard_from" in names(3, rise)) is asked
    assert ("temporary_rail_from_height" in names(3, rise)) is asked


@pytest.mark.parametrize(("mm", "asked"), [(600, False), (601, True)])
def test_document_k_asks_for_a_guard_over_600_millimeters(mm: float, asked: bool) -> None:
    assert bool(rails_asked(K, 3, mm / 25.4)) is asked
