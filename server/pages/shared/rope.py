"""The order of work of a detail: each activity with its mark, its state and who it waits for."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime

from markupsafe import Markup

from server.core.refusals import Message, message
from server.core.schedule import Schedule
from server.core.states import activity_state, hold_state
from server.core.world import Activity, Snapshot
from server.drawing.knots import RopeKind, RopeState
from server.drawing.rope import RopeRow, rope_marks
from server.pages.shared.coming import coming, when
from server.pages.shared.crews import crews_said
from server.words.words import Words

HOLD_MARKS: dict[str, RopeState] = {
    "not yet": "waiting",
    "to check": "ready",
    "marked": "marked",
    "released": "released",
    "look again": "again",
    "rejected": "rejected",
}
TASK_MARKS: dict[str, RopeState] = {
    "waiting": "waiting",
    "ready": "ready",
    "under way": "under way",
    "done": "done",
}
KINDS: dict[str, RopeKind] = {
    "task": "task",
    "wait": "wait",
    "hold": "hold",
    "delivery": "delivery",
    "decision": "decision",
}


@dataclass(frozen=True)
class Strand:
    """One activity in the order of work. `place` is the class of its row: done, next or later."""

    id: str
    kind: str
    mark: Markup
    place: str
    state: str
    name: str
    who: str
    href: str
    sets_finish: bool


def order_of_work(
    snapshot: Snapshot,
    schedule: Schedule,
    detail_id: str,
    words: Words,
    now: datetime,
    next_id: str | None = None,
) -> tuple[Strand, ...]:
    """The chain of a detail in its order; `next_id` is the one that is outlined as next."""
    chain = snapshot.chain_of(detail_id)
    sets_finish = setting_finish(schedule, chain)
    rows = [_Row(snapshot, schedule, words, now, activity) for activity in chain]
    marks = rope_marks(
        [
            RopeRow(KINDS[row.activity.kind], row.mark(next_id), row.activity.id in sets_finish)
            for row in rows
        ]
    )
    return tuple(
        row.strand(mark, next_id, row.activity.id in sets_finish)
        for row, mark in zip(rows, marks, strict=True)
    )


def stands_said(
    snapshot: Snapshot, schedule: Schedule, words: Words, now: datetime, activity: Activity
) -> str:
    """How one activity stands, as the order of work says it: whose it is, and when."""
    return _Row(snapshot, schedule, words, now, activity).who


def setting_finish(schedule: Schedule, chain: Sequence[Activity]) -> frozenset[str]:
    """What sets the finish of a detail: the way back from what finishes last in it."""
    last = max(chain, key=lambda a: schedule[a.id].early_finish, default=None)
    return frozenset(schedule.path(last.id)) if last else frozenset()


@dataclass(frozen=True)
class _Row:
    snapshot: Snapshot
    schedule: Schedule
    words: Words
    now: datetime
    activity: Activity

    @property
    def state(self) -> str:
        """The state of the activity, or of the check that it is."""
        hold = self.snapshot.hold_of.get(self.activity.id)
        if hold is not None:
            return hold_state(self.snapshot, hold, self.schedule)
        return activity_state(self.snapshot, self.schedule, self.activity)

    @property
    def who(self) -> str:
        """Whose it is, and when."""
        return " · ".join(part for part in (self._whose(), self._say(self._stands())) if part)

    def mark(self, next_id: str | None) -> RopeState:
        """The state of its mark."""
        if self.activity.id in self.snapshot.hold_of:
            return HOLD_MARKS[self.state]
        if self.activity.id == next_id and self.state != "under way":
            return "next"
        return TASK_MARKS[self.state]

    def strand(self, mark: Markup, next_id: str | None, sets_finish: bool) -> Strand:
        """The row as it is printed."""
        hold = self.snapshot.hold_of.get(self.activity.id)
        behind = self.state in ("done", "released")
        ahead = self.state in ("waiting", "not yet")
        place = "next" if self.activity.id == next_id else "later" if ahead else ""
        return Strand(
            id=self.activity.id,
            kind=self.activity.kind,
            mark=mark,
            place="done" if behind else place,
            state=self.state,
            name=self.activity.name,
            who=self.who,
            href=f"/h/{hold.id}" if hold else "",
            sets_finish=sets_finish,
        )

    def _whose(self) -> str:
        """The crew whose work it is, or the person who owes the answer."""
        if self.activity.kind in ("wait", "hold"):
            return ""
        person = self.snapshot.people.get(self.activity.person_id or "")
        crews = crews_said(self.snapshot, self.activity, self.words)
        return crews or (person.name if person else "")

    def _stands(self) -> Message:
        said = {
            "task": self._task,
            "wait": self._wait,
            "hold": self._hold,
            "delivery": self._delivery,
            "decision": self._decision,
        }
        return said[self.activity.kind]()

    def _task(self) -> Message:
        if self.activity.finished:
            return message("order.done", when=self._when(self.activity.finished))
        if self.activity.started:
            done = self.schedule[self.activity.id].early_finish
            return message("order.under_way", till=self._when(done.date()))
        visit = coming(self.snapshot, self.schedule, self.activity)
        at = when(self.words, visit.shown, self.now)
        ready = self.state == "ready"
        if visit.state == "coming":
            return message("order.coming", when=at, ready=ready)
        if visit.state == "asked":
            return message("order.asked", when=at, ready=ready)
        if ready:
            return message("order.ready", when=at, work=self.activity.work)
        return message("order.planned", when=at, work=self.activity.work)

    def _wait(self) -> Message:
        over = self.schedule[self.activity.id].early_finish
        if self.state == "done":
            return message("order.wait_over", when=self._when(over))
        return message("order.wait", span=self.activity.work, till=self._when(over))

    def _hold(self) -> Message:
        hold = self.snapshot.hold_of[self.activity.id]
        attempt = next(iter(self.snapshot.attempts_of.get(hold.id, ())[-1:]), None)
        if attempt is None:
            at = self.schedule[self.activity.id].early_start
            return message("order.check", state=self.state, when=self._when(at.date()))
        if self.state == "released" and attempt.decided_at:
            return message("order.released", when=self._when(attempt.decided_at))
        if self.state == "marked":
            return message("order.marked", when=self._when(attempt.marked_at))
        if self.state == "look again" and attempt.again_by:
            return message("order.again", when=self._when(attempt.again_by))
        return message("build_up.state", state=self.state)

    def _delivery(self) -> Message:
        activity, dates = self.activity, self.schedule[self.activity.id]
        if activity.counted:
            return message("order.counted", when=self._when(activity.counted))
        if activity.finished:
            return message("order.arrived", when=self._when(activity.finished))
        due = self._when(dates.early_finish.date())
        if activity.ordered:
            return message("order.ordered", when=self._when(activity.ordered.date()), due=due)
        return message("order.order_by", by=self._when(dates.late_start.date()), due=due)

    def _decision(self) -> Message:
        if self.activity.finished:
            return message("order.answered", when=self._when(self.activity.finished))
        return message(
            "order.owed", by=self._when(self.schedule[self.activity.id].late_finish.date())
        )

    def _when(self, at: date) -> str:
        return when(self.words, at, self.now)

    def _say(self, said: Message) -> str:
        return self.words.say(said, now=self.now)
