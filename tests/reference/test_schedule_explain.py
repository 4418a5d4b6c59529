"""Why a date is where it is, against the minute-by-minute scheduler and by taking bounds away."""

from collections.abc import Iterator
from dataclasses import replace
from functools import cache

import pytest

from server.core.schedule import (
    Activity,
    Bound,
    Dependency,
    Explanation,
    Kind,
    Network,
    compute,
    explain,
)
from tests.reference.minute_by_minute import Minutes, lagged, place, schedule
from tests.reference.random_networks import ORIGIN, a_random_network, minute, minutes_of_calendars

SEEDS = range(300)
TENS = pytest.mark.parametrize("tens", range(30))
Reference = dict[str, dict[str, int]]
Asked = tuple[str, bool, int, Dependency | None]
"""The kind of a bound, whether it is on the finish, its instant, its dependency."""


@cache
def calendars() -> dict[str, Minutes]:
    return minutes_of_calendars()


def the_reference(network: Network) -> tuple[Reference, list[Dependency]]:
    dates, too_long, _ = schedule(network, ORIGIN, calendars(), {})
    return dates, too_long


def without_most(network: Network) -> Network:
    """The same with nothing that must follow soon."""
    return replace(network, dependencies=[replace(d, most=None) for d in network.dependencies])


def explained(network: Network) -> Iterator[tuple[Activity, Explanation]]:
    computed = compute(network)
    for activity in network.activities:
        yield activity, explain(network, computed, activity.id)


def dated(a: Activity, dates: Reference) -> int:
    """The date that is explained: what has begun goes on, what is done has started."""
    return dates[a.id]["S" if a.finished else "R"]


def asked_of(network: Network, a: Activity, dates: Reference) -> list[Asked]:
    """The bounds on an activity's dates by the rules alone; what a `most` holds is left out."""
    if a.finished:
        return [("actual", False, minute(a.started or a.finished), None)]
    status = minute(network.status or network.start)
    m = calendars()[a.calendar]
    asked: list[Asked] = [
        ("dependency", d.type[1] == "F", lagged(m, dates[d.before][d.type[0]], d), d)
        for d in network.dependencies
        if d.after == a.id
    ]
    if a.started:
        return [("actual", False, status, None), *asked]
    if a.not_before:
        asked.append(("not_before", False, minute(a.not_before), None))
    if a.kind is Kind.HOLD and (a.notice or a.called):
        asked.append(("notice", False, (minute(a.called) if a.called else status) + a.notice, None))
    if a.kind is not Kind.WAIT:
        asked.append(("status", False, status, None))
    return [*asked, ("start", False, minute(network.start), None)]


def of(bound: Bound) -> Asked:
    return bound.kind, bound.on_finish, minute(bound.at), bound.dependency


def left(network: Network, a: Activity) -> int:
    """The minutes still to do."""
    if not a.started or a.remaining is not None:
        return a.work if a.remaining is None else a.remaining
    status = minute(network.status or network.start)
    return max(0, a.work - sum(calendars()[a.calendar].works[minute(a.started) : status]))


def placed(network: Network, a: Activity, bounds: list[Asked]) -> int:
    """Where the reference puts an activity that only these bounds hold."""
    if a.finished:
        return max(at for _, _, at, _ in bounds)
    starts = [at for _, on_finish, at, _ in bounds if not on_finish]
    ends = [at for _, on_finish, at, _ in bounds if on_finish]
    one_day = a.one_day and not a.started
    m = calendars()[a.calendar]
    return place(m, max(starts, default=0), max(ends, default=0), left(network, a), one_day)[0]


@TENS
def test_every_bound_is_given_and_alone_gives_the_start_that_is_said(tens: int) -> None:
    for seed in SEEDS[tens * 10 : tens * 10 + 10]:
        network = a_random_network(seed)
        dates, too_long = the_reference(network)
        for a, why in explained(network):
            given = [of(bound) for bound in why.bounds]
            most = [bound for bound in why.bounds if bound.kind == "most"]
            assert sorted(map(str, given)) == sorted(
                map(str, [*asked_of(network, a, dates), *map(of, most)])
            ), (seed, a.id)
            for bound in why.bounds:
                assert minute(bound.start) == placed(network, a, [of(bound)]), (seed, a.id, bound)
            for bound in most:
                d = bound.dependency
                assert d is not None
                assert d.most is not None
                assert d not in too_long
                assert (d.before, d.type[0] == "F") == (a.id, bound.on_finish)
                # what it asks for now that it stands: no earlier than what it asked for at last
                asks = dates[d.after][d.type[1]] - d.most
                assert minute(bound.at) <= asks, (seed, a.id)
                if bound is why.driver:
                    alone = placed(network, a, [("most", bound.on_finish, asks, d)])
                    assert minute(why.start) == alone, (seed, a.id)


@TENS
def test_the_latest_bound_gives_the_date_and_stands_first(tens: int) -> None:
    for seed in SEEDS[tens * 10 : tens * 10 + 10]:
        network = a_random_network(seed)
        dates, _ = the_reference(network)
        for a, why in explained(network):
            starts = [bound.start for bound in why.bounds]
            assert minute(why.start) == dated(a, dates), (seed, a.id)
            assert why.start == max(starts) == starts[0], (seed, a.id)
            assert starts == sorted(starts, reverse=True), (seed, a.id)
            assert why.driver is why.bounds[0]


@TENS
def test_without_the_driver_comes_the_date_that_is_said_and_no_other_bound_matters(
    tens: int,
) -> None:
    for seed in SEEDS[tens * 10 : tens * 10 + 10]:
        network = a_random_network(seed)
        for a, why in explained(network):
            for one in why.bounds:
                others = [of(bound) for bound in why.bounds if bound is not one]
                if one is not why.driver:
                    assert placed(network, a, others) == minute(why.start), (seed, a.id)
                elif one.kind == "most":
                    continue  # it is taken from the network, below
                elif others:
                    assert why.without is not None, (seed, a.id)
                    assert why.without <= why.start, (seed, a.id)
                    assert placed(network, a, others) == minute(why.without), (seed, a.id)
                else:
                    assert why.without is None, (seed, a.id)


@TENS
def test_a_network_without_the_bound_has_the_date_that_is_said(tens: int) -> None:
    for seed in SEEDS[tens * 10 : tens * 10 + 10]:
        network = without_most(a_random_network(seed))
        for a, why in explained(network):
            for bound in why.bounds:
                if bound.kind in ("dependency", "not_before", "notice"):
                    dates, _ = the_reference(taken_away(network, a, bound))
                    then = why.without if bound is why.driver else why.start
                    assert then is not None
                    assert dated(a, dates) == minute(then), (seed, a.id, bound)


def taken_away(network: Network, a: Activity, bound: Bound) -> Network:
    if bound.kind == "dependency":
        kept = [d for d in network.dependencies if d is not bound.dependency]
        return replace(network, dependencies=kept)
    if bound.kind == "not_before":
        changed = replace(a, not_before=None)
    else:
        changed = replace(a, notice=0, called=None)
    return replace(
        network, activities=[changed if other is a else other for other in network.activities]
    )


def test_what_a_most_holds_back_has_the_date_that_is_said_without_it() -> None:
    held = 0
    for seed in SEEDS:
        network = a_random_network(seed)
        for a, why in explained(network):
            if why.driver.kind == "most":
                d = why.driver.dependency
                free = [replace(e, most=None) if e is d else e for e in network.dependencies]
                dates, _ = the_reference(replace(network, dependencies=free))
                assert why.without is not None
                assert dated(a, dates) == minute(why.without), (seed, a.id)
                held += why.without < why.start
    assert held > 50
