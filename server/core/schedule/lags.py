"""What one dependency asks of its later activity, and, backward, allows its earlier one.

Both functions speak of one end of each activity: the end of the earlier one that the dependency
starts from, and the end of the later one that it arrives at. `allowed` is the exact inverse of
`asked`: the latest instant from which `asked` is still at or before a limit.
"""

from server.core.schedule.hours import Hours


def asked(end: int, lag: int, working: bool, hours: Hours) -> int:
    """The earliest instant of the later end, before it is moved to working time.

    A clock lag counts every minute. A working lag counts on the later activity's calendar and
    ends at the end of its last minute; a negative one counts back and ends at that minute's start.
    """
    if not working:
        return end + lag
    position = hours.worked(end) + lag
    return hours.closing(position) if lag > 0 else hours.opening(position)


def allowed(limit: int, lag: int, working: bool, hours: Hours) -> int:
    """The latest instant of the earlier end that asks for no more than `limit`."""
    if not working:
        return limit - lag
    if lag > 0:
        return hours.opening(hours.worked(limit) - lag)
    return hours.opening(hours.worked(limit + 1) - 1 - lag)
