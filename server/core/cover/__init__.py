"""What hides what, and what follows from it: the order that layers imply, and the last look."""

from server.core.cover.looks import (
    LastLook,
    covering,
    enough_time,
    last_look,
    looks,
    time_needed,
)
from server.core.cover.order import Implied, contradicted, implied, stands, undrawn, unseen
from server.core.cover.reach import Reach, reach

__all__ = [
    "Implied",
    "LastLook",
    "Reach",
    "contradicted",
    "covering",
    "enough_time",
    "implied",
    "last_look",
    "looks",
    "reach",
    "stands",
    "time_needed",
    "undrawn",
    "unseen",
]
