"""The limits that a company can choose from: its own copies, and those that ship."""

from collections.abc import Mapping

from starlette.requests import Request

from server.core.figures.base import Profile
from server.data.limits import all_profiles
from server.people.viewer import Viewer


def profiles_of(request: Request, viewer: Viewer) -> Mapping[str, Profile]:
    """By id, in the order in which they are offered."""
    return {profile.id: profile for profile in all_profiles()}
