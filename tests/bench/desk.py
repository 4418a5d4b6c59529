"""One change on the desk of a project of 200 activities: a cell typed, the whole desk back.

What is typed is sent as the desk's script sends it; everything counts but the network: session, the
change checked, on disk and in the log, the forecast, the notes with their mends tried, the desk.
"""

import tempfile
from collections.abc import Iterator
from pathlib import Path
from statistics import median

from server.core.schedule import compute
from server.core.world import Snapshot
from server.core.world.clock import status_of
from server.core.world.network import network_of
from tests.bench.big_house import NOW
from tests.bench.change import Browser, seconds, served

RUNS = 9
DETAILS = 4
HEADER = ("on the desk", "activities", "ours s", "compute s", "ratio", "goal")
WIDTHS = (30, 10, 8, 10, 6, 13)
GOAL = "under 0.15 s"


def rows() -> Iterator[tuple[str, ...]]:
    """How long it takes to have a cell taken, and to be told that nothing has changed."""
    with tempfile.TemporaryDirectory() as folder, served(Path(folder), 1, DETAILS) as wall:
        browser, house = Browser(wall), wall.snapshot()
        network = network_of(house, status_of(NOW))
        alone = median(seconds(lambda: compute(network).critical_path) for _ in range(RUNS))
        detail, row = _longest(house)
        spans = iter(range(3, 3 + 2 * RUNS))

        def typed() -> None:
            browser.type(f"/d/{detail}/plan/desk/rows/{row}", {"takes": f"{next(spans)} h"})

        typed()
        changed = median(seconds(typed) for _ in range(RUNS))
        count = f"{len(house.chain):,}"
        yield _row("a cell taken", count, changed, alone, GOAL)
        tag = browser.desk(detail)
        still = median(seconds(lambda: browser.desk(detail, tag)) for _ in range(RUNS))
        yield _row("nothing has changed", count, still, alone, "")


def _longest(house: Snapshot) -> tuple[str, str]:
    """The detail with most rows, and a task of it that nobody has begun."""
    chain = max((house.chain_of(detail) for detail in house.details), key=len)
    tasks = (a for a in chain if a.kind == "task" and not a.started and not a.one_day)
    task = next(tasks)
    return task.detail_id, task.id


def _row(name: str, count: str, ours: float, alone: float, goal: str) -> tuple[str, ...]:
    return name, count, f"{ours:.4f}", f"{alone:.4f}", f"{ours / alone:.2f}", goal
