"""Finding by name in a house of 60 details, against `compute` alone on the same house.

What is typed is sent as htmx sends it while somebody types; everything counts but the network. The
goal is in seconds: what is found has to stand there before the next letter is typed.
"""

import tempfile
from collections.abc import Iterator
from functools import partial
from pathlib import Path
from statistics import median

from server.core.finding import entries
from server.core.schedule import compute
from server.core.world import Snapshot
from server.core.world.clock import status_of
from server.core.world.network import network_of
from tests.bench.big_house import NOW
from tests.bench.change import Browser, seconds, served

RUNS = 5
TIMES, DETAILS = 6, 60
HEADER = ("finding", "found among", "ours s", "compute s", "ratio", "goal")
WIDTHS = (30, 11, 8, 10, 6, 11)
TYPED = ("a", "scratch coat", "plane guard 7", "nothing like it")
GOAL = "under 0.1 s"


def rows() -> Iterator[tuple[str, ...]]:
    """One row for each thing typed, and one for the first look after a change."""
    with tempfile.TemporaryDirectory() as folder, served(Path(folder), TIMES, DETAILS) as wall:
        browser, house = Browser(wall), wall.snapshot()
        network = network_of(house, status_of(NOW))
        alone = median(seconds(lambda: compute(network).critical_path) for _ in range(RUNS))
        count = f"{len(entries(house)):,}"
        for typed in TYPED:
            browser.find(typed)
            ours = median(seconds(partial(browser.find, typed)) for _ in range(RUNS))
            yield _row(f"“{typed}”", count, ours, alone)
        changed = median(_after_a_change(house) for _ in range(RUNS))
        yield _row("the index, made anew", count, changed, alone)


def _after_a_change(house: Snapshot) -> float:
    """What a change costs whoever looks next: everything that can be found, made anew."""
    anew = house.having(activities=dict(house.activities))
    return seconds(lambda: entries(anew))


def _row(name: str, count: str, ours: float, alone: float) -> tuple[str, ...]:
    return name, count, f"{ours:.4f}", f"{alone:.4f}", f"{ours / alone:.2f}", GOAL
