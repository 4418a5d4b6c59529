"""The next day's visits, and what is to be known the day before them."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime

from server.core.beforehand import Beforehand, next_day, tomorrow
from server.core.refusals import message
from server.core.world import Booking
from server.pages.shared.beforehand import DayBefore, day_before
from server.pages.shared.opened import Opened
from server.pages.shared.reach import Reach, reach
from server.pages.visits.context import visit_sentence
from server.words import words as words_of


@dataclass(frozen=True)
class VisitAhead:
    """A visit of the next working day, and what is to be known the day before."""

    at: datetime
    crew: str
    works: str
    place: str
    answer: str
    answered: bool
    href: str
    call: Reach | None
    known: DayBefore


@dataclass(frozen=True)
class NextDay:
    """The visits of the next working day, under whose they are: "Thursday's visits"."""

    heading: str
    visits: tuple[VisitAhead, ...]


def next_day_of(opened: Opened, own: frozenset[str]) -> NextDay:
    """The visits of the next working day. `own` are the ids of the viewer."""
    day = next_day(opened.snapshot, opened.status)
    heading = message("morning.visits_of", day=str(day.weekday()))
    return NextDay(opened.words.say(heading), tuple(_visits(opened, own)))


def _visits(opened: Opened, own: frozenset[str]) -> Iterator[VisitAhead]:
    for visit, known in tomorrow(opened.snapshot, opened.schedule):
        yield _visit(opened, visit, known, own)


def _visit(opened: Opened, visit: Booking, known: Beforehand, own: frozenset[str]) -> VisitAhead:
    snapshot, words = opened.snapshot, opened.words
    tasks = [snapshot.activities[id] for id in visit.activity_ids]
    crew = snapshot.crews[visit.crew_id]
    text = words_of(crew.language).say(
        visit_sentence(opened, tasks[0], visit.start), now=opened.now
    )
    place = snapshot.places.get(known.place_id or "")
    names = (snapshot.details[tasks[0].detail_id].name, place.name if place else "")
    return VisitAhead(
        at=visit.start,
        crew=crew.name,
        works=words.listed([task.name for task in tasks]),
        place=", ".join(dict.fromkeys(name for name in names if name)),
        answer=words.say(message("morning.visit", state=visit.state)),
        answered=visit.state == "coming",
        href=f"/d/{tasks[0].detail_id}/visit?activity={tasks[0].id}",
        call=reach(crew.phone, f"{text[:1].upper()}{text[1:]}"),
        known=day_before(opened, visit, known, own),
    )
