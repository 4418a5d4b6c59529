"""Which rails and guards a profile asks for on a flight, from its risers and its rise. Inches."""

from dataclasses import dataclass

from server.core.figures.base import Limit, Profile
from server.core.figures.lengths import in_unit


@dataclass(frozen=True)
class RailAsked:
    """A rail or guard that is asked for: by which limit of the profile, and that limit."""

    name: str
    limit: Limit


def rails_asked(profile: Profile, count: int, rise: float) -> tuple[RailAsked, ...]:
    """The limits of a profile from which on a rail or guard is needed, that this flight reaches.

    A count of risers is reached at the limit, a height only beyond it ("over 30 in"); a rail while
    it is being built is asked for by the one or the other.
    """
    found = [
        _counted(profile, "handrail_from", count),
        _higher(profile, "guard_from", rise),
        _counted(profile, "temporary_rail_from", count)
        or _higher(profile, "temporary_rail_from_height", rise),
    ]
    return tuple(one for one in found if one is not None)


def _counted(profile: Profile, name: str, count: int) -> RailAsked | None:
    limit = profile.limits.get(name)
    reached = limit is not None and limit.least is not None and count >= limit.least
    return RailAsked(name, limit) if limit is not None and reached else None


def _higher(profile: Profile, name: str, rise: float) -> RailAsked | None:
    limit = profile.limits.get(name)
    if limit is None:
        return None
    over = limit.least if limit.most is None else limit.most
    beyond = over is not None and in_unit(rise, limit.unit) > over + 1e-9
    return RailAsked(name, limit) if beyond else None
