"""Longest paths and floats against networkx, on random networks that are always open."""

from datetime import datetime, timedelta
from random import Random

import networkx as nx
import pytest

from server.core.schedule import Activity, Calendar, Dependency, Network, compute

START = datetime(2025, 12, 1)


def a_network(seed: int) -> Network:
    random = Random(seed)
    count = random.randint(5, 60)
    pairs = {
        (random.randrange(after), after)
        for after in range(1, count)
        for _ in range(random.randint(0, 3))
    }
    return Network(
        [Activity(f"a{i}", random.randint(0, 2000), "clock") for i in range(count)],
        [Dependency(f"a{b}", f"a{a}", lag=random.choice([0, 0, 90])) for b, a in sorted(pairs)],
        {"clock": Calendar.always()},
        START,
    )


def as_graph(network: Network) -> "nx.DiGraph[str]":
    """Each activity an arc between its two ends, from one source to one sink."""
    g: nx.DiGraph[str] = nx.DiGraph()
    for a in network.activities:
        g.add_edge("source", f"{a.id} starts", weight=0)
        g.add_edge(f"{a.id} starts", f"{a.id} finishes", weight=a.work)
        g.add_edge(f"{a.id} finishes", "sink", weight=0)
    for d in network.dependencies:
        g.add_edge(f"{d.before} finishes", f"{d.after} starts", weight=d.lag)
    return g


def longest_from(g: "nx.DiGraph[str]", origin: str) -> dict[str, int]:
    """The longest way to each, by the shortest way with the lengths turned round."""
    turned: nx.DiGraph[str] = nx.DiGraph()
    turned.add_weighted_edges_from((u, v, -data["weight"]) for u, v, data in g.edges(data=True))
    lengths = nx.single_source_bellman_ford_path_length(turned, origin)
    return {node: -length for node, length in dict(lengths).items()}


@pytest.mark.parametrize("tens", range(20))
def test_longest_paths_and_floats_agree(tens: int) -> None:
    for seed in range(tens * 10, tens * 10 + 10):
        network = a_network(seed)
        g = as_graph(network)
        schedule = compute(network)
        to, onward = longest_from(g, "source"), longest_from(g.reverse(), "sink")
        finish = nx.dag_longest_path_length(g)
        assert schedule.finish == START + timedelta(minutes=finish)
        for a in network.activities:
            dates = schedule[a.id]
            start, end = f"{a.id} starts", f"{a.id} finishes"
            assert dates.early_start == START + timedelta(minutes=to[start])
            assert dates.late_finish == START + timedelta(minutes=finish - onward[end])
            assert dates.total_float == finish - to[start] - onward[start]
            room = [
                to[f"{d.after} starts"] - d.lag for d in network.dependencies if d.before == a.id
            ]
            assert dates.free_float == min([*room, finish]) - to[end]
        path = schedule.critical_path
        assert schedule[path[-1]].early_finish == schedule.finish
        assert all(schedule[id].total_float == 0 for id in path)
