"""Who looks at which check, and what they may press there."""

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from datetime import datetime

from server.core.changes import Actor
from server.core.refusals import Message
from server.core.rights import marks, releases
from server.core.schedule import Schedule
from server.core.states import hold_state, left_out
from server.core.world import Attempt, HoldPoint, Snapshot
from server.pages.kit import Form
from server.words.words import Words


@dataclass(frozen=True)
class Part:
    """One part that can be chosen. `chosen` is ticked when the page opens."""

    no: int
    label: str
    chosen: bool


@dataclass(frozen=True)
class Asking:
    """Who looks at which check, and when: what every piece of the page is made from."""

    snapshot: Snapshot
    schedule: Schedule
    hold: HoldPoint
    actor: Actor
    words: Words
    now: datetime
    forms: Mapping[str, Form]

    @property
    def state(self) -> str:
        """The check's state."""
        return hold_state(self.snapshot, self.hold, self.schedule)

    @property
    def attempt(self) -> Attempt | None:
        """The last mark."""
        attempts = self.snapshot.attempts_of.get(self.hold.id, ())
        return attempts[-1] if attempts else None

    def say(self, said: Message) -> str:
        """A message in the viewer's language."""
        return self.words.say(said, now=self.now)

    def form(self, name: str) -> Form:
        """One of the forms, as it was sent."""
        return self.forms.get(name) or Form()


def may_mark(asking: Asking) -> bool:
    """Whether this person may mark this check now."""
    open_states = ("to check", "look again")
    some_left = asking.state == "released" and bool(left_out(asking.snapshot, asking.hold))
    return (
        asking.actor.confirmed
        and marks(asking.snapshot, asking.actor, asking.hold)
        and (asking.state in open_states or some_left)
    )


def may_release(asking: Asking) -> bool:
    """Whether it is this person who says OK to cover here."""
    return asking.actor.confirmed and releases(asking.snapshot, asking.actor, asking.hold)


def may_call(asking: Asking) -> bool:
    """Whether this person records that somebody was called to come and look."""
    hold = asking.hold
    outside = hold.authority or hold.notice > 0
    mine = marks(asking.snapshot, asking.actor, hold)
    return outside and mine and asking.actor.confirmed and asking.state != "released"


def parts_of(asking: Asking, among: Collection[int], chosen: Collection[int]) -> tuple[Part, ...]:
    """Parts of the check (all of them if `among` is empty), those chosen ticked."""
    hold = asking.hold
    numbers = sorted(among) or range(1, hold.parts + 1)
    return tuple(Part(no, f"{hold.part_name} {no}", no in chosen) for no in numbers)
