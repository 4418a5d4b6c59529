"""Instants as whole minutes, so that the passes add and compare integers only.

Minute 0 is the start of a Monday, so `day % 7` is the weekday; it lies close enough to the dates
of any project that the numbers stay small. Wall-clock time: a day always has 1440 minutes.
"""

from array import array
from datetime import date, datetime, timedelta
from typing import TypeAlias

EPOCH = datetime(2000, 1, 3)
EPOCH_DAY = EPOCH.toordinal()
DAY = 1440

# Beyond every instant that a datetime can hold, so that it never binds and needs no test for None.
NEVER = -(10**12)
FOREVER = 10**12

# The days that a datetime can hold.
FIRST = (date.min.toordinal() - EPOCH_DAY) * DAY
LAST = (date.max.toordinal() - EPOCH_DAY) * DAY

# Many instants or positions: an array takes a quarter of the memory of a list of numbers, which
# is also what makes large networks quick.
Minutes: TypeAlias = "array[int]"


def all_of(minutes: int, count: int) -> Minutes:
    """So many times the same minutes."""
    return array("q", [minutes]) * count


def minutes_of(moment: datetime) -> int:
    """The minute in which `moment` lies; seconds are floored away."""
    return (moment.toordinal() - EPOCH_DAY) * DAY + moment.hour * 60 + moment.minute


def moment_of(minutes: int) -> datetime:
    """The datetime at the start of a minute."""
    return EPOCH + timedelta(minutes=minutes)
