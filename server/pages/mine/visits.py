"""A crew's visits: what has changed, what it is asked for, and where it came and could not work."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta

from server.core.beforehand import beforehand, next_day
from server.core.refusals import Message, message
from server.core.world import Booking, Snapshot
from server.pages.mine.works import place_of
from server.pages.shared.beforehand import DayBefore, day_before
from server.pages.shared.opened import Opened
from server.pages.shared.telling import telling_said

WASTED = timedelta(days=180)
"""So long a wasted visit stays on the crew's page."""
GONE_BY = timedelta(days=14)
"""So long after it a visit can be said to have been wasted there."""


@dataclass(frozen=True)
class HouseHears:
    """What a crew has not heard yet of one house."""

    project_id: str
    house: str
    said: tuple[str, ...]
    telling_ids: tuple[str, ...]


@dataclass(frozen=True)
class VisitAsked:
    """A visit that the crew is asked for, and its last answer.

    `known` is what is to be known the day before it, up to then; `over` when it can be answered no
    more; `may_waste` from its day on.
    """

    id: str
    project_id: str
    when: str
    works: str
    place: str
    state: str
    answered: str
    known: DayBefore | None
    over: bool
    may_waste: bool


@dataclass(frozen=True)
class WastedVisit:
    """A visit on which the crew came and could not work."""

    day: datetime
    works: str
    place: str
    why: str


def hears_of(opened: Opened, crew_id: str) -> HouseHears | None:
    """What has changed for the crew in a house since it last looked; None if nothing has."""
    snapshot = opened.snapshot
    told = sorted(
        (t for t in snapshot.tellings.values() if t.crew_id == crew_id and t.heard is None),
        key=lambda t: (t.at, t.id),
    )
    if not told:
        return None
    return HouseHears(
        project_id=opened.project_id,
        house=snapshot.project.name,
        said=tuple(telling_said(snapshot, t, opened.words, opened.now) for t in told),
        telling_ids=tuple(t.id for t in told),
    )


def visits_of(opened: Opened, crew_id: str, own: frozenset[str]) -> Iterator[VisitAsked]:
    """The visits still to come, and those gone by on which no work was begun."""
    snapshot, words, now = opened.snapshot, opened.words, opened.now
    ahead = next_day(snapshot, opened.status)
    for visit in sorted(snapshot.bookings.values(), key=lambda b: b.start):
        if visit.crew_id != crew_id or not _shown(snapshot, visit, now):
            continue
        works = [snapshot.activities[id] for id in visit.activity_ids]
        over, known = visit.finish <= now, None
        if not over and visit.start.date() <= ahead and visit.state != "can't come":
            found = beforehand(snapshot, opened.schedule, visit)
            known = day_before(opened, visit, found, own)
        yield VisitAsked(
            id=visit.id,
            project_id=opened.project_id,
            when=words.when(visit.start, now),
            works=words.listed([a.name for a in works]),
            place="; ".join(dict.fromkeys(place_of(opened, a) for a in works)),
            state=visit.state,
            answered=words.say(_answered(visit), now=now),
            known=known,
            over=over,
            may_waste=visit.state != "can't come" and visit.start.date() <= now.date(),
        )


def wasted_of(opened: Opened, crew_id: str) -> Iterator[WastedVisit]:
    """The visits that were wasted lately, the newest first."""
    snapshot = opened.snapshot
    found = [
        visit
        for visit in snapshot.bookings.values()
        if visit.crew_id == crew_id
        and visit.wasted_at is not None
        and visit.wasted_at >= opened.now - WASTED
    ]
    for visit in sorted(found, key=lambda v: v.start, reverse=True):
        works = [snapshot.activities[id] for id in visit.activity_ids]
        yield WastedVisit(
            day=visit.start,
            works=opened.words.listed([a.name for a in works]),
            place=place_of(opened, works[0]),
            why=visit.wasted,
        )


def _shown(snapshot: Snapshot, visit: Booking, now: datetime) -> bool:
    if visit.ended is not None:
        return False
    works = [snapshot.activities[id] for id in visit.activity_ids]
    if visit.finish > now:
        return not all(a.finished for a in works)
    idle = not any(a.started or a.finished for a in works)
    return idle and visit.state != "can't come" and visit.finish > now - GONE_BY


def _answered(visit: Booking) -> Message:
    if visit.state == "asked":
        return message("mine.no_answer")
    if visit.state == "coming":
        return message("mine.you_come")
    if visit.other_day is not None:
        return message("mine.you_offer", when=visit.other_day)
    return message("mine.you_cannot")
