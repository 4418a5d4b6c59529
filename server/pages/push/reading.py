"""What was asked, read into the commands that would do it."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime, time, timedelta

from server.core.changes import Command
from server.core.changes.actuals import Finish, SetRemaining
from server.core.changes.bookings import MoveVisit
from server.core.changes.pushing import ChangeWork, PutOff
from server.core.refusals import Message, message
from server.core.schedule import Schedule
from server.core.visits import end_of
from server.core.world import Activity, Booking
from server.core.world.hours import first_hour, later_by, remains
from server.pages.kit import Form
from server.pages.kit.forms import CLOCK_DAY, DAY, BadField
from server.pages.push.choices import visit_of, visits_together
from server.pages.shared.opened import Opened

FIELDS = ("what", "days", "until", "day", "finish", "more", "takes", "with_visit")
"""Where what is asked stands in a form."""


@dataclass(frozen=True)
class Asked:
    """What was asked in words, and the commands that would do it."""

    said: Message
    commands: tuple[Command, ...]


def read(form: Form, opened: Opened, schedule: Schedule, activity: Activity) -> Asked:
    """The commands for what a form asks. What cannot be read is refused beside its field."""
    reading = _Reading(form, opened, schedule, activity)
    what = form.typed("what")
    if what not in READ:
        raise BadField("push.what", field="what")
    asked = READ[what](reading)
    form.check()
    return asked


@dataclass(frozen=True)
class _Reading:
    form: Form
    opened: Opened
    schedule: Schedule
    activity: Activity

    def later(self) -> Asked:
        """So many working days later than now forecast; its visit with it."""
        days = self.form.whole("days", 0, least=1, most=500)
        if not days and not self.form.refusals:
            self.form.refuse(BadField("form.needed", field="days"))
        until = later_by(self.opened.snapshot, self._now(), days)
        said = message("push.said.later", work=self.activity.name, days=days)
        return Asked(said, tuple(self._from(until)))

    def day(self) -> Asked:
        """Not before a day and time that are named; its visit with it."""
        until = self._moment("until")
        said = message("push.said.day", work=self.activity.name, when=until)
        return Asked(said, tuple(self._from(until)))

    def soon(self) -> Asked:
        """As soon as its order lets it."""
        said = message("push.said.soon", work=self.activity.name)
        return Asked(said, (PutOff(activity_id=self.activity.id, until=None),))

    def visit(self) -> Asked:
        """The crew comes another day, and the work is not before that."""
        day = self._moment("day")
        visit = visit_of(self.opened, self.activity)
        if visit is None:
            raise BadField("push.no_visit", field="day")
        finish = self.form.moment("finish")
        start = self._working(day)
        together = visits_together(self.opened, self.activity)
        crews = tuple(self.opened.snapshot.crews[one.crew_id].name for one in together)
        said = message(
            "push.said.visit", crews=crews, many=len(crews) > 1, when=start, was=visit.start
        )
        moved = (self._moved(one, start, finish) for one in together)
        return Asked(said, (*self._not_before(start), *moved))

    def more(self) -> Asked:
        """So much more than it takes now, or than remains of it."""
        more = self._span("more")
        said = message("push.said.more", work=self.activity.name, span=self._length(more))
        return Asked(said, (self._takes(self._takes_now() + more),))

    def takes(self) -> Asked:
        """So long in all, or so much that remains of it."""
        span = self._span("takes")
        begun = self.activity.started is not None and self.activity.kind == "task"
        id = "push.said.remains" if begun else "push.said.takes"
        said = message(id, work=self.activity.name, span=self._length(span))
        return Asked(said, (self._takes(span),))

    def done(self) -> Asked:
        """Done by now."""
        now = self.opened.now.replace(second=0, microsecond=0)
        midnight = datetime.combine(now.date(), time(0))
        began = min(now, first_hour(self.opened.snapshot, self.activity, midnight))
        started = None if self.activity.started or self.activity.kind == "wait" else began
        said = message("push.said.done", work=self.activity.name)
        return Asked(said, (Finish(activity_id=self.activity.id, when=now, started=started),))

    def _now(self) -> datetime:
        """The date that is moved: when a delivery comes, when anything else begins."""
        dates = self.schedule[self.activity.id]
        return dates.early_finish if self.activity.kind == "delivery" else dates.early_start

    def _from(self, until: datetime) -> Iterator[Command]:
        yield PutOff(activity_id=self.activity.id, until=until)
        if self.form.typed("with_visit", "yes") == "yes":
            start = self._working(until)
            for visit in visits_together(self.opened, self.activity):
                if start != visit.start:
                    yield self._moved(visit, start)

    def _not_before(self, start: datetime) -> Iterator[PutOff]:
        """The work goes with its visit: put off till then, or no longer put off till later."""
        held = self.activity.not_before
        if self.activity.started is not None:
            return
        if start > self._now() or (held is not None and held > start):
            yield PutOff(activity_id=self.activity.id, until=start)

    def _moved(self, visit: Booking, start: datetime, finish: datetime | None = None) -> MoveVisit:
        if finish is not None:
            return MoveVisit(booking_id=visit.id, start=start, finish=finish)
        snapshot = self.opened.snapshot
        tasks = [snapshot.activities[id] for id in visit.activity_ids]
        took = max(visit.finish - visit.start, timedelta(minutes=1))
        finish = end_of(snapshot, tasks, start) if len(tasks) == 1 else start + took
        return MoveVisit(booking_id=visit.id, start=start, finish=finish)

    def _working(self, at: datetime) -> datetime:
        return first_hour(self.opened.snapshot, self.activity, at)

    def _takes_now(self) -> int:
        activity = self.activity
        if activity.kind == "task" and activity.started is not None:
            left = remains(self.opened.snapshot, activity, self.opened.status)
            return activity.work if left is None else left
        return activity.work

    def _takes(self, minutes: int) -> Command:
        activity = self.activity
        if activity.kind == "task" and activity.started is not None:
            return SetRemaining(activity_id=activity.id, remaining=minutes)
        return ChangeWork(activity_id=activity.id, work=minutes)

    def _span(self, name: str) -> int:
        minutes = self.form.minutes(name, day=self._minutes_a_day)
        if minutes is None and not self.form.refusals:
            self.form.refuse(BadField("form.needed", field=name))
        return minutes or 0

    def _length(self, minutes: int) -> str:
        return self.opened.words.span(minutes, self._minutes_a_day)

    @property
    def _minutes_a_day(self) -> int:
        return CLOCK_DAY if self.activity.kind == "wait" else DAY

    def _moment(self, name: str) -> datetime:
        moment = self.form.moment(name)
        if moment is None:
            if not self.form.refusals:
                self.form.refuse(BadField("form.needed", field=name))
            self.form.check()
        assert moment is not None
        return moment


READ: Mapping[str, Callable[[_Reading], Asked]] = {
    "later": _Reading.later,
    "day": _Reading.day,
    "soon": _Reading.soon,
    "visit": _Reading.visit,
    "more": _Reading.more,
    "takes": _Reading.takes,
    "done": _Reading.done,
}
