"""Who looks at which detail, and when: what every piece of the page is made from."""

from dataclasses import dataclass
from datetime import date, datetime

from server.core.changes import Actor
from server.core.refusals import Message
from server.core.schedule import Schedule
from server.core.world import Activity, Detail, HoldPoint, Snapshot
from server.pages.shared.coming import when
from server.pages.shared.crews import crews_said
from server.words.words import Words


@dataclass(frozen=True)
class Looking:
    """A detail seen by one person now."""

    snapshot: Snapshot
    schedule: Schedule
    detail: Detail
    actor: Actor
    words: Words
    now: datetime

    @property
    def chain(self) -> tuple[Activity, ...]:
        """The activities of the detail, in order."""
        return self.snapshot.chain_of(self.detail.id)

    @property
    def holds(self) -> tuple[HoldPoint, ...]:
        """The checks of the detail, in order."""
        return tuple(h for a in self.chain if (h := self.snapshot.hold_of.get(a.id)))

    def say(self, said: Message) -> str:
        """A message in the viewer's language."""
        return self.words.say(said, now=self.now)

    def when(self, at: date) -> str:
        """A day or moment seen from now."""
        return when(self.words, at, self.now)

    def crew(self, activity: Activity) -> str:
        """The name of the crew whose work it is, with those that do it with it."""
        return crews_said(self.snapshot, activity, self.words)

    def own(self, activity: Activity) -> bool:
        """Whether it is the work of the viewer's crew."""
        return self.actor.crew_id in (activity.crew_id, *activity.with_crew_ids) and bool(
            self.actor.crew_id
        )
