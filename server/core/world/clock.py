"""The status date: everything before it happened, everything after it is forecast."""

from datetime import datetime


def status_of(now: datetime) -> datetime:
    """Now, floored to 15 minutes: waits end by themselves and pages can still be kept.

    >>> status_of(datetime(2025, 12, 3, 10, 52, 30))
    datetime.datetime(2025, 12, 3, 10, 45)
    """
    return now.replace(minute=now.minute - now.minute % 15, second=0, microsecond=0)
