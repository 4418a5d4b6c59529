"""The chain core: dates, floats and what sets them, for activities with working calendars."""

from server.core.schedule.calendars import Calendar
from server.core.schedule.compute import compute
from server.core.schedule.drivers import Driver
from server.core.schedule.explain import Bound, Explanation, explain
from server.core.schedule.moves import Move, moves
from server.core.schedule.network import Activity, Dependency, Kind, Network
from server.core.schedule.refused import Loop, Refused
from server.core.schedule.result import Dates, Schedule

__all__ = [
    "Activity",
    "Bound",
    "Calendar",
    "Dates",
    "Dependency",
    "Driver",
    "Explanation",
    "Kind",
    "Loop",
    "Move",
    "Network",
    "Refused",
    "Schedule",
    "compute",
    "explain",
    "moves",
]
