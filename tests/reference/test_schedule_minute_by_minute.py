"""The chain core against a scheduler that goes minute by minute and shares no code with it."""

from dataclasses import replace
from datetime import timedelta
from functools import cache

import pytest

from server.core.schedule import Dates, Dependency, Network, Schedule, compute
from tests.reference.minute_by_minute import Minutes, schedule
from tests.reference.random_networks import (
    ORIGIN,
    a_random_network,
    minute,
    minutes_of_calendars,
)

SEEDS = range(300)
Reference = dict[str, dict[str, int]]


@cache
def calendars() -> dict[str, Minutes]:
    return minutes_of_calendars()


def with_dates_to_keep(network: Network, seed: int) -> Network:
    """Every second network has dates that some of its activities must finish by, and can."""
    if seed % 2:
        return network
    early = compute(network)
    return replace(
        network,
        activities=[
            replace(a, finish_by=early[a.id].early_finish + timedelta(minutes=(seed * 37) % 1500))
            if (n + seed) % 4 == 0
            else a
            for n, a in enumerate(network.activities)
        ],
    )


def the_reference(
    network: Network, held: dict[str, int], ignored: tuple[Dependency, ...] = ()
) -> tuple[Reference, list[Dependency], set[str]]:
    return schedule(network, ORIGIN, calendars(), held, ignored)


def held_until(network: Network, id: str, resumes: int, minutes: int) -> dict[str, int]:
    """An activity held back by so many working minutes of its calendar."""
    if not minutes:
        return {id: resumes}
    m = calendars()[next(a.calendar for a in network.activities if a.id == id)]
    return {id: m.nth[m.rank[resumes] + minutes - 1] + 1}


def keeps(network: Network, dates: Reference, finish: int) -> bool:
    """Nothing finishes after the network's finish or its own date."""
    return all(
        dates[a.id]["F"] <= min(finish, minute(a.finish_by) if a.finish_by else finish)
        for a in network.activities
    )


def slip(
    network: Network, computed: Schedule, early: Reference, id: str, minutes: int
) -> Reference | None:
    """The dates when one activity slips; None if a most can then not be kept."""
    held = held_until(network, id, early[id]["R"], minutes)
    dates, too_long, _ = the_reference(network, held, computed.too_long)
    return dates if len(too_long) == len(computed.too_long) else None


@pytest.mark.parametrize("tens", range(30))
def test_early_dates_agree_and_every_float_is_proved_by_slipping(tens: int) -> None:
    for seed in SEEDS[tens * 10 : tens * 10 + 10]:
        network = with_dates_to_keep(a_random_network(seed), seed)
        computed = compute(network)
        early, too_long, done = the_reference(network, {})
        for id, dates in computed.items():
            assert minute(dates.early_start) == early[id]["S"], (seed, id)
            assert minute(dates.early_finish) == early[id]["F"], (seed, id)
        assert list(computed.too_long) == too_long, seed
        assert computed.done == done, seed
        finish = max(dates["F"] for dates in early.values())
        assert minute(computed.finish) == finish
        for id in computed.keys() - done:
            _prove_floats(network, computed, early, id, (seed, id))


def _prove_floats(
    network: Network, computed: Schedule, early: Reference, id: str, where: tuple[int, str]
) -> None:
    finish = minute(computed.finish)
    dates: Dates = computed[id]
    others = early.keys() - {id}
    slips = {n: slip(network, computed, early, id, n) for n in _around(dates)}

    def finish_holds(minutes: int) -> bool:
        slipped = slips[minutes]
        return slipped is not None and keeps(network, slipped, finish)

    def others_stay(minutes: int) -> bool:
        slipped = slips[minutes]
        return (
            slipped is not None
            and keeps(network, slipped, finish)
            and all(slipped[other] == early[other] for other in others)
        )

    assert finish_holds(dates.total_float), where
    assert not finish_holds(dates.total_float + 1), where
    assert others_stay(dates.free_float), where
    assert not others_stay(dates.free_float + 1), where


def _around(dates: Dates) -> set[int]:
    total, free = dates.total_float, dates.free_float
    return {total, total + 1, free, free + 1}


def a_network_that_is_late(seed: int) -> Network:
    """Nothing has happened yet, and some of it should have finished days ago."""
    network = a_random_network(seed)
    open_ended = replace(
        network,
        activities=[
            replace(
                a,
                not_before=None,
                started=None,
                finished=None,
                remaining=None,
                called=None,
                notice=0,
            )
            for a in network.activities
        ],
        dependencies=[replace(d, most=None) for d in network.dependencies],
        status=None,
    )
    early = compute(open_ended)
    return replace(
        open_ended,
        activities=[
            replace(a, finish_by=early[a.id].early_finish - timedelta(days=4)) if n % 3 == 0 else a
            for n, a in enumerate(open_ended.activities)
        ],
    )


@pytest.mark.parametrize("tens", range(6))
def test_late_dates_before_the_start_are_the_latest_that_an_earlier_start_could_keep(
    tens: int,
) -> None:
    for seed in SEEDS[tens * 10 : tens * 10 + 10]:
        network = a_network_that_is_late(seed)
        computed = compute(network)
        finish = minute(computed.finish)
        weeks_earlier = replace(network, start=network.start - timedelta(weeks=8))
        for id, dates in computed.items():
            late = minute(dates.late_start)
            kept, _, _ = the_reference(weeks_earlier, {id: late})
            assert keeps(network, kept, finish), (seed, id)
            assert kept[id]["S"] == late
            assert kept[id]["F"] == minute(dates.late_finish)
            one_more = held_until(network, id, late, 1)
            moved, _, _ = the_reference(weeks_earlier, one_more)
            assert not keeps(network, moved, finish), (seed, id)
        assert any(dates.total_float < 0 for dates in computed.values())
