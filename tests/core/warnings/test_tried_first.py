"""Of many notes only the mends of the first are tried; the others say that theirs are not."""

import pytest

from server.core.schedule import Schedule
from server.core.warnings import Warning, find, found
from server.core.world import Snapshot
from server.core.world.clock import status_of
from server.core.world.network import forecast
from tests.bench.big_house import NOW, big_house


@pytest.fixture(scope="module")
def house() -> tuple[Snapshot, Schedule]:
    snapshot = big_house(4).snapshot()
    return snapshot, forecast(snapshot, status_of(NOW))


def has_commands(warning: Warning) -> bool:
    return any(mend.commands for mend in warning.mends)


def test_the_first_come_as_they_always_do(house: tuple[Snapshot, Schedule]) -> None:
    assert find(*house, tried_first=2)[:2] == find(*house)[:2]


def test_the_others_are_found_all_the_same(house: tuple[Snapshot, Schedule]) -> None:
    names = [warning.identity for warning in find(*house, tried_first=2)]
    assert names == [warning.identity for warning in found(*house)]


def test_the_others_have_no_mend_that_nobody_tried(house: tuple[Snapshot, Schedule]) -> None:
    rest = find(*house, tried_first=2)[2:]
    assert rest
    assert not [warning for warning in rest if has_commands(warning)]


def test_they_are_untried_where_there_was_something_to_try(
    house: tuple[Snapshot, Schedule],
) -> None:
    candidates = {w.identity for w in found(*house)[2:] if has_commands(w)}
    assert candidates
    assert {w.identity for w in find(*house, tried_first=2) if w.untried} == candidates


def test_a_way_to_a_page_needs_no_trying(house: tuple[Snapshot, Schedule]) -> None:
    ways = [w for w in find(*house, tried_first=0) if w.mends]
    assert ways
    assert not any(mend.commands for w in ways for mend in w.mends)


def test_those_of_a_named_rule_are_tried_wherever_they_stand(
    house: tuple[Snapshot, Schedule],
) -> None:
    whole = [w for w in find(*house) if has_commands(w)]
    rule = whole[-1].rule
    named = find(*house, tried_first=0, and_of=frozenset((rule,)))
    assert [w for w in named if w.rule == rule] == [w for w in find(*house) if w.rule == rule]
    assert not [w for w in named if w.rule != rule and has_commands(w)]
