"""The bounds of a date as sentences."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime

from server.core.refusals import Message, message
from server.core.schedule import Bound, Explanation, Schedule
from server.core.states import hold_state
from server.core.world import Activity, Snapshot
from server.core.world.hours import remains, working_days

DATES: Mapping[str, str] = {
    "not_before": "why.not_before",
    "status": "why.status",
    "start": "why.start",
    "promised": "why.promised",
}
LAGS: Mapping[tuple[bool, str], str] = {
    (True, "clock"): "why.and_clock",
    (True, "work"): "why.and_work",
    (False, "clock"): "why.less_clock",
    (False, "work"): "why.less_work",
}
ENDS: Mapping[str, str] = {
    "task": "why.ends_task",
    "wait": "why.ends_wait",
    "delivery": "why.ends_delivery",
    "decision": "why.ends_decision",
}


@dataclass(frozen=True)
class Saying:
    """What the sentences about one activity are made from."""

    snapshot: Snapshot
    schedule: Schedule
    activity: Activity

    def bound(self, bound: Bound) -> Message:
        """One bound: what asks for it, and when that is."""
        match bound.kind:
            case "dependency":
                return self._dependency(bound)
            case "most":
                return self._held_back(bound)
            case "notice":
                return self._notice(bound)
            case "actual":
                return self._happened(bound)
            case "not_before" | "status" | "start" | "promised":
                return message(DATES[bound.kind], at=bound.at)

    def sentence(self, why: Explanation) -> Message:
        """What sets the date, and how the hours of whoever does it move it."""
        because, start = self.bound(why.driver), why.start
        if why.driver.kind == "actual" and self.activity.finished:
            return because
        if why.driver.kind == "status" and self.activity.kind != "delivery":
            return message("why.only_now", when=start)
        if why.driver.on_finish or start <= why.driver.at:
            return message("why.so", because=because, when=start)
        if self.activity.one_day and start.date() > why.driver.at.date():
            return message("why.so_one_day", because=because, when=start.date())
        return message("why.so_from", because=because, who=self._who(), clock=start, when=start)

    def earlier(self, why: Explanation) -> Message | None:
        """What it would take to be earlier; None for what has happened or has no other bound."""
        if self.activity.finished or why.without is None or why.driver.kind in ("actual", "status"):
            return None
        next_bound = next(b for b in why.bounds[1:] if b.start == why.without)
        by_now = next_bound.kind == "status"
        then = self.bound(next_bound)
        if why.without >= why.start:
            return message("why.only_now_left") if by_now else message("why.held_too", then=then)
        days = working_days(self.snapshot, why.without.date(), why.start.date())
        sooner = message("why.up_to" if days else "why.some_hours", days=days)
        return sooner if by_now else message("why.then_holds", sooner=sooner, then=then)

    def spare(self) -> Message | None:
        """How late it may be before the house is later; None when it is done."""
        dates = self.schedule[self.activity.id]
        if self.activity.id in self.schedule.done:
            return None
        if dates.total_float <= 0:
            return message("why.sets_finish")
        clock = self.activity.kind == "wait"
        return message("why.spare_clock" if clock else "why.spare", span=dates.total_float)

    def _dependency(self, bound: Bound) -> Message:
        dependency = bound.dependency
        assert dependency is not None
        before = self.snapshot.activities[dependency.before]
        dates = self.schedule[before.id]
        if dependency.type in ("SS", "SF"):
            origin = message("why.begins", work=before.name, at=dates.early_start)
        else:
            origin = self._ends(before, dates.early_finish)
        if dependency.lag:
            between = LAGS[dependency.lag > 0, dependency.lag_on]
            origin = message(between, origin=origin, span=abs(dependency.lag))
        return message("why.not_done_before", origin=origin) if bound.on_finish else origin

    def _ends(self, before: Activity, at: datetime) -> Message:
        """When what comes before is over, in the words of its kind."""
        if before.id in self.schedule.done and before.kind != "wait":
            return message("why.was_done", work=before.name, at=at)
        hold = self.snapshot.hold_of.get(before.id)
        if hold is not None:
            state = hold_state(self.snapshot, hold, self.schedule)
            return message("why.ends_hold", work=before.name, at=at, state=state)
        return message(ENDS[before.kind], work=before.name, at=at)

    def _held_back(self, bound: Bound) -> Message:
        dependency = bound.dependency
        assert dependency is not None
        after = self.snapshot.activities[dependency.after]
        return message("why.most", work=after.name, most=dependency.most or 0, at=bound.at)

    def _notice(self, bound: Bound) -> Message:
        hold = self.snapshot.hold_of[self.activity.id]
        if hold.called is None:
            return message("why.notice", span=hold.notice, at=bound.at)
        return message("why.called", called=hold.called, at=bound.at)

    def _happened(self, bound: Bound) -> Message:
        activity = self.activity
        if activity.finished:
            return message("why.finished", at=activity.finished)
        if activity.ordered:
            return message("why.ordered", ordered=activity.ordered, at=bound.at)
        left = remains(self.snapshot, activity, self.schedule.status)
        if left is None:
            return message("why.under_way", since=activity.started)
        return message("why.remains", since=activity.started, span=left)

    def _who(self) -> str:
        crew = self.snapshot.crews.get(self.activity.crew_id or "")
        return crew.name if crew else self.snapshot.project.name
