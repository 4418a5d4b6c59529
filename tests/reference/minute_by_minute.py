"""A scheduler that goes minute by minute: slow, short, and without a line of the chain core.

It takes the early dates from the rules alone. Late dates and floats are not computed here: they
are proved by holding an activity back (`held`) and looking at what moves.
"""

from datetime import datetime
from functools import cache
from itertools import accumulate

from server.core.schedule import Dependency, Kind, Network


class Minutes:
    def __init__(self, works: bytes) -> None:  # for each minute since a midnight, does it work
        self.works, self.rank = works, [0, *accumulate(works)]
        self.nth = [minute for minute, working in enumerate(works) if working]


def place(m: Minutes, t: int, finish: int, work: int, one_day: bool) -> tuple[int, int]:
    t = max(t, m.nth[max(0, m.rank[finish] - work - 1)])  # anything before ends before `finish`
    while True:
        end = m.nth[m.rank[t] + work - 1] + 1 if work else t
        allowed = m.works[t] if work else m.works[t] or m.works[t - 1]
        if allowed and end >= finish and not (one_day and work and t // 1440 != (end - 1) // 1440):
            return t, end
        t = m.nth[m.rank[t + 1]] if work else t + 1


def lagged(m: Minutes, t: int, d: Dependency) -> int:
    left = abs(d.lag) if d.lag_on == "work" else 0
    while left:
        t -= d.lag < 0
        left -= m.works[t]
        t += d.lag > 0
    return t if d.lag_on == "work" else t + d.lag


def schedule(  # noqa: C901  short matters more here than flat
    network: Network, origin: datetime, calendars: dict[str, Minutes],
    held: dict[str, int], ignored: tuple[Dependency, ...] = (),
) -> tuple[dict[str, dict[str, int]], list[Dependency], set[str]]:  # fmt: skip
    """Each start (S), resumption (R) and finish (F) in minutes; what is too long; what is done."""

    def at(moment: datetime | None) -> int:
        return int((moment - origin).total_seconds() // 60) if moment else 0

    activities, status = {a.id: a for a in network.activities}, at(network.status or network.start)
    holds = {(id, "S"): t for id, t in held.items()}
    done = {a.id for a in network.activities if a.finished}

    @cache
    def dates_of(id: str) -> dict[str, int]:
        a = activities[id]
        m, bounds = calendars[a.calendar], {end: holds.get((id, end), 0) for end in "SF"}
        if a.finished:
            return {"S": at(a.started or a.finished), "R": at(a.finished), "F": at(a.finished)}
        for d in network.dependencies:
            if d.after == id:
                bound = lagged(m, dates_of(d.before)[d.type[0]], d)
                bounds[d.type[1]] = max(bounds[d.type[1]], bound)
        start, left, one_day = max(bounds["S"], status), a.work, a.one_day
        if a.started:
            left = max(0, a.work - sum(m.works[at(a.started) : status]))
            left, one_day = left if a.remaining is None else a.remaining, False
        else:
            start = bounds["S"] if a.kind is Kind.WAIT else start
            look = (at(a.called) or status) + a.notice if a.kind is Kind.HOLD else 0
            start = max(start, at(a.not_before), at(network.start), look)
        start, finish = place(m, start, bounds["F"], left, one_day)
        return {"S": at(a.started) if a.started else start, "R": start, "F": finish}

    for run in range(50):
        dates_of.cache_clear()
        dates = {id: dates_of(id) for id in activities}
        waits = [a.id for a in network.activities if a.kind is Kind.WAIT] * len(activities)
        for id in waits if run == 0 else ():
            before = {d.before for d in network.dependencies if d.after == id}
            done |= {id} if before <= done and dates[id]["F"] <= status else set()
        broken, moved = [], False
        for d in network.dependencies:
            if d.most is not None and d not in ignored and d.after not in done:
                bound, end = dates[d.after][d.type[1]] - d.most, d.type[0]
                if bound > dates[d.before][end]:
                    broken.append(d)
                    if d.before not in done and not (end == "S" and activities[d.before].started):
                        holds[d.before, end] = max(bound, holds.get((d.before, end), 0))
                        moved = True
        if not moved:
            break
    if broken:
        return schedule(network, origin, calendars, held, (*ignored, *broken))
    return dates, [d for d in network.dependencies if d in ignored], done
