"""`compute` with a working calendar against networkx on the same graph without calendars.

Both start from the same activities and dependencies and end with early and late dates, total and
free floats; ours with the critical path too. Theirs: the graph built, its topological order, and
passes over dicts, as one would write them first.
"""

import gc
import time
import tracemalloc
from collections.abc import Callable, Iterator
from datetime import datetime
from random import Random
from statistics import median

import networkx as nx

from server.core.schedule import Activity, Calendar, Dependency, Network, compute

RUNS = 5
HEADER = (
    "compute", "activities", "ours s", "networkx s", "ratio", "goal",
    "ours MiB", "networkx MiB", "ratio", "goal",
)  # fmt: skip
WIDTHS = (22, 10, 8, 10, 6, 6, 8, 12, 6, 6)
SITE = Calendar.week({day: [("07:00", "12:00"), ("12:30", "15:30")] for day in range(5)})


def rows() -> Iterator[tuple[str, ...]]:
    """One row for each shape and size, then how the time grows from 10,000 to 100,000."""
    for shape in ("wide", "deep", "wide, shuffled"):
        times: dict[int, list[float]] = {}
        for size in (1_000, 10_000, 100_000):
            levels = size // 20 if shape == "deep" else round(size**0.5)
            network = a_network(size, levels, shuffled="shuffled" in shape)
            ours, theirs = times[size] = _times(network)
            our_peak, their_peak = _peak(_ours, network), _peak(_theirs, network)
            yield (
                shape, f"{size:,}", f"{ours:.4f}", f"{theirs:.4f}", f"{ours / theirs:.2f}", "0.50",
                f"{our_peak:.1f}", f"{their_peak:.1f}", f"{our_peak / their_peak:.2f}", "0.40",
            )  # fmt: skip
        ours, theirs = (times[100_000][who] / times[10_000][who] for who in (0, 1))
        label = f"growth, {shape}"
        yield label, "10 times", f"{ours:.1f}", f"{theirs:.1f}", "", "11.0", "", "", "", ""


def a_network(size: int, levels: int, *, shuffled: bool) -> Network:
    """Activities with two dependencies into each, in the order of the levels or in no order.

    One comes from the level before, so that there are as many levels as asked for; the other from
    anywhere before.
    """
    random = Random(size + levels)
    names = [f"activity {n}" for n in range(size)]
    width = size // levels
    dependencies: list[Dependency] = []
    for i in range(width, size):
        first = (i // width) * width
        dependencies.append(Dependency(names[random.randrange(first - width, first)], names[i]))
        dependencies.append(Dependency(names[random.randrange(first)], names[i]))
    if shuffled:
        random.shuffle(names)
    activities = [Activity(name, random.randrange(30, 480)) for name in names]
    return Network(activities, dependencies, {"site": SITE}, datetime(2025, 12, 1, 7))


def _ours(network: Network) -> object:
    return compute(network).critical_path


def _theirs(network: Network) -> object:
    g: nx.DiGraph[str] = nx.DiGraph()
    for a in network.activities:
        g.add_node(a.id, work=a.work)
    for d in network.dependencies:
        g.add_edge(d.before, d.after)
    order = list(nx.topological_sort(g))
    early_start: dict[str, int] = {}
    early_finish: dict[str, int] = {}
    for id in order:
        early_start[id] = max((early_finish[before] for before in g.pred[id]), default=0)
        early_finish[id] = early_start[id] + g.nodes[id]["work"]
    finish = max(early_finish.values())
    late_start: dict[str, int] = {}
    total: dict[str, int] = {}
    free: dict[str, int] = {}
    for id in reversed(order):
        late_finish = min((late_start[after] for after in g.succ[id]), default=finish)
        late_start[id] = late_finish - g.nodes[id]["work"]
        total[id] = late_finish - early_finish[id]
        next_start = min((early_start[after] for after in g.succ[id]), default=finish)
        free[id] = next_start - early_finish[id]
    return early_start, early_finish, late_start, total, free


def _times(network: Network) -> list[float]:
    """The median seconds of ours and theirs, run in turn so that a slow moment hits both."""
    taken: dict[Callable[[Network], object], list[float]] = {_ours: [], _theirs: []}
    for _ in range(RUNS):
        for job, seconds in taken.items():
            gc.collect()
            start = time.perf_counter()
            job(network)
            seconds.append(time.perf_counter() - start)
    return [median(seconds) for seconds in taken.values()]


def _peak(job: Callable[[Network], object], network: Network) -> float:
    """The most memory that a job takes at once, in MiB."""
    gc.collect()
    tracemalloc.start()
    job(network)
    peak = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    return peak / 2**20
