"""What two schedules have in common and where they differ: dates only."""

from dataclasses import dataclass
from datetime import datetime, timedelta

from server.core.schedule.result import Dates, Schedule


@dataclass(frozen=True, slots=True)
class Move:
    """An activity whose early start or finish differs; one that is in one schedule only.

    `before` is None for what has come, `after` for what has gone.
    """

    activity: str
    before: Dates | None
    after: Dates | None

    @property
    def later(self) -> timedelta:
        """By how much its finish is later on the clock, negative if earlier; 0 if one is None."""
        if self.before is None or self.after is None:
            return timedelta(0)
        return self.after.early_finish - self.before.early_finish

    @property
    def finish(self) -> datetime:
        """Its finish, after if there is one."""
        dates = self.after or self.before
        assert dates is not None
        return dates.early_finish


def moves(before: Schedule, after: Schedule) -> tuple[Move, ...]:
    """What differs in its early start or finish, the worst first.

    Worst is what finishes most later; what comes or goes stands behind what is later and before
    what is earlier. Ties: the order of the schedule after, then of the one before.
    """
    found = []
    for id in dict.fromkeys((*after, *before)):
        was, now = before.get(id), after.get(id)
        if was is None or now is None or _ends(was) != _ends(now):
            found.append(Move(id, was, now))
    return tuple(sorted(found, key=lambda move: -move.later))


def _ends(dates: Dates) -> tuple[datetime, datetime]:
    return dates.early_start, dates.early_finish
