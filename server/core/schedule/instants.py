"""Instants as whole minutes, so that the passes add and compare integers only.

Minute 0 is the start of a Monday, so `day % 7` is the weekday; it lies close enough to the dates
of any project that the numbers stay small. Wall-clock time: a day always has 1440 minutes.
"""

from datetime import date, datetime, timedelta

EPOCH = datetime(2000, 1, 3)
EPOCH_DAY = EPOCH.toordinal()
DAY = 1440

# Beyond every instant that a datetime can hold, so that it never binds and needs no test for None.
NEVER = -(10**12)
FOREVER = 10**12

# The days that a datetime can hold.
FIRST = (date.min.toordinal() - EPOCH_DAY) * DAY
LAST = (date.max.toordinal() - EPOCH_DAY) * DAY


def minutes_of(moment: datetime) -> int:
    """The minute in which `moment` lies; seconds are floored away."""
    return (moment.toordinal() - EPOCH_DAY) * DAY + moment.hour * 60 + moment.minute


def moment_of(minutes: int) -> datetime:
    """The datetime at the start of a minute."""
    return EPOCH + timedelta(minutes=minutes)
