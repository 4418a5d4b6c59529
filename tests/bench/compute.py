"""`compute` with a working calendar against networkx on the same graph without calendars.

Ours: everything from the objects to early and late dates, total and free floats, and the critical
path. Theirs: the graph built, its topological order, and early and late dates in dicts.
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
WIDTHS = (16, 10, 8, 10, 6, 6, 8, 12, 6, 6)
SITE = Calendar.week({day: [("07:00", "12:00"), ("12:30", "15:30")] for day in range(5)})

Graph = tuple[dict[str, int], list[tuple[str, str]]]


def rows() -> Iterator[tuple[str, ...]]:
    """One row for each shape and size, then how the time grows from 10,000 to 100,000."""
    for shape in ("wide", "deep"):
        times: dict[int, float] = {}
        for size in (1_000, 10_000, 100_000):
            levels = round(size**0.5) if shape == "wide" else size // 20
            graph = a_graph(size, levels)
            network = a_network(graph)
            ours, theirs = _times(lambda n=network: _ours(n), lambda g=graph: _theirs(g))
            our_peak = _peak(lambda n=network: _ours(n))
            their_peak = _peak(lambda g=graph: _theirs(g))
            times[size] = ours
            yield (
                shape, f"{size:,}", f"{ours:.4f}", f"{theirs:.4f}", f"{ours / theirs:.2f}", "0.50",
                f"{our_peak:.1f}", f"{their_peak:.1f}", f"{our_peak / their_peak:.2f}", "0.40",
            )  # fmt: skip
        growth = times[100_000] / times[10_000]
        yield (f"growth, {shape}", "10 times", "", "", f"{growth:.1f}", "11.0", "", "", "", "")


def a_graph(size: int, levels: int) -> Graph:
    """Activities with their minutes of work, and about two dependencies into each.

    One comes from the level before, so that there are as many levels as asked for; the other from
    anywhere before. The activities are in no particular order.
    """
    random = Random(size + levels)
    names = [f"activity {n}" for n in random.sample(range(size), size)]
    width = size // levels
    pairs: list[tuple[str, str]] = []
    for i in range(width, size):
        first = (i // width) * width
        pairs.append((names[random.randrange(first - width, first)], names[i]))
        pairs.append((names[random.randrange(first)], names[i]))
    work = {name: random.randrange(30, 480) for name in random.sample(names, size)}
    return work, pairs


def a_network(graph: Graph) -> Network:
    """The same graph as activities on a site calendar."""
    work, pairs = graph
    activities = [Activity(name, minutes) for name, minutes in work.items()]
    dependencies = [Dependency(before, after) for before, after in pairs]
    return Network(activities, dependencies, {"site": SITE}, datetime(2025, 12, 1, 7))


def _ours(network: Network) -> object:
    return compute(network).critical_path


def _theirs(graph: Graph) -> object:
    work, pairs = graph
    g: nx.DiGraph[str] = nx.DiGraph()
    g.add_nodes_from(work)
    g.add_edges_from(pairs)
    order = list(nx.topological_sort(g))
    early_finish: dict[str, int] = {}
    for name in order:
        start = max((early_finish[before] for before in g.pred[name]), default=0)
        early_finish[name] = start + work[name]
    finish = max(early_finish.values())
    late_start: dict[str, int] = {}
    for name in reversed(order):
        late_finish = min((late_start[after] for after in g.succ[name]), default=finish)
        late_start[name] = late_finish - work[name]
    return {name: late_start[name] + work[name] - early_finish[name] for name in order}


def _times(*jobs: Callable[[], object]) -> list[float]:
    """The median seconds of each job, run in turn so that a slow moment hits them all."""
    taken: list[list[float]] = [[] for _ in jobs]
    for _ in range(RUNS):
        for seconds, job in zip(taken, jobs, strict=True):
            gc.collect()
            start = time.perf_counter()
            job()
            seconds.append(time.perf_counter() - start)
    return [median(seconds) for seconds in taken]


def _peak(job: Callable[[], object]) -> float:
    """The most memory that a job takes at once, in MiB."""
    gc.collect()
    tracemalloc.start()
    job()
    peak = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    return peak / 2**20
