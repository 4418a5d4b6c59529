"""Every warning of a house of 5,000 activities with its mends tried, and the reach of its chains.

Both against `compute` alone on the same house. The goal for the warnings is in seconds, on a quiet
machine; the reach is held against the floor of one pass over the closure in numpy.
"""

import gc
import time
from collections.abc import Callable, Iterator
from statistics import median

import numpy as np

from server.core.cover import implied
from server.core.cover.reach import reach_of
from server.core.schedule import compute
from server.core.warnings import find
from server.core.world import Activity, Dependency, Snapshot
from server.core.world.clock import status_of
from server.core.world.network import forecast, network_of
from tests.bench.big_house import NOW, big_house

RUNS = 5
HEADER = ("notes", "activities", "ours s", "against s", "ratio", "goal")
WIDTHS = (30, 10, 8, 10, 6, 10)
TIMES = 10
DETAILS, LONG = 200, 50


def rows() -> Iterator[tuple[str, ...]]:
    """All warnings with their mends; the order that layers imply; the reach of 10,000."""
    house, status = big_house(TIMES).snapshot(), status_of(NOW)
    schedule = forecast(house, status)
    alone = _time(lambda: compute(network_of(house, status)))
    count = f"{len(house.activities):,}"
    ours = _time(lambda: find(house, schedule))
    yield "all warnings, mends tried", count, *_against(ours, alone), "under 2 s"
    layers = _time(lambda: implied(_afresh(house)))
    yield f"{len(house.layers):,} layers' order", count, *_against(layers, alone), "0.5 s"
    chain, dependencies = _chains()
    reach = _time(lambda: reach_of(chain, dependencies))
    floor = _time(
        lambda: _closure(len(chain), dependencies, {a.id: n for n, a in enumerate(chain)})
    )
    yield "reach", f"{len(chain):,}", *_against(reach, floor), "3.00"


def _afresh(house: Snapshot) -> Snapshot:
    """The same house with nothing worked out of its chains."""
    return house.having(dependencies=dict(house.dependencies))


def _chains() -> tuple[list[Activity], list[Dependency]]:
    """10,000 activities in chains side by side, each tied to the one beside it."""
    chain = [
        Activity(id=f"{d}-{n}", project_id="p", detail_id=str(d), order=n, kind="task", name="Work")
        for d in range(DETAILS)
        for n in range(LONG)
    ]
    pairs = [(d * LONG + n - 1, d * LONG + n) for d in range(DETAILS) for n in range(1, LONG)]
    pairs += [(d * LONG - LONG // 2, d * LONG + LONG // 2) for d in range(1, DETAILS)]
    return chain, [
        Dependency(id=f"o{k}", project_id="p", before_id=chain[a].id, after_id=chain[b].id)
        for k, (a, b) in enumerate(pairs)
    ]


def _closure(count: int, dependencies: list[Dependency], index: dict[str, int]) -> object:
    """One pass over the closure: a row of bits for each activity, joined in the order given."""
    rows = np.zeros((count, -(-count // 64)), dtype=np.uint64)
    before: list[list[int]] = [[] for _ in range(count)]
    for d in dependencies:
        before[index[d.after_id]].append(index[d.before_id])
    for n in range(count):
        for first in before[n]:
            rows[n] |= rows[first]
            rows[n, first >> 6] |= np.uint64(1 << (first & 63))
    return rows


def _against(ours: float, theirs: float) -> tuple[str, str, str]:
    return f"{ours:.4f}", f"{theirs:.4f}", f"{ours / theirs:.2f}"


def _time(job: Callable[[], object]) -> float:
    taken = []
    for _ in range(RUNS):
        gc.collect()
        start = time.perf_counter()
        job()
        taken.append(time.perf_counter() - start)
    return median(taken)
