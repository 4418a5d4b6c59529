"""The limits that a company can choose from: its own, and those that ship."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import lru_cache

from starlette.requests import Request

from server.core.figures.base import Profile
from server.core.refusals import Message
from server.core.world import OwnLimits, Snapshot
from server.data.limits import all_profiles, read_profile, text_of
from server.data.tables import BadFile
from server.pages.kit.web import web_of
from server.pages.shared.patterns import wrong_file
from server.people.viewer import Viewer


@dataclass(frozen=True)
class KnownLimits:
    """A profile under its id. `own` is the company's row of it, None where it ships.

    What was kept by another version may not be read any more; then `wrong` says why.
    """

    id: str
    name: str
    own: OwnLimits | None
    profile: Profile | None
    wrong: Message | None = None

    @property
    def text(self) -> str:
        """Its file."""
        return self.own.text if self.own else text_of(self.id)


def own_limits(snapshot: Snapshot) -> tuple[KnownLimits, ...]:
    """The company's own profiles, by name."""
    standing = [own for own in snapshot.own_limits.values() if own.ended is None]
    return tuple(sorted(map(_known, standing), key=lambda known: known.name.casefold()))


def shipped_limits() -> tuple[KnownLimits, ...]:
    """The profiles that ship."""
    return tuple(KnownLimits(one.id, one.name, None, one) for one in all_profiles())


def known_limits(snapshot: Snapshot, id: str) -> KnownLimits | None:
    """The profile with this id that this company can choose, or None."""
    known = (*own_limits(snapshot), *shipped_limits())
    return next((one for one in known if one.id == id), None)


def profiles_of(request: Request, viewer: Viewer) -> Mapping[str, Profile]:
    """By id, in the order in which they are offered: those that ship, then the company's own."""
    company = web_of(request).store.company_snapshot(viewer.company_id)
    known = (*shipped_limits(), *own_limits(company))
    return {one.id: one.profile for one in known if one.profile is not None}


def _known(own: OwnLimits) -> KnownLimits:
    found = _read(own.text)
    if isinstance(found, BadFile):
        return KnownLimits(own.id, own.name, own, None, wrong_file(found, own.text))
    return KnownLimits(own.id, own.name, own, replace(found, id=own.id, name=own.name))


@lru_cache(maxsize=64)
def _read(text: str) -> Profile | BadFile:
    try:
        return read_profile(text, "")
    except BadFile as error:
        return error
