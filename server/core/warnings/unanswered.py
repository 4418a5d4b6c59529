"""The warning of a visit that a crew has not answered."""

from collections.abc import Iterable
from datetime import timedelta

from server.core.changes.bookings import AnswerVisit, EndVisit
from server.core.refusals import message
from server.core.schedule import Schedule
from server.core.visits import is_open, still_to_do
from server.core.warnings.base import Mend, Warning, warns
from server.core.warnings.making import about
from server.core.world import Snapshot

SILENT = "no answer"
SILENT_TITLE = message("warning.no_answer.title")

# Common practice: two days before a visit another crew can still be found.
LEFT = timedelta(days=2)


@warns(SILENT, title=SILENT_TITLE, bad="in the way", family="booking")
def no_answer(snapshot: Snapshot, schedule: Schedule) -> Iterable[Warning]:
    """A crew was asked and has not answered, and it is late to ask another.

    Half the time from the asking to the visit has passed, and less is left than two days, or than
    the crew's notice.
    """
    status = schedule.status
    for visit in snapshot.bookings.values():
        if visit.state != "asked" or not is_open(visit, status):
            continue
        crew = snapshot.crews[visit.crew_id]
        left = visit.start - status
        late = left < LEFT or left < timedelta(minutes=crew.notice)
        if not late or status < visit.asked_at + (visit.start - visit.asked_at) / 2:
            continue
        tasks = still_to_do(snapshot, visit)
        if not tasks:
            continue
        yield about(
            snapshot,
            SILENT,
            message(
                "warning.no_answer.call" if crew.phone else "warning.no_answer.said",
                crew=crew.name,
                when=visit.start,
                work=tuple(a.name for a in tasks),
                asked=visit.asked_at,
                phone=crew.phone,
            ),
            tasks,
            subject=(visit.id,),
            facts=(visit.start, visit.asked_at),
            at=visit.start,
            who=(crew.id, None),
            mends=[
                Mend(
                    message("warning.comes_it_said", crew=crew.name),
                    (AnswerVisit(booking_id=visit.id, coming=True, by_phone=True),),
                ),
                Mend(
                    message("warning.cannot_it_said", crew=crew.name),
                    (AnswerVisit(booking_id=visit.id, coming=False, by_phone=True),),
                ),
                Mend(
                    message("warning.not_asked_any_more", crew=crew.name),
                    (EndVisit(booking_id=visit.id),),
                ),
            ],
        )
