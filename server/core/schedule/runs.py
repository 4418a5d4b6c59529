"""Where an activity lies in time, given what binds its two ends: the rules of both passes.

Each rule answers two questions, and `backward` is the exact inverse of `forward`:

- `forward(start, finish, work)`: the earliest place that starts at or after `start` and finishes
  at or after `finish` (NEVER: nothing asks for it).
- `backward(start, finish, work)`: the latest place that starts at or before `start` (FOREVER:
  nothing asks for it) and finishes at or before `finish`.

The answer is a `Place`: position, gate, finish. The *position* counts working minutes on the
activity's calendar, so the difference of two positions is a float. The *gate* is the instant on
which the bounds on the start act: the start, or the resumption of what has started already.
"""

from bisect import bisect_left, bisect_right
from typing import Protocol

from server.core.schedule.hours import Hours
from server.core.schedule.instants import DAY, FOREVER, NEVER
from server.core.schedule.refused import Refused

Place = tuple[int, int, int]


class Rule(Protocol):
    """How one sort of activity is placed."""

    hours: Hours

    def forward(self, start: int, finish: int, work: int) -> Place:
        """The earliest place within these bounds."""
        ...

    def backward(self, start: int, finish: int, work: int) -> Place:
        """The latest place within these bounds."""
        ...


class Run:
    """Work: one run that never stretches, over nights and closed days.

    Almost every activity is placed here, two or three times, so the tables are read directly where
    a run lies in one shift or two; `hours` answers the rest, and makes the tables reach further.
    """

    def __init__(self, hours: Hours) -> None:
        self.hours = hours
        self.starts, self.ends, self.offsets = hours.starts, hours.ends, hours.offsets

    def forward(self, start: int, finish: int, work: int) -> Place:
        """From the first working minute; a finish in a gap means the next minute that ends."""
        ends = self.ends
        shift = bisect_right(self.starts, start) - 1
        if shift < 0 or finish > NEVER:
            return self._forward_to(start, finish, work)
        try:
            if start >= ends[shift]:
                shift += 1
                start = self.starts[shift]
            position = self.offsets[shift] + start
            finish = start + work
            if finish > ends[shift]:
                shift += 1
                finish = position + work - self.offsets[shift]
                if finish > ends[shift]:
                    finish = self.hours.closing(position + work)
        except IndexError:  # past the end of the tables
            return self._forward_to(start, finish, work)
        return position, start, finish

    def backward(self, start: int, finish: int, work: int) -> Place:
        """To the last working minute that ends in time."""
        starts = self.starts
        shift = bisect_left(starts, finish) - 1
        if start < FOREVER or shift < 0:
            return self._backward_from(start, finish, work)
        end = self.ends[shift]
        if finish > end:
            if shift + 1 == len(starts):
                return self._backward_from(start, finish, work)
            finish = end
        position = self.offsets[shift] + finish - work
        start = finish - work
        if start < starts[shift]:
            shift -= 1
            start = position - self.offsets[shift]
            if start < starts[shift]:
                start = self.hours.opening(position)
        return position, start, finish

    def _forward_to(self, start: int, finish: int, work: int) -> Place:
        hours = self.hours
        position = hours.worked(start)
        if finish > NEVER:
            position = max(position, hours.worked(finish - 1) + 1 - work)
        return position, hours.opening(position), hours.closing(position + work)

    def _backward_from(self, start: int, finish: int, work: int) -> Place:
        hours = self.hours
        position = hours.worked(finish) - work
        if start < FOREVER:
            position = min(position, hours.worked(start + 1) - 1)
        return position, hours.opening(position), hours.closing(position + work)


class ClockRun(Run):
    """Work on the clock: the same without tables."""

    def forward(self, start: int, finish: int, work: int) -> Place:
        """At once."""
        start = max(start, finish - work)
        return start, start, start + work

    def backward(self, start: int, finish: int, work: int) -> Place:
        """Up to the last minute."""
        start = min(start, finish - work)
        return start, start, start + work


class Point:
    """No work: any instant from a shift's start to its end, both included."""

    def __init__(self, hours: Hours) -> None:
        self.hours = hours

    def forward(self, start: int, finish: int, work: int) -> Place:
        """Out of a gap to the next shift's start."""
        instant = max(start, finish)
        gap = self.hours.gap_at(instant)
        if gap:
            instant = gap[1]
        return self.hours.worked(instant), instant, instant

    def backward(self, start: int, finish: int, work: int) -> Place:
        """Out of a gap to the last shift's end."""
        instant = min(start, finish)
        gap = self.hours.gap_at(instant)
        if gap:
            instant = gap[0]
        return self.hours.worked(instant), instant, instant


class OneDay:
    """Work that starts only on a day on which it also finishes."""

    def __init__(self, run: Run) -> None:
        self.run = run
        self.hours = run.hours

    def forward(self, start: int, finish: int, work: int) -> Place:
        """To the first day that is long enough. Refused if none is left."""
        hours = self.hours
        position = self.run.forward(start, finish, work)[0]
        while True:
            day = hours.opening(position) // DAY
            evening = hours.worked((day + 1) * DAY)
            if position + work <= evening:
                return position, hours.opening(position), hours.closing(position + work)
            if not self._any_from(day + 1, work):
                raise Refused("schedule.no_day_long_enough", field="one_day", work=work)
            position = evening

    def backward(self, start: int, finish: int, work: int) -> Place:
        """Back to the last day that is long enough, or to the first that ever is."""
        hours = self.hours
        position = self.run.backward(start, finish, work)[0]
        while True:
            day = hours.opening(position) // DAY
            morning, evening = hours.worked(day * DAY), hours.worked((day + 1) * DAY)
            if evening - morning >= work:
                position = min(position, evening - work)
                return position, hours.opening(position), hours.closing(position + work)
            if not self._any_until(day - 1, work):
                return self.forward(day * DAY, NEVER, work)
            position = morning - 1

    def _any_from(self, day: int, work: int) -> bool:
        calendar = self.hours.calendar
        return calendar.longest_weekday >= work or any(
            long >= day for long in calendar.long_days(work)
        )

    def _any_until(self, day: int, work: int) -> bool:
        calendar = self.hours.calendar
        return calendar.longest_weekday >= work or any(
            long <= day for long in calendar.long_days(work)
        )


class Arrival:
    """A delivery with an order or a promise: it arrives at an instant, whatever its calendar.

    `expected` is the promised date, or order plus lead. Ordered, it has only its arrival left to
    bind; not ordered, the bounds on its start hold its ordering, and its arrival with it.
    """

    def __init__(self, hours: Hours, expected: int, ordered: bool) -> None:
        self.hours = hours
        self.expected = expected
        self.ordered = ordered

    def forward(self, start: int, finish: int, work: int) -> Place:
        """When expected, but never before what it is measured from."""
        arrival = max(self.expected, start, finish)
        return self.hours.worked(arrival), arrival if self.ordered else start, arrival

    def backward(self, start: int, finish: int, work: int) -> Place:
        """The latest arrival; the ordering may wait as long as the promise is kept."""
        return self.hours.worked(finish), min(start, finish), finish


class Fixed:
    """What has happened."""

    def __init__(self, hours: Hours, start: int, finish: int) -> None:
        self.hours = hours
        self.place = (0, start, finish)

    def forward(self, start: int, finish: int, work: int) -> Place:
        """The actual dates."""
        return self.place

    def backward(self, start: int, finish: int, work: int) -> Place:
        """The actual dates."""
        return self.place
