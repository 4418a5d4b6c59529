"""A calendar laid out as tables of shifts, so that working time is found by bisection.

`before[i]` is how many working minutes lie before shift `i`, counted from an arbitrary shift, and
`offsets[i]` turns an instant in shift `i` into such a count; only differences mean anything. The
tables grow in either direction when a question leaves them.

The names: W(t) = `worked(t)`; a *position* is a number of working minutes; `opening(p)` is the
start of working minute p, `closing(p)` the end of the minute before it. They differ only at the
edge of a gap.
"""

from bisect import bisect_left, bisect_right

from server.core.schedule.calendars import Calendar
from server.core.schedule.instants import DAY
from server.core.schedule.refused import Refused

_FIRST_REACH = 128  # days
_TOO_FAR = 365_000  # days: a thousand years is a slip of the keyboard, not a plan


class Hours:
    """Working time on one calendar; private to one computation, because it grows as it is asked."""

    __slots__ = ("_from_day", "_to_day", "before", "calendar", "ends", "offsets", "starts")

    def __init__(self, calendar: Calendar, around: int) -> None:
        self.calendar = calendar
        self.starts: list[int] = []
        self.ends: list[int] = []
        self.before: list[int] = []
        self.offsets: list[int] = []
        self._from_day = self._to_day = around // DAY - _FIRST_REACH // 4
        while not self.starts:
            self._grow_forward()

    def worked(self, instant: int) -> int:
        """W: the working minutes before an instant."""
        starts = self.starts
        while instant < starts[0]:
            self._grow_back()
        while instant >= starts[-1]:
            self._grow_forward()
        shift = bisect_right(starts, instant) - 1
        end = self.ends[shift]
        return self.offsets[shift] + (instant if instant < end else end)

    def opening(self, position: int) -> int:
        """The start of the working minute at a position."""
        before = self.before
        while position < before[0]:
            self._grow_back()
        while position >= before[-1]:
            self._grow_forward()
        shift = bisect_right(before, position) - 1
        return position - self.offsets[shift]

    def closing(self, position: int) -> int:
        """The end of the working minute before a position: work that ends there ends then."""
        before = self.before
        while position <= before[0]:
            self._grow_back()
        while position > before[-1]:
            self._grow_forward()
        shift = bisect_left(before, position) - 1
        return position - self.offsets[shift]

    def gap_at(self, instant: int) -> tuple[int, int] | None:
        """The gap that an instant lies strictly inside, as the shift end and start around it."""
        starts = self.starts
        while instant < starts[0]:
            self._grow_back()
        while instant >= starts[-1]:
            self._grow_forward()
        shift = bisect_right(starts, instant) - 1
        end = self.ends[shift]
        return None if instant <= end else (end, starts[shift + 1])

    def _grow_forward(self) -> None:
        """Double the reach; a calendar's week is never empty, so in the end there are shifts."""
        first = self._to_day
        self._to_day += self._to_day - self._from_day or _FIRST_REACH
        self._check_reach()
        starts, ends, before, offsets = self.starts, self.ends, self.before, self.offsets
        spans_of = self.calendar.spans
        position = before[-1] + ends[-1] - starts[-1] if starts else 0
        for day in range(first, self._to_day):
            midnight = day * DAY
            for start, end in spans_of(day):
                starts.append(midnight + start)
                ends.append(midnight + end)
                before.append(position)
                offsets.append(position - midnight - start)
                position += end - start

    def _grow_back(self) -> None:
        last = self._from_day
        self._from_day -= self._to_day - self._from_day
        self._check_reach()
        starts: list[int] = []
        ends: list[int] = []
        for day in range(self._from_day, last):
            for start, end in self.calendar.spans(day):
                starts.append(day * DAY + start)
                ends.append(day * DAY + end)
        position = self.before[0]
        before: list[int] = []
        for start, end in zip(reversed(starts), reversed(ends), strict=True):
            position -= end - start
            before.append(position)
        before.reverse()
        self.starts[:0] = starts
        self.ends[:0] = ends
        self.before[:0] = before
        self.offsets[:0] = [p - start for p, start in zip(before, starts, strict=True)]

    def _check_reach(self) -> None:
        if self._to_day - self._from_day > _TOO_FAR:
            raise Refused("schedule.too_far")


class ClockHours(Hours):
    """The calendar on which every minute counts: working time is clock time."""

    __slots__ = ()

    def __init__(self, calendar: Calendar, around: int) -> None:
        """`around` is not needed: the tables stay empty."""
        self.calendar = calendar
        self.starts, self.ends, self.before, self.offsets = [], [], [], []

    def worked(self, instant: int) -> int:
        """The instant itself."""
        return instant

    def opening(self, position: int) -> int:
        """The position itself."""
        return position

    def closing(self, position: int) -> int:
        """The position itself."""
        return position

    def gap_at(self, instant: int) -> tuple[int, int] | None:
        """None: there are no gaps."""
        return None
