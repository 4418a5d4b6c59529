"""The work that something is for, each with the day it is planned for."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime

from server.core.deliveries import needed_for
from server.core.refusals import message
from server.core.world import Activity
from server.pages.shared.opened import Opened
from server.pages.shared.reach import in_a_sentence


@dataclass(frozen=True)
class ForWork:
    """Work that waits for a delivery or a decision, with the day it is planned for in words."""

    detail_id: str
    id: str
    said: str


def works_for(
    opened: Opened, activity: Activity, seen: frozenset[str], there: datetime | None = None
) -> Iterator[ForWork]:
    """What is still to do after it, in the details `seen`.

    `there` is when it can be there at the earliest. The plan does not wait for a drawing's review:
    that such work is planned too early is said.
    """
    for work in needed_for(opened.snapshot, activity):
        if work.finished is None and work.detail_id in seen:
            start = opened.schedule[work.id].early_start
            early = there is not None and there > start
            id = "deliveries.for_before" if early else "deliveries.for"
            said = message(id, work=in_a_sentence(work.name), start=start.date())
            yield ForWork(work.detail_id, work.id, opened.words.say(said, now=opened.now))
